"""How sure a crossing point is: what a second person's estimate would give, and how doubt grows along a line back."""

from __future__ import annotations

from dataclasses import replace

from marram.relief.area.common_ground import overlap_of
from marram.relief.area.fan import Fan
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulings.case.case import Case, Unknown
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import Doubt
from marram.rulings.measure.measuring import Measured, measure


def doubt_of(procedure: Procedure, measured: Measured) -> Doubt | None:
    """What is in doubt about an option that rests on a crossing point; None where nothing is known of it."""
    case = procedure.case
    if not measured.references or measured.references[0].kind not in {MeasuredFrom.CROSSING_POINT, MeasuredFrom.OPPOSITE_EDGE}:
        return None
    sigma_m = case.penalty_area.sigma_m if case.penalty_area is not None else None
    other = None if case.incident.other_crossed_at is None else _measured_from_other(procedure)
    if other is None and (sigma_m is None or measured.line is None):
        return None
    fan = _fan(case, measured, sigma_m)
    overlap = None
    if other is not None and other.area is not None and measured.area is not None:
        overlap = overlap_of(measured.area, other.area)
    return Doubt(
        sigma_m=sigma_m,
        other_reference=other.references[0].position if other is not None and other.references else None,
        other_area=other.area if other is not None else None,
        overlap_m2=overlap.area_m2 if overlap is not None else None,
        overlap=overlap.outline if overlap is not None else None,
        fan_m=() if fan is None else _widths_m(fan, measured),
        fan=None if fan is None or measured.line is None else fan.outline(measured.line.intervals_m),
    )


def _measured_from_other(procedure: Procedure) -> Measured | None:
    case = procedure.case
    incident = replace(case.incident, crossed_at=case.incident.other_crossed_at, other_crossed_at=None, flight=None, crossed_mark=case.mark)
    try:
        return measure(replace(procedure, case=replace(case, incident=incident)))
    except Unknown:
        return None


def _fan(case: Case, measured: Measured, sigma_m: float | None) -> Fan | None:
    """The fan of a line back; None where there is no line or its start is too near the hole for one."""
    if measured.line is None or sigma_m is None:
        return None
    try:
        return Fan(hole=case.hole_at, reference=measured.line.start, sigma_m=sigma_m)
    except ValueError:
        return None


def _widths_m(fan: Fan, measured: Measured) -> tuple[tuple[float, float], ...]:
    intervals_m = measured.line.intervals_m if measured.line is not None else ()
    ends_m = sorted({end_m for stretch in intervals_m for end_m in stretch})
    return tuple((back_m, fan.half_width_m(back_m)) for back_m in ends_m)
