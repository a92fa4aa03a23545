"""The nearest point of complete relief: where the ball could lie nearest to its spot, clear of a condition and not nearer the hole."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from functools import partial

import shapely
from shapely.geometry import MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.relief.area.line_of_play import only_polygons
from marram.relief.clear.nearest_discs import Discs, Images, discs_of
from marram.relief.clear.nearest_free import EQUAL_M, ROUNDING_M, cut_until_clear, leading_discs, nearest_place, open_ground
from marram.relief.clear.nearest_stretches import local_nearest
from marram.relief.clear.stance import Sample, clearance_m, forbidden_ground

FARTHEST_M = 112.0
_FIRST_REACH_M = 3.5
_BEYOND_M = 3.0
_AT_TARGET_M = 0.001
_STEP_OUT_WITHIN_M = 0.5


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
        draw: Draws the forbidden ground.
        reach_m: How far was searched.
    """

    points: tuple[NearestPoint, ...]
    draw: Callable[[], BaseGeometry]
    reach_m: float

    @property
    def forbidden(self) -> BaseGeometry:
        """Places of the ball from which relief would not be complete, drawn anew at each asking.

        True as far as 3 m beyond the points, and as far as was searched where there is none.
        """
        return self.draw()


Searched = tuple[tuple[NearestPoint, ...], tuple[int, ...]]
"""The points that a search found, and the discs of the footprint that bound what is free there."""
Once = Callable[[Hashable, Callable[[], Searched]], Searched]


def _anew(asked: Hashable, work: Callable[[], Searched]) -> Searched:
    return work()


def nearest_points_of_relief(
    ball: Position,
    hole: Position,
    target: Position,
    condition: Polygon | MultiPolygon,
    samples: tuple[Sample, ...],
    allowed: Polygon | MultiPolygon,
    *,
    also_forbidden: BaseGeometry | None = None,
    once: Once = _anew,
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
        once: Works out a search or knows it already, by all that it depends on besides ball, hole, target, condition and samples.

    Returns:
        All points within 5 cm of the shortest distance that are nearest on their own stretch, nearest first, and the forbidden ground:
        the ball's own place where nothing interferes, no point where there is none within 112 m.

    Raises:
        ValueError: The ball lies where it would be played to, and no stance can be taken.

    Accuracy: 1 mm against the footprint's samples; the stance itself is known far less well.
    """
    if ball.distance_m(target) < _AT_TARGET_M:
        raise ValueError("the ball lies at the very place it would be played to, so there is no line of play and no stance")
    also = Polygon() if also_forbidden is None else also_forbidden
    discs = discs_of(samples, target)
    reach_m = _FIRST_REACH_M
    near = _near(ball, reach_m, condition, discs)
    draw = partial(_forbidden_near, ball, target, reach_m, condition, samples, also)
    here_m = _gap_m(ball, near, condition, discs)
    is_here_free = here_m >= -ROUNDING_M and not also.contains(Point(ball.xy))
    if is_here_free and allowed.distance(Point(ball.xy)) <= ROUNDING_M:
        return Relief(points=(NearestPoint(position=ball, distance_m=0.0, clearance_m=here_m),), draw=draw, reach_m=reach_m)
    cut = tuple(leading_discs(ball, Images(condition=near, discs=discs)))
    while True:
        ground = open_ground(ball, hole, reach_m + EQUAL_M, allowed, also)
        points, cut = _searched(once, ground, ball, reach_m, (near, condition), discs, cut)
        if points or reach_m >= FARTHEST_M:
            return Relief(points=points, draw=draw, reach_m=reach_m)
        reach_m *= 2
        near = _near(ball, reach_m, condition, discs)
        draw = partial(_forbidden_near, ball, target, reach_m, condition, samples, also)


def _searched(
    once: Once,
    ground: BaseGeometry,
    ball: Position,
    reach_m: float,
    condition: tuple[BaseGeometry, BaseGeometry],
    discs: Discs,
    cut: tuple[int, ...],
) -> Searched:
    return once((reach_m, ground, cut), lambda: _points_in(ground, ball, reach_m, condition, discs, cut))


def _points_in(
    ground: BaseGeometry, ball: Position, reach_m: float, condition: tuple[BaseGeometry, BaseGeometry], discs: Discs, cut: tuple[int, ...]
) -> Searched:
    """The nearest points within reach on open ground, and the discs that were cut out of it; of the condition what is near, and all."""
    near, cut_out = condition[0], list(cut)
    free = cut_until_clear(ball, reach_m, ground, Images(condition=near, discs=discs), cut_out)
    found = [] if free.is_empty else [_verified(place, ball, *condition, discs, free) for place in local_nearest(ball, free)]
    points = sorted(found, key=lambda point: point.distance_m)
    is_within = bool(points) and points[0].distance_m < reach_m
    return (_equally_near(points) if is_within else ()), tuple(cut_out)


def _near(ball: Position, reach_m: float, condition: Polygon | MultiPolygon, discs: Discs) -> Polygon | MultiPolygon:
    """What of a condition a footprint can touch within reach, and a little beyond: a long path costs no more than a short one."""
    half_m = reach_m + EQUAL_M + discs.reach_m
    x, y = ball.xy
    near = shapely.clip_by_rect(condition, x - half_m, y - half_m, x + half_m, y + half_m)
    if isinstance(near, Polygon | MultiPolygon) and near.is_valid:
        return near
    return only_polygons(condition.intersection(box(x - half_m, y - half_m, x + half_m, y + half_m)))


def _forbidden_near(
    ball: Position,
    target: Position,
    reach_m: float,
    condition: Polygon | MultiPolygon,
    samples: tuple[Sample, ...],
    also_forbidden: BaseGeometry,
) -> BaseGeometry:
    """The forbidden ground within reach and 3 m beyond."""
    near = _near(ball, reach_m + _BEYOND_M, condition, discs_of(samples, target))
    return forbidden_ground(near, target, samples).union(also_forbidden)


def _gap_m(place: Position, near: BaseGeometry, condition: BaseGeometry, discs: Discs) -> float:
    """Least gap between the footprint at a place and a condition; what of it is near tells, unless nothing of it is."""
    gap_m = float(discs.gaps_m(place, near).min())
    return gap_m if gap_m < EQUAL_M else clearance_m(place, discs.target, discs.samples, condition)


def _verified(
    place: Position, ball: Position, near: BaseGeometry, condition: BaseGeometry, discs: Discs, free: BaseGeometry
) -> NearestPoint:
    """The point with its clearance; a point that overlaps, by rounding or by the bend of an edge, is stepped out by as much."""
    gap_m = _gap_m(place, near, condition, discs)
    if gap_m < -ROUNDING_M and place != ball:
        half_m = _STEP_OUT_WITHIN_M - gap_m
        about = shapely.clip_by_rect(free, place.x_m - half_m, place.y_m - half_m, place.x_m + half_m, place.y_m + half_m)
        inner = about.buffer(gap_m - ROUNDING_M)
        if not inner.is_empty:
            place = nearest_place(place, inner)
            gap_m = _gap_m(place, near, condition, discs)
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
