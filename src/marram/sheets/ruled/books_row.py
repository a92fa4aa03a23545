"""Small drawings of several books beside each other, all of one ground and at one scale that holds the whole area of each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

from marram.rulebook.book import Book
from marram.rulings.case.ruling import Ruling
from marram.sheets.drawn.ground_shapes import ground_items
from marram.sheets.drawn.legend import Sign, draw_legend, further_signs
from marram.sheets.drawn.relief_marks import ruling_marks
from marram.sheets.drawn.relief_shapes import main_option
from marram.sheets.ruled.ruled_place import RuledPlace
from marram.sheets.ruled.ruling_layout import Laid, Page
from marram.sheets.ruled.ruling_window import Sheet, framed, middle_of, must_see, spoken_of
from marram.sheets.scene.border import draw_scale_bar
from marram.sheets.scene.lettering import letter_view
from marram.sheets.scene.scene import LabelKind, Scene, Window
from marram.sheets.scene.svg import View, draw_view
from marram.sheets.scene.type_widths import Face, fit_words, wrap_words

_IN_A_ROW = 4
_GAP = 14.0
_TALLEST, _MARGIN = 200.0, 14.0
_HEAD, _FOOT = 24.0, 26.0
"""Over the first row for what is common to all, and under the last."""
_TITLE_SIZE, _TITLE_LINE, _TITLE_LINES = 18.0, 22.0, 2
"""Size of the type of a title, height of its line, and how many lines it may have."""
_LEAST_SIZE_PX = 24.0
"""How large an area is at least, from its point to its edge; what is longer than the drawing then holds is cut at its frame."""


def draw_books_row(body: list[str], place: RuledPlace, laid: Laid, page: Page, signs: Sequence[Sign], y: float) -> float:
    """Draw each of the other books small, at most four in a row.

    Args:
        body: The marks, to which the drawings are added.
        place: The incident with its rulings.
        laid: The map, whose scale no small drawing exceeds.
        page: What the drawing stands on; on paper the scale is one of a fair series.
        signs: What the legend of the map explains.
        y: Where the rows begin.

    Returns:
        Where the rows end, with what they show that the map does not.
    """
    others = place.others
    columns = min(len(others), _IN_A_ROW)
    width = (page.inner - _GAP * (columns - 1)) / columns
    sheet = Sheet(width=width, height=min(width * 1.05, _TALLEST), is_paper=page.is_paper, margin=_MARGIN)
    window, units_per_m, scale = _common_window(place, sheet, laid.map.units_per_m)
    titles = [_title(book, width, page) for book, _ in others]
    body += _common_head(View(window=window, x=page.edge, y=y, units_per_m=units_per_m, name=""), page, y, scale)
    y += _HEAD
    left: list[str] = []
    more: list[Sign] = []
    for first in range(0, len(others), columns):
        head = _TITLE_LINE * max(len(title) for title in titles[first : first + columns])
        for number in range(first, min(first + columns, len(others))):
            x = page.edge + (number - first) * (width + _GAP)
            view = View(window=window, x=x, y=y + head + 5, units_per_m=units_per_m, name=f"small-{number + 1}", prefix=laid.map.prefix)
            scene = _scene(place, others[number][1], view.window)
            left += (f"{others[number][0].short_title}, {words}" for words in _draw_one(body, scene, titles[number], view))
            more += further_signs(scene, view, place.edge_names, [*signs, *more])
        y += head + 5 + sheet.height + _GAP
    y = draw_legend(body, more, [], laid.whole, y - 6, is_paper=page.is_paper) + 6
    told = f"No room in the small drawings for: {'; '.join(left)}." if left else ""
    below = 6 if page.is_paper else 3  # rows of a legend are lower on paper
    for line in wrap_words(told, page.inner, Face.PAPER if page.is_paper else Face.BOARD, 13.0):
        body.append(f'<text class="t4" x="{page.sides[0]:.1f}" y="{y + below:.1f}">{escape(line)}</text>')
        y += 18
    return y - _GAP + _FOOT


def _common_window(place: RuledPlace, sheet: Sheet, most_units_per_m: float) -> tuple[Window, float, int | None]:
    """One window for all books."""
    spoken = spoken_of(place)
    seen = must_see(spoken, sheet, _LEAST_SIZE_PX / spoken.breadth_m)
    return framed(middle_of(seen), sheet, min(sheet.most_units(seen), most_units_per_m))


def _title(book: Book, width: float, page: Page) -> list[str]:
    """The name of a book in as many lines as there is room for."""
    face = Face.PAPER_BOLD if page.is_paper else Face.BOOK_BOLD
    lines = wrap_words(book.short_title, width, face, _TITLE_SIZE)
    if len(lines) <= _TITLE_LINES:
        return lines
    return [*lines[: _TITLE_LINES - 1], fit_words(" ".join(lines[_TITLE_LINES - 1 :]), width, face, _TITLE_SIZE)]


def _common_head(view: View, page: Page, y: float, scale: int | None) -> Iterator[str]:
    """What is common to all: the scale, on the screen as a bar."""
    words = f"THE OTHER BOOKS, ALL AT 1:{scale}" if scale else "THE OTHER BOOKS, ALL AT ONE SCALE"
    yield f'<text class="head" x="{page.edge:.1f}" y="{y + 10:.1f}">{words}</text>'
    if not page.is_paper:
        yield from draw_scale_bar(view, page.width - page.edge - 150, y + 4, 130)


def _draw_one(body: list[str], scene: Scene, title: list[str], view: View) -> Sequence[str]:
    """Draw one book under its name; returns the words for which there was no room."""
    for number, line in enumerate(title, start=1):
        y = view.y - 7 - _TITLE_LINE * (len(title) - number)
        body.append(f'<text class="t2" x="{view.x:.1f}" y="{y:.1f}">{escape(line)}</text>')
    words = letter_view(scene, view, [])
    body += draw_view(scene, view, [], lettering=words)
    b = view.box
    body.append(f'<rect class="neat" x="{b.x:.1f}" y="{b.y:.1f}" width="{b.width:.1f}" height="{b.height:.1f}"/>')
    return words.left


def _scene(place: RuledPlace, ruling: Ruling, window: Window) -> Scene:
    """What one book says here, with the letters of its options and no other word."""
    about = main_option(place.force[1], place.chosen)
    marks = ruling_marks(ruling, place.incident, place.hole, window, lettered=True, like=about)
    letters = tuple(label for label in marks.labels if label.kind is LabelKind.LETTER)
    away = tuple((spot, words.partition(":")[0]) for spot, words in marks.away if ":" in words)
    items = (*ground_items(place.course, place.incident.hole, window), *marks.items)
    return Scene(items=items, spots=marks.spots, labels=letters, dimensions=marks.dimensions, away=away)
