"""The drawing of a ruling: one ball under one or several rule books, to scale, with a caption that carries every rule."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from html import escape

from marram.core.errors import DataError, SurveyError
from marram.core.terms import Mark
from marram.course.course import Course
from marram.course.frame import Position
from marram.relief.area.shapes import Crescent
from marram.rulebook.book import Book
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Ruling
from marram.sheets.drawn.ground_shapes import ground_items, ground_labels
from marram.sheets.drawn.legend import Sign, draw_legend, signs_of
from marram.sheets.drawn.relief_marks import other_book_marks, ruling_marks
from marram.sheets.drawn.relief_shapes import main_option
from marram.sheets.drawn.ruling_caption import Given, draw_attribution, draw_caption, edge_words, told
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
from marram.sheets.scene.palette import DAY, PRINT, Palette
from marram.sheets.scene.rendering import AS_FILE, FOOT_ALONE, TOP_ALONE, Bounds, Rendering, draw_bare, refuse_window, window_of
from marram.sheets.scene.scene import Role, Scene, SpotKind, Window
from marram.sheets.scene.style import name_span, page_of
from marram.sheets.scene.svg import UNIT_MM, View, draw_pencil, draw_view
from marram.sheets.scene.type_widths import Face, fit_words, words_width

_WIDTH, _MAP_HEIGHT, _EDGE = 860.0, 520.0, 34.0
_PAPER_WIDTH, _PAPER_EDGE = 210 / UNIT_MM, 44.0
"""Paper has the wider edge: printers fail within some 5 mm of the side, and figures stand beside the map."""
_SCALES = (20, 25, 40, 50, 75, 100, 150, 200, 250, 400, 500, 1000, 2000, 5000)
_MOST_LAID_OVER = 3
_SMALLEST_SIZE_PX = 70.0
_LEAST_NAME = 90.0
"""So much of a course's name stands beside any heading."""
_BLOCK_NAME = 80.0
"""Width of a book's name in the title block, beside its stamp."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """One incident with its rulings, and what of them the map shows."""

    incident: Incident
    course: Course
    hole: Position
    given: Given

    @property
    def force(self) -> tuple[Book, Ruling]:
        """The book that the drawing is about."""
        return in_force(self.given)

    @property
    def others(self) -> Given:
        """The other books: laid over it, or where there are many beside each other."""
        force = self.force
        return [pair for pair in self.given if pair is not force]

    @property
    def is_laid_over(self) -> bool:
        """Whether all books are drawn in one map."""
        return len(self.given) <= _MOST_LAID_OVER

    @property
    def title(self) -> str:
        """What the drawing is called."""
        return f"{self.course.name}, hole {self.incident.hole}"

    @property
    def area_names(self) -> dict[Mark, str]:
        """What the book in force calls penalty areas."""
        book, _ = self.force
        return {mark: book.word(f"terms.penalty_area_{mark.value}").value for mark in Mark}

    @property
    def edges(self) -> dict[Role | SpotKind, str]:
        """Which book each style of edge stands for, where there are several in one map."""
        if not self.others or not self.is_laid_over:
            return {}
        styles = zip((Role.OTHER_BOOK, Role.THIRD_BOOK), self.others, strict=False)
        return {Role.RELIEF: self.force[0].short_title, **{role: book.short_title for role, (book, _) in styles}}


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
    hole = course.hole(incident.hole).location
    if hole is None:
        raise SurveyError("There is nothing to draw without the place of the hole.", where=course.name)
    place = _Place(incident=incident, course=course, hole=hole, given=given)
    if not rendering.has_words:
        return _bare(place, palette, rendering, scale)
    width, edge = (_PAPER_WIDTH, _PAPER_EDGE) if is_paper else (_WIDTH, _EDGE)
    seen = _seen(place, width - 2 * edge, rendering.window)
    window, units_per_m, scale = _choose_window(seen, incident, width - 2 * edge, is_paper=is_paper, asked=scale)
    is_alone, top = rendering.is_map_alone, TOP_ALONE if rendering.is_map_alone else 86.0
    view = View(window=window, x=edge, y=top, units_per_m=units_per_m, name="main", prefix=rendering.prefix, is_in_layers=is_alone)
    body = [] if is_alone else [*_heading(incident, course, view, is_paper=is_paper)]
    signs, left = _draw_map(body, place, view, scale)
    if is_alone:
        height = draw_legend(body, signs, left, view, view.box.y + view.box.height + FOOT_ALONE, is_paper=is_paper) + 4
    else:
        height = _foot(body, place, view, signs, left, is_paper=is_paper)
    size = (
        f'width="{width * UNIT_MM:.2f}mm" height="{height * UNIT_MM:.2f}mm"' if is_paper else f'width="{width:.0f}" height="{height:.0f}"'
    )
    return page_of(body, palette, width, height, size=size, title=place.title, words=told(given, scale), prefix=rendering.prefix)


def draw_moving(incident: Incident, course: Course, given: Given, window: Bounds, on_page: str) -> tuple[str, str]:
    """Draw what a ruling puts on the ground while its ball is moved: without ground and words, on a map that stands alone.

    Args:
        incident: What happened, with the ball where it is now.
        course: The course with the day's conditions.
        given: Books with their rulings.
        window: The ground that the map shows.
        on_page: Name of the map on its page.

    Returns:
        The marks that lie under the edges of penalty areas, and those that lie above them.

    Raises:
        DataError: The window cannot be drawn.
        SurveyError: The hole has no location.
    """
    hole = course.hole(incident.hole).location
    if hole is None:
        raise SurveyError("There is nothing to draw without the place of the hole.", where=course.name)
    refuse_window(window)
    shown, prefix = window_of(window), Rendering(on_page=on_page).prefix
    units_per_m = (_WIDTH - 2 * _EDGE) / shown.width_m
    view = View(window=shown, x=_EDGE, y=TOP_ALONE, units_per_m=units_per_m, name="main", prefix=prefix, is_in_layers=True)
    place = _Place(incident=incident, course=course, hole=hole, given=given)
    return draw_pencil(_pencil(place, shown, lettered=False), view)


def _bare(place: _Place, palette: Palette, rendering: Rendering, scale: int | None) -> str:
    """The drawing without a word: the window asked, else that of the screen."""
    if scale is not None:
        raise DataError("A drawing without words has no scale.", where="scale", hint="Leave the scale out, or have the words drawn.")
    map_width = _WIDTH - 2 * _EDGE
    chosen, _, _ = _choose_window(_seen(place, map_width, None), place.incident, map_width, is_paper=False, asked=None)
    window = chosen if rendering.window is None else window_of(rendering.window)
    return draw_bare(_scene(place, window), window, rendering, palette, title=place.title, words=told(place.given, None))


def _draw_map(body: list[str], place: _Place, view: View, scale: int | None) -> tuple[list[Sign], Sequence[str]]:
    """Draw the map in its frame; returns the signs to explain, and the words for which it had no room."""
    scene = _scene(place, view.window)
    block = title_block_box(view, _places_to_see(place, view.window))
    covers = [north_box(view), block]
    words = letter_view(scene, view, covers)
    body += draw_view(scene, view, covers, lettering=words)
    body += draw_frame(view)
    body.append(draw_north(view))
    body += draw_title_block(view, _title_lines(place.course, place.incident, place.force[0], scale), block)
    names = {mark.value: name for mark, name in place.area_names.items()}
    return signs_of(scene, view, words, names, books=place.edges), words.left


def _foot(body: list[str], place: _Place, view: View, signs: Sequence[Sign], left: Sequence[str], *, is_paper: bool) -> float:
    """Everything beneath the map; returns where the drawing ends."""
    y = view.box.y + view.box.height + 30
    y = draw_legend(body, signs, left, view, y, is_paper=is_paper) + 14
    if is_paper:
        body += draw_proof_bar(_PAPER_WIDTH - _PAPER_EDGE - PROOF_MM / UNIT_MM, y + 14)
        y += 40
    if not place.is_laid_over:
        row, y = _row_of_views(place, view, y)
        body += row
    y = draw_caption(body, place.given, view, y, is_paper=is_paper)
    return draw_attribution(body, place.course, view, y, is_paper=is_paper) + 12


def in_force(given: Given) -> tuple[Book, Ruling]:
    """The book that a drawing is about: the latest published edition with nothing laid over it, else the first book."""
    published = [pair for pair in given if pair[0].is_in_force]
    return max(published, key=lambda pair: [*pair[0].catalogue.editions].index(pair[0].edition)) if published else given[0]


def _seen(place: _Place, map_width: float, asked: Bounds | None) -> tuple[Position, float, float]:
    """What the map must show: its middle, the least width of the window, metres, and the most drawing units for a metre."""
    if asked is not None:
        window = window_of(asked)
        return window.middle, max(window.width_m, window.height_m * map_width / _MAP_HEIGHT), math.inf
    points, size_m = _focus(place.force[1], place.incident, place.hole)
    xs, ys = [p.x_m for p in points], [p.y_m for p in points]
    middle = Position(x_m=(min(xs) + max(xs)) / 2, y_m=(min(ys) + max(ys)) / 2)
    span_m = max((max(xs) - min(xs)) * 1.35, (max(ys) - min(ys)) * 1.35 * map_width / _MAP_HEIGHT, 6.0)
    return middle, span_m, 2.2 * _SMALLEST_SIZE_PX / size_m


def _choose_window(
    seen: tuple[Position, float, float], incident: Incident, map_width: float, *, is_paper: bool, asked: int | None
) -> tuple[Window, float, int | None]:
    """A window that shows the chosen area large, and on paper a scale of a fair series."""
    middle, span_m, most_units_per_m = seen
    units_per_m = min(map_width / span_m, most_units_per_m)
    scale = None
    if is_paper:
        fitting = next((n for n in _SCALES if 1000 / n / UNIT_MM <= map_width / span_m), _SCALES[-1])
        if asked is not None and asked < fitting:
            raise SurveyError(
                f"At 1:{asked} the area does not fit the sheet.", where=f"hole {incident.hole}", hint=f"1:{fitting} would fit."
            )
        scale = asked or next((n for n in _SCALES if 1000 / n / UNIT_MM <= units_per_m), _SCALES[-1])
        units_per_m = 1000 / scale / UNIT_MM
    window = Window(middle=middle, width_m=map_width / units_per_m, height_m=_MAP_HEIGHT / units_per_m)
    return window, units_per_m, scale


def _focus(ruling: Ruling, incident: Incident, hole: Position) -> tuple[list[Position], float]:
    """The places that must be seen, and the size that must be large."""
    main = main_option(ruling)
    size_m = (main.size_m if main else None) or 2.0
    if main is None or not main.references:
        return [incident.ball or incident.crossed_at or hole], 6.0
    reference = main.references[0].position
    points = [reference, *(other.position for other in main.references[1:])]
    if main.relief_area is not None and isinstance(main.relief_area.shape, Crescent):
        x0, y0, x1, y1 = main.relief_area.shape.reach()
        points += [Position(x_m=x0, y_m=y0), Position(x_m=x1, y_m=y1)]
    near_m = 7 * size_m
    points += [p for p in (incident.ball, hole) if p is not None and p.distance_m(reference) <= near_m]
    return points, size_m


def _places_to_see(place: _Place, window: Window) -> list[Position]:
    """Every place that the drawing must not hide, and where the arrow to the hole will stand if it lies outside."""
    incident = place.incident
    places = [place.hole, *(spot for spot in (incident.ball, incident.crossed_at) if spot is not None)]
    for option in place.force[1].options:
        places += [reference.position for reference in option.references]
        if option.relief_area is not None and isinstance(option.relief_area.shape, Crescent):
            places.append(option.relief_area.shape.centre)
    least_x, least_y, most_x, most_y = window.bounds
    return [Position(x_m=min(max(spot.x_m, least_x), most_x), y_m=min(max(spot.y_m, least_y), most_y)) for spot in places]


def _scene(place: _Place, window: Window) -> Scene:
    """What the main map shows."""
    number, pencil = place.incident.hole, _pencil(place, window, lettered=True)
    items = (*ground_items(place.course, number, window), *pencil.items)
    return replace(pencil, items=items, labels=(*pencil.labels, *ground_labels(place.course, number, window, place.area_names)))


def _pencil(place: _Place, window: Window, *, lettered: bool) -> Scene:
    """What the rulings put on the main map."""
    ruling = place.force[1]
    marks = ruling_marks(ruling, place.incident, place.hole, window, lettered=lettered)
    items, labels = [*marks.items], [*marks.labels]
    laid_over = place.others if place.is_laid_over else []
    for (other_book, other), role in zip(laid_over, (Role.OTHER_BOOK, Role.THIRD_BOOK), strict=False):
        other_items, other_labels = other_book_marks(other, edge_words(other_book), role, ruling, window)
        items += other_items
        labels += other_labels
    return Scene(items=tuple(items), spots=marks.spots, labels=tuple(labels), dimensions=marks.dimensions, away=marks.away)


def _row_of_views(place: _Place, main: View, y: float) -> tuple[list[str], float]:
    """Small drawings in a row at the scale of the main one, and where the row ends."""
    body: list[str] = []
    gap, about, others = 14.0, main_option(place.force[1]), place.others
    width = (main.box.width - gap * (len(others) - 1)) / len(others)
    height = min(width * 1.05, 200.0)
    shape = about.relief_area.shape if about and about.relief_area else None
    focus = shape.centre if isinstance(shape, Crescent) else main.window.middle
    for number, (book, ruling) in enumerate(others):
        window = Window(middle=focus, width_m=width / main.units_per_m, height_m=height / main.units_per_m)
        view = View(
            window=window,
            x=main.box.x + number * (width + gap),
            y=y + 22,
            units_per_m=main.units_per_m,
            name=f"small-{number + 1}",
            prefix=main.prefix,
        )
        marks = ruling_marks(ruling, place.incident, place.hole, window, lettered=False, like=about.procedure if about else "")
        items = (*ground_items(place.course, place.incident.hole, window), *marks.items)
        scene = Scene(items=items, spots=marks.spots, dimensions=marks.dimensions)
        body.append(
            f'<text class="t2" x="{view.x:.1f}" y="{y + 12:.1f}">{escape(fit_words(book.short_title, width, Face.BOOK_BOLD, 18.0))}</text>'
        )
        body += draw_view(scene, view, [])
        b = view.box
        body.append(f'<rect class="neat" x="{b.x:.1f}" y="{b.y:.1f}" width="{b.width:.1f}" height="{b.height:.1f}"/>')
    return body, y + 22 + height + 26


def _heading(incident: Incident, course: Course, view: View, *, is_paper: bool) -> Iterator[str]:
    """What is ruled on, and where: the name of the course gives way before the title does."""
    left, right = view.box.x - 5, view.box.x + view.box.width + 5
    big, small = (Face.PAPER, Face.PAPER) if is_paper else (Face.BOOK, Face.BOARD)
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
