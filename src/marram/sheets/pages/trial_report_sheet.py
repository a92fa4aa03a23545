"""The report of a trial for those who decide: a first page with one line for each change, then each change with its drawing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import msgspec

from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.core.words import counted
from marram.evidence.sensitivity.sensitivity_words import sensitivity_sentences
from marram.evidence.weighing.finding_words import (
    account_sentences,
    answer_sentence,
    compared_sentence,
    finding_sentences,
    guard_sentence,
    rated_sentences,
)
from marram.evidence.weighing.headlines import aim_words, headline, rule_under
from marram.evidence.weighing.told_findings import ChangeFinding, GuardFinding, TrialReport
from marram.records.outcomes import Worse
from marram.rulebook.differences.told_change import ToldChange
from marram.sheets.drawn.interval_plot import PlottedEffect, draw_interval
from marram.sheets.guide.paper import template
from marram.sheets.pages.response_rows import ResponseRow, response_rows, warnings_told_once
from marram.sheets.scene.sealed import seal_page
from marram.sheets.scene.style import page_style
from marram.sheets.scene.typesetting import set_pdf

_ADVICE = "What the records of these days show. Whether a change is adopted is for the Committee to decide."
_STEPS = ("much less fair", "less fair", "no different", "fairer", "much fairer")


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A drawing of the report, with its name, what it shows and its words."""

    name: str
    effect: PlottedEffect
    alt: str


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
    drawings: tuple[Drawing, ...]
    guards: tuple[str, ...]
    answers: tuple[tuple[str, int], ...]
    answers_words: str
    asked: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportPages:
    """The whole report."""

    title: str
    summary: str
    stamps: str
    pages: tuple[ChangePage, ...]
    departures: tuple[str, ...]
    remarks: tuple[str, ...]
    left_out: tuple[str, ...]
    responses: tuple[ResponseRow, ...]
    response_warnings: tuple[str, ...]
    rows: tuple[str, ...]
    command: str
    advice: str


def report_page(
    report: TrialReport,
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
        told: Each change in words, by its number.
        stamps: Stamps of plan and trial.
        departures: Where the days did not go as planned.
        command: The command that works it out again.
        form: ``.html`` or ``.pdf``.

    Raises:
        DataError: The form is another.
    """
    pages = _pages(report, told, stamps, departures, command)
    if form == ".html":
        return _html(pages).encode()
    if form != ".pdf":
        raise DataError(
            f"A report cannot be written as {form or 'a file without ending'}.", field=Field.OUT, hint="End the name in .html or .pdf."
        )
    files = {f"{drawing.name}.svg": draw_interval(drawing.effect).encode() for page in pages.pages for drawing in page.drawings}
    files |= {"report.json": msgspec.json.encode(pages), "common.typ": template("common.typ").encode()}
    return set_pdf(template("report-a4.typ"), files)


def _html(pages: ReportPages) -> str:
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup

    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    environment.filters["interval"] = lambda effect: Markup(draw_interval(effect, is_on_page=True))  # every word in it is escaped there
    return seal_page(environment.from_string(template("report.html")).render(it=pages, style=page_style()))


def _pages(
    report: TrialReport, told: Mapping[int, ToldChange], stamps: Mapping[str, str | None], departures: Sequence[str], command: str
) -> ReportPages:
    trial, records = report.trial, report.records
    days = sorted(day.dated for day in records.days)
    span = f", {days[0].isoformat()} to {days[-1].isoformat()}" if days else ""
    courses = ", ".join(dict.fromkeys(day.course for day in records.days if day.course))
    return ReportPages(
        title=trial.title,
        summary=f"{counted(report.pairs, report.words.rests_on)}{span}{', on ' + courses if courses else ''}: {report.words.how}",
        stamps=f"Plan {stamps['plan_stamp'] or 'not given'}, trial {stamps['trial_stamp']}",
        pages=tuple(_page(finding, told[finding.change.number]) for finding in report.findings),
        departures=tuple(departures),
        remarks=(*rated_sentences(report), *records.remarks),
        left_out=tuple(f"{row.where}: {row.reason}" for row in records.left_out),
        responses=response_rows(report),
        response_warnings=warnings_told_once(report),
        rows=account_sentences(report),
        command=command,
        advice=_ADVICE,
    )


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
        drawings=tuple(_drawings(finding)),
        guards=tuple(guard_sentence(guard, finding.words) for guard in finding.guards),
        answers=() if finding.fair is None else tuple(zip(_STEPS, finding.fair.counts, strict=True)),
        answers_words=_answers_words(finding),
        asked=(
            *(answer_sentence(lot, finding.words) for lot in finding.answers),
            *(compared_sentence(compared, finding.words) for compared in finding.answers_compared),
        ),
    )


def _answers_words(finding: ChangeFinding) -> str:
    if finding.fair is None:
        return "Of those who met it nobody was asked how fair they find it."
    return "How fair those who met it find it:"


def _drawings(finding: ChangeFinding) -> list[Drawing]:
    change, effect, outcome, expects = finding.change, finding.effect, finding.outcome, finding.change.expects
    found = []
    if effect is not None and outcome is not None and expects is not None and effect.interval95.is_bounded:
        matters = -expects.matters if expects.direction.value == "down" else expects.matters
        plotted = PlottedEffect(
            title=outcome.means.rstrip("."),
            unit=outcome.effect_unit,
            estimate=effect.estimate,
            low=effect.interval95.low,
            high=effect.interval95.high,
            marks=((matters, "what matters"),),
        )
        found.append(Drawing(name=f"change-{change.number}", effect=plotted, alt=plotted.words))
    for number, guard in enumerate(finding.guards, start=1):
        if guard.interval90 is not None and guard.estimate is not None and guard.interval90.is_bounded:
            plotted = PlottedEffect(
                title=f"Guard: {guard.outcome.means.rstrip('.')}",
                unit=guard.outcome.effect_unit,
                estimate=guard.estimate,
                low=guard.interval90.low,
                high=guard.interval90.high,
                marks=tuple((margin, "margin") for margin in _margins(guard)),
            )
            found.append(Drawing(name=f"guard-{change.number}-{number}", effect=plotted, alt=plotted.words))
    return found


def _margins(guard: GuardFinding) -> tuple[float, ...]:
    """Where harm begins: above, below, or on both sides."""
    return {Worse.UP: (guard.margin,), Worse.DOWN: (-guard.margin,), Worse.EITHER: (-guard.margin, guard.margin)}[guard.worse]
