"""The words of a drawing before they have a place: how they are set, how much room they take, and the places that are tried."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

import shapely
from shapely.geometry import Polygon

from marram.sheets.scene.scene import Label, LabelKind
from marram.sheets.scene.type_widths import Face, fit_words, words_width

BADGE = 22.0
"""Side of the square that carries an option's letter."""
DISC = 21.0
"""Across the white disc that carries the number of a hole."""
PLATE = 20.0
"""Side of the square, in ink, that carries the number of a place in the list beside the drawing; wider for three digits."""
MOST_WIDTH = 260.0
"""A label that is wider ends in an ellipsis: longer names are told beneath the drawing."""


class Setting(NamedTuple):
    """How a kind of label is set: face, size of the type, height of a line, and how far below its top the letters stand."""

    face: Face
    size: float
    line: float
    rise: float


SETTINGS = {
    LabelKind.RULING: Setting(Face.BOARD, 13.0, 15.6, 12.2),
    LabelKind.FACT: Setting(Face.BOARD, 13.0, 15.6, 12.2),
    LabelKind.GROUND: Setting(Face.BOOK_ITALIC, 14.5, 17.2, 13.7),
    LabelKind.LETTER: Setting(Face.BOARD_BOLD, 14.5, BADGE, 16.5),
    LabelKind.NUMBER: Setting(Face.BOARD_BOLD, 13.0, DISC, 15.2),
    LabelKind.PLACE: Setting(Face.BOARD_BOLD, 13.0, PLATE, 14.6),
    LabelKind.BOOK: Setting(Face.BOARD_BOLD, 13.0, 15.6, 12.2),
}
_GAPS = (11.0, 17.0)
"""How far words stand beside what they speak of: a ball, or the larger sign of a point that is measured from."""
_RINGS_OF_POINT = (34.0, 50.0, 75.0, 105.0, 140.0, 180.0, 225.0, 275.0)
_RINGS_INSIDE = (14.0, 20.0, 26.0, 34.0, 44.0, 60.0, 80.0, 105.0, 140.0, 180.0, 225.0)
_TURNS = tuple(math.radians(30 * number) for number in range(12))
_OF_LINE = (0.42, 0.5, 0.35, 0.58, 0.28, 0.66, 0.2, 0.74, 0.13, 0.82, 0.06, 0.92)
"""Where on a line its name is tried, as shares of its length."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """A box on the drawing, in its units, y downward."""

    x: float
    y: float
    width: float
    height: float

    def meets(self, other: Rectangle, gap: float = 2.0) -> bool:
        """Whether two boxes overlap or nearly touch."""
        apart_x = self.x + self.width + gap <= other.x or other.x + other.width + gap <= self.x
        apart_y = self.y + self.height + gap <= other.y or other.y + other.height + gap <= self.y
        return not (apart_x or apart_y)

    def is_in(self, outer: Rectangle) -> bool:
        """Whether this box lies within another."""
        is_across = outer.x <= self.x and self.x + self.width <= outer.x + outer.width
        return is_across and outer.y <= self.y and self.y + self.height <= outer.y + outer.height

    @property
    def outline(self) -> Polygon:
        """The box as a shape."""
        return shapely.box(self.x, self.y, self.x + self.width, self.y + self.height)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A label with its place, and the way from its anchor to it where a line must show that."""

    label: Label
    box: Rectangle
    leader: tuple[tuple[float, float], tuple[float, float]] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Try:
    """A place to try: the box, how far it is from the best one, and whether a line must lead to it."""

    box: Rectangle
    far: float
    has_leader: bool = False


def fitted_lines(label: Label) -> tuple[str, ...]:
    """The lines of a label, each no wider than a label may be."""
    setting = SETTINGS[label.kind]
    return tuple(fit_words(line, MOST_WIDTH, setting.face, setting.size) for line in label.lines)


def size_of(label: Label) -> tuple[float, float]:
    """Width and height that a label takes, drawing units."""
    setting = SETTINGS[label.kind]
    if label.kind is LabelKind.LETTER:
        return BADGE, BADGE
    if label.kind is LabelKind.NUMBER:
        return DISC, DISC
    if label.kind is LabelKind.PLACE:
        return max(PLATE, words_width(label.lines[0], setting.face, setting.size) + 6.0), PLATE
    return max(words_width(line, setting.face, setting.size) for line in fitted_lines(label)), setting.line * len(label.lines)


def places_for(label: Label, anchor: tuple[float, float], along: shapely.LineString | None = None) -> Iterator[Try]:
    """Places to try, best first.

    Args:
        label: The label.
        anchor: What it speaks of, on the drawing.
        along: The line that it names, on the drawing; None for what is no name of a line.
    """
    width, height = size_of(label)

    def about(x: float, y: float, far: float, *, has_leader: bool = False) -> Try:
        return Try(box=Rectangle(x=x, y=y, width=width, height=height), far=far, has_leader=has_leader)

    if along is not None:
        points = (along.interpolate(share, normalized=True) for share in _OF_LINE)
        yield from (about(point.x - width / 2, point.y - height / 2, 3.0 * number) for number, point in enumerate(points))
    x, y = anchor
    if label.is_inside:
        yield about(x - width / 2, y - height / 2, 0.0)
        rings: tuple[float, ...] = _RINGS_INSIDE
    else:
        yield from (about(x + dx, y + dy, far) for dx, dy, far in _beside(width, height))
        rings = _RINGS_OF_POINT if label.must_show else _RINGS_OF_POINT[:2]
    for ring in rings:
        for turn in _TURNS:
            off_x, off_y = ring * math.cos(turn), ring * math.sin(turn)
            shift = (0.0, 0.0) if label.is_inside else (math.cos(turn) * width / 2, math.sin(turn) * height / 2)
            yield about(x + off_x + shift[0] - width / 2, y + off_y + shift[1] - height / 2, ring, has_leader=not label.is_inside)


def _beside(width: float, height: float) -> Iterator[tuple[float, float, float]]:
    """The eight places next to a point, at either gap, as offsets of the box's corner."""
    for gap in _GAPS:
        sides = (
            (gap, -height / 2),
            (-width - gap, -height / 2),
            (-width / 2, -height - gap),
            (-width / 2, gap),
            (gap, -height - gap / 2),
            (gap, gap / 2),
            (-width - gap, -height - gap / 2),
            (-width - gap, gap / 2),
        )
        yield from ((dx, dy, gap + number) for number, (dx, dy) in enumerate(sides))
