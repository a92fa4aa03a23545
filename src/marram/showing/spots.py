"""Spots of the course at which a ball might be put to show a procedure: on edges, at conditions, in bunkers, along the holes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.holes import Hole
from marram.course.partition import PenaltyArea

EDGE_STEP_M = 4.0
"""How far apart spots on an edge are tried."""
INSIDE_M = (1.0, 0.7, 0.5, 0.25)
"""How far inside an edge the ball lies; less where the ground is narrow."""
_SAFE_SIGMAS = 2.5
"""Where the survey is coarser the ball lies deeper, so that the survey does not leave open on which side of the edge it is."""
BESIDE_M = 0.25
"""How far outside a condition a ball is tried, for the stance."""
PLAYED_WITHIN_M = 60.0
"""A spot farther than this from every line of play belongs to no hole (as in the check of the marking)."""
CLEAR_OF_BOUNDARY_M = 3.0
CLEAR_OF_OTHER_WATER_M = 1.0
_STATIONS_M, _SIDES_M = 20.0, (-45.0, -32.0, -20.0, -8.0, 0.0, 8.0, 20.0, 32.0, 45.0)
_IN_THE_WAY = (
    FeatureKind.TEEING_AREA,
    FeatureKind.IMMOVABLE_OBSTRUCTION,
    FeatureKind.GROUND_UNDER_REPAIR,
    FeatureKind.TEMPORARY_WATER,
    FeatureKind.ANIMAL_HOLE,
    FeatureKind.NO_PLAY_ZONE,
    FeatureKind.TREES,
)
_OPEN_M = 4.0
"""Open ground lies at least this far from whatever would bring another rule in, or people in the way."""
_ON_GREEN_M = 6.0
_SLIVER_M2 = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A spot for a ball.

    Attributes:
        hole: The hole being played.
        ball: The ball's spot, to the millimetre.
        feature: Name of what it is about, by which places are spread.
        noun: What to call that.
        crossed_at: The place on an edge beside it; None where it is beside none.
    """

    hole: int
    ball: Position
    feature: str
    noun: str
    crossed_at: Position | None = None


def spots_on_edges(course: Course, areas: Sequence[PenaltyArea]) -> Iterator[Spot]:
    """Spots just inside the edges of penalty areas, each with the place on the edge beside it."""
    others = [(area, area.geometry) for area in course.penalty_areas]
    for area in areas:
        away = shapely.union_all([ground for other, ground in others if other is not area])
        for edge, inner in _just_inside(area.geometry, EDGE_STEP_M, area.sigma_m):
            point = Point(edge.xy)
            if course.boundary.boundary.distance(point) < CLEAR_OF_BOUNDARY_M or away.distance(point) < CLEAR_OF_OTHER_WATER_M:
                continue
            feature = min(area.features, key=lambda feature: feature.geometry.distance(point))
            yield from _on_hole(course, inner, feature, crossed_at=edge)


def spots_at_conditions(
    course: Course, conditions: Sequence[Feature], areas: Sequence[str], holes: Callable[[Feature, int], bool]
) -> Iterator[Spot]:
    """Spots on and beside conditions, each with the place on the condition's edge beside it.

    Args:
        course: The course.
        conditions: The conditions.
        areas: Areas of the course in which the ball must lie.
        holes: Whether a hole may be played there.
    """
    grounds = {area: _ground_of(course, area) for area in areas if area != Area.GENERAL_AREA}
    for condition in conditions:
        parts: list[BaseGeometry] = [condition.geometry] if Area.GENERAL_AREA in areas else []
        parts += [condition.geometry.buffer(BESIDE_M).intersection(ground) for ground in grounds.values()]
        for part in parts:
            for edge, inner in _just_inside(part, max(EDGE_STEP_M, part.length / 40), condition.sigma_m):
                outside = edge.moved(BESIDE_M * _share(inner, edge, 0), BESIDE_M * _share(inner, edge, 1))
                for ball in (inner, _rounded(*outside.xy)):
                    yield from (spot for spot in _on_hole(course, ball, condition, crossed_at=edge, allowed=holes))


def _share(inner: Position, edge: Position, axis: int) -> float:
    """A coordinate of the direction from a spot out over an edge."""
    away_m = inner.distance_m(edge)
    return 0.0 if away_m == 0 else (edge.xy[axis] - inner.xy[axis]) / away_m


def _ground_of(course: Course, area: str) -> BaseGeometry:
    return shapely.union_all([piece.geometry for piece in course.pieces if piece.area == area])


def spots_in(course: Course, areas: Sequence[str]) -> Iterator[Spot]:
    """Spots in areas of the course, wherever in them."""
    for area, spots in _SPOTS.items():
        if area in areas:
            yield from spots(course)


def _in_bunkers(course: Course) -> Iterator[Spot]:
    for bunker in course.of_kind(FeatureKind.BUNKER):
        middle = bunker.geometry.representative_point()
        spots = [_rounded(middle.x, middle.y), *(inner for _, inner in _just_inside(bunker.geometry, EDGE_STEP_M, bunker.sigma_m))]
        for spot in spots:
            yield from _on_hole(course, spot, bunker)


