"""From a procedure's data to the ground: one function for each shape that the rule data may name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from shapely.geometry import Point

from marram.core.citations import Citation, merged
from marram.core.terms import Area, FeatureKind
from marram.core.units import Size
from marram.course.frame import Position
from marram.course.locate import TOUCH_M, locate
from marram.course.partition import polygons_of
from marram.relief.area.area import ReliefArea, measure_relief_area
from marram.relief.area.lines import LineBack, strip_about
from marram.relief.area.shapes import Crescent, Outline
from marram.rulebook.drop_words import PreviousSpot
from marram.rulebook.vocabulary import MeasuredFrom, NoNearerThan, Put, ReliefShape
from marram.rulings.case.known import zones_for
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import Reference
from marram.rulings.measure.fairway_band import measure_band
from marram.rulings.measure.ground import line_on, measure_on
from marram.rulings.measure.references import Referred, find_reference


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What a procedure comes to on the ground.

    Attributes:
        references: Reference points, the chosen one first.
        area: The relief area, if one is measured.
        line: The line back, if there is one.
        no_nearer_m: Least distance from the hole.
        size_m: Size on the ground.
        size: Size as the rule states it.
        put: How the ball is put, where the place decides that.
        steps: Names of the sentences that tell what to do.
        citations: Rules that the measuring rests on, besides the procedure's own.
    """

    references: tuple[Reference, ...] = ()
    area: ReliefArea | None = None
    line: LineBack | None = None
    no_nearer_m: float | None = None
    size_m: float | None = None
    size: Size | None = None
    put: str = ""
    steps: tuple[str, ...] = ()
    citations: tuple[Citation, ...] = ()


def measure(procedure: Procedure) -> Measured:
    """Measure a procedure on the ground: first the reference point, then the shape."""
    found = find_reference(procedure)
    return _with_citations(_SHAPES[_shape_word(procedure, found)](procedure, found), found.citations)


def _shape_word(procedure: Procedure, found: Referred) -> str:
    """The shape of the row, or what takes its place on the green and on a spot of most relief."""
    case, shape = procedure.case, procedure.word("shape")
    if found.on_spot:
        return ReliefShape.SPOT if procedure.word("put") == Put.PLACE else ReliefShape.NEAR_SPOT
    if found.points and procedure.says("spot_on_green"):
        at = locate(case.course, case.incident.hole, found.points[0].position)
        return ReliefShape.SPOT if at.area is Area.PUTTING_GREEN else shape
    return shape


def _with_citations(measured: Measured, citations: tuple[Citation, ...]) -> Measured:
    return replace(measured, citations=merged(measured.citations, citations)) if citations else measured


def _limit_m(procedure: Procedure, found: Referred, centre: Position) -> float:
    """How near to the hole the ball may come."""
    limits: dict[str, Position | None] = {NoNearerThan.REFERENCE_POINT: centre, NoNearerThan.NOTHING: None}
    limit = limits.get(procedure.word("no_nearer_than"), found.points[0].position)
    return 0.0 if limit is None else limit.distance_m(procedure.case.hole_at)


def _rest_step(procedure: Procedure) -> tuple[str, ...]:
    return ("rest_same_area",) if procedure.says("rests_in_area_first_touched") else ()


def _disc(procedure: Procedure, found: Referred) -> Measured:
    return _disc_about(procedure, found, found.points[0].position, (found.find,)) if found.points else Measured()


def _disc_about(procedure: Procedure, found: Referred, centre: Position, first_steps: tuple[str, ...]) -> Measured:
    size, size_m = procedure.size()
    least_m = _limit_m(procedure, found, centre)
    shape = Crescent(centre=centre, radius_m=size_m, hole=procedure.case.hole_at, least_m=least_m)
    measuring = "measure_any_direction" if procedure.word("no_nearer_than") == NoNearerThan.NOTHING else "measure_area"
    putting = "place_in_area" if procedure.word("put") == Put.PLACE else "drop_in_area"
    return Measured(
        references=found.points,
        area=measure_on(procedure, shape, centre, found.forbidden),
        no_nearer_m=least_m,
        size_m=size_m,
        size=size.value,
        steps=(*first_steps, measuring, putting, *_rest_step(procedure)),
        citations=size.citations,
    )


