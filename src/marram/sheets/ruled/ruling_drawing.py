"""The drawing of a ruling: one ball under one or several rule books, to scale, with a caption that carries every rule."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from html import escape

from marram.core.errors import DataError, SurveyError
from marram.course.course import Course
from marram.course.frame import Position
from marram.relief.area.shapes import Crescent
from marram.rulebook.book import Book
from marram.rulings.case.incident import Incident
from marram.sheets.drawn.ground_shapes import ground_items, ground_labels
from marram.sheets.drawn.legend import Sign, draw_legend, signs_of
from marram.sheets.drawn.option_places import LETTERS, option_place
from marram.sheets.drawn.relief_marks import ruling_marks
from marram.sheets.drawn.ruling_caption import draw_attribution, draw_caption, edge_words, told
from marram.sheets.ruled.books_row import draw_books_row
from marram.sheets.ruled.hole_plan import draw_plan
from marram.sheets.ruled.other_book import other_book_marks
from marram.sheets.ruled.ruled_place import Given, RuledPlace
from marram.sheets.ruled.ruling_layout import Laid, Page, lay_out, main_view, page_for, window_without_words
from marram.sheets.scene.border import (
    PROOF_MM,
    block_head,
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
from marram.sheets.scene.scene import Role, Scene, Window
from marram.sheets.scene.style import name_span, page_of
from marram.sheets.scene.svg import UNIT_MM, draw_pencil, draw_view
from marram.sheets.scene.type_widths import Face, fit_words, words_width, wrap_words

_LEAST_NAME = 90.0
"""So much of a course's name stands beside any heading."""
_BLOCK_NAME = 80.0
"""Width of a book's name in the title block, beside its stamp."""


def draw_rulings(
    incident: Incident, course: Course, given: Given, *, is_paper: bool, scale: int | None = None, rendering: Rendering = AS_FILE
) -> str:
    """Draw an incident under its books.

    Args:
        incident: What happened.
        course: The course with the day's conditions.
        given: Books with their rulings; up to three are laid over each other, more stand side by side at one scale.
        is_paper: For black and white paper at a stated scale, else for the screen.
        scale: On paper 1 to so many; None for the largest of a fair series that holds the chosen area.
        rendering: How the drawing is given. Without words, of more than three books the one in force is drawn alone.

    Returns:
        An SVG file; equal input gives equal bytes.

    Raises:
        SurveyError: The hole has no location, or the chosen area does not fit at the scale asked.
        DataError: A scale is asked of a drawing without words, which has none.
    """
    palette = rendering.palette or (PRINT if is_paper else DAY)
    place = _placed(incident, course, given)
    if not rendering.has_words:
        return _bare(place, palette, rendering, scale)
    page = page_for(rendering, is_paper=is_paper)
    laid = lay_out(place, page, scale, rendering)
    body = [] if rendering.is_map_alone else [*_heading(incident, course, page)]
    signs, left = _draw_map(body, place, laid, page)
    if rendering.is_map_alone:
        layout = page.narrow or WIDE
        height = draw_legend(body, signs, left, laid.whole, foot_of(layout, laid.map), is_paper=is_paper, columns=layout.columns) + 4
    else:
        height = _foot(body, place, laid, page, signs, left)
    size = f'width="{page.width:.0f}" height="{height:.0f}"'
    if is_paper:
        size = f'width="{page.width * UNIT_MM:.2f}mm" height="{height * UNIT_MM:.2f}mm"'
    words = told(given, laid.scale)
    return page_of(body, palette, page.width, height, size=size, title=place.title, words=words, prefix=rendering.prefix)


