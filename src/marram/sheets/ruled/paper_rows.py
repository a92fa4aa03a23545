"""What each book says as rows of print, and how rows are shared out over sheets of A4."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from html import escape
from itertools import groupby

from marram.rulebook.book import Book
from marram.rulings.case.ruling import Ruling
from marram.sheets.drawn.ruling_caption import broken, reason_words
from marram.sheets.ruled.ruled_place import RuledPlace
from marram.sheets.ruled.told_once import Pair, Said, said_of_options
from marram.sheets.scene.svg import UNIT_MM
from marram.sheets.scene.type_widths import Face, fit_words, words_width, wrap_words

SHEET_HEIGHT = 287 / UNIT_MM
"""A4 (ISO 216) less 10 mm at the foot; the head of a drawing has its own margin."""
_COLUMN, _NAME_WIDTH = 130.0, 118.0
_AFTER, _APART = 12.0, 16.0
"""Under what one book says, and between words and the rules that end their line."""
_HEIGHTS = {"t2": 22.0, "t3": 18.0, "t4": 16.0, "small": 14.5}
_WORDS_SIZE, _RULES_SIZE = 15.0, 12.0
_NOTHING = ("t4", "")
_UNDER = 3.5
"""From the line that letters stand on to the lower side of their row: what hangs below it stays in the row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of print: the name of the book on the left, what it says on the right.

    Attributes:
        left: Class and words; empty where there are none.
        right: The same.
        rules: What stands at the right side of the line, as in a margin.
        column: How far right of the names the words stand.
        height: How far the next row stands below.
        is_first: Whether a hairline stands above.
        is_start: Whether a sheet may begin with it: what belongs to the row above stays with that one.
    """

    left: tuple[str, str]
    right: tuple[str, str]
    height: float
    is_first: bool
    is_start: bool = True
    rules: str = ""
    column: float = _COLUMN

    def draw(self, sides: tuple[float, float], y: float) -> Iterator[str]:
        """The row with its upper side at a height."""
        if self.is_first:
            yield f'<path class="line1" d="M{sides[0]:.0f} {y:.1f}H{sides[1]:.0f}"/>'
        for (style, words), x in ((self.left, sides[0]), (self.right, sides[0] + self.column)):
            if words:
                yield f'<text class="{style}" x="{x:.0f}" y="{y + _HEIGHTS[style] - _UNDER:.1f}">{escape(words)}</text>'
        if self.rules:
            line = y + _HEIGHTS[self.left[0] if self.left[1] and not self.column else self.right[0]] - _UNDER
            yield f'<text class="small" text-anchor="end" x="{sides[1]:.0f}" y="{line:.1f}">{escape(self.rules)}</text>'


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """How what the books say is set.

    Attributes:
        width: From side to side of the sheet.
        column: What the names of the books take on the left; nothing where each stands over what its book says.
    """

    width: float
    column: float = _COLUMN

    @property
    def room(self) -> float:
        """Width of the lines."""
        return self.width - self.column


def rows_of_options(place: RuledPlace, measure: Measure) -> list[Row]:
    """The options of each book with their rules."""
    return [row for pair in place.in_order for row in _block(pair[0], list(_options(pair, place, measure)), measure)]


def rows_of_reasons(place: RuledPlace, measure: Measure) -> list[Row]:
    """What each book says besides: reasons, what does not apply, what is asked, sources."""
    return [row for pair in place.in_order for row in _block(pair[0], list(_reasons(*pair, measure)), measure)]


def rows_of_all(place: RuledPlace, measure: Measure) -> list[Row]:
    """Options and reasons of each book together."""
    return [
        row for pair in place.in_order for row in _block(pair[0], [*_options(pair, place, measure), *_reasons(*pair, measure)], measure)
    ]


def _options(pair: Pair, place: RuledPlace, measure: Measure) -> Iterator[Row]:
    """Each option, with its rules at the end of its last line, or beneath it where they are too long for that."""
    told = None if pair is place.in_order[0] or not place.is_laid_over else place.in_order[0]
    for start, group in groupby(said_of_options(pair, told), lambda each: each.under):
        alike = list(group)
        if start:
            letters = ", ".join(letter for each in alike for letter in each.letters)
            for number, line in enumerate(broken(f"{letters}\u2003{start}:", "t3", measure.room, is_paper=True)):
                yield _row(("t3", line), is_start=number == 0)
        for number, said in enumerate(alike):
            yield from _option(said, measure, is_start=not (start and number == 0))


def _option(said: Said, measure: Measure, *, is_start: bool) -> Iterator[Row]:
    lines = broken(said.line, "t3", measure.room, is_paper=True)
    left = measure.room - words_width(lines[-1], Face.PAPER, _WORDS_SIZE) - _APART
    is_beside = words_width(said.rules, Face.PAPER, _RULES_SIZE) <= left
    for number, line in enumerate(lines, start=1):
        ends = said.rules if is_beside and number == len(lines) else ""
        yield _row(("t3", line), is_start=is_start and number == 1, rules=ends)
    for line in [] if is_beside else wrap_words(said.rules, measure.room, Face.PAPER, _RULES_SIZE):
        yield _row(("small", ""), is_start=False, rules=line)


def _reasons(book: Book, ruling: Ruling, measure: Measure) -> Iterator[Row]:
    for style, words in reason_words(book, ruling):
        for number, line in enumerate(broken(words, style, measure.room, is_paper=True)):
            yield _row((style, line), is_start=style != "t4" and number == 0)


def _row(right: tuple[str, str], *, is_start: bool, rules: str = "") -> Row:
    return Row(left=_NOTHING, right=right, height=_HEIGHTS[right[0]], is_first=False, is_start=is_start, rules=rules)


def _block(book: Book, said: Sequence[Row], measure: Measure) -> list[Row]:
    """What a book says, with its name and stamp beside the first lines, or over them."""
    if not said:
        return []
    stamp = f"stamp {book.stamp}"
    if not measure.column:
        name = fit_words(book.short_title, measure.width - words_width(stamp, Face.PAPER, _RULES_SIZE) - _APART, Face.PAPER_BOLD, 18.0)
        head = Row(left=("t2", name), right=_NOTHING, height=_HEIGHTS["t2"], is_first=True, rules=stamp)
        rows = [head, replace(said[0], is_start=False), *said[1:]]
    else:
        names = wrap_words(book.short_title, _NAME_WIDTH, Face.PAPER_BOLD, 18.0)
        rows = list(_with_names(said, [*(("t2", name) for name in names), ("t4", stamp)]))
    rows = [replace(row, column=measure.column) for row in rows]
    return [*rows[:-1], replace(rows[-1], height=rows[-1].height + (_AFTER if measure.column else _AFTER / 2))]


def _with_names(said: Sequence[Row], left: Sequence[tuple[str, str]]) -> Iterator[Row]:
    padded = [*said, *(replace(_row(_NOTHING, is_start=False), height=0.0) for _ in left[len(said) :])]
    names = [*left, *(_NOTHING for _ in padded[len(left) :])]
    for number, (row, name) in enumerate(zip(padded, names, strict=True)):
        is_start = row.is_start or number == 0
        yield replace(row, left=name, height=max(_height(name), row.height), is_first=number == 0, is_start=is_start)


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
