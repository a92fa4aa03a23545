"""Draw what was found on a course, and the course itself, as SVG text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from marram.course.course import Course

if TYPE_CHECKING:
    from marram.course.frame import Position
    from marram.office.courses.check_marking import MarkingCheck
    from marram.office.courses.find_places import PlacesFound, ShownPlace
    from marram.sheets.scene.rendering import Bounds, Rendering


def draw_ground(
    course: Course,
    *,
    hole: int | None = None,
    names_all: bool = False,
    ball: Position | None = None,
    listed: Sequence[tuple[str, Position]] = (),
    rendering: Rendering | None = None,
) -> str:
    """Draw a hole, or the whole course, for a screen.

    Args:
        course: The course.
        hole: Number of the hole; None for the whole course.
        names_all: Whether every green, tee, line and hole location is named.
        ball: Where a ball lies that nothing is ruled on yet; None where there is none.
        listed: Places of a list beside the drawing, each with its number there.
        rendering: How the drawing is wanted, from ``ask_drawing``; None for a file with words that chooses its window.

    Raises:
        SurveyError: There is no such hole, or nothing to draw.
    """
    from marram.sheets.drawn.course_drawing import draw_course
    from marram.sheets.scene.rendering import AS_FILE

    return draw_course(course, hole=hole, names_all=names_all, ball=ball, listed=listed, rendering=rendering or AS_FILE)


def draw_ground_on_paper(
    course: Course, *, hole: int | None, paper: str, scale: int | None, names_all: bool = False, window: Bounds | None = None
) -> str:
    """Draw a hole, or the whole course, for a sheet of paper at a stated scale.

    Args:
        course: The course.
        hole: Number of the hole; None for the whole course.
        paper: The sheet: ``a4``, ``a3``, ``a2`` or ``a1``.
        scale: 1 to so many; None for the largest of a fair series that fits.
        names_all: Whether every green, tee, line and hole location is named.
        window: Least x, least y, greatest x, greatest y of what must be seen, metres; None for the hole, or the whole course.

    Raises:
        SurveyError: There is no such hole, nothing to draw, or the scale does not fit.
        DataError: The window cannot be drawn.
    """
    from marram.sheets.drawn.course_paper import Paper, draw_course_on_paper

    return draw_course_on_paper(course, hole=hole, paper=Paper(paper), scale=scale, names_all=names_all, window=window)


def draw_marking_found(check: MarkingCheck) -> Iterator[tuple[str, str]]:
    """Draw the check of a course's marking: names with SVG text, the course once a book, then each serious place."""
    from marram.sheets.drawn.marking_drawing import draw_marking

    under = [(found.book, found.size_m, found.places, found.why_untried) for found in check.under]
    return draw_marking(check.course, under, besides=len(check.wide_spacing) + len(check.odd_holes) + check.is_stuck)


def draw_place(found: PlacesFound, place: ShownPlace, *, is_paper: bool, rendering: Rendering | None = None) -> str:
    """Draw a place at which a procedure is shown, under every book asked.

    Args:
        found: What was found.
        place: The place.
        is_paper: For black and white paper at a stated scale, else for the screen; of several sheets the first.
        rendering: How the drawing is wanted, from ``ask_drawing``; None for a file with words that chooses its window.
    """
    from marram.sheets.ruled.ruling_drawing import draw_rulings
    from marram.sheets.scene.rendering import AS_FILE

    given = [(book, shown.ruling) for book, shown in zip(found.books, place.under, strict=True)]
    return draw_rulings(place.incident, found.course, given, is_paper=is_paper, rendering=rendering or AS_FILE)


def draw_place_sheets(found: PlacesFound, place: ShownPlace) -> tuple[str, ...]:
    """Draw a place at which a procedure is shown on sheets of A4, under every book asked.

    Args:
        found: What was found.
        place: The place.
    """
    from marram.sheets.ruled.ruling_sheets import draw_ruling_sheets

    given = [(book, shown.ruling) for book, shown in zip(found.books, place.under, strict=True)]
    return draw_ruling_sheets(place.incident, found.course, given)