def _on_greens(course: Course) -> Iterator[Spot]:
    for hole in course.holes.values():
        if hole.location is None or hole.green is None:
            continue
        for turn_deg in range(0, 360, 45):
            east_m, north_m = _ON_GREEN_M * math.sin(math.radians(turn_deg)), _ON_GREEN_M * math.cos(math.radians(turn_deg))
            spot = hole.location.moved(east_m, north_m)
            if hole.green.geometry.covers(Point(spot.xy)):
                yield Spot(hole=hole.number, ball=_rounded(*spot.xy), feature=hole.green.id, noun="putting green")


def _on_tees(course: Course) -> Iterator[Spot]:
    for tee in course.of_kind(FeatureKind.TEEING_AREA):
        middle = tee.geometry.representative_point()
        for number in tee.holes:
            yield Spot(hole=number, ball=_rounded(middle.x, middle.y), feature=tee.id, noun="teeing area")


def _in_penalty_areas(course: Course) -> Iterator[Spot]:
    yield from spots_on_edges(course, course.penalty_areas)


def _along_holes(course: Course) -> Iterator[Spot]:
    """Spots on open ground along the lines of play and to both sides of them."""
    in_the_way = shapely.union_all([feature.geometry for feature in course.features if feature.kind in _IN_THE_WAY])
    open_ground = course.boundary.difference(in_the_way.buffer(_OPEN_M))
    shapely.prepare(open_ground)
    for hole in course.holes.values():
        front = hole.before_green(0.0, 0.0)
        if front is None or hole.line is None:
            continue
        length_m = hole.line.project(Point(front.xy))
        for number in range(1, int(length_m / _STATIONS_M) + 1):
            for right_m in _SIDES_M:
                place = hole.before_green(number * _STATIONS_M, right_m)
                if place is not None and open_ground.covers(Point(place.xy)):
                    yield Spot(hole=hole.number, ball=_rounded(*place.xy), feature=f"hole {hole.number}", noun="open ground")


_SPOTS: dict[Area, Callable[[Course], Iterator[Spot]]] = {
    Area.GENERAL_AREA: _along_holes,
    Area.BUNKER: _in_bunkers,
    Area.PUTTING_GREEN: _on_greens,
    Area.TEEING_AREA: _on_tees,
    Area.PENALTY_AREA: _in_penalty_areas,
}


def _just_inside(ground: BaseGeometry, step_m: float, sigma_m: float | None) -> Iterator[tuple[Position, Position]]:
    """Places along the edge of some ground, each with one just inside it."""
    for part in shapely.get_parts(ground):
        if part.geom_type != "Polygon" or part.area < _SLIVER_M2:
            continue
        for ring in (part.exterior, *part.interiors):
            line = LineString(ring.coords)
            count = max(3, int(line.length / step_m))
            for number in range(count):
                found = _inside_of(part, line, line.length * number / count, sigma_m or 0.0)
                if found is not None:
                    yield found


def _inside_of(ground: BaseGeometry, ring: LineString, along_m: float, sigma_m: float) -> tuple[Position, Position] | None:
    """A place on a ring, and one at right angles to it within the ground."""
    tick_m = min(0.1, ring.length / 50)
    before, after = ring.interpolate((along_m - tick_m) % ring.length), ring.interpolate((along_m + tick_m) % ring.length)
    length_m = before.distance(after)
    if length_m == 0:
        return None
    edge = ring.interpolate(along_m)
    right_x, right_y = (after.y - before.y) / length_m, (before.x - after.x) / length_m
    deep_m = _SAFE_SIGMAS * sigma_m
    for inside_m in (*((deep_m,) if deep_m > INSIDE_M[0] else ()), *INSIDE_M):
        for side in (inside_m, -inside_m):
            place = Point(edge.x + side * right_x, edge.y + side * right_y)
            if ground.covers(place) and ground.boundary.distance(place) >= 0.8 * inside_m:
                return _rounded(edge.x, edge.y), _rounded(place.x, place.y)
    return None


def _on_hole(
    course: Course,
    ball: Position,
    feature: Feature,
    *,
    crossed_at: Position | None = None,
    allowed: Callable[[Feature, int], bool] = lambda feature, hole: True,
) -> Iterator[Spot]:
    """A spot on the hole that is played nearest to it; none where no hole is."""
    point = Point(ball.xy)
    holes = ((_away_m(hole, point), hole.number) for hole in course.holes.values() if allowed(feature, hole.number))
    away_m, number = min(holes, default=(math.inf, 0))
    if away_m <= PLAYED_WITHIN_M:
        yield Spot(hole=number, ball=ball, feature=feature.id, noun=feature.noun, crossed_at=crossed_at)


def _away_m(hole: Hole, point: Point) -> float:
    return math.inf if hole.line is None or hole.location is None else float(hole.line.distance(point))


def _rounded(x_m: float, y_m: float) -> Position:
    """A place to the millimetre, so that a file holds it unchanged."""
    return Position(x_m=round(float(x_m), 3), y_m=round(float(y_m), 3))
