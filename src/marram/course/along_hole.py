"""A place told along the line of play, as an official says it: so far before the green, so far to the right."""

from __future__ import annotations

from dataclasses import dataclass

from shapely.geometry import Point

from marram.course.frame import Position
from marram.course.holes import Hole

_CLOSE_M = 0.0005
_TRIES = 40
_STEP_M = 0.25


@dataclass(frozen=True, slots=True, kw_only=True)
class AlongHole:
    """A place along a hole.

    Attributes:
        before_green_m: Metres before the front of the green along the line of play; negative is beyond it.
        right_m: Metres to the right of that line, looking along it; negative is left.
    """

    before_green_m: float
    right_m: float


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
    before_m = hole.line.project(Point(front.xy)) - hole.line.project(Point(position.xy))
    right_m = 0.0
    for _ in range(_TRIES):
        reached = hole.before_green(before_m, right_m)
        behind, ahead = hole.before_green(before_m + _STEP_M, 0.0), hole.before_green(before_m - _STEP_M, 0.0)
        if reached is None or behind is None or ahead is None:
            return None
        if reached.distance_m(position) <= _CLOSE_M:
            return AlongHole(before_green_m=before_m, right_m=right_m)
        length_m = behind.distance_m(ahead)
        ahead_x, ahead_y = (ahead.x_m - behind.x_m) / length_m, (ahead.y_m - behind.y_m) / length_m
        off_x, off_y = position.x_m - reached.x_m, position.y_m - reached.y_m
        before_m -= off_x * ahead_x + off_y * ahead_y
        right_m += off_x * ahead_y - off_y * ahead_x
    return None
