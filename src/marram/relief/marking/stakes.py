"""Whether stakes or survey points stand close enough together for the curve that they mark.

The edge of a penalty area runs straight from stake to stake. Where the ground's own edge is a curve of radius r and the stakes stand s
apart, the straight line leaves it by the sagitta, s² / 8 r, and a ball near the middle may be ruled to lie on the wrong side.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.relief.area.crescent_sums import Floats

TOLERANCE_M = 0.10
"""How far a marked edge may lie from the true one before it is told (common practice: about a hand's length on the ground)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WideSpacing:
    """A stretch of edge whose stakes or survey points stand too far apart.

    Attributes:
        feature: The penalty area.
        at: Middle of the worst gap.
        gaps: How many neighbouring gaps are too wide.
        spacing_m: Width of the worst gap.
        radius_m: Radius of the curve there.
        off_m: How far the true edge may lie from the straight line.
        wanted_m: The widest gap that keeps to the tolerance on that curve.
    """

    feature: Feature
    at: Position
    gaps: int
    spacing_m: float
    radius_m: float
    off_m: float
    wanted_m: float


def find_wide_spacing(course: Course, *, tolerance_m: float = TOLERANCE_M) -> tuple[WideSpacing, ...]:
    """Find where the edges of penalty areas are marked too thinly for their curves.

    Args:
        course: The course.
        tolerance_m: How far the true edge may lie from the straight line between two points.

    Returns:
        The stretches, by feature, worst first.
    """
    found = [
        stretch
        for feature in course.of_kind(FeatureKind.PENALTY_AREA)
        for ring in _rings(feature.geometry)
        for stretch in _wide_in_ring(course, feature, ring, tolerance_m)
    ]
    return tuple(sorted(found, key=lambda stretch: (stretch.feature.id, -stretch.off_m, stretch.at.xy)))


def _rings(ground: BaseGeometry) -> Iterator[Floats]:
    for part in shapely.get_parts(ground):
        for ring in (part.exterior, *part.interiors):
            corners = shapely.get_coordinates(ring)[:-1]
            # A corner that was surveyed twice bounds no edge.
            yield corners[np.any(corners != np.roll(corners, 1, axis=0), axis=1)]


def _wide_in_ring(course: Course, feature: Feature, corners: Floats, tolerance_m: float) -> Iterator[WideSpacing]:
    if len(corners) < 4:
        return
    spacing_m, bend_per_m = edge_bends(corners)
    off_m = spacing_m**2 * bend_per_m / 8
    middles = (corners + np.roll(corners, -1, axis=0)) / 2
    is_wide = (off_m > tolerance_m) & shapely.contains(course.boundary, shapely.points(middles))
    for run in _runs(is_wide):
        worst = max(run, key=lambda number: float(off_m[number]))
        radius_m = 1 / float(bend_per_m[worst])
        yield WideSpacing(
            feature=feature,
            at=Position(x_m=float(middles[worst, 0]), y_m=float(middles[worst, 1])),
            gaps=len(run),
            spacing_m=float(spacing_m[worst]),
            radius_m=radius_m,
            off_m=float(off_m[worst]),
            wanted_m=math.sqrt(8 * radius_m * tolerance_m),
        )


def edge_bends(corners: Floats) -> tuple[Floats, Floats]:
    """Length and bend (one over the radius) of every edge of a ring.

    The bend at a corner is that of the circle through it and its neighbours. An edge is part of a curve only where both its ends bend the
    same way, and has the lesser bend of the two: a single sharp corner between straight edges is a corner, which a stake marks exactly.
    Where a curve is known by its points alone a true one may bend more between them; the figure is an estimate.

    Args:
        corners: Corners of the ring in order, the first not repeated, no two neighbours alike.
    """
    before, after = corners - np.roll(corners, 1, axis=0), np.roll(corners, -1, axis=0) - corners
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    across = np.hypot(*(before + after).T)
    product = np.hypot(*before.T) * np.hypot(*after.T) * across
    at_corner = np.divide(2 * cross, product, out=np.zeros(len(corners)), where=product > 0)
    at_next = np.roll(at_corner, -1)
    bend_per_m = np.where(at_corner * at_next > 0, np.minimum(np.abs(at_corner), np.abs(at_next)), 0.0)
    return np.hypot(*after.T), bend_per_m


def _runs(is_wide: np.typing.NDArray[np.bool_]) -> list[list[int]]:
    """Runs of neighbouring edges in a ring."""
    runs: list[list[int]] = []
    for number in np.nonzero(is_wide)[0].tolist():
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    if len(runs) > 1 and runs[0][0] == 0 and runs[-1][-1] == len(is_wide) - 1:
        runs[0] = runs.pop() + runs[0]
    return runs