def _line(procedure: Procedure, found: Referred) -> LineBack | None:
    hole_at = procedure.case.hole_at
    if not found.points or found.points[0].position.distance_m(hole_at) < TOUCH_M:
        return None  # no line runs from the hole through the hole itself
    return line_on(procedure, found.points[0].position)


def _line_alone(procedure: Procedure, found: Referred) -> Measured:
    line = _line(procedure, found)
    if line is None:
        return Measured()
    least_m = found.points[0].position.distance_m(procedure.case.hole_at)
    return Measured(references=found.points, line=line, no_nearer_m=least_m, steps=(found.find, "drop_on_line"))


def _strip(procedure: Procedure, found: Referred) -> Measured:
    line = _line(procedure, found)
    if line is None:
        return Measured()
    size, size_m = procedure.size()
    start = found.points[0].position
    return Measured(
        references=found.points,
        line=line,
        area=measure_on(procedure, Outline(polygon=strip_about(line, size_m)), start),
        no_nearer_m=start.distance_m(procedure.case.hole_at),
        size_m=size_m,
        size=size.value,
        steps=(found.find, "measure_strip", "drop_in_area", *_rest_step(procedure)),
        citations=size.citations,
    )


def _disc_at_chosen_point(procedure: Procedure, found: Referred) -> Measured:
    return _on_line(procedure, found, ("choose_on_line",), ("measure_area", "drop_in_area"))


def _disc_at_first_touch(procedure: Procedure, found: Referred) -> Measured:
    return _on_line(procedure, found, (), ("drop_on_line_within",))


def _on_line(procedure: Procedure, found: Referred, choosing: tuple[str, ...], last_steps: tuple[str, ...]) -> Measured:
    """A disc about a point of the line: the area is known once the player has chosen how far back."""
    line = _line(procedure, found)
    if line is None:
        return Measured()
    size, size_m = procedure.size()
    back_m = procedure.case.incident.choice.back_m
    measured = Measured(
        references=found.points,
        line=line,
        no_nearer_m=found.points[0].position.distance_m(procedure.case.hole_at),
        size_m=size_m,
        size=size.value,
        steps=(found.find, *choosing, *last_steps, *_rest_step(procedure)),
        citations=size.citations,
    )
    if back_m is None or not line.holds(back_m):
        return measured
    about = _disc_about(procedure, found, line.place_at(back_m), ())
    steps = (found.find, *choosing, "chosen_on_line", *last_steps, *_rest_step(procedure))
    return replace(measured, area=about.area, no_nearer_m=about.no_nearer_m, steps=steps)


def _spot(procedure: Procedure, found: Referred) -> Measured:
    if not found.points:
        return Measured()
    put = "replace" if procedure.word("put") == Put.REPLACE else "place"
    again = ("try_again",) if procedure.count("tries") else ()
    return Measured(references=found.points, put=put, steps=(found.find, f"{put}_on_spot", *again))


def _near_spot(procedure: Procedure, found: Referred) -> Measured:
    """As near as possible to a spot: no area is measured."""
    if not found.points:
        return Measured()
    step = "place_near_spot" if procedure.word("put") == Put.PLACE else "drop_near_spot"
    least_m = _limit_m(procedure, found, found.points[0].position)
    return Measured(references=found.points, no_nearer_m=least_m, steps=(found.find, step))


def _nothing_measured(procedure: Procedure, found: Referred) -> Measured:
    return Measured(references=found.points, steps=("take_away",) if found.points else ())


def _dropping_zone(procedure: Procedure, found: Referred) -> Measured:
    """The zone is the ground to drop in; where several serve, the one nearest to the ball or the crossing."""
    case = procedure.case
    start = Point((case.incident.ball or case.incident.crossed_at or case.hole_at).xy)
    zone = min(zones_for(case), key=lambda zone: zone.geometry.distance(start), default=None)
    if zone is None:
        return Measured()  # somebody says that there is one, and none is on the course or in the conditions
    shape = Outline(polygon=polygons_of(zone.geometry.intersection(case.course.boundary)))
    return Measured(area=measure_on(procedure, shape, None), steps=("drop_in_zone",))


