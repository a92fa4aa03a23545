"""Where a place lies: which area of the course, by how much, and how well that is known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely.geometry import MultiPolygon, Point, Polygon

from marram.core.terms import Area, Mark
from marram.core.units import BALL_RADIUS_M
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.partition import PenaltyArea, Piece

TOUCH_M = 0.001
"""Places nearer than 1 mm count as touching."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a ball lies.

    Attributes:
        position: The place.
        area: The area of the course while the hole is played.
        feature: The surveyed feature; None in the open general area and out of bounds.
        penalty_area: The joined penalty area, where the ball is in one.
        ground: The connected ground of that area that holds the ball; None in the open general area and out of bounds.
        margin_m: How far the place is from lying in another area, metres.
        sigma_m: Survey accuracy of the nearest edge, metres; None where unknown.
    """

    position: Position
    area: Area
    feature: Feature | None
    penalty_area: PenaltyArea | None
    ground: Polygon | MultiPolygon | None
    margin_m: float
    sigma_m: float | None

    @property
    def mark(self) -> Mark | None:
        """Mark of the penalty area that the place is in."""
        return self.penalty_area.mark if self.penalty_area else None


def locate(course: Course, hole: int, position: Position) -> Place:
    """Say in which area of the course a ball lies, and in which part of it.

    A ball that touches a specific area is in it: penalty area first, then bunker, then putting green. A ball is out of bounds only
    when all of it is. Of two penalty areas that it touches it is in the nearer one. Wherever an outline is cut into parts, or several
    touch, the part meant is the connected ground that holds the ball.

    Args:
        course: The course.
        hole: Number of the hole being played.
        position: Where the ball lies.

    Source: Rules of Golf (January 2019), Rules 2.2c, 12.1, 13.1a, 17.1a, 18.2a(2).
    """
    return course.worked.once(("place", hole, position), lambda: _located(course, hole, position))


def _located(course: Course, hole: int, position: Position) -> Place:
    point = Point(position.xy)
    distances_m = course.distances_m(position)
    found = _piece_at(course, hole, distances_m)
    if found is None:
        return _open_place(course, hole, position, distances_m)
    area = found.area_for(hole)
    number = _part_at(course, hole, found, point)
    ground = course.joined_areas(area, hole)[number]
    margin_m, sigma_m = min([ground.edge_at(position), *_edges_before(course, hole, area, found, distances_m)], key=_nearest)
    return Place(
        position=position,
        area=area,
        feature=found.feature_for(hole),
        penalty_area=course.penalty_areas[number] if area is Area.PENALTY_AREA else None,
        ground=ground.geometry,
        margin_m=margin_m,
        sigma_m=sigma_m,
    )


def _piece_at(course: Course, hole: int, distances_m: Sequence[float]) -> Piece | None:
    """The piece of the area that comes first among those a ball touches, and of that area the nearest; None in the open."""
    touched = [
        (piece, distance_m)
        for piece, distance_m in zip(course.pieces, distances_m, strict=True)
        if distance_m <= BALL_RADIUS_M + TOUCH_M and piece.area_for(hole) is not Area.GENERAL_AREA
    ]
    if not touched:
        return None
    first = touched[0][0].area_for(hole)
    return min((pair for pair in touched if pair[0].area_for(hole) is first), key=lambda pair: pair[1])[0]


def _part_at(course: Course, hole: int, piece: Piece, point: Point) -> int:
    """Which of the connected grounds of a piece's area is meant at a place: of the piece's own mark, the nearest."""
    area = piece.area_for(hole)
    mark = piece.feature.mark if piece.feature is not None and area is Area.PENALTY_AREA else None
    grounds = course.joined_areas(area, hole)
    own = (number for number, ground in enumerate(grounds) if ground.mark is mark)
    return min(own, key=lambda number: grounds[number].geometry.distance(point))


def _open_place(course: Course, hole: int, position: Position, distances_m: Sequence[float]) -> Place:
    """A place in the open general area, or out of bounds."""
    point = Point(position.xy)
    is_in = course.boundary.distance(point) <= BALL_RADIUS_M + TOUCH_M
    area = Area.GENERAL_AREA if is_in else Area.OUT_OF_BOUNDS
    own = (float(course.boundary.boundary.distance(point)), course.sigma_m)
    margin_m, sigma_m = min([own, *_edges_before(course, hole, area, None, distances_m)], key=_nearest)
    return Place(position=position, area=area, feature=None, penalty_area=None, ground=None, margin_m=margin_m, sigma_m=sigma_m)


def _nearest(edge: tuple[float, float | None]) -> float:
    return edge[0]


def _edges_before(
    course: Course, hole: int, area: Area, found: Piece | None, distances_m: Sequence[float]
) -> Iterator[tuple[float, float | None]]:
    """How far the ball could move before it touches an area that would come first, with the accuracy of its edge."""
    for piece, distance_m in zip(course.pieces, distances_m, strict=True):
        if piece is found:
            return
        if piece.feature is not None and piece.area_for(hole) not in {area, Area.GENERAL_AREA}:
            yield distance_m - BALL_RADIUS_M, piece.feature.sigma_m