def draw_moving(incident: Incident, course: Course, given: Given, rendering: Rendering) -> tuple[str, str]:
    """Draw what a ruling puts on the ground while its ball is moved: without ground and words, on a map that stands alone.

    Args:
        incident: What happened, with the ball where it is now.
        course: The course with the day's conditions.
        given: Books with their rulings.
        rendering: How the map is given: its window is the ground that it shows.

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
    return draw_pencil(_pencil(_placed(incident, course, given), shown, lettered=False), view)


def _placed(incident: Incident, course: Course, given: Given) -> RuledPlace:
    hole = course.hole(incident.hole).location
    if hole is None:
        raise SurveyError("There is nothing to draw without the place of the hole.", where=course.name)
    return RuledPlace(incident=incident, course=course, hole=hole, given=given)


def _bare(place: RuledPlace, palette: Palette, rendering: Rendering, scale: int | None) -> str:
    """The drawing without a word: the window asked, else one that fills the whole width."""
    if scale is not None:
        raise DataError("A drawing without words has no scale.", where="scale", hint="Leave the scale out, or have the words drawn.")
    window = window_without_words(place) if rendering.window is None else window_of(rendering.window)
    return draw_bare(_scene(place, window), window, rendering, palette, title=place.title, words=told(place.given, None))


def _draw_map(body: list[str], place: RuledPlace, laid: Laid, page: Page) -> tuple[list[Sign], Sequence[str]]:
    """Draw map and plan in their frames; returns the signs to explain, and the words for which there was no room."""
    view = laid.map
    scene = _scene(place, view.window)
    clear_of = _places_to_see(place, view.window)
    block = plate_box(view, clear_of) if page.narrow else title_block_box(view, clear_of)
    covers = [north_box(view), block]
    words = letter_view(scene, view, covers)
    body += draw_view(scene, view, covers, lettering=words)
    body += draw_frame(view, has_figures=not page.narrow)
    body.append(draw_north(view))
    if page.narrow:
        body += draw_plate(view, block)
    else:
        body += draw_title_block(view, _title_lines(place.course, place.incident, place.force[0], laid.scale), block)
    if laid.plan is not None:
        plan, seen = laid.plan
        body += draw_plan(plan, place.incident, place.course, place.hole, view.window, seen)
    names = {mark.value: name for mark, name in place.area_names.items()}
    return signs_of(scene, view, words, names, books=place.edges), words.left


def _foot(body: list[str], place: RuledPlace, laid: Laid, page: Page, signs: Sequence[Sign], left: Sequence[str]) -> float:
    """Everything beneath the map; returns where the drawing ends."""
    is_paper = page.is_paper
    y = draw_legend(body, signs, left, laid.whole, laid.bottom + 30, is_paper=is_paper)
    for line in wrap_words(_unplaced(place), page.inner, Face.PAPER if is_paper else Face.BOARD, 13.0):
        body.append(f'<text class="t4" x="{page.sides[0]:.0f}" y="{y + 15:.1f}">{escape(line)}</text>')
        y += 18
    y += 14
    if is_paper:
        body += draw_proof_bar(page.width - page.edge - PROOF_MM / UNIT_MM, y + 14)
        y += 40
    if not place.is_laid_over:
        y = draw_books_row(body, place, laid, page, y)
    y = draw_caption(body, place.given, page.sides, y, is_paper=is_paper)
    return draw_attribution(body, place.course, page.sides, y, is_paper=is_paper) + 12


def _unplaced(place: RuledPlace) -> str:
    """The options of each book that nobody has given a place, in words; empty where there are none."""
    told = {}
    for book, ruling in place.given:
        lost = [letter for letter, option in zip(LETTERS, ruling.options, strict=False) if option_place(option) is None]
        if lost:
            told[book.short_title] = ", ".join(lost)
    if not told:
        return ""
    is_common = len(told) == len(place.given) and len(set(told.values())) == 1
    words = next(iter(told.values())) if is_common else "; ".join(f"{letters} of {name}" for name, letters in told.items())
    return f"Not on the map, since no place is stated: {words}."


def _places_to_see(place: RuledPlace, window: Window) -> list[Position]:
    """Every place that the drawing must not hide, and where the arrow to the hole will stand if it lies outside."""
    incident = place.incident
    places = [place.hole, *(spot for spot in (incident.ball, incident.crossed_at) if spot is not None)]
    for option in place.force[1].options:
        places += [reference.position for reference in option.references]
        if option.relief_area is not None and isinstance(option.relief_area.shape, Crescent):
            places.append(option.relief_area.shape.centre)
    least_x, least_y, most_x, most_y = window.bounds
    return [Position(x_m=min(max(spot.x_m, least_x), most_x), y_m=min(max(spot.y_m, least_y), most_y)) for spot in places]


def _scene(place: RuledPlace, window: Window) -> Scene:
    """What the main map shows."""
    number, pencil = place.incident.hole, _pencil(place, window, lettered=True)
    items = (*ground_items(place.course, number, window), *pencil.items)
    return replace(pencil, items=items, labels=(*pencil.labels, *ground_labels(place.course, number, window, place.area_names)))


def _pencil(place: RuledPlace, window: Window, *, lettered: bool) -> Scene:
    """What the rulings put on the main map."""
    ruling = place.force[1]
    marks = ruling_marks(ruling, place.incident, place.hole, window, lettered=lettered)
    laid_over = place.others if place.is_laid_over else []
    others = [
        other_book_marks(other, edge_words(book), book.short_title, role, ruling, window)
        for (book, other), role in zip(laid_over, (Role.OTHER_BOOK, Role.THIRD_BOOK), strict=False)
    ]
    return Scene(
        items=(*marks.items, *(item for other in others for item in other.items)),
        spots=tuple(dict.fromkeys([*marks.spots, *(spot for other in others for spot in other.spots)])),
        labels=(*marks.labels, *(label for other in others for label in other.labels)),
        dimensions=marks.dimensions,
        away=tuple(dict.fromkeys([*marks.away, *(away for other in others for away in other.away)])),
    )


def _heading(incident: Incident, course: Course, page: Page) -> Iterator[str]:
    """What is ruled on, and where: the name of the course gives way before the title does."""
    left, right = page.sides
    big, small = (Face.PAPER, Face.PAPER) if page.is_paper else (Face.BOOK, Face.BOARD)
    form = f" · {incident.form.value.replace('-', ' ')}"
    form_width = words_width(form, small, 13.0)
    kept = min(words_width(course.name, small, 13.0), _LEAST_NAME) + form_width + 16
    title = fit_words(f"Hole {incident.hole}, {incident.situation.replace('-', ' ')}", right - left - kept, big, 28.0)
    name = fit_words(course.name, right - left - words_width(title, big, 28.0) - form_width - 16, small, 13.0)
    yield f'<text class="t1" x="{left:.0f}" y="40">{escape(title)}</text>'
    yield f'<text class="t4" text-anchor="end" x="{right:.0f}" y="40">{name_span(name)}{escape(form)}</text>'
    yield f'<path class="line3" d="M{left:.0f} 54H{right:.0f}"/>'
    yield f'<path class="line1" d="M{left:.0f} 59H{right:.0f}"/>'


def _title_lines(course: Course, incident: Incident, book: Book, scale: int | None) -> tuple[str, str, str]:
    accuracy = "accuracy unknown" if course.sigma_m is None else f"survey ±{2 * course.sigma_m:.2f} m"
    second = f"{accuracy}, scale 1:{scale}" if scale else accuracy
    return (
        block_head(course.name, f" · hole {incident.hole}"),
        f"book {fit_words(book.short_title, _BLOCK_NAME, Face.BOARD, 12.0)} · {book.stamp}",
        second,
    )
