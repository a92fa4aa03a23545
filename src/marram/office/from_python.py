"""What `import marram` does: verbs on what is known, a course and a book, in that order; the rest by keyword.

What opens something takes a file or a name; everything else works on values and changes none.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from marram.core.terms import Area, Form
from marram.office.workroom import Workroom

if TYPE_CHECKING:
    from marram.course.course import Course
    from marram.evidence.weighing.told_findings import TrialReport
    from marram.office.courses.check_course import CourseChecked
    from marram.office.courses.find_places import PlacesFound
    from marram.records.rows import TrialRecords
    from marram.rulebook.book import Book
    from marram.rulebook.overlays.overlay import Overlay
    from marram.rulings.acts.acts import ActAnswer
    from marram.rulings.acts.form_of_play import FormAnswer
    from marram.rulings.acts.objects import ObjectAnswer
    from marram.rulings.acts.search_clock import SearchAnswer
    from marram.rulings.case.incident import Incident, Player
    from marram.rulings.case.ruling import Ruling
    from marram.rulings.drop.dropping import DropAnswer

_ROOM = Workroom()
"""Keeps what was opened warm for as long as the process lives; a file that has changed is opened anew."""
Facts = Mapping[str, bool]


def open_course(course_file: str | Path, *, today: str | Path | None = None) -> Course:
    """Open a course as it is today.

    Args:
        course_file: The course file.
        today: The conditions of the day, a file; None where there are none.

    Raises:
        SurveyError: A file cannot be used.
    """
    return _ROOM.course(Path(course_file), None if today is None else Path(today)).course


def open_book(name: str) -> Book:
    """Open a rule book.

    Args:
        name: An edition, or an edition with overlays, such as ``2023`` or ``2023+trial.toml``.

    Raises:
        RuleDataError: The edition or an overlay cannot be used.
    """
    return _ROOM.book(name)


def open_incident(incident_file: str | Path, course: Course, book: Book) -> Incident:
    """Open an incident, placed on a course.

    Args:
        incident_file: The incident file.
        course: The course as it is today.
        book: A book that is asked: it says which facts may be stated.

    Raises:
        IncidentError: The file cannot be used.
    """
    return _ROOM.incident(Path(incident_file), course, (book,))


def rule(incident: Incident, course: Course, book: Book) -> Ruling:
    """Rule on a ball: the options, what is not available and why, what has to be asked.

    Raises:
        DataError: What the incident states cannot be.
    """
    from marram.rulings.rule_on import rule_on

    return rule_on(incident, course, book)


def draw(incident: Incident, course: Course, book: Book, *, is_paper: bool = False, scale: int | None = None) -> str:
    """Draw a ruling to scale, as SVG.

    Args:
        incident: What happened.
        course: The course as it is today.
        book: The book.
        is_paper: For black and white paper at a stated scale, else for the screen.
        scale: On paper 1 to so many; None for the largest of a fair series that holds the chosen area.

    Raises:
        DataError: What the incident states cannot be, or the drawing does not fit.
    """
    from marram.office.open_course import OpenCourse
    from marram.office.play.give_ruling import draw_ruling, give_rulings

    rulings = give_rulings(incident, OpenCourse(course=course, day=None), (book,))
    return draw_ruling(rulings, is_paper=is_paper, scale=scale)


def act(name: str, book: Book, *, facts: Facts | None = None) -> ActAnswer:
    """What an act leads to, in stroke play and in match play.

    Args:
        name: Its name, as ``marram.find`` gives it.
        book: The book.
        facts: What is known of it.

    Raises:
        DataError: There is no such act or fact.
    """
    from marram.office.play.rule_on_acts import StatedAct, rule_on_acts

    (ruled,) = rule_on_acts((book,), (StatedAct(act=name, facts=tuple((facts or {}).items())),))
    return ruled.first.answer


def thing(name: str, book: Book, *, area: Area = Area.GENERAL_AREA, facts: Facts | None = None) -> ObjectAnswer:
    """What a thing met on the course is, and whether it may be moved.

    Args:
        name: Its name.
        book: The book.
        area: Where it lies together with the ball.
        facts: What is known of it.

    Raises:
        DataError: There is no such thing or fact.
    """
    from marram.office.play.name_thing import rule_on_thing

    (ruled,) = rule_on_thing((book,), name, area=area, stated=tuple((facts or {}).items()))
    return ruled.answer


def search(events: str, book: Book) -> SearchAnswer:
    """Whether a ball was found in time.

    Args:
        events: What happened and when, such as ``start@0:00,found@2:40``.
        book: The book.

    Raises:
        DataError: An event is not known.
    """
    from marram.office.play.time_search import time_search

    (timed,) = time_search((book,), events)
    return timed.answer


def drop(events: str, book: Book, *, procedure: str = "") -> DropAnswer:
    """Where a drop stands and what to do next.

    Args:
        events: What happened, in order, separated by commas.
        book: The book.
        procedure: The relief that is dropped for; empty for none in particular.

    Raises:
        DataError: There is no such event or relief.
    """
    from marram.office.play.follow_drop import follow_drop

    (answer,) = follow_drop((book,), procedure, events)
    return answer


def form_of_play(form: Form, book: Book) -> FormAnswer:
    """What is so in a form of play: what counts, what ends a hole."""
    from marram.office.play.tell_form import tell_form

    (answer,) = tell_form((book,), form.value)
    return answer


def find(words: str) -> tuple[tuple[str, str], ...]:
    """Find anything that can be asked by words, as players put it.

    Returns:
        Name and title of what fits, the best first; nothing where it is not covered.
    """
    from marram.asking.finding import ask
    from marram.office.play.ask import whole_register

    return tuple((found.entry.id, found.entry.title) for found in ask(whole_register(), words).found)


def check(course: Course) -> CourseChecked:
    """Every fault of a survey, those that stop rulings first."""
    from marram.office.courses.check_course import check_survey

    return check_survey(course)


def places(procedure: str, course: Course, book: Book, *, player: Player | None = None, count: int = 3) -> PlacesFound:
    """Places of a course at which a procedure is shown well.

    Args:
        procedure: The procedure.
        course: The course as it is today.
        book: The book.
        player: Whoever shows it; None for a right-handed player with an iron.
        count: How many places.

    Raises:
        DataError: There is no such procedure.
    """
    from marram.core.terms import Club, Hand
    from marram.office.courses.find_places import find_places, player_with
    from marram.office.open_course import OpenCourse

    shown_by = player or player_with(Hand.RIGHT, Club.IRON, 45.0)
    return find_places(OpenCourse(course=course, day=None), procedure, (book,), player=shown_by, count=count)


def open_trial(trial_file: str | Path) -> Overlay:
    """Open a trial.

    Raises:
        RuleDataError: The file cannot be used.
    """
    return _ROOM.trial(Path(trial_file))


def open_records(days_file: str | Path, values_file: str | Path, trial: Overlay) -> TrialRecords:
    """Open the records of a trial.

    Args:
        days_file: The table of days.
        values_file: The table of values; the same workbook may hold both.
        trial: The trial that was played.

    Raises:
        RecordError: Rows have faults; all of them are told.
    """
    return _ROOM.records(Path(days_file), Path(values_file), trial)


def weigh(trial: Overlay, records: TrialRecords) -> TrialReport:
    """One verdict for each change of a trial, and what became of every row."""
    from marram.evidence.findings import weigh_trial

    return weigh_trial(trial, records)
