"""The season as a row of days: full under the ordinary book, hatched under the trial, a broken edge where a day was lost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil

from marram.core.words import shortened
from marram.evidence.telling.season import Cell, Season, SeasonColumn
from marram.records.rows import Arm
from marram.sheets.drawn.report_marks import box, drawn, told_width, words_at

_LEAST_PITCH, _MOST_PITCH, _MOST_SPAN, _LEAST_UNIT = 15.0, 60.0, 150.0, 7.0
_TOP, _ONE, _OF_SEVERAL, _GAP, _JOIN, _LANE, _LANES = 20.0, 24.0, 15.0, 3.0, 9.0, 16.0, 2
_MOST_LABEL, _MOST_REASON = 16, 26
_PATTERN = {Arm.TRIAL: "dense", Arm.ORDINARY: "solid", None: "lost"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """Where columns stand.

    Attributes:
        gutter: Room for what rows are called.
        pitch: From one column to the next.
        wide: Width of a box.
        each_line: Columns of a line.
        height: Height of the boxes of a column.
        line: Height of a line.
    """

    gutter: float
    pitch: float
    wide: float
    each_line: int
    height: float
    line: float

    def x(self, place: int) -> float:
        """Left edge of a box."""
        return self.gutter + (place % self.each_line) * self.pitch


def draw_season(season: Season, width: float, *, is_on_page: bool = False) -> str:
    """The season.

    Args:
        season: The season.
        width: Width in drawing units.
        is_on_page: Whether it stands on a page that carries the style, else in a file for paper.
    """
    laid = _lay(season, width)
    body = list[str]()
    lines = [season.columns[at : at + laid.each_line] for at in range(0, len(season.columns), laid.each_line)]
    for number, columns in enumerate(lines):
        top = number * laid.line
        body += _above(season, columns, laid, top, width)
        body += _names(season, laid, top)
        for place, column in enumerate(columns):
            body += _boxes(column, laid, laid.x(place), top + _TOP)
        body += [*_joins(columns, laid, top), *_reasons(columns, laid, top, width)]
    return drawn(body, width, max(len(lines), 1) * laid.line, season.drawn_words, is_on_page=is_on_page)


def _lay(season: Season, width: float) -> _Layout:
    gutter = max((told_width(shortened(row, _MOST_LABEL)) + 8 for row in season.rows if row), default=0.0)
    most = max((len(cell) for column in season.columns for cell in column.cells), default=1)
    least, room, count = max(_LEAST_PITCH, 2.0 * most + 6), width - gutter, max(len(season.columns), 1)
    each_line = max(1, int(room / least))
    each_line = ceil(count / ceil(count / each_line))
    each_line += each_line % 2 if season.joins == "one pair" and each_line < count else 0
    is_span = season.each == "period"
    pitch = room / each_line if most > 1 else min(room / each_line, _MOST_SPAN if is_span else _MOST_PITCH)
    each = _ONE if len(season.rows) == 1 else _OF_SEVERAL
    height = len(season.rows) * (each + _GAP) - _GAP
    below = (_JOIN if season.joins else 4.0) + (_LANES * _LANE + 6 if season.lost else 0.0)
    return _Layout(
        gutter=gutter,
        pitch=pitch,
        wide=0.92 * pitch if most > 1 or is_span else min(0.62 * pitch, 18.0),
        each_line=each_line,
        height=height,
        line=_TOP + height + below,
    )


def _above(season: Season, columns: Sequence[SeasonColumn], laid: _Layout, top: float, width: float) -> Iterator[str]:
    """Over the first column of each month its name, where there is room; of a roll-out the number of each period."""
    free, last = 0.0, None
    for place, column in enumerate(columns):
        month = column.name if season.each == "period" else None if column.dated is None else f"{column.dated:%B}"
        if month is None or month == last:
            continue
        last = month
        x = min(laid.x(place), width - told_width(month))
        if x >= free:
            yield words_at(x, top + 13, month)
            free = x + told_width(month) + 6


def _names(season: Season, laid: _Layout, top: float) -> Iterator[str]:
    each = laid.height / max(len(season.rows), 1)
    for number, row in enumerate(season.rows):
        if row:
            yield words_at(0, top + _TOP + number * each + 12, shortened(row, _MOST_LABEL))


def _boxes(column: SeasonColumn, laid: _Layout, x: float, top: float) -> Iterator[str]:
    each = _ONE if len(column.cells) == 1 else _OF_SEVERAL
    for number, cell in enumerate(column.cells):
        y = top + number * (each + _GAP)
        for start, wide, arm in _units(cell, laid.wide):
            yield box(x + start, y, wide, each, _PATTERN[arm])


def _units(cell: Cell, width: float) -> Iterator[tuple[float, float, Arm | None]]:
    """Where each unit of a cell stands; units too narrow to be seen singly are drawn together by their rules."""
    if not cell:
        return
    each = width / len(cell)
    lots = [[arm] for arm in cell] if each >= _LEAST_UNIT or len(cell) == 1 else [list(own) for _, own in groupby(cell)]
    at = 0.0
    for lot in lots:
        wide = each * len(lot)
        yield at, wide - (1.5 if len(cell) > 1 else 0.0), lot[0]
        at += wide


def _joins(columns: Sequence[SeasonColumn], laid: _Layout, top: float) -> Iterator[str]:
    """A line under the days of one pair that stand beside each other."""
    y = top + _TOP + laid.height + 6
    for name, own in groupby(enumerate(columns), key=lambda told: told[1].joined):
        places = [place for place, _ in own]
        if name:
            yield f'<path d="M{laid.x(places[0]):.2f} {y:.2f}H{laid.x(places[-1]) + laid.wide:.2f}" class="joined"/>'


def _reasons(columns: Sequence[SeasonColumn], laid: _Layout, top: float, width: float) -> Iterator[str]:
    """Why days were lost, below them, where there is room; the losses are told in words besides."""
    free = [0.0] * _LANES
    below = top + _TOP + laid.height
    for (is_held, reason), own in groupby(enumerate(columns), key=lambda told: (told[1].is_held, told[1].reason)):
        places = [place for place, _ in own]
        if is_held:
            continue
        told = shortened(reason, _MOST_REASON) or "not held"
        middle = (laid.x(places[0]) + laid.x(places[-1]) + laid.wide) / 2
        x = min(max(middle - told_width(told) / 2, 0.0), max(width - told_width(told), 0.0))
        lane = next((lane for lane in range(_LANES) if x >= free[lane]), None)
        if lane is None:
            continue
        free[lane] = x + told_width(told) + 8
        y = below + _JOIN + (lane + 1) * _LANE
        yield f'<path d="M{middle:.2f} {below + 2:.2f}V{y - 11:.2f}" class="axis"/>'
        yield words_at(x + told_width(told) / 2, y, told, "middle")
