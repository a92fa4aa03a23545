"""Which condition interferes with a ball, and where the nearest points of complete relief from it are."""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely.geometry import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Club
from marram.course.features import Feature
from marram.course.partition import polygons_of
from marram.relief.nearest import FARTHEST_M, NearestPoint, Relief, nearest_points_of_relief
from marram.relief.stance import STANCES, Sample, clearance_m, footprint, parts_touched
from marram.rulings.case import Case, Unknown

USUAL_CLUB = Club.IRON
"""Stance taken where nobody has said which club would be used; the ruling says so and tells how much it matters."""
_REACH_M = 5.0


class NoInterference(Exception):
    """Nothing of the kind interferes; carries the nearest thing and its gap."""

    def __init__(self, nearest: Feature | None, gap_m: float) -> None:
        super().__init__()
        self.nearest = nearest
        self.gap_m = gap_m


@dataclass(frozen=True, slots=True, kw_only=True)
class Interference:
    """A condition in the player's way.

    Attributes:
        condition: The condition.
        depth_m: How far the footprint reaches into it, metres.
        parts: Which of ball (lie), stance and swing it touches.
    """

    condition: Feature
    depth_m: float
    parts: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Nearest points with how far another club would move them."""

    points: tuple[NearestPoint, ...]
    forbidden: BaseGeometry
    range_m: float | None


def samples_for(case: Case, club: Club, parts: frozenset[str]) -> tuple[Sample, ...]:
    """The player's footprint with a club.

    Raises:
        Unknown: Nobody has said which hand.
    """
    if case.incident.player.hand is None:
        raise Unknown("hand")
    return footprint(STANCES[club], case.incident.player.hand, parts)


def find_interference(case: Case, parts: frozenset[str]) -> Interference:
    """The condition of the situation's kinds that is most in the way.

    Raises:
        NoInterference: None is.
        Unknown: The ball's place or the player's hand is not known.
    """
    if case.place is None:
        raise Unknown("ball_at")
    ball = case.place.position
    kinds = case.book.words(f"situation.{case.incident.situation}.conditions").value
    samples = samples_for(case, case.incident.player.club or USUAL_CLUB, parts)
    point = Point(ball.xy)
    near = [feature for feature in case.course.features if feature.kind.value in kinds]
    near = [feature for feature in near if feature.geometry.distance(point) <= _REACH_M]
    gaps = [(clearance_m(ball, case.hole_at, samples, feature.geometry), feature) for feature in near]
    gap_m, feature = min(gaps, key=lambda pair: pair[0], default=(_REACH_M, None))
    if feature is None or gap_m >= 0:
        raise NoInterference(feature, gap_m)
    touched = parts_touched(ball, case.hole_at, samples, feature.geometry)
    return Interference(condition=feature, depth_m=-gap_m, parts=frozenset(touched))


def find_nearest_points(case: Case, parts: frozenset[str], in_areas: tuple[str, ...]) -> Found:
    """The nearest points of complete relief, and how far they move with the other clubs' stances."""
    condition = find_interference(case, parts).condition
    own_club = case.incident.player.club or USUAL_CLUB
    allowed = _allowed_ground(case, in_areas)
    own = _relief(case, condition, own_club, parts, allowed)
    others = [_relief(case, condition, club, parts, allowed) for club in Club if club is not own_club]
    moved_m = [
        min(other.position.distance_m(own.points[0].position) for other in relief.points)
        for relief in others
        if relief.points and own.points
    ]
    return Found(points=own.points, forbidden=own.forbidden, range_m=max(moved_m, default=None))


def _relief(case: Case, condition: Feature, club: Club, parts: frozenset[str], allowed: Polygon | MultiPolygon) -> Relief:
    if case.place is None:
        raise Unknown("ball_at")
    return nearest_points_of_relief(
        case.place.position,
        case.hole_at,
        case.hole_at,
        polygons_of(condition.geometry),
        samples_for(case, club, parts),
        allowed,
    )


def _allowed_ground(case: Case, in_areas: tuple[str, ...]) -> Polygon | MultiPolygon:
    """Ground of the areas in which the point must lie, near the ball."""
    if case.place is None:
        raise Unknown("ball_at")
    x, y = case.place.position.xy
    pieces = [
        shapely.clip_by_rect(piece.geometry, x - FARTHEST_M, y - FARTHEST_M, x + FARTHEST_M, y + FARTHEST_M)
        for piece in case.course.pieces
        if piece.area_for(case.incident.hole).value in in_areas
    ]
    return polygons_of(shapely.union_all(pieces))
