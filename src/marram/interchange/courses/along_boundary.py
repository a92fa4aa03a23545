"""A walk that begins and ends at the boundary edge, closed along it by the shorter way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import LinearRing, MultiPolygon, Point, Polygon
from shapely.ops import substring

from marram.core.errors import SurveyError
from marram.course.frame import Position

_FARTHEST_END_M = 100.0
"""An end farther from the boundary edge is hardly meant for it (our own limit)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosedWalk:
    """A walk closed along the boundary edge.

    Attributes:
        corners: Corners of the outline.
        told: How it was closed, in a sentence with its metres.
    """

    corners: tuple[Position, ...]
    told: str


def close_along_boundary(points: Sequence[Position], boundary: Polygon | MultiPolygon) -> ClosedWalk:
    """Join both ends of a walk to the boundary edge and go the shorter way along it.

    Args:
        points: The walk, in order.
        boundary: Ground within the boundary edge, metres.

    Raises:
        SurveyError: The ends lie far from the edge, or nearest to edges that do not meet.
    """
    first, last = Point(points[0].xy), Point(points[-1].xy)
    rings = [ring for part in getattr(boundary, "geoms", [boundary]) for ring in (part.exterior, *part.interiors)]
    ring = min(rings, key=lambda edge: edge.distance(first))
    off_m = (ring.distance(first), ring.distance(last))
    if min(edge.distance(last) for edge in rings) < off_m[1] - 1e-9:
        raise SurveyError("The two ends of the walk are nearest to two edges of the boundary that do not meet.")
    if max(off_m) > _FARTHEST_END_M:
        raise SurveyError(
            f"The ends of the walk lie {off_m[0]:.0f} m and {off_m[1]:.0f} m from the boundary edge.",
            hint="Walk up to the edge, or close the walk on itself (`close=ring`).",
        )
    way = _shorter_way(ring, ring.project(last), ring.project(first))
    along_m = sum(one.distance_m(other) for one, other in zip(way, way[1:], strict=False))
    told = (
        f"The last point is joined to the boundary edge {off_m[1]:.1f} m away, then {along_m:.1f} m along it (the shorter way, of "
        f"{ring.length:.0f} m), then {off_m[0]:.1f} m to the first point."
    )
    return ClosedWalk(corners=(*points, *way), told=told)


def _shorter_way(ring: LinearRing, start_m: float, end_m: float) -> list[Position]:
    """The shorter of the two ways along a ring, as corners."""
    low_m, high_m = sorted((start_m, end_m))
    if high_m - low_m <= ring.length / 2:
        found = list(substring(ring, low_m, high_m).coords)
    else:
        round_the_start = [*substring(ring, high_m, ring.length).coords, *substring(ring, 0, low_m).coords[1:]]
        found = round_the_start[::-1]
    corners = [Position(x_m=xy[0], y_m=xy[1]) for xy in found]
    return corners if start_m <= end_m else corners[::-1]
