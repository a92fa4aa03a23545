"""The places on the edges of penalty areas at which a marking is tried, and the holes that are played over each.

An edge is tried every half metre, at every surveyed corner, and on both sides of each place where the ground beside it changes. Left out
are stretches along the boundary and along another penalty area: nobody comes over them from the course outside the water.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.holes import Hole
from marram.course.locate import TOUCH_M
from marram.course.partition import PenaltyArea
from marram.relief.area.crescent_sums import Floats, Whole

STEP_M = 0.5
"""Farthest that two neighbouring places lie apart."""
PLAYED_OVER_M = 60.0
"""How far to either side of its line of play a hole is taken to be played (from memory: a wild stroke of 200 m ends 50 to 60 m off)."""
_BESIDE_CHANGE_M = 0.002


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgePoints:
    """Places on the edges of penalty areas, all edges one after another.

    Attributes:
        xy: The places, a row each, metres.
        area: Number of the penalty area in the course's list, for each place.
        ring: Number of the ring, counted over all areas.
        along_m: Distance along the ring.
        ring_m: Length of the ring.
        feature: Number of the surveyed feature within its penalty area.
    """

    xy: Floats
    area: Whole
    ring: Whole
    along_m: Floats
    ring_m: Floats
    feature: Whole

    def only(self, keep: NDArray[np.bool_]) -> EdgePoints:
        """The places that are to be kept."""
        return EdgePoints(
            xy=self.xy[keep],
            area=self.area[keep],
            ring=self.ring[keep],
            along_m=self.along_m[keep],
            ring_m=self.ring_m[keep],
            feature=self.feature[keep],
        )


def points_on_edges(course: Course, chosen: Sequence[int], *, step_m: float = STEP_M) -> EdgePoints:
    """List the places to be tried.

    Args:
        course: The course.
        chosen: Numbers of penalty areas in the course's list.
        step_m: Farthest that two neighbouring places may lie apart.
    """
    found: list[tuple[Floats, int, int, Floats, float, Whole]] = []
    rings = ((number, ring) for number in chosen for ring in _rings(course.penalty_areas[number].geometry))
    for ring_number, (number, ring) in enumerate(rings):
        along_m = _stations(ring, _changes(course, number, ring), step_m)
        xy = shapely.get_coordinates(shapely.line_interpolate_point(ring, along_m))
        open_edge = _is_open_edge(course, number, xy)
        xy, along_m = xy[open_edge], along_m[open_edge]
        found.append((xy, number, ring_number, along_m, float(ring.length), _features(course.penalty_areas[number], xy)))
    counts = [len(entry[3]) for entry in found]
    return EdgePoints(
        xy=np.concatenate([np.empty((0, 2)), *[entry[0] for entry in found]]),
        area=np.repeat(np.array([entry[1] for entry in found], dtype=np.int64), counts),
        ring=np.repeat(np.array([entry[2] for entry in found], dtype=np.int64), counts),
        along_m=np.concatenate([np.empty(0), *[entry[3] for entry in found]]),
        ring_m=np.repeat(np.array([entry[4] for entry in found], dtype=np.float64), counts),
        feature=np.concatenate([np.empty(0, dtype=np.int64), *[entry[5] for entry in found]]),
    )


def _rings(ground: BaseGeometry) -> Iterator[LineString]:
    for part in shapely.get_parts(ground):
        yield from (LineString(ring.coords) for ring in (part.exterior, *part.interiors))


def _stations(ring: LineString, changes_m: Floats, step_m: float) -> Floats:
    """Distances along a ring: its corners, equal steps between them, and both sides of each change."""
    corners_m = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(shapely.get_coordinates(ring), axis=0).T))])
    stretches = [
        np.linspace(start_m, end_m, max(1, int(np.ceil((end_m - start_m) / step_m))), endpoint=False)
        for start_m, end_m in zip(corners_m[:-1], corners_m[1:], strict=True)
    ]
    beside = np.concatenate([changes_m - _BESIDE_CHANGE_M, changes_m + _BESIDE_CHANGE_M]) % ring.length
    return np.unique(np.concatenate([*stretches, beside]).round(9))


def _changes(course: Course, own: int, ring: LineString) -> Floats:
    """Where along a ring the ground beside it changes."""
    # The general area is left out: each of its edges is the edge of something else.
    strange = (piece for piece in course.pieces if piece.feature is not None and piece.feature not in course.penalty_areas[own].features)
    others: list[BaseGeometry] = [piece.geometry.boundary for piece in strange]
    others += [zone.geometry.boundary for zone in course.of_kind(FeatureKind.NO_PLAY_ZONE)]
    others.append(course.boundary.boundary)
    places: list[tuple[float, float]] = []
    for other in others:
        if shapely.dwithin(ring, other, TOUCH_M):
            for met in shapely.get_parts(ring & other):
                places += [met.coords[0], met.coords[-1]] if not met.is_empty else []
    return np.asarray(shapely.line_locate_point(ring, shapely.points(np.array(places).reshape(-1, 2))))


def _is_open_edge(course: Course, own: int, xy: Floats) -> NDArray[np.bool_]:
    points = shapely.points(xy)
    barred = shapely.dwithin(points, course.boundary.boundary, TOUCH_M)
    for number, area in enumerate(course.penalty_areas):
        if number != own:
            barred |= shapely.dwithin(points, area.geometry, TOUCH_M)
    return np.asarray(~barred)


def _features(area: PenaltyArea, xy: Floats) -> Whole:
    """The feature that each place lies on: the nearest of those that make up the penalty area."""
    points = shapely.points(xy)
    away_m = [shapely.distance(points, feature.geometry) for feature in area.features]
    return np.asarray(np.argmin(np.array(away_m), axis=0), dtype=np.int64)


def played_over(points: EdgePoints, holes: Sequence[Hole], *, within_m: float = PLAYED_OVER_M) -> tuple[Whole, Whole]:
    """Pair each place with the holes that are played over it.

    Args:
        points: The places.
        holes: The holes, each with a line of play.
        within_m: How far to either side of its line of play a hole is played.

    Returns:
        Numbers of places and, beside them, numbers of holes in the list; sorted by place.
    """
    lines = [hole.line for hole in holes]
    away_m = shapely.distance(np.asarray(shapely.points(points.xy))[:, None], np.array(lines)[None, :])
    place, hole = np.nonzero(away_m <= within_m)
    return place.astype(np.int64), hole.astype(np.int64)
