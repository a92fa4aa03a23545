"""The frame of a drawing: neat line, ticks with course metres, grid crosses, north, scale bar, title block."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from html import escape

from marram.course.frame import Position
from marram.sheets.scene.labels import Rectangle
from marram.sheets.scene.style import name_span
from marram.sheets.scene.svg import UNIT_MM, View
from marram.sheets.scene.type_widths import Face, fit_words, words_width

_BLOCK_WIDTH, _BLOCK_HEIGHT, _BLOCK_MARGIN, _BLOCK_PAD = 222.0, 92.0, 12.0, 10.0
_TRACKED = 1.12
"""How much wider tracked capitals are than the table says."""
_COORD, _PAST_CORNER = 12.0, 5.0
"""Size of the type of course metres, and how far those of a row may reach past the corner."""
_BARS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0)


def _step_m(view: View) -> float:
    """Distance between ticks: the smallest of a fair series that leaves 90 units between them."""
    return next((step for step in (1, 2, 5, 10, 20, 50, 100, 200, 500) if step * view.units_per_m >= 90), 1000)


def draw_frame(view: View, *, has_figures: bool = True) -> Iterator[str]:
    """Neat line, ticks, coordinates and grid crosses.

    Args:
        view: The view.
        has_figures: Whether course metres stand at its sides.
    """
    b = view.box
    least_x, least_y, most_x, most_y = view.window.bounds
    step = _step_m(view)
    columns = [step * n for n in range(math.ceil(least_x / step), math.floor(most_x / step) + 1)]
    rows = [step * n for n in range(math.ceil(least_y / step), math.floor(most_y / step) + 1)]
    for x_m in columns:
        for y_m in rows:
            x, y = view.place(x_m, y_m)
            yield f'<path class="cross" d="M{x - 4:.1f} {y:.1f}h8M{x:.1f} {y - 4:.1f}v8"/>'
    yield f'<rect class="neat" x="{b.x:.1f}" y="{b.y:.1f}" width="{b.width:.1f}" height="{b.height:.1f}"/>'
    yield (f'<rect class="neat2" x="{b.x - 5:.1f}" y="{b.y - 5:.1f}" width="{b.width + 10:.1f}" height="{b.height + 10:.1f}"/>')
    if has_figures:
        yield from _columns(view, columns)
        yield from _rows(view, rows)


def _columns(view: View, columns: Sequence[float]) -> Iterator[str]:
    """Ticks and course metres along the lower side."""
    b = view.box
    for number, x_m in enumerate(columns):
        x, _ = view.place(x_m, 0)
        words = _metres(x_m, "" if number else "E")
        yield f'<path class="mark" d="M{x:.1f} {b.y + b.height:.1f}v5M{x:.1f} {b.y - 5:.1f}v5"/>'
        yield f'<text class="coord" text-anchor="middle" x="{x:.1f}" y="{b.y + b.height + 19:.1f}">{words}</text>'


def _rows(view: View, rows: Sequence[float]) -> Iterator[str]:
    """Ticks and course metres up the left side; near the lower corner a number would meet those of the columns, so it is left out."""
    b = view.box
    is_named = False
    for y_m in rows:
        _, y = view.place(0, y_m)
        yield f'<path class="mark" d="M{b.x - 5:.1f} {y:.1f}h5M{b.x + b.width:.1f} {y:.1f}h5"/>'
        words = _metres(y_m, "" if is_named else "N")
        if y + words_width(words, Face.BOARD, _COORD) / 2 > b.y + b.height + _PAST_CORNER:
            continue
        is_named = True
        yield f'<text class="coord" text-anchor="middle" transform="translate({b.x - 10:.1f} {y:.1f}) rotate(-90)">{words}</text>'


def _metres(metres: float, way: str) -> str:
    """Course metres with a true minus, and on the first of a side the unit with its way."""
    number = f"{metres:g}".replace("-", "\u2212")
    return f"{number} m {way}" if way else number


def north_box(view: View) -> Rectangle:
    """Where the north arrow stands."""
    return Rectangle(x=view.box.x + view.box.width - 46, y=view.box.y + 8, width=38, height=44)


def draw_north(view: View) -> str:
    """The north arrow; every drawing has north up."""
    box = north_box(view)
    x, y = box.x + box.width / 2, box.y + 18
    return (
        f'<g transform="translate({x:.1f} {y:.1f})"><circle r="19" cy="3" class="st-case"/>'
        f'<path class="bar1" d="M0-13L5 6L0 2z"/><path class="bar0" d="M0-13L-5 6L0 2z"/>'
        f'<text class="head" text-anchor="middle" y="19">N</text></g>'
    )


def title_block_box(view: View, clear_of: Sequence[Position] = ()) -> Rectangle:
    """Where the title block stands: in the lower right corner, or the lower left one where the right one would hide more places.

    Args:
        view: The view.
        clear_of: Places that it should not hide.
    """
    b = view.box
    corners = [
        Rectangle(x=x, y=b.y + b.height - _BLOCK_HEIGHT, width=_BLOCK_WIDTH, height=_BLOCK_HEIGHT)
        for x in (b.x + b.width - _BLOCK_WIDTH, b.x)
    ]
    return min(corners, key=lambda corner: sum(_hides(corner, view, place) for place in clear_of))


def _hides(box: Rectangle, view: View, place: Position) -> bool:
    x, y = view.place(*place.xy)
    return box.x - _BLOCK_MARGIN <= x <= box.x + box.width + _BLOCK_MARGIN and y >= box.y - _BLOCK_MARGIN


def block_head(name: str, rest: str = "") -> str:
    """The head of a title block: a name as far as it fits, then what must stand whole."""
    room = (_BLOCK_WIDTH - 2 * _BLOCK_PAD) / _TRACKED - words_width(rest.upper(), Face.BOARD_BOLD, _COORD)
    return fit_words(name.upper(), room, Face.BOARD_BOLD, _COORD) + rest.upper()


def draw_title_block(view: View, lines: tuple[str, str, str], box: Rectangle) -> Iterator[str]:
    """Course and hole, scale bar, and what the drawing rests on.

    Args:
        view: The view.
        lines: Head line, then two lines beneath the scale bar; each ends in an ellipsis where it is too long.
        box: Where it stands.
    """
    room = box.width - 2 * _BLOCK_PAD
    yield f'<rect class="plate" x="{box.x:.1f}" y="{box.y:.1f}" width="{box.width:.1f}" height="{box.height:.1f}"/>'
    yield f'<text class="head" x="{box.x + _BLOCK_PAD:.1f}" y="{box.y + 17:.1f}">{name_span(block_head(lines[0]))}</text>'
    yield from draw_scale_bar(view, box.x + 12, box.y + 36, 150)
    for number, line in enumerate(lines[1:]):
        words = fit_words(view.lengths.told(line), room, Face.BOARD, _COORD)
        yield f'<text class="small" x="{box.x + _BLOCK_PAD:.1f}" y="{box.y + 66 + 16 * number:.1f}">{escape(words)}</text>'


def draw_scale_bar(view: View, x: float, y: float, longest: float, figures: Sequence[int] = (0, 2, 4)) -> Iterator[str]:
    """A bar of four parts, as long as fits, with figures at some of its ends."""
    per_part = view.units_per_m * view.lengths.unit_m
    part = max((each for each in _BARS if 4 * each * per_part <= longest), default=_BARS[0])
    width = part * per_part
    for number in range(4):
        name = "bar1" if number % 2 == 0 else "bar0"
        yield f'<rect class="{name}" x="{x + number * width:.2f}" y="{y:.1f}" width="{width:.2f}" height="7"/>'
    for number in figures:
        words = f"{view.lengths.number(f'{number * part:g}')}{f' {view.lengths.unit}' if number == 4 else ''}"
        yield f'<text class="small" text-anchor="middle" x="{x + number * width:.1f}" y="{y - 4:.1f}">{words}</text>'


PROOF_MM = 50.0
PROOF_WORDS = "print at 100 %, no fitting to page"


def draw_proof_bar(x: float, y: float) -> Iterator[str]:
    """A bar of exactly 50 mm, by which a print is proved to be true to its scale."""
    width = PROOF_MM / UNIT_MM
    yield f'<path class="proof" d="M{x:.3f} {y:.2f}H{x + width:.3f}M{x:.3f} {y - 5:.2f}v10M{x + width:.3f} {y - 5:.2f}v10"/>'
    yield f'<text class="small" text-anchor="middle" x="{x + width / 2:.1f}" y="{y - 5:.1f}">50 mm: measure me</text>'
    yield f'<text class="small" text-anchor="middle" x="{x + width / 2:.1f}" y="{y + 15:.1f}">{PROOF_WORDS}</text>'
