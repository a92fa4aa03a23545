"""Ground from which a condition lies on the line of play: its shadow, cast straight away from the hole."""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position

_WIDEST_TURN = math.radians(30)
"""A wider angle at the hole is drawn in several steps, so that the far edge of a shadow stays clear of the ground asked about."""


def ground_behind(
    condition: Polygon | MultiPolygon, hole: Position, within: Polygon | MultiPolygon, *, half_width_m: float = 0.0
) -> Polygon | MultiPolygon:
    """All places of a ball from which a condition lies on its straight line to the hole.

    Args:
        condition: The ground that may lie on the line of play, metres.
        hole: The hole.
        within: The ground asked about, metres.
        half_width_m: Half the width of the line; a ball's radius asks for a line as wide as the ball.

    Returns:
        The places within the ground asked about, those on the condition itself among them; all of it where the condition reaches the
        hole, an empty polygon where no line meets the condition.

    Raises:
        ValueError: The width is negative.

    Accuracy: rounding alone for a line without width; with one, the round ends are true to a thousandth of the half-width.
    """
    if half_width_m < 0:
        raise ValueError(f"half the width of a line of play is {half_width_m} m; it must be 0 or more")
    wide = condition.buffer(half_width_m, quad_segs=32) if half_width_m else condition
    if wide.is_empty or within.is_empty:
        return Polygon()
    if wide.intersects(Point(hole.xy)):
        return within
    # No line from the ground asked about leaves the hull of that ground and the hole.
    hull = shapely.union(within, Point(hole.xy)).convex_hull
    between = only_polygons(wide.intersection(hull))
    if between.is_empty:
        return Polygon()
    origin = np.array(hole.xy)
    far_m = 1.0 + float(np.hypot(*(shapely.get_coordinates(hull) - origin).T).max())
    shadows = [_shadow(a, b, origin, far_m) for a, b in _edges_facing(between, origin)]
    return only_polygons(shapely.union_all([between, *shadows]).intersection(within))


def only_polygons(geometry: BaseGeometry) -> Polygon | MultiPolygon:
    """The polygons of any geometry, however small; touching points and lines are left out."""
    parts = [single for part in shapely.get_parts(geometry) for single in shapely.get_parts(part)]
    polygons = [part for part in parts if isinstance(part, Polygon) and not part.is_empty]
    if not polygons:
        return Polygon()
    return polygons[0] if len(polygons) == 1 else MultiPolygon(polygons)


def _edges_facing(ground: Polygon | MultiPolygon, origin: NDArray[np.float64]) -> NDArray[np.float64]:
    """Edges whose outer side faces a place: every straight line from it into the ground enters through one of them."""
    edges = []
    for single in shapely.get_parts(shapely.orient_polygons(ground)):
        for ring in (single.exterior, *single.interiors):
            corners = shapely.get_coordinates(ring)
            edges.append(np.stack([corners[:-1], corners[1:]], axis=1))
    every = np.concatenate(edges)
    to_start, to_end = every[:, 0] - origin, every[:, 1] - origin
    # The ground lies to the left of its edges, so the place must lie to the right.
    return every[to_start[:, 0] * to_end[:, 1] - to_start[:, 1] * to_end[:, 0] < 0]


def _shadow(a: NDArray[np.float64], b: NDArray[np.float64], origin: NDArray[np.float64], far_m: float) -> Polygon:
    """The ground behind one edge, seen from a place, beyond a distance at least."""
    from_a, from_b = a - origin, b - origin
    start = math.atan2(from_a[1], from_a[0])
    turn = math.atan2(from_a[0] * from_b[1] - from_a[1] * from_b[0], float(from_a @ from_b))
    steps = max(1, math.ceil(abs(turn) / _WIDEST_TURN))
    outer_m = far_m / math.cos(_WIDEST_TURN / 2)
    turns = start + turn * np.arange(1, steps) / steps
    between = origin + outer_m * np.column_stack([np.cos(turns), np.sin(turns)])
    # Ends from the corner itself, not from an angle: neighbouring shadows then share them to the last digit.
    behind_a, behind_b = (origin + outer_m * way / np.hypot(*way) for way in (from_a, from_b))
    return Polygon([b, a, behind_a, *between, behind_b])
