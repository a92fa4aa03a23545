"""The drawing of a ruling: one ball under one or several rule books, to scale, with a caption that carries every rule."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from marram.core.errors import DataError, SurveyError
from marram.core.terms import ADVICE
from marram.course.course import Course
from marram.rulings.case.incident import Incident
from marram.sheets.drawn.legend import Sign, draw_legend, further_signs, signs_of
from marram.sheets.drawn.ruling_caption import draw_attribution, draw_caption, draw_closing, told
from marram.sheets.ruled.books_row import draw_books_row
from marram.sheets.ruled.hole_plan import draw_plan, plan_scene
from marram.sheets.ruled.paper_rows import SHEET_HEIGHT, rows_of_all, rows_of_options, rows_of_reasons, share_out
from marram.sheets.ruled.ruled_place import Given, RuledPlace
from marram.sheets.ruled.ruling_layout import PAPER, TOP, Laid, Page, lay_out, main_view, page_for, window_without_words
from marram.sheets.ruled.ruling_scene import heading, pencil_of, places_to_see, scene_of, title_lines, unplaced
from marram.sheets.scene.border import (
    PROOF_MM,
    draw_frame,
    draw_north,
    draw_proof_bar,
    draw_title_block,
    north_box,
    title_block_box,
)
from marram.sheets.scene.lettering import letter_view
from marram.sheets.scene.map_layout import WIDE, draw_plate, foot_of, plate_box
from marram.sheets.scene.palette import DAY, PRINT, Palette
from marram.sheets.scene.rendering import AS_FILE, Rendering, draw_bare, window_of
from marram.sheets.scene.style import page_of
from marram.sheets.scene.svg import UNIT_MM, draw_pencil, draw_view
from marram.sheets.scene.type_widths import Face, wrap_words

_ADVICE = 34.0
"""Height of the advice at the foot of a further sheet."""
_BEFORE_RULE = 5.0
"""Between the last line and the rule that closes a sheet."""


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
    place = _placed(incident, course, given, about)
    if not rendering.has_words:
        return _bare(place, palette, rendering, scale)
    if is_paper and not rendering.is_map_alone:
        return draw_ruling_sheets(incident, course, given, scale=scale, rendering=rendering)[0]
    page = page_for(rendering, is_paper=is_paper)
    laid = lay_out(place, page, scale, rendering)
    body = [] if rendering.is_map_alone else [*heading(incident, course, page)]
    signs, left = _draw_map(body, place, laid, page)
    if rendering.is_map_alone:
        layout = page.narrow or WIDE
        height = draw_legend(body, signs, left, laid.whole, foot_of(layout, laid.map), is_paper=is_paper, columns=layout.columns) + 4
    else:
        height = _foot(body, place, laid, page, signs, left)
    return _page(place, body, height, page, laid, palette, rendering)


def draw_ruling_sheets(
    incident: Incident, course: Course, given: Given, *, scale: int | None = None, rendering: Rendering = AS_FILE
) -> tuple[str, ...]:
    """Draw an incident under its books on sheets of A4: map and options first, and on further sheets what has no room there.

    Args:
        incident: What happened.
        course: The course with the day's conditions.
        given: Books with their rulings.
        scale: 1 to so many; None for the largest of a fair series that holds the chosen area.
        rendering: How the drawing is given, with words.

    Returns:
        SVG files, none higher than A4 less its margins; equal input gives equal bytes.

    Raises:
        SurveyError: The hole has no location, or the chosen area does not fit at the scale asked.
    """
    place = _placed(incident, course, given)
    laid = lay_out(place, PAPER, scale, rendering)
    bodies: list[list[str]] = [[]]
    signs, left = _draw_map(bodies[0], place, laid, PAPER)
    ends = [_beneath(bodies[0], place, laid, PAPER, signs, left)]
    last = SHEET_HEIGHT - _close([], place, PAPER, 0.0)
    if not place.is_laid_over:
        row: list[str] = []
        after = draw_books_row(row, place, laid, PAPER, signs, ends[0])
        if after <= last:
            bodies[0] += row
            ends[0] = after
        else:
            bodies.append([])
            ends.append(draw_books_row(bodies[1], place, laid, PAPER, signs, TOP))
    _share_out_caption(bodies, ends, place, last)
    _close(bodies[0], place, PAPER, ends[0])
    palette, count = rendering.palette or PRINT, len(bodies)
    drawn = []
    for number, (body, end) in enumerate(zip(bodies, ends, strict=True), start=1):
        note = f" · sheet {number} of {count}" if count > 1 else ""
        height = end + (_close([], place, PAPER, 0.0) if number == 1 else _advise(body, end))
        drawn.append(_page(place, [*heading(incident, course, PAPER, note), *body], height, PAPER, laid, palette, rendering))
    return tuple(drawn)


def _share_out_caption(bodies: list[list[str]], ends: list[float], place: RuledPlace, last: float) -> None:
    """Letter what each book says on the last sheet and as many more as it needs: where one does not do, the options of all books first."""
    width, first = PAPER.sides[1] - PAPER.sides[0], (ends[-1], last if len(ends) == 1 else SHEET_HEIGHT - _ADVICE)
    first, other = (first[0], first[1] - _BEFORE_RULE), (TOP - 12, SHEET_HEIGHT - _ADVICE - _BEFORE_RULE)
    sheets = share_out(rows_of_all(place.given, width), first, other)
    if len(sheets) > 1:
        sheets = share_out([*rows_of_options(place.given, width), *rows_of_reasons(place.given, width)], first, other)
    start = len(bodies) - 1
    for number, rows in enumerate(sheets, start=start):
        if number == len(bodies):
            bodies.append([])
            ends.append(other[0])
        for y, row in rows:
            bodies[number] += row.draw(PAPER.sides, y)
            ends[number] = y + row.height + _BEFORE_RULE


def _close(body: list[str], place: RuledPlace, page: Page, y: float) -> float:
    """Cautions, advice and whose survey it is; returns where the drawing ends."""
    y = draw_closing(body, place.given, page.sides, y, is_paper=page.is_paper)
    return draw_attribution(body, place.course, page.sides, y, is_paper=page.is_paper) + 12


def _advise(body: list[str], y: float) -> float:
    """The advice at the foot of a further sheet; returns its height."""
    left, right = PAPER.sides
    body.append(f'<path class="line3" d="M{left:.0f} {y:.1f}H{right:.0f}"/>')
    body.append(f'<text class="t3" x="{left:.0f}" y="{y + 22:.1f}">{ADVICE}</text>')
    return _ADVICE


def _page(place: RuledPlace, body: list[str], height: float, page: Page, laid: Laid, palette: Palette, rendering: Rendering) -> str:
    size = f'width="{page.width:.0f}" height="{height:.0f}"'
    if page.is_paper:
        size = f'width="{page.width * UNIT_MM:.2f}mm" height="{height * UNIT_MM:.2f}mm"'
    words = told(place.given, laid.scale)
    return page_of(body, palette, page.width, height, size=size, title=place.title, words=words, prefix=rendering.prefix)


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
    view = main_view(shown, page.inner / shown.width_m, page, rendering.prefix, is_alone=True)
    return draw_pencil(pencil_of(_placed(incident, course, given, about), shown, lettered=False), view)


def _placed(incident: Incident, course: Course, given: Given, about: str = "") -> RuledPlace:
    hole = course.hole(incident.hole).location
    if hole is None:
        raise SurveyError("There is nothing to draw without the place of the hole.", where=course.name)
    return RuledPlace(incident=incident, course=course, hole=hole, given=given, about=about)


def _bare(place: RuledPlace, palette: Palette, rendering: Rendering, scale: int | None) -> str:
    """The drawing without a word: the window asked, else one that fills the whole width."""
    if scale is not None:
        raise DataError("A drawing without words has no scale.", where="scale", hint="Leave the scale out, or have the words drawn.")
    window = window_without_words(place) if rendering.window is None else window_of(rendering.window)
    return draw_bare(scene_of(place, window), window, rendering, palette, title=place.title, words=told(place.given, None))


def _draw_map(body: list[str], place: RuledPlace, laid: Laid, page: Page) -> tuple[list[Sign], Sequence[str]]:
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


def _foot(body: list[str], place: RuledPlace, laid: Laid, page: Page, signs: Sequence[Sign], left: Sequence[str]) -> float:
    """Everything beneath the map on one page; returns where the drawing ends."""
    y = _beneath(body, place, laid, page, signs, left)
    if not place.is_laid_over:
        y = draw_books_row(body, place, laid, page, signs, y)
    y = draw_caption(body, place.given, page.sides, y, is_paper=page.is_paper)
    return draw_attribution(body, place.course, page.sides, y, is_paper=page.is_paper) + 12


def _beneath(body: list[str], place: RuledPlace, laid: Laid, page: Page, signs: Sequence[Sign], left: Sequence[str]) -> float:
    """Legend, what is not on the map, and on paper the bar that proves a print; returns where they end."""
    is_paper = page.is_paper
    y = draw_legend(body, signs, left, laid.whole, laid.bottom + 30, is_paper=is_paper)
    for line in wrap_words(unplaced(place), page.inner, Face.PAPER if is_paper else Face.BOARD, 13.0):
        body.append(f'<text class="t4" x="{page.sides[0]:.0f}" y="{y + 15:.1f}">{escape(line)}</text>')
        y += 18
    y += 14
    if is_paper:
        body += draw_proof_bar(page.width - page.edge - PROOF_MM / UNIT_MM, y + 14)
        y += 40
    return y
