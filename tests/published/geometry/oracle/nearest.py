"""Nearest places and areas by trying squares: large ones first, each cut in four until its middle settles all of it.

A measure m(p), such as the gap between player and condition, changes by at most L for each metre that the ball is moved; so its value in
the middle of a square of half-diagonal h bounds it on all of the square. What the bound does not settle is cut again.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from tests.published.geometry.oracle.ground import XY, polygons
from tests.published.geometry.oracle.stance import Condition, Discs, clear_m, signed_m

Array = NDArray[np.float64]
Measure = Callable[[Array], Array]
FARTHEST_M = 112.0
"""How far the nearest place is looked for (docs/design/relief-geometry.md)."""
_FINEST_M, _CELL_M = 2e-4, 4e-3
_MARGIN_M = 6.0


@dataclass(frozen=True)
class Nearest:
    """The nearest place at which a measure is not below zero, and a distance within which there surely is none."""

    at: XY
    distance_m: float
    none_within_m: float


@dataclass(frozen=True, kw_only=True)
class Relief:
    """Ground from which relief is complete: clear of a condition, on allowed ground, not nearer the hole.

    Attributes:
        ball: Where the ball lies.
        hole: The hole.
        discs: The player.
        condition: What to be clear of.
        allowed: Ground on which the ball may come.
    """

    ball: XY
    hole: XY
    discs: tuple[Discs, Discs]
    condition: Condition
    allowed: BaseGeometry

    def _near(self, reach_m: float) -> Relief:
        x, y = self.ball
        window = box(x - reach_m, y - reach_m, x + reach_m, y + reach_m)
        ground, standing = (polygons(each.intersection(window), 0.0) for each in (self.condition.ground, self.condition.standing))
        allowed = polygons(self.allowed.intersection(window), 0.0)
        return Relief(ball=self.ball, hole=self.hole, discs=self.discs, condition=Condition(ground, standing), allowed=allowed)

    def gap_m(self, places: Array) -> Array:
        """The gap between player and condition."""
        return clear_m(places, self.hole, self.discs, self.condition)

    def _measure(self, places: Array) -> Array:
        to_hole_m = np.hypot(*(places - np.array(self.hole)).T) - math.dist(self.ball, self.hole)
        inside_m = -signed_m(places[:, 0], places[:, 1], self.allowed)
        settled = np.minimum(to_hole_m, inside_m)
        # The player is tried only where the rest does not rule the place out already.
        open_to_try = settled > -1.0
        settled[open_to_try] = np.minimum(settled[open_to_try], self.gap_m(places[open_to_try]))
        return np.asarray(settled)

    def fits_m(self, place: XY) -> float:
        """By how much a place is a place of complete relief; below zero where it is none."""
        return float(self._near(math.dist(place, self.ball) + _MARGIN_M)._measure(np.array([place]))[0])

    def steepness(self, reach_m: float) -> float:
        """How fast the measure can change: the player turns with the direction to the hole."""
        nearest_m = max(math.dist(self.ball, self.hole) - 0.1, 0.2)
        return 1.0 + max(discs.reach_m for discs in self.discs) / nearest_m

    def nearest(self) -> Nearest | None:
        """The nearest place of complete relief; None where there surely is none within reach."""
        reach_m = 4.0
        while True:
            near = self._near(reach_m + _MARGIN_M)
            found = None if near.allowed.is_empty else nearest_where(near._measure, self.ball, reach_m, self.steepness(reach_m))
            if found is not None or reach_m >= FARTHEST_M:
                return found
            reach_m = min(2 * reach_m, FARTHEST_M)

    def clear_area(self, ground: BaseGeometry, about: XY) -> tuple[float, Measure]:
        """How much of some ground gives complete relief, m², with the measure of lying in it."""
        near = self._near(math.dist(about, self.ball) + _MARGIN_M)

        def measure(places: Array) -> Array:
            inside_m = -signed_m(places[:, 0], places[:, 1], ground)
            settled = inside_m.copy()
            open_to_try = settled > -0.5
            settled[open_to_try] = np.minimum(settled[open_to_try], near.gap_m(places[open_to_try]))
            return settled

        if ground.is_empty:
            return 0.0, lambda places: np.full(len(places), -1.0)
        return area_where(measure, ground.bounds, self.steepness(0.0)), measure


def _quartered(middles: Array, half_m: float) -> Array:
    shifts = np.array([(-1, -1), (-1, 1), (1, -1), (1, 1)]) * half_m / 2
    return np.asarray((middles[:, None, :] + shifts[None, :, :]).reshape(-1, 2))


def nearest_where(measure: Measure, ball: XY, reach_m: float, steepness: float) -> Nearest | None:
    """The nearest place within reach at which a measure is not below zero."""
    half_m = 0.5
    steps = np.arange(-reach_m + half_m, reach_m, 2 * half_m)
    middles = np.array([(ball[0] + x, ball[1] + y) for x in steps for y in steps])
    best_m, best = math.inf, ball
    while True:
        diagonal_m = half_m * math.sqrt(2)
        away_m = np.hypot(*(middles - np.array(ball)).T)
        middles = middles[away_m - diagonal_m < min(best_m, reach_m)]
        values = measure(middles) if len(middles) else np.zeros(0)
        away_m = np.hypot(*(middles - np.array(ball)).T)
        good = np.flatnonzero(values >= 0)
        if len(good) and away_m[good].min() < best_m:
            first = good[away_m[good].argmin()]
            best_m, best = float(away_m[first]), (float(middles[first, 0]), float(middles[first, 1]))
        kept = (values >= -steepness * diagonal_m) & (away_m - diagonal_m < best_m)
        if half_m <= _FINEST_M or not kept.any():
            break
        middles, half_m = _quartered(middles[kept], half_m), half_m / 2
    if math.isinf(best_m) or best_m > reach_m:
        return None
    open_m = (away_m - diagonal_m)[kept]
    return Nearest(best, best_m, max(0.0, float(open_m.min())) if len(open_m) else best_m)


def area_where(measure: Measure, bounds: tuple[float, float, float, float], steepness: float) -> float:
    """The area on which a measure is not below zero; squares of 8 mm on its edge count by how far in their middles lie."""
    half_m = 0.25
    xs = np.arange(bounds[0] + half_m, bounds[2] + half_m, 2 * half_m)
    ys = np.arange(bounds[1] + half_m, bounds[3] + half_m, 2 * half_m)
    middles = np.array([(x, y) for x in xs for y in ys])
    area_m2 = 0.0
    while len(middles):
        values, bound_m = measure(middles), steepness * half_m * math.sqrt(2)
        area_m2 += float((values >= bound_m).sum()) * 4 * half_m**2
        open_ones = np.abs(values) < bound_m
        if half_m <= _CELL_M:
            shares = np.clip(0.5 + values[open_ones] / (2 * half_m), 0, 1)
            return area_m2 + float(shares.sum()) * 4 * half_m**2
        middles, half_m = _quartered(middles[open_ones], half_m), half_m / 2
    return area_m2
