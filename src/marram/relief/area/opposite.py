"""The point on the opposite edge of a penalty area that is as far from the hole as the crossing point."""

from __future__ import annotations

import math

import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon

from marram.course.frame import Position

_SAME_M, _HAIR_M = 0.01, 0.001


def opposite_edge_points(crossing: Position, hole: Position, area: Polygon | MultiPolygon) -> tuple[Position, ...]:
    """All points of the edge as far from the hole as the crossing point and seen from it straight across the penalty area.

    Args:
        crossing: Where the ball last crossed the edge.
        hole: The hole.
        area: Ground of the penalty area, metres.

    Returns:
        The points, nearest to the crossing point first.
    """
    distance_m = crossing.distance_m(hole)
    found: list[Position] = []
    for ring in _rings(area):
        coords = list(ring.coords)
        for start, end in zip(coords, coords[1:], strict=False):
            found += _on_circle(start, end, hole, distance_m)
    across = [place for place in found if place.distance_m(crossing) > _SAME_M and _is_across(crossing, place, area)]
    return tuple(sorted(across, key=crossing.distance_m))


def _is_across(crossing: Position, place: Position, area: Polygon | MultiPolygon) -> bool:
    """Whether the straight line between two places of the edge stays in the penalty area, but for rounding at its ends."""
    chord = LineString([crossing.xy, place.xy])
    middle = chord.interpolate(0.5, normalized=True)
    # A chord along an edge, held to whole millimetres, is not across: its middle then lies on the edge or within a hair of it.
    is_inside = area.contains(middle) and area.boundary.distance(middle) > _HAIR_M
    return bool(is_inside and chord.difference(area.buffer(_HAIR_M)).length <= _SAME_M)


def _rings(area: Polygon | MultiPolygon) -> list[LineString]:
    return [LineString(ring) for single in shapely.get_parts(area) for ring in (single.exterior, *single.interiors)]


def _on_circle(start: tuple[float, ...], end: tuple[float, ...], hole: Position, radius_m: float) -> list[Position]:
    """Where a straight edge meets the circle about the hole."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    fx, fy = start[0] - hole.x_m, start[1] - hole.y_m
    square, half, rest = dx * dx + dy * dy, fx * dx + fy * dy, fx * fx + fy * fy - radius_m**2
    room = half * half - square * rest
    if square == 0 or room < 0:
        return []
    shares = {(-half - math.sqrt(room)) / square, (-half + math.sqrt(room)) / square}
    return [Position(x_m=start[0] + t * dx, y_m=start[1] + t * dy) for t in sorted(shares) if 0 <= t < 1]
