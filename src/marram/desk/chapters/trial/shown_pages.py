"""The trial shown and reported: its guide in words with its prints, and what the records of the folder say."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.core.errors import DataError, MarramError
from marram.core.terms import Club, Hand
from marram.desk.chapters.trial.trial_sheet_page import OpenTrial, open_trial, sheet_of
from marram.desk.pages.page import HTML, NOT_AS_STATED, PDF, WELL, Desk, Page
from marram.desk.pages.posted import Posted
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.stated_case import open_ground
from marram.office.courses.find_places import player_with
from marram.office.drafts.records_here import likely_table, table_named, tables_here
from marram.office.trials.guide_file import guide_file
from marram.office.trials.make_guide import guide_trial, tell_trial
from marram.office.trials.report_trial import finding_lines, headline_of, rated_told, report_file, report_trial, rows_told

if TYPE_CHECKING:
    from marram.office.trials.report_trial import TrialReported

_FORMS: tuple[Literal["a4", "pocket", "phone", "screen"], ...] = ("a4", "pocket", "phone", "screen")
_LONGEST_CLUB_IN = 45.0
_TABLES = ("days", "values", "asked", "plan")


def show_page(desk: Desk, asked: Posted) -> Page:
    """The trial as players are told it, and its guide to print."""
    trial = open_trial(desk, asked)
    return sheet_of(
        trial,
        "trial/trial-shown.html",
        told=tell_trial(trial.book, trial.whole),
        courses=desk.folder.names(Holding.COURSE),
        forms=_FORMS,
    )


def guide_paper(desk: Desk, asked: Posted) -> Page:
    """The guide on a course of the folder, for paper or for a screen."""
    trial = open_trial(desk, asked)
    form = next((name for name in _FORMS if name == asked.first("form")), None)
    if form is None:
        raise DataError(f"There is no form {asked.first('form')[:40]!r} of a guide.", where="form", hint=f"Forms: {', '.join(_FORMS)}.")
    opened = open_ground(desk.room, desk.folder, _course(trial, asked), asked.first("day"))
    player = player_with(Hand.RIGHT, Club.IRON, _LONGEST_CLUB_IN)
    guide = guide_trial(opened.course, trial.book, trial.whole, player=player, each=1, procedures=())
    content = guide_file(guide, form)
    name = f"{trial.kept.name}-{form}"
    if isinstance(content, bytes):
        return Page(media=PDF, data=content)
    return Page(media=HTML, text=content, saved_as=f"{name}.html")  # it carries its own style, which no page of the desk may


def _course(trial: OpenTrial, asked: Posted) -> str:
    names = trial.desk.folder.names(Holding.COURSE)
    return asked.first("course") or next(iter(names), "")


def report_page(desk: Desk, asked: Posted) -> Page:
    """What the records say, in words; the tables are those of the folder."""
    trial = open_trial(desk, asked)
    tables = tables_here(desk.folder.root)
    chosen = {name: asked.first(name) for name in _TABLES}
    reported, error = None, None
    if chosen["days"] and chosen["values"]:
        try:
            reported = _reported(trial, asked)
        except MarramError as problem:
            error = problem
    else:
        chosen |= {name: likely_table(tables, name) for name in ("days", "values", "asked")}
    return sheet_of(
        trial,
        "trial/trial-report.html",
        NOT_AS_STATED if error else WELL,
        tables=tuple(name for name in tables if not name.endswith(".json")),
        plans=tuple(name for name in tables if name.endswith(".json")),
        chosen=chosen,
        reported=reported,
        error=error,
        findings=() if reported is None else tuple(_finding(reported, number) for number in range(len(reported.weighed.findings))),
        besides=() if reported is None else (*rated_told(reported), *reported.departures, *rows_told(reported)),
    )


def report_paper(desk: Desk, asked: Posted) -> Page:
    """The report as it is printed."""
    trial = open_trial(desk, asked)
    named = ", ".join(asked.first(name) for name in _TABLES if asked.first(name))
    data = report_file(_reported(trial, asked), f"The desk, chapter Trial: {trial.kept.name} with {named}", ".pdf")
    return Page(media=PDF, data=data)


def _reported(trial: OpenTrial, asked: Posted) -> TrialReported:
    room, tables = trial.desk.room, tables_here(trial.desk.folder.root)
    files = {name: table_named(tables, asked.first(name), field=name) for name in _TABLES if asked.first(name)}
    if not {"days", "values"} <= files.keys():
        raise DataError("A report needs the table of days and that of values.", where="records", hint="Choose both.")
    frozen = room.plan(files["plan"]) if "plan" in files else None
    records = room.records(files["days"], files["values"], trial.whole, files.get("asked"))
    return report_trial(trial.whole, records, frozen, trial.book)


def _finding(reported: TrialReported, at: int) -> dict[str, object]:
    """One change: its headline, the words of its verdict, and what is said of it."""
    finding = reported.weighed.findings[at]
    said = finding.words.said(finding.overall)
    return {
        "number": finding.change.number,
        "headline": headline_of(reported, finding),
        "said": f"{said[:1].upper()}{said[1:]}.",
        "lines": finding_lines(reported, finding),
    }
