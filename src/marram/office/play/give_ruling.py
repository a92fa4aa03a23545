"""Give a ruling: one incident on a course, under each of some books."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import FactsNeeded, IncidentError
from marram.course.course import Course
from marram.course.day import Day
from marram.office.open_course import OpenCourse
from marram.office.play.beside_ruling import GivenRuling, with_what_stands_beside
from marram.rulebook.book import Book
from marram.rulebook.facts import refuse_contradiction
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Option, Question, Ruling
from marram.rulings.rule_on import rule_on, situations

if TYPE_CHECKING:
    from marram.sheets.scene.rendering import Rendering


@dataclass(frozen=True, slots=True, kw_only=True)
class Rulings:
    """One incident ruled under several books.

    Attributes:
        incident: What happened.
        course: The course with the day's conditions.
        given: The ruling of each book, in the order asked.
        day: What of the course is of the day and not of the survey; None where no such file was given.
    """

    incident: Incident
    course: Course
    given: tuple[GivenRuling, ...]
    day: Day | None = None


def give_rulings(incident: Incident, opened: OpenCourse, books: Sequence[Book], *, where: str = "") -> Rulings:
    """Rule on an incident under each book.

    Args:
        incident: What happened, placed on the course.
        opened: The course as it is today.
        books: The books, opened together.
        where: Name of the file that states the incident, for errors; empty where none does.

    Raises:
        DataError: What the incident states cannot be.
        FactsNeeded: No book can say anything before some facts are known.
    """
    refuse_contradiction(incident.facts, books[0].catalogue.facts, where=", ".join(filter(None, (where, "facts"))))
    try:
        ruled = [(book, rule_on(incident, opened.course, book)) for book in books]
    except IncidentError as problem:
        raise IncidentError(problem.message, where=", ".join(filter(None, (where, problem.where))), hint=problem.hint) from None
    _refuse_empty(where, [ruling for _, ruling in ruled])
    return Rulings(
        incident=incident,
        course=opened.course.with_conditions(incident.conditions),
        given=tuple(with_what_stands_beside(book, ruling, incident) for book, ruling in ruled),
        day=opened.day,
    )


def draw_ruling(
    rulings: Rulings, *, is_paper: bool = False, scale: int | None = None, rendering: Rendering | None = None, about: str = ""
) -> str:
    """Draw an incident with its rulings, to scale, as SVG.

    Args:
        rulings: The rulings.
        is_paper: For black and white paper at a stated scale, else for the screen; of several sheets the first.
        scale: On paper 1 to so many; None for the largest of a fair series that holds the chosen area.
        rendering: How the drawing is wanted, from ``ask_drawing``; None for a file with words that chooses its window.
        about: Name of the option that it is about, where one was chosen.

    Raises:
        SurveyError: The hole has no location, or the chosen area does not fit at the scale asked.
        DataError: A scale is asked of a drawing without words.
    """
    from marram.sheets.ruled.ruling_drawing import draw_rulings
    from marram.sheets.scene.rendering import AS_FILE

    given = [(one.book, one.ruling) for one in rulings.given]
    wanted = rendering or AS_FILE
    return draw_rulings(rulings.incident, rulings.course, given, is_paper=is_paper, scale=scale, rendering=wanted, about=about)


def draw_ruling_sheets(rulings: Rulings, *, scale: int | None = None) -> tuple[str, ...]:
    """Draw an incident with its rulings on sheets of A4, to scale, as SVG: map and options first, the rest on further sheets.

    Args:
        rulings: The rulings.
        scale: 1 to so many; None for the largest of a fair series that holds the chosen area.

    Raises:
        SurveyError: The hole has no location, or the chosen area does not fit at the scale asked.
    """
    from marram.sheets.ruled.ruling_sheets import draw_ruling_sheets as draw

    return draw(rulings.incident, rulings.course, [(one.book, one.ruling) for one in rulings.given], scale=scale)


def book_in_force(rulings: Rulings) -> GivenRuling:
    """The ruling that a drawing is about, and that leads what is told beside it."""
    from marram.sheets.ruled.ruled_place import in_force

    book, _ = in_force([(one.book, one.ruling) for one in rulings.given])
    return next(one for one in rulings.given if one.book is book)


def drawn_option(rulings: Rulings, about: str = "") -> Option | None:
    """The option of the book in force that a drawing is about; None where it gives none.

    Args:
        rulings: The rulings.
        about: Name of the option that was chosen; empty, or one that is not given, for the one that is drawn unasked.
    """
    from marram.sheets.drawn.relief_shapes import main_option
    from marram.sheets.ruled.ruled_place import chosen_option

    ruling = book_in_force(rulings).ruling
    return main_option(ruling, chosen_option(ruling, about))


def draw_moving_ruling(rulings: Rulings, rendering: Rendering, about: str = "") -> tuple[str, str]:
    """Draw what rulings put on the ground while the ball is moved: no ground, no words.

    Args:
        rulings: The rulings, with the ball where it is now.
        rendering: The map, drawn by ``draw_ruling`` as a map alone; its window is the ground that it shows.
        about: Name of the option that it is about, where one was chosen.

    Returns:
        SVG marks that lie under the edges of penalty areas, and those that lie above them.

    Raises:
        DataError: The window cannot be drawn.
        SurveyError: The hole has no location.
    """
    from marram.sheets.ruled.ruling_drawing import draw_moving

    given = [(one.book, one.ruling) for one in rulings.given]
    return draw_moving(rulings.incident, rulings.course, given, rendering, about)


def list_situations(book: Book) -> dict[str, str]:
    """The situations that an incident may state, with what each means."""
    return dict(situations(book))


def _put(question: Question) -> str:
    """A question with its answers, where it is not one of yes or no."""
    return f"{question.question.removesuffix('?')}: {' or '.join(question.answers)}?" if question.answers else question.question


def _refuse_empty(where: str, rulings: Sequence[Ruling]) -> None:
    if any(ruling.options for ruling in rulings) or not any(ruling.facts_needed for ruling in rulings):
        return
    asked = {entry.fact: _put(entry) for ruling in rulings for entry in ruling.facts_needed}
    raise FactsNeeded("Nothing can be ruled yet.", questions=tuple(asked.items()), where=where)
