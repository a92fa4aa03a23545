"""From a procedure's data to the ground: one function for each reference point and each shape that the rule data may name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from marram.core.citations import Citation, Cited, merged
from marram.core.terms import Area
from marram.core.units import Size
from marram.course.frame import Position
from marram.course.locate import TOUCH_M, locate
from marram.relief.area import ReliefArea, measure_relief_area
from marram.relief.lines import LineBack, line_back, strip_about
from marram.relief.opposite import opposite_edge_points
from marram.relief.shapes import Crescent, Outline, Shape
from marram.rulings.case import Case
from marram.rulings.obstructed import find_nearest_points
from marram.rulings.ruling import Reference


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
        fills: What to fill into the sentences.
        margin_m: Least margin of what was decided.
        accuracy_m: Survey accuracy that it is held against.
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
    fills: tuple[tuple[str, str], ...] = ()
    margins: tuple[tuple[float, float | None], ...] = ()
    citations: tuple[Citation, ...] = ()


@dataclass(frozen=True)
class Procedure:
    """A procedure's row in a book."""

    case: Case
    id: str
    extra: dict[str, BaseGeometry] = field(default_factory=dict)

    @property
    def row_id(self) -> str:
        """Name of the row."""
        return f"relief.{self.id}"

    def word(self, part: str) -> str:
        """A word of the row."""
        return self.case.book.word(f"{self.row_id}.{part}").value

    def words(self, part: str) -> tuple[str, ...]:
        """A list of words of the row."""
        return self.case.book.words(f"{self.row_id}.{part}").value

    def says(self, part: str) -> bool:
        """A yes or no of the row."""
        return self.case.book.yes(f"{self.row_id}.{part}").value

    def size(self) -> tuple[Cited[Size], float]:
        """The size as stated, and on the ground."""
        stated = self.case.book.size(f"{self.row_id}.size")
        return stated, self.case.metres(stated.value)


def measure(procedure: Procedure) -> Measured:
    """Measure a procedure on the ground: first the reference point, then the shape."""
    references = _REFERENCES[procedure.word("reference")](procedure)
    return _SHAPES[procedure.word("shape")](procedure, references)


# Reference points ---------------------------------------------------------------------------------------------------


def _crossing_point(procedure: Procedure) -> tuple[Reference, ...]:
    return (Reference(position=procedure.case.crossing, kind="crossing-point"),)


def _opposite_edge(procedure: Procedure) -> tuple[Reference, ...]:
    case = procedure.case
    area = case.penalty_area
    places = opposite_edge_points(case.crossing, case.hole_at, area.geometry) if area else ()
    found = tuple(Reference(position=place, kind="opposite-edge") for place in places)
    return _chosen_first(found, case.incident.choice.reference)


def _ball_spot(procedure: Procedure) -> tuple[Reference, ...]:
    place = procedure.case.place
    return () if place is None else (Reference(position=place.position, kind="ball-spot", distance_m=0.0),)


def _previous_stroke(procedure: Procedure) -> tuple[Reference, ...]:
    position, _ = procedure.case.previous_spot()
    return () if position is None else (Reference(position=position, kind="previous-stroke"),)


def _nearest_point(procedure: Procedure) -> tuple[Reference, ...]:
    case = procedure.case
    found = find_nearest_points(case, frozenset(procedure.words("clear_of")), procedure.words("in_areas"))
    procedure.extra["forbidden"] = found.forbidden
    references = tuple(
        Reference(
            position=point.position,
            kind="nearest-point-of-complete-relief",
            distance_m=point.distance_m,
            clearance_m=point.clearance_m,
            range_m=found.range_m,
        )
        for point in found.points
    )
    return _chosen_first(references, case.incident.choice.reference)


def _point_on_line(procedure: Procedure) -> tuple[Reference, ...]:
    return _REFERENCES[procedure.word("line_from")](procedure)


_REFERENCES: dict[str, Callable[[Procedure], tuple[Reference, ...]]] = {
    "crossing-point": _crossing_point,
    "opposite-edge": _opposite_edge,
    "ball-spot": _ball_spot,
    "previous-stroke": _previous_stroke,
    "nearest-point-of-complete-relief": _nearest_point,
    "point-on-line": _point_on_line,
}
_FIND = {
    "crossing-point": "find_crossing",
    "opposite-edge": "find_opposite",
    "ball-spot": "find_ball_spot",
    "previous-stroke": "find_previous",
    "nearest-point-of-complete-relief": "find_nearest",
}


