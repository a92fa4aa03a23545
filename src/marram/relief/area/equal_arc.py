"""Sideways from a ball, as far from the hole as it lies: the first places on either side that are clear."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon

from marram.course.frame import Position
from marram.relief.area.circle_crossings import crossings_of_circle

_LEAST_ARC_M = 0.001


def points_on_equal_arc(
    ball: Position, hole: Position, forbidden: Polygon | MultiPolygon, allowed: Polygon | MultiPolygon
) -> tuple[Position, ...]:
    """The first clear place on either side of a ball, at its own distance from the hole.

    Args:
        ball: Where the ball lies.
        hole: The hole.
        forbidden: Places where the ball may not lie; their edge may be used.
        allowed: Ground in which it must lie.

    Returns:
        The nearest along the circle first; the ball's own place alone where it is clear. Each side goes half-way round the hole, and
        gives no place where nothing on it is clear for a millimetre.

    Raises:
        ValueError: The ball lies at the hole, and there is no circle.

    Accuracy: rounding alone; a clear stretch shorter than 1 mm is passed over.
    """
    radius_m = ball.distance_m(hole)
    if radius_m < _LEAST_ARC_M:
        raise ValueError("the ball lies at the hole, and no place is to its side at the same distance")
    edges = np.concatenate([crossings_of_circle(ground, hole, radius_m) for ground in (forbidden, allowed)])
    start = math.atan2(ball.y_m - hole.y_m, ball.x_m - hole.x_m)
    turned = np.arctan2(edges[:, 1] - hole.y_m, edges[:, 0] - hole.x_m) - start
    turns = (turned + math.pi) % (2 * math.pi) - math.pi
    clear = [_first_clear(side * turns, side, start, hole, radius_m, (forbidden, allowed)) for side in (1.0, -1.0)]
    found = sorted((turn for turn in clear if turn is not None), key=abs)
    if found and found[0] == 0.0:
        return (ball,)
    return tuple(_on_circle(hole, radius_m, start + turn) for turn in found)


def _first_clear(
    turns: NDArray[np.float64],
    side: float,
    start: float,
    hole: Position,
    radius_m: float,
    grounds: tuple[Polygon | MultiPolygon, Polygon | MultiPolygon],
) -> float | None:
    """The turn from the ball to the first clear stretch on one side; None where there is none."""
    forbidden, allowed = grounds
    ends = np.unique(np.concatenate([[0.0], turns[turns >= 0], [math.pi]]))
    long = np.diff(ends) * radius_m >= _LEAST_ARC_M
    middles = start + side * (ends[:-1] + ends[1:]) / 2
    x, y = hole.x_m + radius_m * np.cos(middles), hole.y_m + radius_m * np.sin(middles)
    clear = long & shapely.contains_xy(allowed, x, y) & ~shapely.contains_xy(forbidden, x, y)
    return side * float(ends[clear.argmax()]) if clear.any() else None


def _on_circle(hole: Position, radius_m: float, turn: float) -> Position:
    return hole.moved(radius_m * math.cos(turn), radius_m * math.sin(turn))
