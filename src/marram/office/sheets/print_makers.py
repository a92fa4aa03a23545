"""How each print is made: the jobs of the office, each with what it is printed from."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from marram.core.errors import DataError
from marram.office.at_desk.stated_case import open_ground, rule_on_case
from marram.office.sheets.folder_papers import named
from marram.office.sheets.printed_from import Field, Need, PrintAsked
from marram.rulebook.wording.value_words import listed

if TYPE_CHECKING:
    from marram.office.trials.guide_file import GuideForm
    from marram.rulings.case.incident import Player
    from marram.sheets.guide.content import Guide

PDF, HTML = "pdf", "html"
Maker = Callable[[PrintAsked], bytes | str]
_CLUB_IN, _MARKING_CLUB_IN, _TOLERANCE_M = 45.0, 46.0, 0.10
"""As the commands: the longest club of who shows a procedure and of who tries a marking; how far stakes may leave their curve."""


def _player() -> Player:
    from marram.core.terms import Club, Hand
    from marram.office.courses.find_places import player_with

    return player_with(Hand.RIGHT, Club.IRON, _CLUB_IN)


def print_course(asked: PrintAsked) -> bytes | str:
    """A hole, or the whole course, at a stated scale."""
    from marram.office.courses.draw_ground import draw_ground_on_paper
    from marram.office.drawing_file import drawing_file

    stated = asked.fields.get(Field.HOLE)
    hole = asked.whole(Field.HOLE) if stated else None
    ground = open_ground(asked.room, asked.folder, asked.course, asked.day).course
    drawn = draw_ground_on_paper(ground, hole=hole, paper="a4", scale=None, names_all=hole is not None)
    return drawing_file(drawn, PDF, where=asked.course)


def print_marking(asked: PrintAsked) -> bytes | str:
    """The check of a marking: the course, then each place."""
    from marram.office.courses.check_marking import check_marking
    from marram.office.courses.draw_ground import draw_marking_found
    from marram.office.drawing_file import drawing_files

    opened = open_ground(asked.room, asked.folder, asked.course, asked.day)
    books = asked.opened_books()
    found = check_marking(opened, books, longest_club_in=_MARKING_CLUB_IN, tolerance_m=_TOLERANCE_M, work=asked.work)
    return drawing_files([svg for _, svg in draw_marking_found(found)], PDF, where=asked.course)[0]


def print_places(asked: PrintAsked) -> bytes | str:
    """Places where a procedure can be shown, each on A4."""
    from marram.office.courses.draw_ground import draw_place_sheets
    from marram.office.courses.find_places import find_places
    from marram.office.drawing_file import drawing_files

    opened = open_ground(asked.room, asked.folder, asked.course, asked.day)
    procedure, count = asked.fields[Field.PROCEDURE], asked.whole(Field.COUNT)
    found = find_places(opened, procedure, asked.opened_books(), player=_player(), count=count, work=asked.work)
    if not found.places:
        raise DataError(found.why_none, where=Field.PROCEDURE.value, hint="Choose another procedure, or another course.")
    return drawing_files([sheet for place in found.places for sheet in draw_place_sheets(found, place)], PDF, where=asked.course)[0]


def print_ruling(asked: PrintAsked) -> bytes | str:
    """A ruling on sheets of A4."""
    from marram.office.drawing_file import drawing_files
    from marram.office.play.give_ruling import draw_ruling_sheets

    assert asked.case is not None  # what is missing is told before
    return drawing_files(draw_ruling_sheets(rule_on_case(asked.room, asked.folder, asked.case)), PDF, where="ruling")[0]


def print_procedure(form: GuideForm) -> Maker:
    """How a procedure is done, in one of its forms."""

    def make(asked: PrintAsked) -> bytes | str:
        from marram.office.courses.find_places import known_procedure
        from marram.office.trials.guide_file import guide_file
        from marram.office.trials.make_guide import guide_procedures

        books = asked.opened_books()[:2]
        name = known_procedure(asked.fields[Field.PROCEDURE], books[0].catalogue)
        course = open_ground(asked.room, asked.folder, asked.course, asked.day).course
        return guide_file(_shown(guide_procedures(course, books, [name], player=_player(), work=asked.work)), form)

    return make


def print_guide(form: GuideForm) -> Maker:
    """The guide of a trial, in one of its forms."""

    def make(asked: PrintAsked) -> bytes | str:
        from marram.office.trials.guide_file import guide_file
        from marram.office.trials.make_guide import base_of, guide_trial

        overlay = asked.overlay()
        course = open_ground(asked.room, asked.folder, asked.course, asked.day).course
        base = asked.room.book(base_of(overlay))
        made = guide_trial(course, base, overlay, player=_player(), each=asked.whole(Field.COUNT), procedures=(), work=asked.work)
        return guide_file(_shown(made), form)

    return make


def _shown(guide: Guide) -> Guide:
    """A guide that shows something.

    Raises:
        DataError: It shows nothing, with why.
    """
    if not guide.pages and not guide.changes:
        raise DataError(" ".join(guide.not_shown), where="course", hint="Choose another procedure, or another course.")
    return guide


def print_compared(form: str) -> Maker:
    """What differs between two books, for paper or for a screen."""

    def make(asked: PrintAsked) -> bytes | str:
        from marram.office.books.compare_two import compare_two, print_comparison

        first, second = asked.opened_books()[:2]
        return print_comparison(compare_two((first, second)).told, "html" if form == HTML else "pdf")

    return make


def print_relief(asked: PrintAsked) -> bytes | str:
    """All relief of a book."""
    from marram.office.sheets import print_sheet

    return print_sheet.print_relief(asked.opened_books()[0])


def print_strip(asked: PrintAsked) -> bytes | str:
    """A measuring strip."""
    from marram.office.sheets import print_sheet

    return print_sheet.print_strip(asked.fields[Field.LENGTH])


def print_trial(asked: PrintAsked) -> bytes | str:
    """A trial on one sheet."""
    from marram.office.trials.guide_file import guide_file
    from marram.office.trials.make_guide import base_of, tell_trial

    overlay = asked.overlay()
    return guide_file(tell_trial(asked.room.book(base_of(overlay)), overlay), "a4")


def print_papers(*, of_plan: bool) -> Maker:
    """The papers of a trial's days, with its plan or without."""

    def make(asked: PrintAsked) -> bytes | str:
        from marram.office.trials.trial_papers import make_papers, papers_file

        overlay = asked.overlay()
        frozen = asked.room.plan(asked.file(Need.PLAN)) if of_plan else None
        return papers_file(make_papers(overlay, asked.room.book(overlay.on[-1]), frozen), ".pdf")

    return make


