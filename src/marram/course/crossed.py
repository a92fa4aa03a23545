"""Which edge a ball crossed: of all edges that run where it is said to have crossed, those that may be meant."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from marram.course.course import Course
from marram.course.frame import Position
from marram.course.joining import ACCURACY_SIGMAS, JOINED_M
from marram.course.partition import PenaltyArea

FARTHEST_FROM_EDGE_M = 2.0
"""A crossing point stated farther from any edge is a mistake, not an estimate (common practice)."""
_TAPE_M = 0.05
"""What a tape on rough ground can tell."""


def penalty_areas_touching(course: Course, water: PenaltyArea) -> tuple[PenaltyArea, ...]:
    """A penalty area and those of other marks that it meets."""
    others = (other for other in course.penalty_areas if other is not water)
    return (water, *(other for other in others if shapely.dwithin(other.geometry, water.geometry, JOINED_M)))


def penalty_areas_crossed(course: Course, at: Position, holding: PenaltyArea | None) -> tuple[PenaltyArea, ...]:
    """The penalty areas whose edge may be the one that a ball crossed at a place.

    Args:
        course: The course.
        at: Where it is said to have crossed.
        holding: The penalty area that holds the ball; None where that is not known.

    Returns:
        One penalty area for each mark whose edge runs there, as far as estimate and survey can tell them apart; the one that holds the
        ball first where it is among them, else the nearest first. One alone, the holding or the nearest, where no edge is near.
    """
    family = course.penalty_areas if holding is None else penalty_areas_touching(course, holding)
    ranked = sorted(family, key=lambda water: (_off_m(water, at), water.geometry.distance(Point(at.xy)), water is not holding))
    if not ranked or _off_m(ranked[0], at) > FARTHEST_FROM_EDGE_M:
        return tuple(water for water in (holding, *ranked) if water is not None)[:1]
    reach_m = _off_m(ranked[0], at) + _tolerance_m(ranked, at)
    near = [water for water in ranked if _off_m(water, at) <= reach_m]
    by_mark = {water.mark: water for water in reversed(near)}
    kept = [water for water in near if by_mark[water.mark] is water]
    return tuple(sorted(kept, key=lambda water: water is not holding))


def _off_m(water: PenaltyArea, at: Position) -> float:
    return float(water.geometry.boundary.distance(Point(at.xy)))


def _tolerance_m(ranked: Sequence[PenaltyArea], at: Position) -> float:
    """How much farther another edge may be and still be meant: the survey's accuracy, or as far as the estimate is off the nearest edge."""
    sigmas_m = [water.sigma_m for water in ranked if _off_m(water, at) <= FARTHEST_FROM_EDGE_M]
    accuracy_m = max((FARTHEST_FROM_EDGE_M if sigma_m is None else ACCURACY_SIGMAS * sigma_m for sigma_m in sigmas_m), default=0.0)
    return min(max(accuracy_m, _off_m(ranked[0], at), _TAPE_M), FARTHEST_FROM_EDGE_M)


def nearest_on(edge: BaseGeometry, stated: Position) -> Position:
    """The place of an edge nearest to a place."""
    # Not by the length along the edge: where that is the end of one ring it is the start of the next, in another part.
    nearest = nearest_points(edge, Point(stated.xy))[0]
    return Position(x_m=nearest.x, y_m=nearest.y)


def last_way_in(flight: tuple[Position, Position], water: BaseGeometry) -> Position | None:
    """The last place where a straight path comes into some ground; None where it never does.

    Args:
        flight: Two places of the path, in the order in which the ball passed them.
        water: The ground, metres.
    """
    path = LineString([flight[0].xy, flight[1].xy])
    within = (part for part in shapely.get_parts(path.intersection(water)) if isinstance(part, LineString) and not part.is_empty)
    stretches_m = sorted(tuple(sorted((path.project(Point(part.coords[0])), path.project(Point(part.coords[-1]))))) for part in within)
    # What the ball left and came into again within a hair it never left: outlines of one water may lie that far apart.
    before_m = [-JOINED_M if water.contains(Point(flight[0].xy)) else -1.0, *(end_m for _, end_m in stretches_m)]
    entered_m = [start_m for (start_m, _), end_m in zip(stretches_m, before_m, strict=False) if start_m > end_m + JOINED_M]
    if not entered_m:
        return None
    entered = path.interpolate(entered_m[-1])
    return Position(x_m=entered.x, y_m=entered.y)
