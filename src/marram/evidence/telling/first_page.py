"""The first page of a report, whole: what is said, what is drawn, and what it rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from marram.core.words import counted, shortened
from marram.evidence.looks import Looks
from marram.evidence.telling.answer_bars import AnswerBar, answer_bars
from marram.evidence.telling.resting import Band, bands_of
from marram.evidence.telling.scaled_rows import EffectRow, change_rows, guard_rows
from marram.evidence.telling.season import Season, days_held
from marram.evidence.telling.spoken import spoken_sentences
from marram.evidence.weighing.told_findings import TrialReport
from marram.rulebook.differences.told_change import ToldChange

_LONGEST_NAME, _MOST_COURSES = 60, 3
_CAPTION = "Thin line 95 %, thick 90 %, diamond the effect; open bar: true by definition."


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstPage:
    """What stands on the first page of a report.

    Attributes:
        mark: What it is: the report, or a look before the end of the plan.
        about: The trial, its days, courses and plan, as a line under the title.
        spoken: One to three sentences before anything else.
        changes: A row for each change.
        guards: A row for each thing that must not get worse.
        season: The days as they were played.
        bands: What it rests on.
        answers: How fair players find each change.
        full: What a full box of the season stands for.
        hatched: What a hatched one stands for.
        caption: What the lines of the plot are.
    """

    mark: str
    about: str
    spoken: tuple[str, ...]
    changes: tuple[EffectRow, ...]
    guards: tuple[EffectRow, ...]
    season: Season
    bands: tuple[Band, ...]
    answers: tuple[AnswerBar, ...]
    full: str
    hatched: str
    caption: str


def first_page(
    report: TrialReport, told: Mapping[int, ToldChange], season: Season, *, plan_stamp: str | None, looks: Looks | None
) -> FirstPage:
    """The first page of a report.

    Args:
        report: What was weighed.
        told: Each change in words, by its number.
        season: The season.
        plan_stamp: Stamp of the plan; None where there is none.
        looks: Looks that are planned; None where none is planned before the end.
    """
    book = " and ".join(report.trial.on)
    return FirstPage(
        mark=_mark(report),
        about=_about(report, book, plan_stamp, looks),
        spoken=spoken_sentences(report),
        changes=change_rows(report, told),
        guards=guard_rows(report),
        season=season,
        bands=bands_of(report, season),
        answers=answer_bars(report),
        full=f"{book} book" if book else "ordinary rules",
        hatched="trial",
        caption=_CAPTION if report.look is None else f"{_CAPTION} Intervals are not widened for the looks.",
    )


def _mark(report: TrialReport) -> str:
    if not report.is_interim:
        return "Report"
    look = report.look
    return "Interim" if look is None or look.number is None else f"Interim look {look.number} of {look.looks}"


def _about(report: TrialReport, book: str, plan_stamp: str | None, looks: Looks | None) -> str:
    held = days_held(report.records)
    days = [day for day in report.records.days if day.day in held]
    changes = f"{counted(len(report.trial.changes), 'change')}{f' to the {book} book' if book else ''}"
    planned = f"Plan {plan_stamp}, {_looks_told(looks)}" if plan_stamp else "No plan was given"
    return (
        f"{report.trial.title}: {changes}, tried on {counted(len(days), 'day')}{_where(report)}{_when([d.dated for d in days])}. {planned}."
    )


def _where(report: TrialReport) -> str:
    courses = [shortened(course, _LONGEST_NAME) for course in dict.fromkeys(day.course for day in report.records.days if day.course)]
    if not courses:
        return ""
    if len(courses) > _MOST_COURSES:
        return f" on {len(courses)} courses"
    return f" on {' and '.join([', '.join(courses[:-1]), courses[-1]] if courses[1:] else courses)}"


def _when(days: Sequence[date]) -> str:
    if not days:
        return ""
    first, last = min(days), max(days)
    end = f"{last.day} {last:%B} {last.year}"
    if first == last:
        return f", {end}"
    start = f"{first.day} {first:%B}" if first.year == last.year else f"{first.day} {first:%B} {first.year}"
    return f", {start} to {end}"


def _looks_told(looks: Looks | None) -> str:
    return "no look before its end" if looks is None else f"{counted(len(looks.planned), 'look')}, the last at its end"
