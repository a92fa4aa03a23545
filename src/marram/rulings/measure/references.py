"""Reference points: one function for each word that the rule data may use."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from marram.core.citations import Citation
from marram.core.kept import OnRequest
from marram.core.units import BALL_RADIUS_M
from marram.course.frame import Position
from marram.course.locate import TOUCH_M
from marram.relief.area.equal_arc import points_on_equal_arc
from marram.relief.area.line_of_play import only_polygons
from marram.relief.area.lines import along_bearing
from marram.relief.area.opposite import opposite_edge_points
from marram.relief.clear.nearest import NearestPoint
from marram.relief.clear.nearest_free import EQUAL_M
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.vocabulary import FailingThat, LineFrom, MeasuredFrom
from marram.rulings.case.case import Case, Unknown
from marram.rulings.case.met import Interference
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import FoundPoint, Reference
from marram.rulings.measure.ground import ground_near, limits_of
from marram.rulings.measure.obstructed import (
    LINE,
    LINE_ON_GREEN,
    ball_at,
    find_interference,
    find_most_relief,
    find_nearest_points,
    forbidden_for,
)

_MOST_RELIEF_ROW = "relief.maximum-available-relief"


@dataclass(frozen=True, slots=True, kw_only=True)
class Referred:
    """Reference points, and what finding them settled.

    Attributes:
        points: The points, the chosen one first; empty where there is none.
        find: Name of the step that tells how to find them.
        incomplete: Draws on request the ground from which relief would not be complete; None where no condition is involved.
        on_spot: Whether the ball goes on the point itself, with no area about it.
        citations: Rules that the point rests on, besides the procedure's own.
    """

    points: tuple[Reference, ...] = ()
    find: str = ""
    incomplete: OnRequest[BaseGeometry] | None = None
    on_spot: bool = False
    citations: tuple[Citation, ...] = ()

    @property
    def forbidden(self) -> BaseGeometry | None:
        """Ground from which relief would not be complete; None where no condition is involved."""
        return None if self.incomplete is None else self.incomplete.found


def find_reference(procedure: Procedure) -> Referred:
    """Find what a procedure measures from."""
    return _REFERENCES[procedure.word("reference")](procedure)


def _at(position: Position | None, kind: MeasuredFrom, find: str) -> Referred:
    return Referred() if position is None else Referred(points=(Reference(position=position, kind=kind),), find=find)


def _none(procedure: Procedure) -> Referred:
    return Referred()


def _crossing_point(procedure: Procedure) -> Referred:
    return _at(procedure.case.crossing, MeasuredFrom.CROSSING_POINT, "find_crossing")


def _stated_crossing(procedure: Procedure) -> Referred:
    crossed = procedure.case.incident.crossed_at
    if crossed is None:
        raise Unknown(NamedFact.CROSSED_AT)
    return _at(crossed, MeasuredFrom.STATED_CROSSING, "find_stated_crossing")


def _ball_spot(procedure: Procedure) -> Referred:
    place = procedure.case.place
    if place is None:
        return Referred()
    return Referred(points=(Reference(position=place.position, kind=MeasuredFrom.BALL_SPOT, distance_m=0.0),), find="find_ball_spot")


def _spot_behind_ball(procedure: Procedure) -> Referred:
    """The spot right behind the ball: where the ground behind it begins, on the line from the hole."""
    place, hole = procedure.case.place, procedure.case.hole_at
    if place is None or place.position.distance_m(hole) < TOUCH_M:
        return Referred()
    behind = along_bearing(place.position, hole.bearing_deg(place.position), BALL_RADIUS_M)
    reference = Reference(position=behind, kind=MeasuredFrom.SPOT_BEHIND_BALL, distance_m=BALL_RADIUS_M)
    return Referred(points=(reference,), find="find_behind_ball")


def _estimated_spot(procedure: Procedure) -> Referred:
    return _at(procedure.case.estimated, MeasuredFrom.ESTIMATED_SPOT, "find_estimated")


def _opposite_edge(procedure: Procedure) -> Referred:
    case = procedure.case
    area = case.penalty_area
    places = opposite_edge_points(case.crossing, case.hole_at, area.geometry) if area else ()
    found = tuple(Reference(position=place, kind=MeasuredFrom.OPPOSITE_EDGE) for place in places)
    return Referred(points=_chosen_first(case, found), find="find_opposite")


def _previous_stroke(procedure: Procedure) -> Referred:
    position, _ = procedure.case.previous_spot()
    return _at(position, MeasuredFrom.PREVIOUS_STROKE, "find_previous")


def _last_stroke_outside(procedure: Procedure) -> Referred:
    position, _ = procedure.case.last_spot_outside()
    return _at(position, MeasuredFrom.LAST_STROKE_OUTSIDE, "find_last_outside")


def _nearest_point(procedure: Procedure) -> Referred:
    case = procedure.case
    parts = frozenset(procedure.words("clear_of"))
    found = find_nearest_points(procedure, parts)
    if not found.points:
        return _MOST_RELIEF[procedure.word("failing_that")](procedure)
    points = tuple(_near_reference(point, found.other_clubs) for point in found.points)
    find = "find_nearest_with_line" if parts & {LINE, LINE_ON_GREEN} else "find_nearest"
    return Referred(points=_chosen_first(case, points), find=find, incomplete=found.forbidden)


def _near_reference(point: NearestPoint, other_clubs: OnRequest[float | None]) -> Reference:
    return Reference(
        position=point.position,
        kind=MeasuredFrom.NEAREST_POINT_OF_COMPLETE_RELIEF,
        distance_m=point.distance_m,
        clearance_m=point.clearance_m,
        other_clubs=other_clubs,
    )


def _nothing(procedure: Procedure) -> Referred:
    return Referred()


def _most_relief_with_area(procedure: Procedure) -> Referred:
    return _most_relief(procedure, on_spot=False)


def _most_relief_on_spot(procedure: Procedure) -> Referred:
    return _most_relief(procedure, on_spot=True)


def _most_relief(procedure: Procedure, *, on_spot: bool) -> Referred:
    """Where the condition interferes least, in an edition that uses such a point."""
    case = procedure.case
    points = find_most_relief(procedure, frozenset(procedure.words("clear_of")))
    references = tuple(
        Reference(position=point.position, kind=FoundPoint.MAXIMUM_AVAILABLE_RELIEF, distance_m=point.distance_m) for point in points
    )
    book = case.book
    citations = book.citations(_MOST_RELIEF_ROW) if book.has_row(_MOST_RELIEF_ROW) else ()
    return Referred(points=_chosen_first(case, references), find="find_most_relief", on_spot=on_spot, citations=citations)


_MOST_RELIEF: dict[str, Callable[[Procedure], Referred]] = {
    FailingThat.NOTHING: _nothing,
    FailingThat.MOST_RELIEF_WITH_AREA: _most_relief_with_area,
    FailingThat.MOST_RELIEF_ON_SPOT: _most_relief_on_spot,
}


def _equal_arc_point(procedure: Procedure) -> Referred:
    """Sideways from the ball, as far from the hole as it lies, until the thing is out of the way and off the line to the hole."""
    case = procedure.case
    met: Interference = find_interference(case, frozenset(procedure.words("clear_of")))
    forbidden = forbidden_for(case, met, frozenset(procedure.words("clear_of")))
    ball = ball_at(case)
    limits = limits_of(procedure, ball)
    places = case.once(
        "equal arc",
        (ball, limits, forbidden),
        lambda: points_on_equal_arc(ball, case.hole_at, only_polygons(forbidden), ground_near(case, ball, limits)),
    )
    nearest_m = min((place.distance_m(ball) for place in places), default=0.0)
    places = tuple(place for place in places if place.distance_m(ball) <= nearest_m + EQUAL_M)
    found = tuple(Reference(position=place, kind=MeasuredFrom.EQUAL_ARC_POINT, distance_m=place.distance_m(ball)) for place in places)
    return Referred(points=_chosen_first(case, found), find="find_equal_arc", incomplete=OnRequest(lambda: forbidden))


def _point_on_line(procedure: Procedure) -> Referred:
    return _REFERENCES[_LINES[procedure.word("line_from")](procedure)](procedure)


_LINES: dict[str, Callable[[Procedure], str]] = {
    LineFrom.NONE: lambda procedure: LineFrom.NONE,
    LineFrom.CROSSING_POINT: lambda procedure: LineFrom.CROSSING_POINT,
    LineFrom.BALL_SPOT: lambda procedure: LineFrom.BALL_SPOT,
    LineFrom.CROSSING_OR_BALL: lambda procedure: LineFrom.BALL_SPOT if procedure.case.penalty_area is None else LineFrom.CROSSING_POINT,
}


def _chosen_first(case: Case, references: tuple[Reference, ...]) -> tuple[Reference, ...]:
    chosen = case.incident.choice.reference
    if chosen is None or not 1 <= chosen <= len(references):
        return references
    first = references[chosen - 1]
    return (first, *(other for other in references if other is not first))


_REFERENCES: dict[str, Callable[[Procedure], Referred]] = {
    MeasuredFrom.NONE: _none,
    MeasuredFrom.CROSSING_POINT: _crossing_point,
    MeasuredFrom.STATED_CROSSING: _stated_crossing,
    MeasuredFrom.BALL_SPOT: _ball_spot,
    MeasuredFrom.SPOT_BEHIND_BALL: _spot_behind_ball,
    MeasuredFrom.ESTIMATED_SPOT: _estimated_spot,
    MeasuredFrom.OPPOSITE_EDGE: _opposite_edge,
    MeasuredFrom.PREVIOUS_STROKE: _previous_stroke,
    MeasuredFrom.LAST_STROKE_OUTSIDE: _last_stroke_outside,
    MeasuredFrom.NEAREST_POINT_OF_COMPLETE_RELIEF: _nearest_point,
    MeasuredFrom.EQUAL_ARC_POINT: _equal_arc_point,
    MeasuredFrom.POINT_ON_LINE: _point_on_line,
}
