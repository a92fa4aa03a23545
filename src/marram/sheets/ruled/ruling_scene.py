"""What the map of a ruling shows, and what is lettered about it: heading, title block, options without a place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from html import escape

from marram.course.course import Course
from marram.course.frame import Position
from marram.relief.area.shapes import Crescent
from marram.rulebook.book import Book
from marram.rulings.case.incident import Incident
from marram.sheets.drawn.ground_shapes import ground_items, ground_labels
from marram.sheets.drawn.option_places import LETTERS, option_place
from marram.sheets.drawn.relief_marks import ruling_marks
from marram.sheets.drawn.ruling_caption import edge_words
from marram.sheets.ruled.other_book import other_book_marks
from marram.sheets.ruled.ruled_place import RuledPlace
from marram.sheets.ruled.ruling_layout import Page
from marram.sheets.scene.border import block_head
from marram.sheets.scene.scene import Role, Scene, Window
from marram.sheets.scene.style import name_span
from marram.sheets.scene.type_widths import Face, fit_words, words_width

_LEAST_NAME = 90.0
"""So much of a course's name stands beside any heading."""
_BLOCK_NAME = 80.0
"""Width of a book's name in the title block, beside its stamp."""


def scene_of(place: RuledPlace, window: Window) -> Scene:
    """What the main map shows."""
    number, drawn = place.incident.hole, pencil_of(place, window, lettered=True)
    items = (*ground_items(place.course, number, window), *drawn.items)
    return replace(drawn, items=items, labels=(*drawn.labels, *ground_labels(place.course, number, window, place.area_names)))


def pencil_of(place: RuledPlace, window: Window, *, lettered: bool) -> Scene:
    """What the rulings put on the main map."""
    ruling = place.force[1]
    marks = ruling_marks(ruling, place.incident, place.hole, window, lettered=lettered, like=place.chosen)
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


def places_to_see(place: RuledPlace, window: Window) -> list[Position]:
    """Every place that the drawing must not hide, and where the arrow to the hole will stand if it lies outside."""
    incident = place.incident
    places = [place.hole, *(spot for spot in (incident.ball, incident.crossed_at) if spot is not None)]
    for option in place.force[1].options:
        places += [reference.position for reference in option.references]
        if option.relief_area is not None and isinstance(option.relief_area.shape, Crescent):
            places.append(option.relief_area.shape.centre)
    least_x, least_y, most_x, most_y = window.bounds
    return [Position(x_m=min(max(spot.x_m, least_x), most_x), y_m=min(max(spot.y_m, least_y), most_y)) for spot in places]


def unplaced(place: RuledPlace) -> str:
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


def heading(incident: Incident, course: Course, page: Page, note: str = "") -> Iterator[str]:
    """What is ruled on, and where: the name of the course gives way before the title does."""
    left, right = page.sides
    big, small = (Face.PAPER, Face.PAPER) if page.is_paper else (Face.BOOK, Face.BOARD)
    form = f" · {incident.form.words}{note}"
    form_width = words_width(form, small, 13.0)
    kept = min(words_width(course.name, small, 13.0), _LEAST_NAME) + form_width + 16
    title = fit_words(f"Hole {incident.hole}, {incident.situation.replace('-', ' ')}", right - left - kept, big, 28.0)
    name = fit_words(course.name, right - left - words_width(title, big, 28.0) - form_width - 16, small, 13.0)
    yield f'<text class="t1" x="{left:.0f}" y="40">{escape(title)}</text>'
    yield f'<text class="t4" text-anchor="end" x="{right:.0f}" y="40">{name_span(name)}{escape(form)}</text>'
    yield f'<path class="line3" d="M{left:.0f} 54H{right:.0f}"/>'
    yield f'<path class="line1" d="M{left:.0f} 59H{right:.0f}"/>'


def title_lines(course: Course, incident: Incident, book: Book, scale: int | None) -> tuple[str, str, str]:
    """What the title block says: course and hole, the book, accuracy and scale."""
    accuracy = "accuracy unknown" if course.sigma_m is None else f"survey ±{2 * course.sigma_m:.2f} m"
    second = f"{accuracy}, scale 1:{scale}" if scale else accuracy
    return (
        block_head(course.name, f" · hole {incident.hole}"),
        f"book {fit_words(book.short_title, _BLOCK_NAME, Face.BOARD, 12.0)} · {book.stamp}",
        second,
    )
