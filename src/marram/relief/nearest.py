"""The nearest point of complete relief: where the ball could lie nearest to its spot, clear of a condition and not nearer the hole."""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from marram.course.frame import Position
from marram.course.partition import polygons_of
from marram.relief.shapes import sector_about
from marram.relief.stance import Sample, clearance_m, forbidden_ground

EQUAL_M = 0.05
"""Points whose distances differ by less than a tape can tell count as equally near."""
FARTHEST_M = 112.0
_FIRST_REACH_M = 7.0
_STEP_OUT_M = 0.001


@dataclass(frozen=True, slots=True, kw_only=True)
class NearestPoint:
    """A nearest point of complete relief.

    Attributes:
        position: The point.
        distance_m: How far it is from the ball.
        clearance_m: Least gap between the footprint there and the condition; zero at the edge of relief.
    """

    position: Position
    distance_m: float
    clearance_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Relief:
    """The nearest points and the ground from which relief would not be complete.

    Attributes:
        points: All points that are equally near, nearest first; empty where there is none within reach.
        forbidden: Places of the ball from which the condition would still interfere.
    """

    points: tuple[NearestPoint, ...]
    forbidden: BaseGeometry


def nearest_points_of_relief(
    ball: Position,
    hole: Position,
    target: Position,
    condition: Polygon | MultiPolygon,
    samples: tuple[Sample, ...],
    allowed: Polygon | MultiPolygon,
) -> Relief:
    """Find the nearest points of complete relief.

    Args:
        ball: Where the ball lies.
        hole: Where the hole is.
        target: Where the player would have aimed.
        condition: The ground to be clear of.
        samples: The footprint that must be clear.
        allowed: Ground in which the point must lie.

    Returns:
        All points within 5 cm of the shortest distance that are nearest on their own stretch, and the forbidden ground.

    Accuracy: 1 mm against the footprint's samples; the stance itself is known far less well.
    """
    forbidden = forbidden_ground(condition, target, samples)
    reach_m = _FIRST_REACH_M
    while reach_m <= FARTHEST_M:
        free = _free_ground(ball, hole, reach_m, allowed, forbidden)
        if not free.is_empty:
            found = [_verified(place, ball, target, samples, condition, free) for place in _local_nearest(ball, free)]
            points = sorted(found, key=lambda point: point.distance_m)
            if points[0].distance_m < reach_m:
                return Relief(points=_equally_near(points), forbidden=forbidden)
        reach_m *= 2
    return Relief(points=(), forbidden=forbidden)


def _free_ground(ball: Position, hole: Position, reach_m: float, allowed: BaseGeometry, forbidden: BaseGeometry) -> BaseGeometry:
    x, y = ball.xy
    near = shapely.clip_by_rect(allowed, x - reach_m, y - reach_m, x + reach_m, y + reach_m)
    near = near.intersection(Point(x, y).buffer(reach_m, quad_segs=32))
    to_hole_m = ball.distance_m(hole)
    if to_hole_m > 0:
        half_deg = 180.0 if to_hole_m <= reach_m else math.degrees(math.asin(reach_m / to_hole_m)) + 3
        near = near.difference(sector_about(hole, to_hole_m, hole.bearing_deg(ball), min(half_deg, 180.0)))
    return polygons_of(near.difference(forbidden))


def _local_nearest(ball: Position, free: BaseGeometry) -> list[Position]:
    """The nearest place on each stretch of the edge of the free ground that is about as near as the nearest of all."""
    point = Point(ball.xy)
    best_m = free.distance(point)
    if best_m == 0:
        return [ball]
    near = free.boundary.intersection(point.buffer(best_m + EQUAL_M, quad_segs=64))
    stretches = shapely.line_merge(near) if near.geom_type == "MultiLineString" else near
    places = []
    for stretch in getattr(stretches, "geoms", [stretches]):
        if isinstance(stretch, LineString | Point):
            nearest = nearest_points(stretch, point)[0]
            places.append(Position(x_m=nearest.x, y_m=nearest.y))
    nearest = nearest_points(free, point)[0]
    return places or [Position(x_m=nearest.x, y_m=nearest.y)]


def _verified(
    place: Position,
    ball: Position,
    target: Position,
    samples: tuple[Sample, ...],
    condition: BaseGeometry,
    free: BaseGeometry,
) -> NearestPoint:
    """The point with its clearance; a point that overlaps by rounding is stepped out by a millimetre."""
    gap_m = clearance_m(place, target, samples, condition)
    if gap_m < -1e-6 and place != ball:
        inner = free.buffer(-_STEP_OUT_M)
        if not inner.is_empty:
            stepped = nearest_points(inner, Point(place.xy))[0]
            place = Position(x_m=stepped.x, y_m=stepped.y)
            gap_m = clearance_m(place, target, samples, condition)
    return NearestPoint(position=place, distance_m=place.distance_m(ball), clearance_m=gap_m)


def _equally_near(points: list[NearestPoint]) -> tuple[NearestPoint, ...]:
    """The points within tolerance of the nearest, one for each place."""
    kept: list[NearestPoint] = []
    for point in points:
        is_near = point.distance_m <= points[0].distance_m + EQUAL_M
        is_new = all(point.position.distance_m(other.position) > EQUAL_M for other in kept)
        if is_near and is_new:
            kept.append(point)
    return tuple(kept)