def _chosen_first(references: tuple[Reference, ...], chosen: int | None) -> tuple[Reference, ...]:
    if chosen is None or not 1 <= chosen <= len(references):
        return references
    first = references[chosen - 1]
    return (first, *(other for other in references if other is not first))


# Shapes -------------------------------------------------------------------------------------------------------------


def _disc(procedure: Procedure, references: tuple[Reference, ...]) -> Measured:
    if not references:
        return Measured()
    return _disc_about(procedure, references, references[0].position, (_FIND[references[0].kind],))


def _disc_about(procedure: Procedure, references: tuple[Reference, ...], centre: Position, first_steps: tuple[str, ...]) -> Measured:
    size, size_m = procedure.size()
    limit = centre if procedure.word("no_nearer_than") == "reference-point" else references[0].position
    least_m = limit.distance_m(procedure.case.hole_at)
    shape = Crescent(centre=centre, radius_m=size_m, hole=procedure.case.hole_at, least_m=least_m)
    return Measured(
        references=references,
        area=_on_ground(procedure, shape, centre),
        no_nearer_m=least_m,
        size_m=size_m,
        size=size.value,
        steps=(*first_steps, "measure_area", "drop_in_area", *_rest_step(procedure)),
        citations=size.citations,
    )


def _rest_step(procedure: Procedure) -> tuple[str, ...]:
    return ("rest_same_area",) if procedure.says("rests_in_area_first_touched") else ()


def _on_ground(procedure: Procedure, shape: Shape, reference: Position) -> ReliefArea:
    case = procedure.case
    allowed = set(procedure.words("in_areas"))
    if procedure.says("same_area_as_reference"):
        allowed &= {locate(case.course, case.incident.hole, reference).area.value}
    without: list[BaseGeometry] = []
    if procedure.says("outside_same_penalty_area") and case.penalty_area is not None:
        without.append(case.penalty_area.geometry)
    if "forbidden" in procedure.extra:
        without.append(procedure.extra["forbidden"])
    return measure_relief_area(shape, case.course, case.incident.hole, may_lie_in=lambda area: area.value in allowed, without=without)


def _line(procedure: Procedure, references: tuple[Reference, ...]) -> LineBack | None:
    case = procedure.case
    if not references or references[0].position.distance_m(case.hole_at) < TOUCH_M:
        return None  # no line runs from the hole through the hole itself
    allowed: BaseGeometry = case.course.boundary
    if procedure.says("outside_same_penalty_area") and case.penalty_area is not None:
        allowed = allowed.difference(case.penalty_area.geometry)
    return line_back(references[0].position, case.hole_at, allowed)


def _line_alone(procedure: Procedure, references: tuple[Reference, ...]) -> Measured:
    line = _line(procedure, references)
    if line is None:
        return Measured()
    return Measured(
        references=references,
        line=line,
        no_nearer_m=references[0].position.distance_m(procedure.case.hole_at),
        steps=(_FIND[references[0].kind], "drop_on_line"),
    )


def _strip(procedure: Procedure, references: tuple[Reference, ...]) -> Measured:
    line = _line(procedure, references)
    if line is None:
        return Measured()
    size, size_m = procedure.size()
    area = _on_ground(procedure, Outline(polygon=strip_about(line, size_m)), references[0].position)
    return Measured(
        references=references,
        line=line,
        area=area,
        no_nearer_m=references[0].position.distance_m(procedure.case.hole_at),
        size_m=size_m,
        size=size.value,
        steps=(_FIND[references[0].kind], "measure_strip", "drop_in_area", *_rest_step(procedure)),
        citations=size.citations,
    )


def _disc_at_chosen_point(procedure: Procedure, references: tuple[Reference, ...]) -> Measured:
    return _on_line(procedure, references, ("measure_area", "drop_in_area"), chooses_first=True)


def _disc_at_first_touch(procedure: Procedure, references: tuple[Reference, ...]) -> Measured:
    return _on_line(procedure, references, ("drop_on_line",), chooses_first=False)


