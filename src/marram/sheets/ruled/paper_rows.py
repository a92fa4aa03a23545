"""What each book says as rows of print, and how rows are shared out over sheets of A4."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from html import escape
from itertools import zip_longest

from marram.rulebook.book import Book
from marram.sheets.drawn.ruling_caption import broken, option_words, reason_words
from marram.sheets.ruled.ruled_place import Given
from marram.sheets.scene.svg import UNIT_MM
from marram.sheets.scene.type_widths import Face, wrap_words

SHEET_HEIGHT = 287 / UNIT_MM
"""A4 (ISO 216) less 10 mm at the foot; the head of a drawing has its own margin."""
_COLUMN, _NAME_WIDTH = 130.0, 118.0
_AFTER = 12.0
_HEIGHTS = {"t2": 22.0, "t3": 18.0, "t4": 16.0}
_UNDER = 3.5
"""From the line that letters stand on to the lower side of their row: what hangs below it stays in the row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of print: the name of the book on the left, what it says on the right.

    Attributes:
        left: Class and words; empty where there are none.
        right: The same.
        height: How far the next row stands below.
        is_first: Whether a hairline stands above.
        is_start: Whether a sheet may begin with it: what belongs to the row above stays with that one.
    """

    left: tuple[str, str]
    right: tuple[str, str]
    height: float
    is_first: bool
    is_start: bool = True

    def draw(self, sides: tuple[float, float], y: float) -> Iterator[str]:
        """The row with its upper side at a height."""
        if self.is_first:
            yield f'<path class="line1" d="M{sides[0]:.0f} {y:.1f}H{sides[1]:.0f}"/>'
        for (style, words), x in ((self.left, sides[0]), (self.right, sides[0] + _COLUMN)):
            if words:
                yield f'<text class="{style}" x="{x:.0f}" y="{y + _HEIGHTS[style] - _UNDER:.1f}">{escape(words)}</text>'


def rows_of_options(given: Given, width: float) -> list[Row]:
    """The options of each book with their rules."""
    return [row for book, ruling in given for row in _block(book, list(option_words(ruling)), width)]


def rows_of_reasons(given: Given, width: float) -> list[Row]:
    """What each book says besides: reasons, what does not apply, what is asked, sources."""
    return [row for book, ruling in given for row in _block(book, list(reason_words(book, ruling)), width)]


def rows_of_all(given: Given, width: float) -> list[Row]:
    """Options and reasons of each book together."""
    return [row for book, ruling in given for row in _block(book, [*option_words(ruling), *reason_words(book, ruling)], width)]


def _block(book: Book, said: Sequence[tuple[str, str]], width: float) -> list[Row]:
    lines = [(style, broken(words, style, width - _COLUMN, is_paper=True)) for style, words in said]
    right = [(style, line) for style, told in lines for line in told]
    starts = [style != "t4" and line == 0 for style, told in lines for line in range(len(told))]
    if not right:
        return []
    names = wrap_words(book.short_title, _NAME_WIDTH, Face.PAPER_BOLD, 18.0)
    left = [*(("t2", name) for name in names), ("t4", f"stamp {book.stamp}")]
    nothing = ("t4", "")
    pairs = zip_longest(left, right, fillvalue=nothing)
    rows = [
        Row(left=one, right=other, height=max(_height(one), _height(other)), is_first=number == 0, is_start=start or number == 0)
        for number, ((one, other), start) in enumerate(zip(pairs, [*starts, *(False for _ in left)], strict=False))
    ]
    return [*rows[:-1], replace(rows[-1], height=rows[-1].height + _AFTER)]


def _height(words: tuple[str, str]) -> float:
    return _HEIGHTS[words[0]] if words[1] else 0.0


def share_out(rows: Sequence[Row], first: tuple[float, float], other: tuple[float, float]) -> list[list[tuple[float, Row]]]:
    """Give each row its sheet and its height there.

    Args:
        rows: The rows in their order.
        first: Where rows begin and must end on the first sheet.
        other: The same on every other sheet.

    Returns:
        For each sheet its rows; the first sheet may have none.
    """
    sheets: list[list[tuple[float, Row]]] = [[]]
    y, end = first
    for part in _parts(rows):
        if y + sum(row.height for row in part) > end and (sheets[-1] or len(sheets) == 1):
            sheets.append([])
            y, end = other
        for row in part:
            if y + row.height > end and sheets[-1]:  # what is longer than a sheet goes on with its next row
                sheets.append([])
                y, end = other
            sheets[-1].append((y, row))
            y += row.height
    return sheets


def _parts(rows: Sequence[Row]) -> Iterator[list[Row]]:
    """Rows that stay together on one sheet."""
    part: list[Row] = []
    for row in rows:
        if row.is_start and part:
            yield part
            part = []
        part.append(row)
    if part:
        yield part
