"""Where a place lies: which area of the course, by how much, and how well that is known."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import Point

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
        margin_m: How far the place is from lying in another area, metres.
        sigma_m: Survey accuracy of the nearest edge, metres; None where unknown.
    """

    position: Position
    area: Area
    feature: Feature | None
    penalty_area: PenaltyArea | None
    margin_m: float
    sigma_m: float | None

    @property
    def mark(self) -> Mark | None:
        """Mark of the penalty area that the place is in."""
        return self.penalty_area.mark if self.penalty_area else None


def locate(course: Course, hole: int, position: Position) -> Place:
    """Say in which area of the course a ball lies.

    A ball that touches a specific area is in it: penalty area first, then bunker, then putting green. A ball is out of bounds only
    when all of it is.

    Args:
        course: The course.
        hole: Number of the hole being played.
        position: Where the ball lies.

    Source: Rules of Golf (January 2019), Rules 2.2c, 12.1, 13.1a, 17.1a, 18.2a(2).
    """
    point = Point(position.xy)
    reach_m = BALL_RADIUS_M + TOUCH_M
    found: Piece | None = None
    distances_m = course.distances_m(position)
    for piece, distance_m in zip(course.pieces, distances_m, strict=True):
        if distance_m <= reach_m and piece.area_for(hole) is not Area.GENERAL_AREA:
            found = piece
            break
    area = found.area_for(hole) if found else _open_area(course, point, reach_m)
    margin_m, sigma_m = _margin(course, hole, point, found, area, distances_m)
    return Place(
        position=position,
        area=area,
        feature=found.feature_for(hole) if found else None,
        penalty_area=_joined(course, found) if found else None,
        margin_m=margin_m,
        sigma_m=sigma_m,
    )


def _open_area(course: Course, point: Point, reach_m: float) -> Area:
    return Area.GENERAL_AREA if course.boundary.distance(point) <= reach_m else Area.OUT_OF_BOUNDS


def _joined(course: Course, piece: Piece) -> PenaltyArea | None:
    for joined in course.penalty_areas:
        if piece.feature in joined.features:
            return joined
    return None


def _margin(
    course: Course, hole: int, point: Point, found: Piece | None, area: Area, distances_m: Sequence[float]
) -> tuple[float, float | None]:
    """How far the ball could move before the answer changes: to its own area's edge, or to an area that would come first."""
    if found is not None:
        edges = [(found.geometry.boundary.distance(point), found.feature.sigma_m if found.feature else None)]
    else:
        edges = [(course.boundary.boundary.distance(point), course.sigma_m)]
    for piece, distance_m in zip(course.pieces, distances_m, strict=True):
        if piece is found:
            break
        if piece.feature is not None and piece.area_for(hole) is not area:
            edges.append((distance_m - BALL_RADIUS_M, piece.feature.sigma_m))
    return min(edges, key=lambda edge: edge[0])
