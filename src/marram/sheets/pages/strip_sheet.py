"""A measuring strip at true size: a length on paper, in pieces that are cut out and glued end to end."""

from __future__ import annotations

import re
import string
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.sheets.scene.palette import PRINT
from marram.sheets.scene.pdf import pages_pdf
from marram.sheets.scene.style import page_of
from marram.sheets.scene.svg import UNIT_MM

_UNITS_MM = {"in": Decimal("25.4"), "ft": Decimal("304.8"), "yd": Decimal("914.4"), "cm": Decimal(10), "m": Decimal(1000)}
"""Millimetres in each unit, exact by definition (international yard and pound agreement, 1959)."""
_METRIC = {"cm", "m"}
_LENGTH = re.compile(r"(\d{1,6}(?:\.\d{1,4})?)\s*([a-z]+)")
_LONGEST_MM, _SHORTEST_MM = Decimal(5000), Decimal(20)
_PAGE_MM = (297.0, 210.0)
_LEFT_MM, _STRIP_MM, _TAB_MM, _EVERY_MM, _FIRST_MM = 13.0, 22.0, 14.0, 31.0, 46.0
_THICK_MM = 3 * UNIT_MM
_PER_PAGE = 4
_PROOF_Y_MM = 185.0
_ADVICE = (
    "Print at 100 %, no fitting to page, and check both proof bars with a ruler.",
    "Cut along the outer lines. Glue each piece over the tab that carries its letter, its end on the line. Keep it dry: wet paper grows.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class StripLength:
    """A length as it was asked for.

    Attributes:
        words: The length with its unit.
        mm: The length, millimetres.
        is_metric: Whether it was asked for in centimetres or metres.
    """

    words: str
    mm: Decimal
    is_metric: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """A piece of the strip: where it starts and ends on the strip, and the letters of its joints, empty at the strip's own ends."""

    start_mm: float
    end_mm: float
    joint_before: str
    joint_after: str


def read_length(text: str) -> StripLength:
    """Read a length such as ``20in``, ``1.5 m`` or ``2 yd``.

    Raises:
        DataError: The text is no length, or the strip would be too short or too long for paper.
    """
    found = _LENGTH.fullmatch(text.strip().lower())
    if found is None or found[2] not in _UNITS_MM:
        raise DataError(f"{text!r} is no length.", field=Field.LENGTH, hint="Give a number and a unit: in, ft, yd, cm or m, as in 20in.")
    mm = Decimal(found[1]) * _UNITS_MM[found[2]]
    words = f"{Decimal(found[1]).normalize():f} {found[2]}"
    if not _SHORTEST_MM <= mm <= _LONGEST_MM:
        raise DataError(f"A strip of {words} cannot be made well of paper.", field=Field.LENGTH, hint="Give 2 cm to 5 m.")
    return StripLength(words=words, mm=mm, is_metric=found[2] in _METRIC)


def strip_pdf(length: StripLength) -> bytes:
    """A measuring strip, for A4 paper lying across.

    Args:
        length: How long it is in the end, its pieces glued together.

    Returns:
        A PDF; equal input gives equal bytes.
    """
    return pages_pdf(draw_strip(length), title=f"Measuring strip, {length.words}")


def draw_strip(length: StripLength) -> list[tuple[str, str]]:
    """The pages of a measuring strip: each as SVG, with what it shows in words.

    Args:
        length: How long it is in the end.
    """
    pieces = _pieces(length)
    pages = [pieces[first : first + _PER_PAGE] for first in range(0, len(pieces), _PER_PAGE)]
    return [(_page(length, page, number, len(pages)), _alt(length, page)) for number, page in enumerate(pages, start=1)]


def _pieces(length: StripLength) -> list[_Piece]:
    """Pieces of ten inches, or of a quarter of a metre; the last takes the rest."""
    whole = Decimal(250) if length.is_metric else Decimal(254)
    ends = [Decimal(0)]
    while length.mm - ends[-1] > whole:
        ends.append(ends[-1] + whole)
    ends.append(length.mm)
    if len(ends) > 2 and ends[-1] - ends[-2] < _SHORTEST_MM:
        ends[-2] = (ends[-3] + ends[-1]) / 2  # too little to glue is shared between the last two
    joints = ["", *string.ascii_uppercase[: len(ends) - 2], ""]
    return [
        _Piece(start_mm=float(start), end_mm=float(end), joint_before=joints[number], joint_after=joints[number + 1])
        for number, (start, end) in enumerate(pairwise(ends))
    ]


def _alt(length: StripLength, pieces: Sequence[_Piece]) -> str:
    parts = "; ".join(f"{piece.start_mm:.1f} to {piece.end_mm:.1f} mm" for piece in pieces)
    return f"Measuring strip of {length.words}, {length.mm:.1f} mm, at true size: pieces from {parts}. {' '.join(_ADVICE)}"


def _page(length: StripLength, pieces: Sequence[_Piece], number: int, count: int) -> str:
    words = f"Measuring strip, {length.words}"
    left, right = _LEFT_MM, _PAGE_MM[0] - _LEFT_MM
    body = [
        _text("t1", left, 20.5, words),
        _text("t4", right, 20.5, f"{length.mm:.1f} mm in all · page {number} of {count}", "end"),
        _line("line3", left, 24.3, right, 24.3),
        _line("line1", left, 25.6, right, 25.6),
        *(_text("t3", left, 31.6 + 5.1 * row, line) for row, line in enumerate(_ADVICE)),
    ]
    for row, piece in enumerate(pieces):
        body += _piece(length, piece, _FIRST_MM + _EVERY_MM * row)
    body += _proof(left, _PROOF_Y_MM)
    width, height = (side / UNIT_MM for side in _PAGE_MM)
    size = 'width="{:.2f}mm" height="{:.2f}mm"'.format(*_PAGE_MM)
    return page_of(body, PRINT, width, height, size=size, title=words)


def _piece(length: StripLength, piece: _Piece, y: float) -> Iterator[str]:
    left, right, low = _LEFT_MM, _LEFT_MM + piece.end_mm - piece.start_mm, y + _STRIP_MM
    yield from (_line("line1", left, edge, right, edge) for edge in (y, low))
    yield from _end(left, y, low, into=1, is_joint=bool(piece.joint_before))
    yield from _end(right, y, low, into=-1, is_joint=bool(piece.joint_after))
    yield from _ticks(piece, y, 25.4, 8, down=True)
    yield from _ticks(piece, low, 10.0, 10, down=False)
    middle = y + _STRIP_MM / 2 + 1.2
    if right - left >= 60:
        yield _text("small", (left + right) / 2, middle, f"{length.words} · {piece.start_mm:.1f} to {piece.end_mm:.1f} mm", "middle")
    if piece.joint_before:
        yield _text("t3", left + 12.7, middle + 0.2, piece.joint_before, "middle")
    if piece.joint_after:
        yield from _tab(right, y, piece.joint_after)


def _end(x: float, y: float, low: float, *, into: int, is_joint: bool) -> Iterator[str]:
    """An end of a piece; the thick line at an end of the strip lies within the strip, its outer edge on the end."""
    yield _line("line1", x, y, x, low)
    if not is_joint:
        inner = x + into * _THICK_MM / 2
        yield _line("line3", inner, y, inner, low)


def _ticks(piece: _Piece, edge: float, unit_mm: float, parts: int, *, down: bool) -> Iterator[str]:
    """A scale along an edge: whole units long and numbered, halves shorter, the rest short."""
    way = 1 if down else -1
    first, last = (round(end / unit_mm * parts, 6) for end in (piece.start_mm, piece.end_mm))
    for count in range(-int(-first // 1), int(last) + 1):
        x = _LEFT_MM + count * unit_mm / parts - piece.start_mm
        long_mm = 4.6 if count % parts == 0 else 3.2 if 2 * count % parts == 0 else 1.9
        if count not in {first, last}:  # the ends have lines of their own
            yield _line("line1", x, edge, x, edge + way * long_mm)
        if count % parts == 0:
            yield _number(piece, x, edge + (7.8 if down else -5.4), f"{count // parts}", unit_mm)


def _number(piece: _Piece, x: float, y: float, words: str, unit_mm: float) -> str:
    """The number beneath its tick, kept within the piece at either end; the first names the unit."""
    right = _LEFT_MM + piece.end_mm - piece.start_mm
    words += (" cm" if unit_mm == 10.0 else " in") if words == "0" else ""
    if x - _LEFT_MM < 3:
        return _text("small", x + 1.6, y, words)
    return _text("small", x - 1.6, y, words, "end") if right - x < 3 else _text("small", x, y, words, "middle")


def _tab(x: float, y: float, letter: str) -> Iterator[str]:
    """The tab beyond the measured length, on which the next piece is glued."""
    corner, low = 3.0, y + _STRIP_MM
    path = f"M{_u(x)} {_u(y)}L{_u(x + _TAB_MM)} {_u(y + corner)}V{_u(low - corner)}L{_u(x)} {_u(low)}"
    yield f'<path class="toward" d="{path}"/>'
    yield _text("t2", x + _TAB_MM / 2, y + 10, letter, "middle")
    yield _text("small", x + _TAB_MM / 2, y + 15, "glue", "middle")


def _proof(left: float, y: float) -> Iterator[str]:
    """Two lengths to be checked on the print with any ruler."""
    for x, parts, part_mm, words in ((left, 10, 10.0, "100 mm: measure me"), (left + 150.0, 4, 25.4, "4 in: measure me")):
        yield _line("line1", x, y, x + parts * part_mm, y)
        for number in range(parts + 1):
            high = 2.6 if number in {0, parts} else 1.5
            yield _line("line1", x + number * part_mm, y - high, x + number * part_mm, y)
        yield _text("small", x, y + 4.4, words)


def _line(name: str, x1: float, y1: float, x2: float, y2: float) -> str:
    return f'<path class="{name}" d="M{_u(x1)} {_u(y1)}L{_u(x2)} {_u(y2)}"/>'


def _text(name: str, x: float, y: float, words: str, anchor: str = "start") -> str:
    return f'<text class="{name}" text-anchor="{anchor}" x="{_u(x)}" y="{_u(y)}">{words}</text>'


def _u(mm: float) -> str:
    """Millimetres as drawing units."""
    return f"{mm / UNIT_MM:.4f}"