def print_report(form: str) -> Maker:
    """The report of a trial, for paper or for a screen."""

    def make(asked: PrintAsked) -> bytes | str:
        from marram.office.trials.plan_trial import refuse_changed_trial
        from marram.office.trials.report_trial import report_file, report_trial

        overlay = asked.overlay()
        season = named(asked.papers.seasons, asked.names.get(Need.RECORDS.value, ""), Need.RECORDS.value)
        plan = asked.file(Need.PLAN) if asked.papers.plans else None
        frozen = None if plan is None else asked.room.plan(plan)
        if frozen is not None:
            refuse_changed_trial(frozen, overlay)
        records = asked.room.records(season.days, season.values, overlay, season.asked)
        asked.work.tell("weighing the records")
        reported = report_trial(overlay, records, frozen, asked.room.book(overlay.on[-1]))
        files = (season.days, season.values, season.asked, plan)
        told = f"the report of {asked.trial} at the desk, from {listed([file.name for file in files if file is not None])}"
        return report_file(reported, told, f".{form}")

    return make


def print_clarity(asked: PrintAsked) -> bytes | str:
    """The papers of a clarity exercise."""
    from marram.office.exercises.draw_exercise import clarity_sheets, draw_clarity

    overlay, written = asked.overlay(), asked.room.written_incidents(asked.file(Need.INCIDENTS))
    drawn = draw_clarity(overlay, written, officials=asked.whole(Field.PEOPLE), seed=asked.fields[Field.SEED])
    return clarity_sheets(drawn, written, asked.room.book(overlay.on[-1]))


def print_stations(asked: PrintAsked) -> bytes | str:
    """The papers of stations."""
    from marram.office.exercises.draw_exercise import draw_stations, station_sheets

    overlay = asked.overlay()
    written = asked.room.tasks(asked.file(Need.TASKS), overlay)
    drawn = draw_stations(overlay, written, players=asked.whole(Field.PEOPLE), seed=asked.fields[Field.SEED])
    return station_sheets(drawn, written, asked.room.book(overlay.on[-1]))


def print_forecast(asked: PrintAsked) -> bytes | str:
    """What a trial is expected to do, before anyone tees off."""
    from marram.office.forecasts import print_forecast as printed
    from marram.office.forecasts.forecast_asked import ForecastAsked
    from marram.office.forecasts.forecast_trial import forecast_trial

    overlay, opened = asked.overlay(), open_ground(asked.room, asked.folder, asked.course, asked.day)
    wanted = ForecastAsked(players=asked.whole(Field.PEOPLE))
    found = forecast_trial(overlay, asked.room.book(overlay.on[-1]), opened.course, wanted, asked.work)
    return printed.print_forecast(found)


def print_season(asked: PrintAsked) -> bytes | str:
    """What came up over the events of the store, on the plan of the course."""
    from marram.office.drawing_file import drawing_file
    from marram.office.event_records.tell_season import draw_found, find_season

    store = asked.room.store(str(asked.papers.store))
    found = find_season([asked.room.event(store, name, is_strict=False) for name in store.events()])
    return drawing_file(draw_found(found, open_ground(asked.room, asked.folder, asked.course, asked.day)), PDF, where=asked.course)


def print_event(paper: str) -> Maker:
    """A paper of an event."""

    def make(asked: PrintAsked) -> bytes | str:
        from marram.office.events import event_papers

        store = asked.room.store(str(asked.papers.store))
        return event_papers.print_event(asked.room.event(store, asked.names.get(Need.EVENT.value, "")), paper, ".pdf")

    return make
