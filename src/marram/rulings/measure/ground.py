"""The ground on which a procedure lets a ball be dropped: areas of the course, the very bunker, what is left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, FeatureKind
from marram.course.course import Course
from marram.course.frame import Position
from marram.course.locate import Place, locate
from marram.course.partition import polygons_of
from marram.relief.area.area import ReliefArea, measure_relief_area
from marram.relief.area.lines import LineBack, line_back
from marram.relief.area.shapes import Shape
from marram.relief.clear.nearest import FARTHEST_M
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.vocabulary import KeepsTo, Leaves
from marram.rulings.case.case import Case
from marram.rulings.case.known import known
from marram.rulings.case.procedure import Procedure


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Where a procedure lets a ball be dropped.

    Attributes:
        areas: Areas of the course.
        within: Ground that must not be left, besides; None where any ground of those areas will do.
        left: The penalty area or bunker that the relief leads out of, which is left out; None where it leads out of none.
        off_greens: Whether all putting greens are left out.
        off_fairways: Whether all fairways are.
    """

    areas: frozenset[Area]
    within: BaseGeometry | None
    left: BaseGeometry | None
    off_greens: bool
    off_fairways: bool

    def without(self, course: Course) -> tuple[BaseGeometry, ...]:
        """Ground that is left out."""
        greens = [piece.geometry for piece in course.pieces if piece.area is Area.PUTTING_GREEN] if self.off_greens else []
        fairways = [fairway.geometry for fairway in course.of_kind(FeatureKind.FAIRWAY)] if self.off_fairways else []
        return (*(() if self.left is None else (self.left,)), *greens, *fairways)


def limits_of(procedure: Procedure, reference: Position | None) -> Limits:
    """The limits of a procedure for a reference point."""
    areas = frozenset(Area(word) for word in procedure.words("in_areas"))
    kept = _place_kept(procedure, reference)
    within: BaseGeometry | None = None
    if kept is not None:
        within = _very_ground(kept)
        if within is None:
            areas &= {kept.area}
    return Limits(
        areas=areas,
        within=within,
        left=ground_left(procedure),
        off_greens=procedure.says("off_greens"),
        off_fairways=procedure.says("off_fairway_height") and not known(procedure.case, NamedFact.ON_FAIRWAY_HEIGHT),
    )


def _place_kept(procedure: Procedure, reference: Position | None) -> Place | None:
    """The place whose area of the course must be kept; None where the ball may change it."""
    case = procedure.case
    keeps_to = procedure.limit("keeps_to", none=KeepsTo.ANYWHERE)
    if keeps_to == KeepsTo.ANYWHERE:
        return None
    if keeps_to == KeepsTo.AREA_OF_REFERENCE:
        return None if reference is None else locate(case.course, case.incident.hole, reference)
    return case.place


def _very_ground(place: Place) -> BaseGeometry | None:
    """The very bunker or penalty area of a place; None where any ground of its area of the course will do."""
    return place.ground if place.area in {Area.PENALTY_AREA, Area.BUNKER} else None


def ground_left(procedure: Procedure) -> BaseGeometry | None:
    """The penalty area or bunker that the relief leads out of."""
    case = procedure.case
    leaves = procedure.limit("leaves", none=Leaves.NOTHING)
    if leaves == Leaves.SAME_PENALTY_AREA:
        # Where marks meet, the edge that was crossed may be another's than the water that holds the ball: relief leads out of both.
        left = tuple({id(area): area.geometry for area in (case.penalty_area, case.holding) if area is not None}.values())
        return case.once("ground left", left, lambda: shapely.union_all(left)) if left else None
    if leaves == Leaves.SAME_BUNKER and case.place is not None and case.place.area is Area.BUNKER:
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
    case, limits = procedure.case, limits_of(procedure, reference)
    return case.once("area", (shape, limits, forbidden), lambda: _measure_on(case, shape, limits, forbidden))


def _measure_on(case: Case, shape: Shape, limits: Limits, forbidden: BaseGeometry | None) -> ReliefArea:
    without = limits.without(case.course)
    return measure_relief_area(
        shape,
        case.course,
        case.incident.hole,
        may_lie_in=lambda area: area in limits.areas,
        within=limits.within,
        without=without if forbidden is None else (*without, forbidden),
    )


def ground_near(case: Case, ball: Position, limits: Limits) -> Polygon | MultiPolygon:
    """All ground near a ball on which a procedure lets it be dropped."""
    return case.once("ground near", (ball, limits), lambda: _ground_near(case, ball, limits))


def _ground_near(case: Case, ball: Position, limits: Limits) -> Polygon | MultiPolygon:
    x, y = ball.xy
    box = (x - FARTHEST_M, y - FARTHEST_M, x + FARTHEST_M, y + FARTHEST_M)
    areas = case.once("areas near", (box, limits.areas), lambda: _areas_near(case, box, limits.areas))
    without = [shapely.clip_by_rect(barred, *box) for barred in limits.without(case.course)]
    return polygons_of(_cut(areas, limits, [barred for barred in without if not barred.is_empty]))


def _areas_near(case: Case, box: tuple[float, float, float, float], areas: frozenset[Area]) -> BaseGeometry:
    """Some areas of the course within a box."""
    near = (piece for piece in case.course.pieces_near(box) if piece.area_for(case.incident.hole) in areas)
    return shapely.union_all([shapely.clip_by_rect(piece.geometry, *box) for piece in near])


def line_on(procedure: Procedure, start: Position) -> LineBack:
    """The line from a point straight back from the hole, on all ground on which a ball may be dropped."""
    case, limits = procedure.case, limits_of(procedure, None)
    return case.once("line", (start, limits), lambda: line_back(start, case.hole_at, _line_ground(case, limits)))


def _line_ground(case: Case, limits: Limits) -> BaseGeometry:
    """All ground on which a ball may be dropped back on a line."""
    return case.once("line ground", limits, lambda: _cut(case.course.boundary, limits, limits.without(case.course)))


def _cut(ground: BaseGeometry, limits: Limits, without: Sequence[BaseGeometry]) -> BaseGeometry:
    """Some ground, kept within what must not be left and without what is left out."""
    if limits.within is not None:
        ground = ground.intersection(limits.within)
    for barred in without:
        ground = ground.difference(barred)
    return ground
