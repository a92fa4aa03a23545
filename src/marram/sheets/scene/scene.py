"""The scene: what a drawing shows, in metres of the course, before it is drawn for any medium."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position


class Role(StrEnum):
    """What a shape stands for, in the order in which shapes are drawn, bottom first."""

    FAIRWAY = "fairway"
    GREEN = "green"
    WRONG_GREEN = "wrong-green"
    TEE = "tee"
    OTHER_TEE = "other-tee"
    TREES = "trees"
    BUNKER = "bunker"
    OBSTRUCTION = "obstruction"
    WALL = "wall"
    REPAIR = "repair"
    TEMPORARY_WATER = "temporary-water"
    ANIMAL_HOLE = "animal-hole"
    WATER = "water"
    NO_PLAY_ZONE = "no-play-zone"
    DROPPING_ZONE = "dropping-zone"
    OUT_OF_BOUNDS = "out-of-bounds"
    BOUNDARY = "boundary"
    FAN = "fan"
    HOLE_ARC = "hole-arc"
    LINE_TO_HOLE = "line-to-hole"
    FLIGHT = "flight"
    LINE_BARRED = "line-barred"
    LINE_BACK = "line-back"
    RELIEF_SECOND = "relief-second"
    RELIEF = "relief"
    OTHER_ESTIMATE = "other-estimate"
    COMMON_GROUND = "common-ground"
    OTHER_BOOK = "other-book"
    THIRD_BOOK = "third-book"
    RED_EDGE = "red-edge"
    YELLOW_EDGE = "yellow-edge"
    UNMARKED_EDGE = "unmarked-edge"
    FOOT = "foot"
    MAP_FRAME = "map-frame"


ORDER = tuple(Role)


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A shape of the scene."""

    role: Role
    geometry: BaseGeometry
    title: str = ""


class SpotKind(StrEnum):
    """Points of the drawing."""

    BALL = "ball"
    STATION = "station"
    CHOSEN = "chosen"
    HOLE = "hole"
    FIRST_TOUCH = "first-touch"
    BALL_NOT_IN_PLAY = "ball-not-in-play"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A point of the scene; points are drawn above all shapes."""

    kind: SpotKind
    position: Position


class LabelKind(StrEnum):
    """How a label is lettered."""

    RULING = "ruling"
    FACT = "fact"
    GROUND = "ground"
    LETTER = "letter"
    NUMBER = "number"
    PLACE = "place"
    BOOK = "book"


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Words on the drawing.

    Attributes:
        lines: The words, one entry a line.
        kind: How they are lettered.
        anchor: The place that they speak of.
        must_show: Whether a leader is drawn to a farther place when there is no room beside the anchor.
        is_inside: Whether the words stand on the anchor itself.
        ground: The ground that the words name, on which they stand: always for the name of ground, as far as it has room for a letter.
        along: The line that the words name, on which they stand if it is not crowded; None for what is no name of a line.
        names: The role of that line; the words may break it and no other.
    """

    lines: tuple[str, ...]
    kind: LabelKind
    anchor: Position
    must_show: bool = True
    is_inside: bool = False
    ground: BaseGeometry | None = None
    along: BaseGeometry | None = None
    names: Role | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A measured length between two places."""

    start: Position
    end: Position
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """What part of the ground is shown.

    Attributes:
        middle: Middle of the window.
        width_m: Its width on the ground.
        height_m: Its height.
    """

    middle: Position
    width_m: float
    height_m: float

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y, metres."""
        x, y = self.middle.xy
        return (x - self.width_m / 2, y - self.height_m / 2, x + self.width_m / 2, y + self.height_m / 2)

    def holds(self, position: Position, edge_m: float = 0.0) -> bool:
        """Whether a place is in the window, so far from its edge."""
        least_x, least_y, most_x, most_y = self.bounds
        return least_x + edge_m <= position.x_m <= most_x - edge_m and least_y + edge_m <= position.y_m <= most_y - edge_m


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A drawing before it is drawn."""

    items: tuple[Item, ...]
    spots: tuple[Spot, ...] = ()
    labels: tuple[Label, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    away: tuple[tuple[Position, str], ...] = field(default=())
