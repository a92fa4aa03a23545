"""Effects on one axis: nothing at all, and enough to matter, stand on the same lines for every row, whatever its unit.

Each row is a strip of its own, so that words of any length may stand beside it; strips of one axis join to one plot. Where an effect lies
beyond the axis the line ends in an arrow, with the number beside it: one large effect never squashes the others.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from marram.evidence.telling.scaled_rows import EffectRow, Ends, ScaledEffect
from marram.sheets.drawn.report_marks import drawn, told_width, words_at

STRIP_HEIGHT, HEAD_HEIGHT, FOOT_HEIGHT = 400.0, 33.0, 41.0
"""Strips are higher than any row, which shows the middle of one."""
_MIDDLE = STRIP_HEIGHT / 2
_LEAST, _MOST = 2, 5
_MARGIN = 0.4  # of a multiple, at each end of the axis
_POINT, _CAP, _ARROW, _STUB = 9.0, 7.0, 7.0, 22.0
_DEFINED, _NOTHING = "of it by definition", "nothing to draw"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlotAxis:
    """The axis of a plot, in multiples of what matters.

    Attributes:
        worse: Multiples to the left of nothing.
        better: Multiples to the right of it.
        width: Width in drawing units.
        has_margins: Whether any row has a margin.
    """

    worse: int
    better: int
    width: float
    has_margins: bool

    @property
    def unit(self) -> float:
        """Drawing units of one multiple."""
        return self.width / (self.worse + self.better + 2 * _MARGIN)

    @property
    def ends(self) -> Ends:
        """The multiples at which the axis ends."""
        return -self.worse - _MARGIN, self.better + _MARGIN

    def x(self, value: float) -> float:
        """Where a multiple stands."""
        return (value - self.ends[0]) * self.unit

    def shows(self, value: float) -> bool:
        """Whether the point of an effect has room."""
        return _POINT <= self.x(value) <= self.width - _POINT


def axis_of(rows: Sequence[EffectRow], width: float) -> PlotAxis:
    """An axis that holds every row, as far as one of five multiples each way can.

    Args:
        rows: The rows.
        width: Width in drawing units.
    """
    reached = [value for row in rows if row.effect is not None for value in _reached(row.effect)]
    worse, better = -min(reached, default=0.0), max(reached, default=0.0)
    return PlotAxis(
        worse=min(max(ceil(worse - _MARGIN), _LEAST), _MOST),
        better=min(max(ceil(better - _MARGIN), _LEAST), _MOST),
        width=width,
        has_margins=any(row.is_guard for row in rows),
    )


def _reached(effect: ScaledEffect) -> Iterator[float]:
    yield effect.estimate
    yield from effect.interval95 or ()
    yield from effect.interval90 or ()
    yield effect.by_definition or 0.0


def draw_strip(row: EffectRow, axis: PlotAxis, *, is_on_page: bool = False) -> str:
    """One row of the plot.

    Args:
        row: The row.
        axis: The axis of all rows.
        is_on_page: Whether it stands on a page that carries the style, else in a file for paper.
    """
    body = [*_lines(row, axis)]
    if row.effect is None:
        body.append(_beside_lines(axis, _NOTHING, _MIDDLE + 4, 0.0, is_guard=row.is_guard))
    else:
        body += [*_defined(row.effect, axis), *_interval(row, row.effect, axis)]
    return drawn(body, axis.width, STRIP_HEIGHT, row.drawn_words, is_on_page=is_on_page)


def _lines(row: EffectRow, axis: PlotAxis) -> Iterator[str]:
    if not row.is_guard:
        x = axis.x(1)
        yield f'<rect x="{x:.2f}" y="0" width="{axis.width - x:.2f}" height="{STRIP_HEIGHT:g}" class="enough"/>'
    for at in ((-1, 1) if row.is_either_way else (-1,)) if row.is_guard else (1,):
        yield f'<path d="M{axis.x(at):.2f} 0V{STRIP_HEIGHT:g}" class="at"/>'
    yield f'<path d="M{axis.x(0):.2f} 0V{STRIP_HEIGHT:g}" class="nought"/>'


def _defined(effect: ScaledEffect, axis: PlotAxis) -> Iterator[str]:
    """What is true by definition, as an open bar below the interval."""
    if effect.by_definition is None or abs(effect.by_definition) * axis.unit < 1:
        return
    low, high = sorted((0.0, max(min(effect.by_definition, axis.ends[1]), axis.ends[0])))
    yield f'<rect x="{axis.x(low):.2f}" y="{_MIDDLE + 14:g}" width="{axis.x(high) - axis.x(low):.2f}" height="10" class="defined"/>'
    yield _beside_lines(axis, _DEFINED, _MIDDLE + 24, low if low < 0 else high, is_guard=False)


def _beside_lines(axis: PlotAxis, told: str, y: float, beyond: float, *, is_guard: bool) -> str:
    """Words on the side where they have room clear of the lines of the plot.

    Args:
        axis: The axis.
        told: The words.
        y: Where they stand.
        beyond: What they may not cover: from nothing to this multiple.
        is_guard: Whether a margin, and not what matters, has its line in the row.
    """
    left, right = (min(beyond, 0.0), max(beyond, 0.0)) if is_guard else (min(beyond, 0.0), max(beyond, 1.0))
    if is_guard or axis.x(left) - 6 < told_width(told):
        start = axis.x(right) + 6
        return words_at(start, y, told) if start + told_width(told) <= axis.width else words_at(axis.width, y, told, "end")
    return words_at(axis.x(left) - 6, y, told, "end")


def _interval(row: EffectRow, effect: ScaledEffect, axis: PlotAxis) -> Iterator[str]:
    low, high = axis.ends
    if effect.interval95 is not None:
        yield _line(effect.interval95, axis, "thin", has_ends=True)
    if effect.interval90 is not None and effect.interval90[0] < high and effect.interval90[1] > low:
        yield _line(effect.interval90, axis, "thick", has_ends=False)
    for end, is_right in zip(effect.interval95 or (effect.estimate, effect.estimate), (False, True), strict=True):
        if (end > high) if is_right else (end < low):
            yield _arrow(axis, is_right=is_right)
            yield _beyond(row, effect, axis, end, is_right=is_right)
    if axis.shows(effect.estimate):
        x = axis.x(effect.estimate)
        half = f"{_POINT:g}"
        yield f'<path d="M{x:.2f} {_MIDDLE - _POINT:g}l{half} {half} -{half} {half} -{half} -{half}z" class="point"/>'
        if effect.interval95 is None:
            is_left = x + _POINT + 6 + told_width("no interval") > axis.width
            yield words_at(x - _POINT - 6 if is_left else x + _POINT + 6, _MIDDLE + 4, "no interval", "end" if is_left else "start")


def _line(ends: Ends, axis: PlotAxis, kind: str, *, has_ends: bool) -> str:
    """An interval; where all of it lies beyond the axis, a stub at that end."""
    low, high = axis.ends
    start, end = axis.x(max(ends[0], low)), axis.x(min(ends[1], high))
    if ends[0] >= high:
        start, end = axis.width - _STUB, axis.width
    elif ends[1] <= low:
        start, end = 0.0, _STUB
    if not has_ends:  # the thick line leaves the arrow free
        start, end = max(start, 2 * _ARROW * (ends[0] < low)), min(end, axis.width - 2 * _ARROW * (ends[1] > high))
    caps = [at for at in ends if low <= at <= high] if has_ends else []
    strokes = "".join(f"M{axis.x(at):.2f} {_MIDDLE - _CAP:g}v{2 * _CAP:g}" for at in caps)
    return f'<path d="M{start:.2f} {_MIDDLE:g}H{end:.2f}{strokes}" class="{kind}"/>'


def _arrow(axis: PlotAxis, *, is_right: bool) -> str:
    x, way = (axis.width, -1) if is_right else (0.0, 1)
    return f'<path d="M{x:.2f} {_MIDDLE:g}l{way * 2 * _ARROW:g} {-_ARROW:g}v{2 * _ARROW:g}z" class="arrowhead"/>'


def _beyond(row: EffectRow, effect: ScaledEffect, axis: PlotAxis, end: float, *, is_right: bool) -> str:
    """What lies beyond the axis, in numbers: the end of the interval, or the effect with all of it."""
    noun = "margins" if row.is_guard and not is_right else "times"
    told = f"to {_number(abs(end))}"
    if not axis.shows(effect.estimate) and (effect.estimate > 0) is is_right:
        limits = "" if effect.interval95 is None else f" ({' to '.join(map(_number, _told(effect.interval95)))})"
        told = f"{_number(abs(effect.estimate))} {noun}{limits}"
    return words_at(axis.width if is_right else 0.0, _MIDDLE - 13, told, "end" if is_right else "start")


def _told(ends: Ends) -> Ends:
    """The ends of an interval as they are told: nearer to nothing first, without a sign where both lie on one side."""
    if ends[0] * ends[1] < 0:
        return ends
    near, far = sorted(map(abs, ends))
    return near, far


def _number(value: float) -> str:
    return f"{value:.1f}" if abs(value) < 100 else f"{value:.3g}" if abs(value) >= 1e6 else f"{value:.0f}"  # noqa: PLR2004


def draw_head(axis: PlotAxis, *, is_on_page: bool = False) -> str:
    """What stands over the plot: which way is better, and where an effect is enough to matter."""
    nought, enough = axis.x(0), axis.x(1)
    told = next(words for words in ("enough to matter", "enough") if enough + 5 + told_width(words) <= axis.width or words == "enough")
    body = [
        words_at(nought - 5, 12, "worse", "end"),
        words_at(nought + 5, 12, "better"),
        words_at(enough + 5, 28, told),
        f'<path d="M{nought:.2f} 1V{HEAD_HEIGHT:g}" class="nought"/>',
        f'<path d="M{enough:.2f} 17V{HEAD_HEIGHT:g}" class="at"/>',
    ]
    return drawn(body, axis.width, HEAD_HEIGHT, "Worse to the left, better to the right.", is_on_page=is_on_page)


def draw_foot(axis: PlotAxis, *, is_on_page: bool = False) -> str:
    """The axis under the plot, with its multiples."""
    body = [f'<path d="M0 1H{axis.width:g}" class="axis"/>']
    for at in range(-axis.worse, axis.better + 1):
        body.append(f'<path d="M{axis.x(at):.2f} 1v5" class="axis"/>')
        named = {0: "", 1: "enough", -1: "margin" if axis.has_margins else "1"}.get(at, f"{abs(at)}")
        if named:
            body.append(words_at(axis.x(at), 19, named, "middle"))
    body.append(words_at(axis.x(0), 36, "no change", "middle"))
    body.append(words_at(axis.width, 36, "times", "end"))
    if axis.has_margins:
        body.append(words_at(0, 36, "margins"))
    told = f"The axis, from {axis.worse} {'margins' if axis.has_margins else 'times'} worse to {axis.better} times what matters better."
    return drawn(body, axis.width, FOOT_HEIGHT, told, is_on_page=is_on_page)
