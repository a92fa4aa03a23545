"""A player at the ball, as docs/design/relief-geometry.md gives the stance, and how clear the player is of a condition.

The player faces the line to the hole. A right-hander stands to the left of the ball as seen along that line, a left-hander to the right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from tests.published.geometry.oracle.ground import BALL_RADIUS_M, XY

Array = NDArray[np.float64]
_CLUBS = {"driver": (0.85, 0.50, 0.18), "iron": (0.65, 0.40, 0.05), "wedge": (0.45, 0.28, 0.0)}
"""Ball to toes, between the heels, ball ahead of the middle of the stance: metres."""


@dataclass(frozen=True)
class Discs:
    """Discs that stand for a player: how far ahead of the ball, how far to its left, and the radius, metres."""

    ahead_m: Array
    left_m: Array
    radius_m: Array

    @property
    def reach_m(self) -> float:
        """How far a disc's middle is from the ball at most."""
        return float(np.hypot(self.ahead_m, self.left_m).max())


def player(club: str, hand: str) -> tuple[Discs, Discs]:
    """The player at the ball, and besides the shaft, which only what stands up can meet."""
    toe_m, heels_m, forward_m = _CLUBS[club]
    side = 1.0 if hand == "right" else -1.0
    discs = [(0.0, 0.0, BALL_RADIUS_M)]
    first_m, last_m = toe_m + 0.05, toe_m + 0.29 - 0.05
    count = math.ceil((last_m - first_m) / 0.02) + 1
    for heel_m in (-heels_m / 2, heels_m / 2):
        for number in range(count):
            discs.append((heel_m - forward_m, side * (first_m + (last_m - first_m) * number / (count - 1)), 0.05))
    discs += [(-0.30 + 0.05 * number, side * 0.03, 0.07) for number in range(10)]
    shaft = [(0.0, side * 0.03 * number, 0.02) for number in range(math.ceil(toe_m / 0.03))]
    return _discs(discs), _discs(shaft)


def _discs(rows: list[tuple[float, float, float]]) -> Discs:
    ahead_m, left_m, radius_m = np.array(rows).T
    return Discs(ahead_m, left_m, radius_m)


@dataclass(frozen=True)
class Condition:
    """What the player must be clear of: the ground, and what of it stands up."""

    ground: BaseGeometry
    standing: BaseGeometry


def clear_m(places: Array, hole: XY, discs: tuple[Discs, Discs], condition: Condition) -> Array:
    """For each place of the ball the gap between player and condition; below zero by how deep a disc reaches in."""
    gaps_m = _gap_m(places, hole, discs[0], condition.ground)
    return gaps_m if condition.standing.is_empty else np.minimum(gaps_m, _gap_m(places, hole, discs[1], condition.standing))


def _gap_m(places: Array, hole: XY, discs: Discs, ground: BaseGeometry) -> Array:
    towards = np.array(hole) - places
    towards = towards / np.maximum(np.hypot(towards[:, 0], towards[:, 1]), 1e-9)[:, None]
    x = places[:, :1] + discs.ahead_m * towards[:, :1] - discs.left_m * towards[:, 1:]
    y = places[:, 1:] + discs.ahead_m * towards[:, 1:] + discs.left_m * towards[:, :1]
    return np.asarray((signed_m(x.ravel(), y.ravel(), ground).reshape(x.shape) - discs.radius_m).min(axis=1))


def signed_m(x: Array, y: Array, ground: BaseGeometry) -> Array:
    """Distance to some ground; within it, less than zero by the distance to its edge."""
    points = np.asarray(shapely.points(x, y))
    out_m = np.asarray(shapely.distance(points, ground))
    within = out_m == 0
    if within.any():
        out_m[within] = -shapely.distance(points[within], ground.boundary)
    return out_m
