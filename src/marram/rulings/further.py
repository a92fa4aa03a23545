"""What else is in the way at a point of relief: another condition there, how much of the area lies on it, and the point after that."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from marram.core.errors import MarramError
from marram.course.conditions import Condition
from marram.course.frame import Position
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulings.case.case import Case, Unknown
from marram.rulings.case.incident import Choice
from marram.rulings.case.met import Interference
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import FoundPoint, Further, Reference
from marram.rulings.following import followed_by, is_relevant
from marram.rulings.measure.measuring import Measured
from marram.rulings.measure.obstructed import NoInterference, conditions_of, find_interference, gap_to
from marram.rulings.measure.references import find_reference

ROW = "second-interference"
_NEAREST = MeasuredFrom.NEAREST_POINT_OF_COMPLETE_RELIEF
_POINTS = frozenset({_NEAREST, FoundPoint.MAXIMUM_AVAILABLE_RELIEF, MeasuredFrom.EQUAL_ARC_POINT})
_REACH_M = 5.0
_LEAST_M, _LEAST_M2 = 0.001, 0.01
"""Less than a millimetre, or than a sheet of paper, is rounding."""


def further_interference(procedure: Procedure, measured: Measured, met: Interference | None) -> tuple[Further, ...]:
    """Other conditions that interfere at a point of relief, or that part of its area lies on.

    Args:
        procedure: The procedure that led there.
        measured: What it measured.
        met: The condition that relief is from; None where it is from none.

    Returns:
        One for each kind of condition, with the next point of relief from it for a ball at the point; nothing where relief is from none.
    """
    case = procedure.case
    if met is None or not measured.references or measured.references[0].kind not in _POINTS or not case.book.has_row(ROW):
        return ()
    parts = frozenset(procedure.words("clear_of"))
    situations = case.book.words(f"{ROW}.situations").value
    found = (_of_kind(_at(case, measured.references[0].position, situation), measured, met, parts) for situation in situations)
    return tuple(further for further in found if further is not None)


def _at(case: Case, place: Position, situation: str) -> Case:
    """The case of a ball that came to rest at a place."""
    incident = replace(case.incident, situation=situation, ball=place, choice=Choice(), played_from=None, first_touch=None)
    return replace(case, incident=incident, played_from=None, off_condition_m=None)


def _of_kind(there: Case, measured: Measured, met: Interference, parts: frozenset[str]) -> Further | None:
    """What the conditions of one situation do at a point."""
    at, own = measured.references[0].position, met.joined.names
    others = [condition for condition in conditions_of(there) if not condition.names & own and condition.near(at, _REACH_M)]
    procedure = next(_reliefs(there), None) if others else None
    if procedure is None:
        return None
    interference = _interference(procedure, own)
    on_m2 = _area_on_m2(measured, others)
    if interference is None and not on_m2:
        return None
    points = () if interference is None else _next_points(procedure, interference)
    thing = min(others, key=lambda each: each.geometry.distance(shapely.Point(at.xy))) if interference is None else interference.joined
    return Further(
        situation=there.incident.situation,
        noun=thing.seen_from(at).noun,
        features=tuple(sorted(feature.id for feature in thing.near(at, _REACH_M))),
        interference=interference,
        on_area_m2=on_m2,
        points=points,
        is_back=bool(points) and gap_to(_at(there, points[0].position, there.incident.situation), parts, met.joined) < -_LEAST_M,
        citations=there.book.citations(ROW),
    )


def _reliefs(there: Case) -> Iterator[Procedure]:
    """The free relief that a situation gives to a ball at a place."""
    for name in there.book.words(f"situation.{there.incident.situation}.procedures").value:
        procedure = Procedure(case=there, id=name)
        if not is_relevant(procedure) or not procedure.says("allowed"):
            continue
        for row in _carried_out(procedure):
            is_adopted = row.says("adopted") or not row.says("by_local_rule")
            if is_adopted and row.says("allowed") and row.word("reference") == _NEAREST and row.penalty_strokes() == 0:
                yield row


def _carried_out(procedure: Procedure) -> Iterator[Procedure]:
    try:
        yield from followed_by(procedure) if procedure.words("follow") else (procedure,)
    except (Unknown, MarramError):
        return


def _interference(procedure: Procedure, own: frozenset[str]) -> Interference | None:
    try:
        found = find_interference(procedure.case, frozenset(procedure.words("clear_of")), besides=own)
    except (NoInterference, Unknown, MarramError):
        return None
    return found if found.depth_m > _LEAST_M else None


def _next_points(procedure: Procedure, interference: Interference) -> tuple[Reference, ...]:
    """Where a ball at the point would get relief next; none where the search would be for another thing of that kind."""
    try:
        first = find_interference(procedure.case, frozenset(procedure.words("clear_of")))
        return find_reference(procedure).points if first.joined.names == interference.joined.names else ()
    except (NoInterference, Unknown, MarramError):
        return ()


def _area_on_m2(measured: Measured, others: list[Condition]) -> float | None:
    """How much of the relief area lies on some conditions; None where no area is measured."""
    if measured.area is None:
        return None
    outline: BaseGeometry = measured.area.outline()
    on_m2 = float(shapely.union_all([condition.geometry for condition in others]).intersection(outline).area)
    return on_m2 if on_m2 >= _LEAST_M2 else 0.0
