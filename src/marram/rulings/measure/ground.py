"""The ground on which a procedure lets a ball be dropped: areas of the course, the very bunker, what is left out."""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, FeatureKind
from marram.course.frame import Position
from marram.course.locate import Place, locate
from marram.course.partition import polygons_of
from marram.relief.area.area import ReliefArea, measure_relief_area
from marram.relief.area.shapes import Shape
from marram.relief.clear.nearest import FARTHEST_M
from marram.rulings.case.known import known
from marram.rulings.case.procedure import Procedure


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Where a procedure lets a ball be dropped.

    Attributes:
        areas: Areas of the course.
        within: Ground that must not be left, besides; None where any ground of those areas will do.
        without: Ground that is left out.
    """

    areas: frozenset[Area]
    within: BaseGeometry | None
    without: tuple[BaseGeometry, ...]


def limits_of(procedure: Procedure, reference: Position | None) -> Limits:
    """The limits of a procedure for a reference point."""
    case = procedure.case
    areas = frozenset(Area(word) for word in procedure.words("in_areas"))
    kept = _place_kept(procedure, reference)
    within: BaseGeometry | None = None
    if kept is not None:
        within = _very_ground(kept)
        if within is None:
            areas &= {kept.area}
    without = [ground for ground in (ground_left(procedure),) if ground is not None]
    if procedure.says("off_greens"):
        without += [piece.geometry for piece in case.course.pieces if piece.area is Area.PUTTING_GREEN]
    if procedure.says("off_fairway_height") and not known(case, "on_fairway_height"):
        without += [fairway.geometry for fairway in case.course.of_kind(FeatureKind.FAIRWAY)]
    return Limits(areas=areas, within=within, without=tuple(without))


def _place_kept(procedure: Procedure, reference: Position | None) -> Place | None:
    """The place whose area of the course must be kept; None where the ball may change it."""
    case = procedure.case
    keeps_to = procedure.limit("keeps_to", none="anywhere")
    if keeps_to == "anywhere":
        return None
    if keeps_to == "area-of-reference":
        return None if reference is None else locate(case.course, case.incident.hole, reference)
    return case.place


def _very_ground(place: Place) -> BaseGeometry | None:
    """The very bunker or penalty area of a place; None where any ground of its area of the course will do."""
    return place.ground if place.area in {Area.PENALTY_AREA, Area.BUNKER} else None


def ground_left(procedure: Procedure) -> BaseGeometry | None:
    """The penalty area or bunker that the relief leads out of."""
    case = procedure.case
    leaves = procedure.limit("leaves", none="nothing")
    if leaves == "same-penalty-area":
        # Where marks meet, the edge that was crossed may be another's than the water that holds the ball: relief leads out of both.
        left = {id(area): area.geometry for area in (case.penalty_area, case.holding) if area is not None}
        return shapely.union_all(list(left.values())) if left else None
    if leaves == "same-bunker" and case.place is not None and case.place.area is Area.BUNKER:
        return _very_ground(case.place)
    return None


def measure_on(procedure: Procedure, shape: Shape, reference: Position | None, forbidden: BaseGeometry | None = None) -> ReliefArea:
    """A shape on the ground that a procedure allows.

    Args:
        procedure: The procedure.
        shape: The measured shape.
        reference: The reference point.
        forbidden: Ground without complete relief.
    """
    limits = limits_of(procedure, reference)
    return measure_relief_area(
        shape,
        procedure.case.course,
        procedure.case.incident.hole,
        may_lie_in=lambda area: area in limits.areas,
        within=limits.within,
        without=limits.without if forbidden is None else (*limits.without, forbidden),
    )


def ground_near(procedure: Procedure, ball: Position) -> Polygon | MultiPolygon:
    """All ground near a ball on which a procedure lets it be dropped."""
    case = procedure.case
    limits = limits_of(procedure, ball)
    x, y = ball.xy
    box = (x - FARTHEST_M, y - FARTHEST_M, x + FARTHEST_M, y + FARTHEST_M)
    pieces = [
        shapely.clip_by_rect(piece.geometry, *box) for piece in case.course.pieces if piece.area_for(case.incident.hole) in limits.areas
    ]
    ground = shapely.union_all(pieces)
    if limits.within is not None:
        ground = ground.intersection(limits.within)
    for barred in limits.without:
        ground = ground.difference(shapely.clip_by_rect(barred, *box))
    return polygons_of(ground)


def line_ground(procedure: Procedure) -> BaseGeometry:
    """All ground on which a ball may be dropped back on a line."""
    limits = limits_of(procedure, None)
    ground: BaseGeometry = procedure.case.course.boundary
    if limits.within is not None:
        ground = ground.intersection(limits.within)
    for barred in limits.without:
        ground = ground.difference(barred)
    return ground
