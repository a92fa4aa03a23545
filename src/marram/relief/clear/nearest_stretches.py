"""Where the edge of some ground comes nearest to a ball: one place on each stretch that is about as near as the nearest of all."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.relief.clear.nearest_discs import Floats
from marram.relief.clear.nearest_free import EQUAL_M, nearest_place

_STEP_OUT_M = 0.001
_RISE_M = 0.01
"""More than the 5 mm by which an edge made of discs of the footprint goes up and down."""


def local_nearest(ball: Position, free: BaseGeometry) -> list[Position]:
    """The nearest place of each stretch of the edge of the free ground that is about as near as the nearest of all.

    Args:
        ball: Where the ball lies.
        free: The free ground; the ball's own place alone is given where it lies in it.
    """
    nearest = nearest_place(ball, free)
    best_m = nearest.distance_m(ball)
    if best_m == 0:
        return [ball]
    places = [
        place
        for ring in shapely.get_rings(shapely.get_parts(free))
        for place in _dips(ball, shapely.get_coordinates(ring), best_m + EQUAL_M)
        if _is_on_near_side(place, ball, free)
    ]
    return places if any(place.distance_m(nearest) < _STEP_OUT_M for place in places) else [*places, nearest]


def _dips(ball: Position, ring: Floats, limit_m: float) -> list[Position]:
    """The nearest places of a ring's stretches within a limit, more than one where a stretch goes away from the ball by 1 cm between."""
    corners = ring - np.array(ball.xy)
    steps = np.diff(corners, axis=0)
    squares = np.maximum((steps**2).sum(axis=1), 1e-18)
    shares = np.clip(-(corners[:-1] * steps).sum(axis=1) / squares, 0.0, 1.0)
    feet = corners[:-1] + shares[:, None] * steps
    # From each of these places to the next the distance only falls or only rises.
    places = np.stack([corners[:-1], feet], axis=1).reshape(-1, 2)
    distances_m = np.hypot(places[:, 0], places[:, 1])
    first = int(distances_m.argmax())
    places, distances_m = np.roll(places, -first, axis=0), np.roll(distances_m, -first)
    within = np.flatnonzero(distances_m <= limit_m)
    stretches = np.split(within, np.flatnonzero(np.diff(within) > 1) + 1)
    dips = [stretch[low] for stretch in stretches if len(stretch) for low in _lows(distances_m[stretch].tolist())]
    return [ball.moved(*places[dip].tolist()) for dip in dips]


def _lows(heights_m: list[float]) -> list[int]:
    """Where a course of heights is lowest, between rises of at least 1 cm."""
    lows: list[int] = []
    turn, is_falling = 0, True
    for index, height_m in enumerate(heights_m):
        past_m = height_m - heights_m[turn] if is_falling else heights_m[turn] - height_m
        if past_m < 0:
            turn = index
        elif past_m > _RISE_M:
            if is_falling:
                lows.append(turn)
            turn, is_falling = index, not is_falling
    return [*lows, turn] if is_falling else lows


def _is_on_near_side(place: Position, ball: Position, free: BaseGeometry) -> bool:
    """Whether a step towards the ball leaves the free ground; on the far edge of a narrow strip it does not."""
    return not free.contains(Point(place.towards(ball, _STEP_OUT_M).xy))
