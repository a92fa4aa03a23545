"""The drawing of a ruling: one ball under one or several rule books, to scale, with a caption that carries every rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marram.core.errors import DataError
from marram.course.course import Course
from marram.rulings.case.incident import Incident
from marram.sheets.drawn.legend import Sign, draw_legend
from marram.sheets.drawn.ruling_caption import draw_attribution, draw_caption, told
from marram.sheets.ruled.books_row import draw_books_row
from marram.sheets.ruled.ruled_place import Given, RuledPlace
from marram.sheets.ruled.ruling_layout import Laid, Page, lay_out, main_view, page_for, window_without_words
from marram.sheets.ruled.ruling_map import draw_beneath, draw_map, finish, placed
from marram.sheets.ruled.ruling_scene import heading, pencil_of, scene_of
from marram.sheets.ruled.ruling_sheets import draw_ruling_sheets
from marram.sheets.scene.map_layout import WIDE, foot_of
from marram.sheets.scene.palette import DAY, PRINT, Palette
from marram.sheets.scene.rendering import AS_FILE, Rendering, draw_bare, window_of
from marram.sheets.scene.svg import draw_pencil


def draw_rulings(
    incident: Incident,
    course: Course,
    given: Given,
    *,
    is_paper: bool,
    scale: int | None = None,
    rendering: Rendering = AS_FILE,
    about: str = "",
) -> str:
    """Draw an incident under its books.

    Args:
        incident: What happened.
        course: The course with the day's conditions.
        given: Books with their rulings; up to three are laid over each other, more stand side by side at one scale.
        is_paper: For black and white paper at a stated scale, else for the screen.
        scale: On paper 1 to so many; None for the largest of a fair series that holds the chosen area.
        rendering: How the drawing is given. Without words, of more than three books the one in force is drawn alone.
        about: Name of the option that the drawing is about, where one was chosen.

    Returns:
        An SVG file; equal input gives equal bytes.

    Raises:
        SurveyError: The hole has no location, or the chosen area does not fit at the scale asked.
        DataError: A scale is asked of a drawing without words, which has none.
    """
    palette = rendering.palette or (PRINT if is_paper else DAY)
    place = placed(incident, course, given, about)
    if not rendering.has_words:
        return _bare(place, palette, rendering, scale)
    if is_paper and not rendering.is_map_alone:
        return draw_ruling_sheets(incident, course, given, scale=scale, rendering=rendering)[0]
    page = page_for(rendering, is_paper=is_paper)
    laid = lay_out(place, page, scale, rendering)
    body = [] if rendering.is_map_alone else [*heading(incident, course, page)]
    signs, left = draw_map(body, place, laid, page)
    if rendering.is_map_alone:
        layout = page.narrow or WIDE
        height = draw_legend(body, signs, left, laid.whole, foot_of(layout, laid.map), is_paper=is_paper, columns=layout.columns) + 4
    else:
        height = _foot(body, place, laid, page, signs, left)
    return finish(place, body, height, page, laid, palette, rendering)


def draw_moving(incident: Incident, course: Course, given: Given, rendering: Rendering, about: str = "") -> tuple[str, str]:
    """Draw what a ruling puts on the ground while its ball is moved: without ground and words, on a map that stands alone.

    Args:
        incident: What happened, with the ball where it is now.
        course: The course with the day's conditions.
        given: Books with their rulings.
        rendering: How the map is given: its window is the ground that it shows.
        about: Name of the option that the drawing is about, where one was chosen.

    Returns:
        The marks that lie under the edges of penalty areas, and those that lie above them.

    Raises:
        DataError: No window is asked.
        SurveyError: The hole has no location.
    """
    if rendering.window is None:
        raise DataError("What moves is drawn in a window.", where="window", hint="Give the ground that the map shows.")
    shown, page = window_of(rendering.window), page_for(rendering, is_paper=False)
    view = main_view(shown, page.inner / shown.width_m, page, replace(rendering, is_map_alone=True))
    return draw_pencil(pencil_of(placed(incident, course, given, about), shown, lettered=False), view)


def _bare(place: RuledPlace, palette: Palette, rendering: Rendering, scale: int | None) -> str:
    """The drawing without a word: the window asked, else one that fills the whole width."""
    if scale is not None:
        raise DataError("A drawing without words has no scale.", where="scale", hint="Leave the scale out, or have the words drawn.")
    window = window_without_words(place) if rendering.window is None else window_of(rendering.window)
    return draw_bare(scene_of(place, window), window, rendering, palette, title=place.title, words=told(place.given, None))


def _foot(body: list[str], place: RuledPlace, laid: Laid, page: Page, signs: Sequence[Sign], left: Sequence[str]) -> float:
    """Everything beneath the map on one page; returns where the drawing ends."""
    y = draw_beneath(body, place, laid, page, signs, left)
    if not place.is_laid_over:
        y = draw_books_row(body, place, laid, page, signs, y)
    y = draw_caption(body, place.given, page.sides, y, is_paper=page.is_paper)
    return draw_attribution(body, place.course, page.sides, y, is_paper=page.is_paper) + 12
