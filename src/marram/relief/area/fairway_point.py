"""The nearest place of some ground, as the fairway, that is not nearer the hole than a point."""

from __future__ import annotations

import numpy as np
from shapely.geometry import MultiPolygon, Point, Polygon

from marram.course.frame import Position
from marram.relief.area.circle_crossings import crossings_of_circle, edges_of

_ROUNDING_M = 1e-9


def nearest_point_on_ground(point: Position, hole: Position, ground: Polygon | MultiPolygon) -> Position | None:
    """The place of some ground nearest to a point and not nearer the hole than it.

    Args:
        point: The point, as where a ball crossed the edge of a penalty area.
        hole: The hole; where it is the point itself, every place will do.
        ground: The ground, as the fairway of the hole, metres.

    Returns:
        The place, the point itself where it lies on the ground; None where no place of the ground is as far from the hole.

    Accuracy: rounding alone: of the foot on each edge and each meeting of an edge with the circle about the hole the nearest is taken.
        Of two equally near places one is given.
    """
    if ground.covers(Point(point.xy)):
        return point
    least_m, at, origin = point.distance_m(hole), np.array(point.xy), np.array(hole.xy)
    edges = edges_of(ground)
    start, step = edges[:, 0], edges[:, 1] - edges[:, 0]
    square = np.maximum((step**2).sum(axis=1), 1e-18)
    shares = np.clip(((at - start) * step).sum(axis=1) / square, 0.0, 1.0)
    feet = start + shares[:, None] * step
    # Where a foot is too near the hole, the edge comes nearest where it meets the circle or at one of its ends.
    places = np.concatenate([feet, start, crossings_of_circle(ground, hole, least_m)])
    places = places[np.hypot(*(places - origin).T) >= least_m - _ROUNDING_M]
    if not len(places):
        return None
    x, y = places[np.hypot(*(places - at).T).argmin()]
    return Position(x_m=float(x), y_m=float(y))
