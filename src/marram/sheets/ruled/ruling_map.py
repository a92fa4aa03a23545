"""The map of a ruling with its plan and its legend, and the page that they stand on: what drawings and sheets have in common."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from marram.core.errors import SurveyError
from marram.course.course import Course
from marram.course.holes import how_to_give_location
from marram.rulings.case.incident import Incident
from marram.sheets.drawn.legend import Sign, draw_legend, further_signs, signs_of
from marram.sheets.drawn.ruling_caption import told
from marram.sheets.ruled.hole_plan import draw_plan, plan_scene
from marram.sheets.ruled.ruled_place import Given, RuledPlace
from marram.sheets.ruled.ruling_layout import Laid, Page
from marram.sheets.ruled.ruling_scene import places_to_see, scene_of, title_lines, unplaced
from marram.sheets.scene.border import draw_frame, draw_north, draw_title_block, north_box, title_block_box
from marram.sheets.scene.lettering import letter_view
from marram.sheets.scene.map_layout import draw_plate, plate_box
from marram.sheets.scene.palette import Palette
from marram.sheets.scene.rendering import Rendering
from marram.sheets.scene.style import page_of
from marram.sheets.scene.svg import UNIT_MM, draw_view
from marram.sheets.scene.type_widths import Face, wrap_words

_COLUMNS, _PAPER_COLUMNS = 4, 12
"""How many columns a legend has: narrower ones on paper, where what they save is the map's."""


def placed(incident: Incident, course: Course, given: Given, about: str = "") -> RuledPlace:
    """An incident with its rulings on a hole that has a location.

    Args:
        incident: What happened.
        course: The course with the day's conditions.
        given: Books with their rulings.
        about: Name of the option that the drawing is about, where one was chosen.

    Raises:
        SurveyError: The hole has no location.
    """
    hole = course.hole(incident.hole).location
    if hole is None:
        raise SurveyError(
            f"Where hole {incident.hole} is cut today is not known, so its rulings cannot be drawn.",
            where=course.name,
            hint=how_to_give_location(incident.hole),
        )
    return RuledPlace(incident=incident, course=course, hole=hole, given=given, about=about)


def draw_map(body: list[str], place: RuledPlace, laid: Laid, page: Page) -> tuple[list[Sign], Sequence[str]]:
    """Draw map and plan in their frames; returns the signs to explain, and the words for which there was no room."""
    view = laid.map
    shown = scene_of(place, view.window)
    clear_of = places_to_see(place, view.window)
    block = plate_box(view, clear_of) if page.narrow else title_block_box(view, clear_of)
    covers = [north_box(view), block]
    words = letter_view(shown, view, covers)
    body += draw_view(shown, view, covers, lettering=words)
    body += draw_frame(view, has_figures=not page.narrow)
    body.append(draw_north(view))
    if page.narrow:
        body += draw_plate(view, block)
    else:
        body += draw_title_block(view, title_lines(place.course, place.incident, place.force[0], laid.scale), block)
    signs = signs_of(shown, view, words, place.edge_names, books=place.edges)
    if laid.plan is not None:
        plan, seen = laid.plan
        whole_hole = plan_scene(plan, place.incident, place.course, place.hole, view.window, seen)
        body += draw_plan(whole_hole, seen)
        signs += further_signs(whole_hole, seen, place.edge_names, signs)
    return signs, words.left


def draw_beneath(body: list[str], place: RuledPlace, laid: Laid, page: Page, signs: Sequence[Sign], left: Sequence[str]) -> float:
    """Legend, and what is not on the map; returns where they end."""
    is_paper = page.is_paper
    y = draw_legend(body, signs, left, laid.whole, laid.bottom + 30, is_paper=is_paper, columns=_PAPER_COLUMNS if is_paper else _COLUMNS)
    for line in wrap_words(unplaced(place), page.inner, Face.PAPER if is_paper else Face.BOARD, 13.0):
        body.append(f'<text class="t4" x="{page.sides[0]:.0f}" y="{y + 15:.1f}">{escape(line)}</text>')
        y += 18
    return y + 14


def finish(place: RuledPlace, body: list[str], height: float, page: Page, laid: Laid, palette: Palette, rendering: Rendering) -> str:
    """The whole drawing: on the screen by its units, on paper in millimetres."""
    size = f'width="{page.width:.0f}" height="{height:.0f}"'
    if page.is_paper:
        size = f'width="{page.width * UNIT_MM:.2f}mm" height="{height * UNIT_MM:.2f}mm"'
    words = rendering.lengths.told(told(place.given, laid.scale))
    return page_of(body, palette, page.width, height, size=size, title=place.title, words=words, prefix=rendering.prefix)