# Where a stroke was made ---------------------------------------------------------------------------------------------


def _previous_spot(procedure: Procedure, found: Referred) -> Measured:
    """Where an earlier stroke was made: teed, placed, or dropped, by the area of the course it was made in."""
    case = procedure.case
    is_last_outside = procedure.word("reference") == MeasuredFrom.LAST_STROKE_OUTSIDE
    _, area = case.last_spot_outside() if is_last_outside else case.previous_spot()
    slot = {Area.TEEING_AREA: "from_teeing_area", Area.PUTTING_GREEN: "from_putting_green"}.get(area, "elsewhere")
    way = case.book.word(f"stroke-and-distance-spot.{slot}")
    return _with_citations(_PREVIOUS_SPOT[way.value](procedure, found), way.citations)


def _tee_again(procedure: Procedure, found: Referred) -> Measured:
    return _in_teeing_area(procedure, found, (found.find or "find_previous", "tee_again"))


def _teeing_area(procedure: Procedure, found: Referred) -> Measured:
    return _in_teeing_area(procedure, found, ("play_from_teeing_area",))


def _in_teeing_area(procedure: Procedure, found: Referred, steps: tuple[str, ...]) -> Measured:
    course, hole = procedure.case.course, procedure.case.incident.hole
    tees = [tee for tee in course.of_kind(FeatureKind.TEEING_AREA) if hole in tee.holes]
    if not found.points or not tees:
        return Measured(references=found.points, put="play", steps=steps)
    # The set of tee-markers nearest to the place of the stroke is the one that was played from; of several about it the smallest.
    point = Point(found.points[0].position.xy)
    tee = min(tees, key=lambda tee: (tee.geometry.distance(point), tee.geometry.area, tee.id))
    shape = Outline(polygon=polygons_of(tee.geometry.intersection(course.boundary)))
    area = measure_relief_area(shape, course, hole, may_lie_in=lambda area: area is Area.TEEING_AREA)
    return Measured(references=found.points, area=area, put="play", steps=steps)


def _place_on_spot(procedure: Procedure, found: Referred) -> Measured:
    return Measured(references=found.points, put="place", steps=(found.find or "find_previous", "place_on_spot"))


def _drop_near_spot(procedure: Procedure, found: Referred) -> Measured:
    least_m = found.points[0].position.distance_m(procedure.case.hole_at) if found.points else None
    return Measured(references=found.points, put="drop", no_nearer_m=least_m, steps=(found.find or "find_previous", "drop_near_spot"))


_PREVIOUS_SPOT: dict[str, Callable[[Procedure, Referred], Measured]] = {
    PreviousSpot.ANYWHERE_IN_TEEING_AREA: _tee_again,
    PreviousSpot.PLACE_ON_SPOT: _place_on_spot,
    PreviousSpot.DROP_NEAR_SPOT: _drop_near_spot,
    PreviousSpot.DROP_IN_RELIEF_AREA: _disc,
}


def _band_to_fairway(procedure: Procedure, found: Referred) -> Measured:
    band = measure_band(procedure, found)
    if band is None:
        return Measured()
    return Measured(
        references=band.references,
        area=band.area,
        no_nearer_m=band.no_nearer_m,
        size_m=band.size_m,
        size=band.size.value,
        steps=("find_estimated", "measure_band", "drop_in_area"),
        citations=band.size.citations,
    )


_SHAPES: dict[str, Callable[[Procedure, Referred], Measured]] = {
    ReliefShape.NONE: _nothing_measured,
    ReliefShape.DISC: _disc,
    ReliefShape.DISC_AT_CHOSEN_POINT: _disc_at_chosen_point,
    ReliefShape.DISC_AT_FIRST_TOUCH: _disc_at_first_touch,
    ReliefShape.STRIP: _strip,
    ReliefShape.LINE: _line_alone,
    ReliefShape.SPOT: _spot,
    ReliefShape.NEAR_SPOT: _near_spot,
    ReliefShape.PREVIOUS_SPOT: _previous_spot,
    ReliefShape.TEEING_AREA: _teeing_area,
    ReliefShape.DROPPING_ZONE: _dropping_zone,
    ReliefShape.BAND_TO_FAIRWAY: _band_to_fairway,
}
