"""The nearest point of complete relief: where the ball could lie nearest to its spot, clear of a condition and not nearer the hole."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from marram.course.frame import Position
from marram.relief.line_of_play import only_polygons
from marram.relief.shapes import sector_about
from marram.relief.stance import Sample, clearance_m, forbidden_ground

EQUAL_M = 0.05
"""Points whose distances differ by less than a tape can tell count as equally near."""
FARTHEST_M = 112.0
_FIRST_REACH_M = 3.5
_BEYOND_M = 3.0
_STEP_OUT_M = 0.001
_ROUNDING_M = 1e-6
_SMALLEST_POCKET_M2 = 1e-6
"""Places of a ball, not ground: a square millimetre is a place where it can lie, less may be rounding."""
_RISE_M = 0.01
"""More than the 5 mm by which an edge made of discs of the footprint goes up and down."""


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
        forbidden: Places of the ball from which relief would not be complete; true as far as 3 m beyond the points, and as far as was
            searched where there is none.
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
    *,
    also_forbidden: BaseGeometry | None = None,
) -> Relief:
    """Find the nearest points of complete relief.

    Args:
        ball: Where the ball lies.
        hole: Where the hole is; a ball at the hole itself may go any way, for nothing is nearer.
        target: Where the player would have aimed.
        condition: The ground to be clear of.
        samples: The footprint that must be clear.
        allowed: Ground in which the point must lie.
        also_forbidden: Further places where the ball may not lie, as those with the condition on the line of play.

    Returns:
        All points within 5 cm of the shortest distance that are nearest on their own stretch, nearest first, and the forbidden ground:
        the ball's own place where nothing interferes, no point where there is none within 112 m.

    Raises:
        ValueError: The ball lies where it would be played to, and no stance can be taken.

    Accuracy: 1 mm against the footprint's samples; the stance itself is known far less well.
    """
    if ball.distance_m(target) < _STEP_OUT_M:
        raise ValueError("the ball lies at the very place it would be played to, so there is no line of play and no stance")
    also = Polygon() if also_forbidden is None else also_forbidden
    reach_m = _FIRST_REACH_M
    forbidden = _forbidden_near(ball, target, reach_m, condition, samples).union(also)
    here = NearestPoint(position=ball, distance_m=0.0, clearance_m=clearance_m(ball, target, samples, condition))
    is_here_free = here.clearance_m >= -_ROUNDING_M and not also.contains(Point(ball.xy))
    if is_here_free and allowed.distance(Point(ball.xy)) <= _ROUNDING_M:
        return Relief(points=(here,), forbidden=forbidden)
    while True:
        free = _free_ground(ball, hole, reach_m, allowed, forbidden)
        if not free.is_empty:
            found = [_verified(place, ball, target, samples, condition, free) for place in _local_nearest(ball, free)]
            points = sorted(found, key=lambda point: point.distance_m)
            if points[0].distance_m < reach_m:
                return Relief(points=_equally_near(points), forbidden=forbidden)
        if reach_m >= FARTHEST_M:
            return Relief(points=(), forbidden=forbidden)
        reach_m *= 2
        forbidden = _forbidden_near(ball, target, reach_m, condition, samples).union(also)


def _forbidden_near(
    ball: Position, target: Position, reach_m: float, condition: Polygon | MultiPolygon, samples: tuple[Sample, ...]
) -> BaseGeometry:
    """The forbidden ground from what of the condition a footprint can touch within reach: a long path costs no more than a short one."""
    footprint_m = max(math.hypot(sample.ahead_m, sample.left_m) + sample.radius_m for sample in samples)
    half_m = reach_m + footprint_m + _BEYOND_M
    x, y = ball.xy
    near = condition.intersection(box(x - half_m, y - half_m, x + half_m, y + half_m))
    return forbidden_ground(only_polygons(near), target, samples)


def _free_ground(ball: Position, hole: Position, reach_m: float, allowed: BaseGeometry, forbidden: BaseGeometry) -> BaseGeometry:
    x, y = ball.xy
    near = shapely.clip_by_rect(allowed, x - reach_m, y - reach_m, x + reach_m, y + reach_m)
    near = near.intersection(Point(x, y).buffer(reach_m, quad_segs=32))
    to_hole_m = ball.distance_m(hole)
    if to_hole_m > 0:
        half_deg = 180.0 if to_hole_m <= reach_m else math.degrees(math.asin(reach_m / to_hole_m)) + 3
        near = near.difference(sector_about(hole, to_hole_m, hole.bearing_deg(ball), min(half_deg, 180.0)))
    pockets = shapely.get_parts(only_polygons(near.difference(forbidden)))
    return shapely.union_all([pocket for pocket in pockets if pocket.area >= _SMALLEST_POCKET_M2])


def _local_nearest(ball: Position, free: BaseGeometry) -> list[Position]:
    """The nearest place of each stretch of the edge of the free ground that is about as near as the nearest of all."""
    point = Point(ball.xy)
    best_m = free.distance(point)
    if best_m == 0:
        return [ball]
    near = free.boundary.intersection(point.buffer(best_m + EQUAL_M, quad_segs=64))
    stretches = shapely.line_merge(near) if near.geom_type == "MultiLineString" else near
    places = []
    for stretch in shapely.get_parts(stretches):
        if isinstance(stretch, LineString):
            places += [place for place in _dips(ball, stretch) if _is_on_near_side(place, ball, free)]
    nearest = nearest_points(free, point)[0]
    return [*places, Position(x_m=nearest.x, y_m=nearest.y)]


def _dips(ball: Position, stretch: LineString) -> list[Position]:
    """The nearest places of a stretch of edge, more than one where the edge goes away from the ball by 1 cm between them."""
    corners = shapely.get_coordinates(stretch) - np.array(ball.xy)
    steps = np.diff(corners, axis=0)
    squares = np.maximum((steps**2).sum(axis=1), 1e-18)
    shares = np.clip(-(corners[:-1] * steps).sum(axis=1) / squares, 0.0, 1.0)
    feet = corners[:-1] + shares[:, None] * steps
    # From each of these places to the next the distance only falls or only rises.
    places = np.concatenate([np.stack([corners[:-1], feet], axis=1).reshape(-1, 2), corners[-1:]])
    distances_m = np.hypot(places[:, 0], places[:, 1])
    if stretch.is_closed:
        first = int(distances_m.argmax())
        places, distances_m = np.roll(places[:-1], -first, axis=0), np.roll(distances_m[:-1], -first)
    return [ball.moved(float(places[index, 0]), float(places[index, 1])) for index in _lows(distances_m.tolist())]


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


def _verified(
    place: Position,
    ball: Position,
    target: Position,
    samples: tuple[Sample, ...],
    condition: BaseGeometry,
    free: BaseGeometry,
) -> NearestPoint:
    """The point with its clearance; a point that overlaps, by rounding or by the bend of an edge, is stepped out by as much."""
    gap_m = clearance_m(place, target, samples, condition)
    if gap_m < -_ROUNDING_M and place != ball:
        inner = free.buffer(gap_m - _ROUNDING_M)
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
