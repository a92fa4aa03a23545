"""Where a dropped ball may roll to in an edition that limits its roll: what each case for dropping again takes away."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, FeatureKind
from marram.core.units import BALL_RADIUS_M
from marram.course.frame import Position
from marram.relief.area.shapes import sector_about
from marram.rulebook.drop_words import RedropCase
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulings.case.case import Case
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import FoundPoint
from marram.rulings.measure.measuring import Measured
from marram.rulings.measure.obstructed import find_interference, forbidden_for

FINE = 64
"""Edges to a quarter circle: a drawn circle of four club-lengths lacks less than 1 mm of the true one."""
_HAZARDS = (Area.BUNKER, Area.PENALTY_AREA)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Roll:
    """A ball that was dropped and rolls.

    Attributes:
        procedure: The relief.
        measured: What it comes to on the ground.
        dropped: Where the ball first touched, or may have.
        near: All ground within the limit of roll.
        hazard: The bunkers or penalty areas that it was dropped in; None where it was dropped in none.
    """

    procedure: Procedure
    measured: Measured
    dropped: BaseGeometry
    near: BaseGeometry
    hazard: BaseGeometry | None


def rolled(procedure: Procedure, measured: Measured, dropped: BaseGeometry) -> BaseGeometry:
    """The ground on which a ball may come to rest that first touched somewhere on other ground.

    Args:
        procedure: The relief.
        measured: What it comes to on the ground.
        dropped: Where the ball first touched, or may have; a part in a bunker keeps to bunkers, the rest keeps out of them.
    """
    case = procedure.case
    roll_m = case.metres(case.book.size("dropped-ball-roll-limit.roll_limit").value)
    names = case.book.words("redrop-cases.cases").value
    found: list[BaseGeometry] = []
    for part, hazard in _parts(case, dropped):
        roll = _Roll(procedure=procedure, measured=measured, dropped=part, near=part.buffer(roll_m, quad_segs=FINE), hazard=hazard)
        rest = roll.near
        for name in names:
            rest = rest.difference(_TAKEN_AWAY[name](roll)) if name in _TAKEN_AWAY else rest
        found.append(rest)
    return shapely.union_all(found)


def _parts(case: Case, dropped: BaseGeometry) -> list[tuple[BaseGeometry, BaseGeometry | None]]:
    """The ground in parts: what lies in bunkers, what in penalty areas, and the rest."""
    hazards = {area: _ground_of(case, area) for area in _HAZARDS}
    parts: list[tuple[BaseGeometry, BaseGeometry | None]] = [(dropped.difference(shapely.union_all(list(hazards.values()))), None)]
    parts += [(dropped.intersection(ground), ground) for ground in hazards.values()]
    return [(part, hazard) for part, hazard in parts if not part.is_empty]


def _ground_of(case: Case, area: Area) -> BaseGeometry:
    return shapely.union_all([piece.geometry for piece in case.course.pieces if piece.area_for(case.incident.hole) is area])


def farther_than(ground: BaseGeometry, hole: Position, least_m: float) -> BaseGeometry:
    """Ground without what lies nearer the hole than a limit."""
    return ground if least_m <= 0 else ground.difference(sector_about(hole, least_m, 0.0, 180.0))


def _into_hazard(roll: _Roll) -> BaseGeometry:
    case = roll.procedure.case
    if roll.hazard is not None:
        return Polygon()
    return shapely.union_all([_ground_of(case, area) for area in _HAZARDS]).buffer(BALL_RADIUS_M)


def _out_of_hazard(roll: _Roll) -> BaseGeometry:
    return Polygon() if roll.hazard is None else roll.near.difference(roll.hazard.buffer(BALL_RADIUS_M))


def _onto_green(roll: _Roll) -> BaseGeometry:
    """Any green, that of another hole as well, unless the ball was dropped on it."""
    greens = [green.geometry for green in roll.procedure.case.course.of_kind(FeatureKind.PUTTING_GREEN)]
    return shapely.union_all([green.buffer(BALL_RADIUS_M) for green in greens if not green.intersects(roll.dropped)])


def _out_of_bounds(roll: _Roll) -> BaseGeometry:
    return roll.near.difference(roll.procedure.case.course.boundary.buffer(BALL_RADIUS_M))


def _back_into_interference(roll: _Roll) -> BaseGeometry:
    parts = frozenset(roll.procedure.words("clear_of"))
    if not parts:
        return Polygon()
    case = roll.procedure.case
    return forbidden_for(case, find_interference(case, parts), parts)


def _nearer(*kinds: MeasuredFrom | FoundPoint) -> Callable[[_Roll], BaseGeometry]:
    """Nearer the hole than a point of one of these kinds."""

    def taken_away(roll: _Roll) -> BaseGeometry:
        is_limit = bool(roll.measured.references) and roll.measured.references[0].kind in kinds
        if not is_limit or not roll.measured.no_nearer_m:
            return Polygon()
        return sector_about(roll.procedure.case.hole_at, roll.measured.no_nearer_m, 0.0, 180.0)

    return taken_away


_TAKEN_AWAY: dict[str, Callable[[_Roll], BaseGeometry]] = {
    RedropCase.INTO_HAZARD: _into_hazard,
    RedropCase.OUT_OF_HAZARD: _out_of_hazard,
    RedropCase.ONTO_GREEN: _onto_green,
    RedropCase.OUT_OF_BOUNDS: _out_of_bounds,
    RedropCase.BACK_INTO_INTERFERENCE: _back_into_interference,
    RedropCase.NEARER_THAN_ORIGINAL: _nearer(
        MeasuredFrom.BALL_SPOT,
        MeasuredFrom.SPOT_BEHIND_BALL,
        MeasuredFrom.ESTIMATED_SPOT,
        MeasuredFrom.STATED_CROSSING,
        MeasuredFrom.PREVIOUS_STROKE,
        MeasuredFrom.LAST_STROKE_OUTSIDE,
    ),
    RedropCase.NEARER_THAN_RELIEF_POINT: _nearer(
        MeasuredFrom.NEAREST_POINT_OF_COMPLETE_RELIEF, FoundPoint.MAXIMUM_AVAILABLE_RELIEF, MeasuredFrom.EQUAL_ARC_POINT
    ),
    RedropCase.NEARER_THAN_MARGIN_CROSSING: _nearer(MeasuredFrom.CROSSING_POINT, MeasuredFrom.OPPOSITE_EDGE),
}
"""Each case with the ground that it takes away; the limit of roll and the relief area bound the ground from the start."""
