"""The report of a trial for those who decide: a first page that says and draws all of it, then each change with its numbers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import msgspec

from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.core.words import counted, shortened
from marram.evidence.effects import Interval
from marram.evidence.sensitivity.sensitivity_words import sensitivity_sentences
from marram.evidence.telling.first_page import FirstPage
from marram.evidence.weighing.finding_words import (
    account_sentences,
    answer_sentence,
    compared_sentence,
    finding_sentences,
    guard_sentence,
    rated_sentences,
)
from marram.evidence.weighing.headlines import aim_words, headline, rule_under
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport
from marram.records.rows import Arm, LeftOutRow
from marram.rulebook.differences.told_change import ToldChange
from marram.sheets.guide.paper import template
from marram.sheets.pages.report_first_page import NARROW, PAPER, WIDE, FirstSheet, draw_pictures, first_sheet
from marram.sheets.pages.response_rows import ResponseRow, response_rows, warnings_told_once
from marram.sheets.scene.sealed import seal_page
from marram.sheets.scene.style import page_style
from marram.sheets.scene.typesetting import set_pdf

_ADVICE = "What the records of these days show. Whether a change is adopted is for the Committee to decide."
_LONGEST_COMMAND = 112
_MOST_PLACES = 3
_EITHER = "either way"


@dataclass(frozen=True, slots=True, kw_only=True)
class NumbersRow:
    """The numbers of one effect, as a row of a table."""

    what: str
    unit: str
    trial: str
    ordinary: str
    effect: str
    interval95: str
    interval90: str
    bound: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangePage:
    """One change as it stands on the report."""

    number: int
    title: str
    rule: str
    because: str
    aim: str
    overall: str
    verdict: str
    lines: tuple[str, ...]
    sides: tuple[str, str]
    numbers: tuple[NumbersRow, ...]
    guards: tuple[str, ...]
    asked: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportPages:
    """The whole report."""

    title: str
    summary: str
    first: FirstSheet
    stamps: str
    pages: tuple[ChangePage, ...]
    departures: tuple[str, ...]
    remarks: tuple[str, ...]
    left_out: tuple[str, ...]
    responses: tuple[ResponseRow, ...]
    response_warnings: tuple[str, ...]
    rows: tuple[str, ...]
    command: str
    command_shortly: str
    advice: str


def report_page(
    report: TrialReport,
    first: FirstPage,
    told: Mapping[int, ToldChange],
    stamps: Mapping[str, str | None],
    departures: Sequence[str],
    command: str,
    *,
    form: str,
) -> bytes:
    """The report as a file.

    Args:
        report: What was weighed.
        first: What its first page tells.
        told: Each change in words, by its number.
        stamps: Stamps of plan and trial.
        departures: Where the days did not go as planned.
        command: The command that works it out again.
        form: ``.html`` or ``.pdf``.

    Raises:
        DataError: The form is another.
    """
    pages = _pages(report, first, told, stamps, departures, command)
    if form == ".html":
        return _html(pages, first).encode()
    if form != ".pdf":
        raise DataError(
            f"A report cannot be written as {form or 'a file without ending'}.", field=Field.OUT, hint="End the name in .html or .pdf."
        )
    files = {f"{name}.svg": picture.encode() for name, picture in draw_pictures(first, PAPER).items()}
    files |= {"report.json": msgspec.json.encode(pages), "common.typ": template("common.typ").encode()}
    return set_pdf(template("report-a4.typ"), files)


def _html(pages: ReportPages, first: FirstPage) -> str:
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup

    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    # every word in a picture is escaped where it is drawn
    drawn = {
        light: {name: Markup(picture) for name, picture in draw_pictures(first, widths, is_on_page=True).items()}
        for light, widths in (("wide", WIDE), ("narrow", NARROW))
    }
    return seal_page(environment.from_string(template("report.html")).render(it=pages, drawn=drawn, style=page_style()))


def _pages(
    report: TrialReport,
    first: FirstPage,
    told: Mapping[int, ToldChange],
    stamps: Mapping[str, str | None],
    departures: Sequence[str],
    command: str,
) -> ReportPages:
    trial, records = report.trial, report.records
    days = sorted(day.dated for day in records.days)
    span = f", {days[0].isoformat()} to {days[-1].isoformat()}" if days else ""
    courses = ", ".join(dict.fromkeys(day.course for day in records.days if day.course))
    return ReportPages(
        title=trial.title,
        first=first_sheet(first),
        summary=f"{counted(report.pairs, report.words.rests_on)}{span}{', on ' + courses if courses else ''}: {report.words.how}",
        stamps=f"Plan {stamps['plan_stamp'] or 'not given'}, trial {stamps['trial_stamp']}",
        pages=tuple(_page(finding, told[finding.change.number]) for finding in report.findings),
        departures=tuple(departures),
        remarks=(*rated_sentences(report), *records.remarks),
        left_out=tuple(_left_out(records.left_out)),
        responses=response_rows(report),
        response_warnings=warnings_told_once(report),
        rows=account_sentences(report),
        command=command,
        command_shortly=shortened(command, _LONGEST_COMMAND),
        advice=_ADVICE,
    )


def _left_out(rows: Sequence[LeftOutRow]) -> Iterator[str]:
    """Rows that are not weighed, by their reason: each with the first places where they stand."""
    places: dict[str, list[str]] = {}
    for row in rows:
        places.setdefault(row.reason, []).append(row.where)
    for reason, where in places.items():
        more = f" and {len(where) - _MOST_PLACES} more" if len(where) > _MOST_PLACES else ""
        yield f"{', '.join(where[:_MOST_PLACES])}{more}: {reason}"


def _page(finding: ChangeFinding, told: ToldChange) -> ChangePage:
    change = finding.change
    reason = f" ({finding.reason})" if finding.reason else ""
    return ChangePage(
        number=change.number,
        title=headline(finding, told),
        rule=rule_under(headline(finding, told), told),
        because=change.because,
        aim=f"Meant for: {aim}." if (aim := aim_words(finding)) else "",
        overall=finding.words.said(finding.overall),
        verdict=f"{finding.words.said(finding.verdict)}{reason}",
        lines=(*finding_sentences(finding), *sensitivity_sentences(finding)),
        sides=(finding.words.kind(Arm.TRIAL), finding.words.kind(Arm.ORDINARY)),
        numbers=tuple(_numbers(finding)),
        guards=tuple(guard_sentence(guard, finding.words) for guard in finding.guards),
        asked=(
            *(answer_sentence(lot, finding.words) for lot in finding.answers),
            *(compared_sentence(compared, finding.words) for compared in finding.answers_compared),
        ),
    )


def _numbers(finding: ChangeFinding) -> Iterator[NumbersRow]:
    """The effect and what must not get worse, in numbers: the same that the first page draws."""
    effect, outcome, expects = finding.effect, finding.outcome, finding.change.expects
    if effect is not None and outcome is not None and expects is not None:
        yield NumbersRow(
            what=outcome.means.rstrip("."),
            unit=outcome.effect_unit,
            trial=f"{effect.trial_mean:.2f}",
            ordinary=f"{effect.ordinary_mean:.2f}",
            effect=f"{effect.estimate:+.2f}",
            interval95=_ends(effect.interval95),
            interval90=_ends(effect.interval90),
            bound=f"{expects.matters:g} {expects.direction.value}",
        )
    for guard in finding.guards:
        if guard.estimate is not None:
            yield NumbersRow(
                what=f"Must not get worse: {_within(guard.outcome.means)}",
                unit=guard.outcome.effect_unit,
                trial="",
                ordinary="",
                effect=f"{guard.estimate:+.2f}",
                interval95=_ends(guard.interval95),
                interval90=_ends(guard.interval90),
                bound=f"{guard.margin:g} {_EITHER if guard.worse.value == 'either' else guard.worse.value}",
            )


def _ends(interval: Interval | None) -> str:
    return "" if interval is None or not interval.is_bounded else f"{interval.low:+.2f} to {interval.high:+.2f}"


def _within(means: str) -> str:
    return means[:1].lower() + means[1:].rstrip(".")
