"""A place told along the line of play, as an official says it: so far before the green, so far to the right."""

from __future__ import annotations

from dataclasses import dataclass

from shapely.geometry import Point

from marram.course.frame import Position
from marram.course.holes import Hole

_CLOSE_M = 0.001
_BEND_M = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class AlongHole:
    """A place along a hole.

    Attributes:
        before_green_m: Metres before the front of the green along the line of play; negative is beyond it.
        right_m: Metres to the right of that line, looking along it; negative is left.
    """

    before_green_m: float
    right_m: float

    @property
    def words(self) -> str:
        """The place in words, to the metre."""
        side = "right" if self.right_m >= 0 else "left"
        before = f"{self.before_green_m:.0f} m before" if self.before_green_m >= 0 else f"{-self.before_green_m:.0f} m past the front of"
        return f"{before} the green, {abs(self.right_m):.0f} m {side}"


def tell_along(hole: Hole, position: Position) -> AlongHole | None:
    """Tell a place by its distance before the green and to the side; the inverse of ``Hole.before_green``.

    Args:
        hole: The hole.
        position: The place.

    Returns:
        The two distances, or None where the hole has no line of play that meets its green, or none lead to the place (inside a bend).
    """
    front = hole.before_green(0.0, 0.0)
    if front is None or hole.line is None:
        return None
    point = Point(position.xy)
    before_m = hole.line.project(Point(front.xy)) - hole.line.project(point)
    # At a bend and beyond the ends of the line the place does not lie square to where it projects, so the search reaches farther.
    for reach_m in (_BEND_M, hole.line.distance(point) + _BEND_M):
        found = _square_to(hole, position, before_m - reach_m, before_m + reach_m)
        if found is not None:
            return found
    return None


def _square_to(hole: Hole, position: Position, least_m: float, most_m: float) -> AlongHole | None:
    """Where, between two distances before the green, the line of play runs square to a place."""
    while most_m - least_m > _CLOSE_M / 10:
        middle_m = (least_m + most_m) / 2
        ahead_m, _ = _offset_m(hole, position, middle_m)
        least_m, most_m = (least_m, middle_m) if ahead_m > 0 else (middle_m, most_m)
    before_m = (least_m + most_m) / 2
    _, right_m = _offset_m(hole, position, before_m)
    reached = hole.before_green(before_m, right_m)
    if reached is None or reached.distance_m(position) > _CLOSE_M:
        return None
    return AlongHole(before_green_m=before_m, right_m=right_m)


def _offset_m(hole: Hole, position: Position, before_m: float) -> tuple[float, float]:
    """How far ahead of a place of the line, and to the right of it, a position lies."""
    base, beside = hole.before_green(before_m, 0.0), hole.before_green(before_m, 1.0)
    if base is None or beside is None:
        return 0.0, 0.0
    right_x, right_y = beside.x_m - base.x_m, beside.y_m - base.y_m
    off_x, off_y = position.x_m - base.x_m, position.y_m - base.y_m
    return off_y * right_x - off_x * right_y, off_x * right_x + off_y * right_y