def _on_line(procedure: Procedure, references: tuple[Reference, ...], last_steps: tuple[str, ...], *, chooses_first: bool) -> Measured:
    """A disc about a point of the line: the area is known once the player has chosen how far back."""
    line = _line(procedure, references)
    if line is None:
        return Measured()
    size, size_m = procedure.size()
    back_m = procedure.case.incident.choice.back_m
    first = (_FIND[references[0].kind], *(("choose_on_line",) if chooses_first else ()))
    limit_m = references[0].position.distance_m(procedure.case.hole_at)
    measured = Measured(
        references=references,
        line=line,
        no_nearer_m=limit_m,
        size_m=size_m,
        size=size.value,
        steps=(*first, *last_steps, *_rest_step(procedure)),
        citations=size.citations,
    )
    if back_m is None or not line.holds(back_m):
        return measured
    about = _disc_about(procedure, references, line.place_at(back_m), first)
    return Measured(
        references=references,
        line=line,
        area=about.area,
        no_nearer_m=about.no_nearer_m,
        size_m=size_m,
        size=size.value,
        steps=(first[0], *(("choose_on_line",) if chooses_first else ()), "chosen_on_line", *last_steps) + _rest_step(procedure),
        citations=size.citations,
    )


def _spot(procedure: Procedure, references: tuple[Reference, ...]) -> Measured:
    if not references:
        return Measured()
    return Measured(references=references, put="place", steps=(_FIND[references[0].kind], "place_on_spot"))


def _previous_spot(procedure: Procedure, references: tuple[Reference, ...]) -> Measured:
    """Where the previous stroke was made: teed, placed, or dropped, by the area of the course it was made in."""
    case = procedure.case
    _, area = case.previous_spot()
    slot = {Area.TEEING_AREA: "from_teeing_area", Area.PUTTING_GREEN: "from_putting_green"}.get(area, "elsewhere")
    way = case.book.word(f"stroke-and-distance-spot.{slot}")
    found = _PREVIOUS_SPOT[way.value](procedure, references)
    return Measured(
        references=found.references,
        area=found.area,
        no_nearer_m=found.no_nearer_m,
        size_m=found.size_m,
        size=found.size,
        put=found.put,
        steps=found.steps,
        citations=merged(way.citations, found.citations),
    )


def _tee_again(procedure: Procedure, references: tuple[Reference, ...]) -> Measured:
    course, hole = procedure.case.course, procedure.case.incident.hole
    tees = [piece for piece in course.pieces if piece.area_for(hole) is Area.TEEING_AREA]
    if references and tees:
        # The set of tee-markers nearest to the place of the previous stroke is the one that was played from.
        point = Point(references[0].position.xy)
        tee = min(tees, key=lambda piece: piece.geometry.distance(point))
        shape = Outline(polygon=tee.geometry)
        area = measure_relief_area(shape, course, hole, may_lie_in=lambda found: found is Area.TEEING_AREA)
        return Measured(references=references, area=area, put="play", steps=("find_previous", "tee_again"))
    return Measured(references=references, put="play", steps=("find_previous", "tee_again"))


def _place_on_spot(procedure: Procedure, references: tuple[Reference, ...]) -> Measured:
    return Measured(references=references, put="place", steps=("find_previous", "place_on_spot"))


def _drop_near_spot(procedure: Procedure, references: tuple[Reference, ...]) -> Measured:
    least_m = references[0].position.distance_m(procedure.case.hole_at) if references else None
    return Measured(references=references, put="drop", no_nearer_m=least_m, steps=("find_previous", "drop_near_spot"))


_PREVIOUS_SPOT: dict[str, Callable[[Procedure, tuple[Reference, ...]], Measured]] = {
    "anywhere-in-teeing-area": _tee_again,
    "place-on-spot": _place_on_spot,
    "drop-near-spot": _drop_near_spot,
    "drop-in-relief-area": _disc,
}
_SHAPES: dict[str, Callable[[Procedure, tuple[Reference, ...]], Measured]] = {
    "disc": _disc,
    "disc-at-chosen-point": _disc_at_chosen_point,
    "disc-at-first-touch": _disc_at_first_touch,
    "strip": _strip,
    "line": _line_alone,
    "spot": _spot,
    "previous-spot": _previous_spot,
}
