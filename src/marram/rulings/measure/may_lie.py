"""Where a ball may lie after the drop that was made: the ground that is right for certain, and the ground that is right perhaps."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.units import BALL_RADIUS_M
from marram.course.frame import Position
from marram.course.locate import locate
from marram.relief.area.area import ReliefArea
from marram.relief.area.lines import LineBack
from marram.relief.area.shapes import Crescent, Outline
from marram.rulebook.drop_words import LineTouched, TouchedElsewhere
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.vocabulary import Put, ReliefShape
from marram.rulings.case.known import known
from marram.rulings.case.procedure import Procedure
from marram.rulings.measure.ground import ground_left, measure_on
from marram.rulings.measure.measuring import Measured
from marram.rulings.measure.rolling import FINE, farther_than, rolled

CHORD_M = 0.005
"""What a drawn outline may lack of the exact one; a ball nearer than this counts as inside."""
_ROLL, _REST, _LINE = "dropped-ball-roll-limit", "redrop-cases", "back-on-line-drop"
_NOWHERE = Polygon()


@dataclass(frozen=True, slots=True, kw_only=True)
class MayLie:
    """Ground on which a ball may lie.

    Attributes:
        surely: Right wherever the ball first touched within the ground where it had to.
        perhaps: Right if the ball first touched, or a point was chosen, accordingly.
        ask: What would settle a ball that lies on the second ground and not on the first; empty where nothing is open.
        off_touch_m: How far from where it had to first touch the ground the ball did, where that makes a wrong place of it.
        is_wrong_way: Whether it first touched other ground, which is a fault of the drop and not of the place.
        rows: The rows of the rule data behind it.
    """

    surely: BaseGeometry
    perhaps: BaseGeometry
    ask: str = ""
    off_touch_m: float = 0.0
    is_wrong_way: bool = False
    rows: tuple[str, ...] = ()


def where_it_may_lie(procedure: Procedure, measured: Measured, put: str) -> MayLie | None:
    """Where the ball of an option may lie, after the drop as far as it was stated.

    Args:
        procedure: The procedure that is carried out.
        measured: What it comes to on the ground.
        put: How the ball is put in play.

    Returns:
        The ground; None where the option measures no place.
    """
    if put != Put.DROP:
        return _set_down(measured)
    limits = _LINES.get(procedure.word("shape")) if measured.line is not None else None
    if limits is not None and measured.line is not None:
        return limits(procedure, measured, measured.line)
    ground = _drop_ground(measured)
    if ground is None:
        return None
    if not procedure.case.book.yes(f"{_ROLL}.must_rest_in_area").value:
        return _may_roll(procedure, measured, ground)
    return None if measured.area is None else _in_area(procedure, measured.area)


def _set_down(measured: Measured) -> MayLie | None:
    """Placed, replaced, teed or left: inside the measured ground, or on the spot."""
    if measured.area is not None:
        ground: BaseGeometry = measured.area.outline()
        return MayLie(surely=ground, perhaps=ground)
    if not measured.references:
        return None
    spots = shapely.union_all([Point(reference.position.xy).buffer(BALL_RADIUS_M) for reference in measured.references])
    return MayLie(surely=spots, perhaps=spots)


def _drop_ground(measured: Measured) -> BaseGeometry | None:
    """The ground on which the ball has to be dropped; a point where it is dropped as near as possible to a spot."""
    if measured.area is not None:
        return measured.area.outline()
    return Point(measured.references[0].position.xy) if measured.references else None


def _stretches(line: LineBack) -> list[LineString]:
    return [LineString([line.place_at(near_m).xy, line.place_at(far_m).xy]) for near_m, far_m in line.intervals_m]


# Where the ball has to rest in the relief area ------------------------------------------------------------------------


def _in_area(procedure: Procedure, area: ReliefArea) -> MayLie:
    touch, ground = procedure.case.incident.first_touch, _off_left(procedure, area.outline())
    rows = (_ROLL, _REST)
    if touch is not None and ground.distance(Point(touch.xy)) > CHORD_M:
        return _touched_outside(procedure, ground, touch)
    if not procedure.says("rests_in_area_first_touched") or len(area.parts) < 2:
        return MayLie(surely=ground, perhaps=ground, rows=rows)
    if touch is None:
        return MayLie(surely=_NOWHERE, perhaps=ground, ask=NamedFact.FIRST_TOUCH, rows=rows)
    kept = _off_left(procedure, _part_touched(procedure, area, touch))
    return MayLie(surely=kept, perhaps=kept, rows=rows)


def _touched_outside(procedure: Procedure, ground: BaseGeometry, touch: Position) -> MayLie:
    """It first touched other ground than it had to: a wrong place in some editions, a wrong way in others."""
    is_place = procedure.case.book.word("drop-first-touch.otherwise").value == TouchedElsewhere.WRONG_PLACE
    off_m = float(ground.distance(Point(touch.xy))) if is_place else 0.0
    return MayLie(surely=ground, perhaps=ground, off_touch_m=off_m, is_wrong_way=not is_place, rows=("drop-first-touch", _REST))


def _part_touched(procedure: Procedure, area: ReliefArea, touch: Position) -> BaseGeometry:
    touched = locate(procedure.case.course, procedure.case.incident.hole, touch).area
    return shapely.union_all([part.outline for part in area.parts if part.area is touched])


def _off_left(procedure: Procedure, ground: BaseGeometry) -> BaseGeometry:
    """Without the places from which a ball would still touch the penalty area or bunker that the relief leads out of."""
    left = ground_left(procedure)
    return ground if left is None else ground.difference(left.buffer(BALL_RADIUS_M))


# Back on the line -----------------------------------------------------------------------------------------------------


def _about_chosen(procedure: Procedure, measured: Measured, line: LineBack) -> MayLie:
    """About the point chosen on the line; where none was, the one level with the first touch is taken as chosen."""
    case, rows = procedure.case, (_LINE, _ROLL, _REST)
    back_m, touch = case.incident.choice.back_m, case.incident.first_touch
    if back_m is None and touch is not None:
        back_m = touch.distance_m(case.hole_at) - line.start.distance_m(case.hole_at)
    if back_m is None:
        return MayLie(
            surely=_NOWHERE, perhaps=_along(procedure, measured, line, is_from_chosen=True), ask=NamedFact.CHOSEN_POINT, rows=rows
        )
    if not line.holds(back_m):
        perhaps = _along(procedure, measured, line, is_from_chosen=True)
        return MayLie(surely=_NOWHERE, perhaps=perhaps, off_touch_m=_off_line_m(line, line.place_at(back_m)), rows=rows)
    chosen = line.place_at(back_m)
    return _in_area(procedure, _about(procedure, measured, chosen, chosen.distance_m(case.hole_at)))


def _about_touch(procedure: Procedure, measured: Measured, line: LineBack) -> MayLie:
    """About the place where the ball first touched the ground, on the line where the edition asks for that."""
    case, rows = procedure.case, (_LINE, _ROLL, _REST)
    touch = _touch_on_line(procedure, line)
    if touch is None:
        return MayLie(
            surely=_NOWHERE, perhaps=_along(procedure, measured, line, is_from_chosen=False), ask=NamedFact.FIRST_TOUCH, rows=rows
        )
    off_m = _off_line_m(line, touch)
    if off_m > _width_m(procedure, measured):
        perhaps = _along(procedure, measured, line, is_from_chosen=False)
        return MayLie(surely=_NOWHERE, perhaps=perhaps, off_touch_m=off_m, rows=("drop-beside-line", *rows))
    area = _about(procedure, measured, touch, line.start.distance_m(case.hole_at))
    kept = _part_touched(procedure, area, touch) if procedure.says("rests_in_area_first_touched") else area.outline()
    kept = _off_left(procedure, kept)
    return MayLie(surely=kept, perhaps=kept, rows=rows)


def _touch_on_line(procedure: Procedure, line: LineBack) -> Position | None:
    """Where the ball first touched; a place back on the line that was stated is taken for it where it is dropped on the line."""
    incident = procedure.case.incident
    if incident.first_touch is not None or incident.choice.back_m is None:
        return incident.first_touch
    return line.place_at(incident.choice.back_m)


def _off_line_m(line: LineBack, touch: Position) -> float:
    """How far from any place on the line that may be used; no place may be used where nothing is left of it."""
    point = Point(touch.xy)
    return min((float(stretch.distance(point)) for stretch in _stretches(line)), default=touch.distance_m(line.start))


def _width_m(procedure: Procedure, measured: Measured) -> float:
    """How far from the line a ball may first touch the ground and still make a relief area."""
    touches_line = procedure.case.book.word(f"{_LINE}.first_touch").value == LineTouched.LINE
    return BALL_RADIUS_M if touches_line else (measured.size_m or 0.0)


def _about(procedure: Procedure, measured: Measured, centre: Position, least_m: float) -> ReliefArea:
    disc = Crescent(centre=centre, radius_m=measured.size_m or 0.0, hole=procedure.case.hole_at, least_m=least_m)
    return measure_on(procedure, disc, centre)


def _along(procedure: Procedure, measured: Measured, line: LineBack, *, is_from_chosen: bool) -> BaseGeometry:
    """All places that some drop on the line makes right.

    A point of the line that is level with the ball, or nearer, is never farther from it than the others, so that the nearest point of a
    stretch settles whether any does; only before its near end does the limit of nearness cut.
    """
    case = procedure.case
    found: list[BaseGeometry] = []
    for stretch, (near_m, _) in zip(_stretches(line), line.intervals_m, strict=True):
        least = line.place_at(near_m) if is_from_chosen else line.start
        ground = farther_than(stretch.buffer(measured.size_m or 0.0, quad_segs=FINE), case.hole_at, least.distance_m(case.hole_at))
        if isinstance(ground, Polygon | MultiPolygon) and not ground.is_empty:
            found.append(measure_on(procedure, Outline(polygon=ground), None).outline())
    return _off_left(procedure, shapely.union_all(found)) if found else _NOWHERE


def _rolling_from_line(procedure: Procedure, measured: Measured, line: LineBack) -> MayLie:
    """Dropped on the line and rolled."""
    ground, touch = shapely.union_all(_stretches(line)), _touch_on_line(procedure, line)
    if touch is None:
        perhaps = rolled(procedure, measured, ground)
        return MayLie(surely=_NOWHERE, perhaps=perhaps, ask=NamedFact.FIRST_TOUCH, rows=(_LINE, _ROLL, _REST))
    off_m = _off_line_m(line, touch)
    if off_m > BALL_RADIUS_M:
        rows = ("drop-beside-line", "drop-first-touch", _REST)
        return MayLie(surely=_NOWHERE, perhaps=rolled(procedure, measured, ground), off_touch_m=off_m, rows=rows)
    rest = rolled(procedure, measured, Point(touch.xy))
    return MayLie(surely=rest, perhaps=rest, rows=(_LINE, _ROLL, _REST))


_LINES: dict[str, Callable[[Procedure, Measured, LineBack], MayLie]] = {
    ReliefShape.LINE: _rolling_from_line,
    ReliefShape.DISC_AT_CHOSEN_POINT: _about_chosen,
    ReliefShape.DISC_AT_FIRST_TOUCH: _about_touch,
}


# Where the ball may roll out of the ground on which it is dropped ------------------------------------------------------


def _may_roll(procedure: Procedure, measured: Measured, ground: BaseGeometry) -> MayLie:
    touch, rows = procedure.case.incident.first_touch, (_ROLL, _REST)
    is_spot = ground.area == 0
    if touch is None and is_spot:
        rest = rolled(procedure, measured, ground)
        return MayLie(surely=rest, perhaps=rest, rows=rows)
    perhaps = rolled(procedure, measured, ground)
    if touch is None:
        return MayLie(surely=_off_left(procedure, ground), perhaps=perhaps, ask=NamedFact.FIRST_TOUCH, rows=rows)
    off_m = float(ground.distance(Point(touch.xy)))
    rest = rolled(procedure, measured, Point(touch.xy))
    if is_spot:
        return _near_spot(rest, off_m, measured, touch, procedure)
    if off_m > CHORD_M:
        return _touched_outside(procedure, ground, touch)
    return MayLie(surely=rest, perhaps=rest, rows=rows)


def _near_spot(rest: BaseGeometry, off_m: float, measured: Measured, touch: Position, procedure: Procedure) -> MayLie:
    """As near as possible to a spot: no rule says in metres how near that is, but nearer the hole it may not be."""
    rows = ("drop-first-touch", _ROLL, _REST)
    nearer_m = (measured.no_nearer_m or 0.0) - touch.distance_m(procedure.case.hole_at)
    if nearer_m > BALL_RADIUS_M:
        return MayLie(surely=_NOWHERE, perhaps=rest, off_touch_m=nearer_m, rows=rows)
    is_near = off_m <= BALL_RADIUS_M or known(procedure.case, NamedFact.AS_NEAR_AS_POSSIBLE)
    if is_near is False:
        return MayLie(surely=_NOWHERE, perhaps=rest, off_touch_m=off_m, rows=rows)
    return MayLie(surely=rest if is_near else _NOWHERE, perhaps=rest, ask="" if is_near else NamedFact.AS_NEAR_AS_POSSIBLE, rows=rows)
