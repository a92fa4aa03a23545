"""Examples of drops at a place: one that counts and those that do not, worked out on the measured ground."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.relief.area.area import ReliefArea
from marram.relief.area.lines import along_bearing
from marram.relief.area.shapes import Crescent
from marram.rulebook.vocabulary import Put, ReliefShape
from marram.rulebook.wording.explain import ROLL_LIMIT
from marram.showing.forbidden import Carried

_TURN_DEG = 6.0
_STEP_M = 0.05
_OUT_M = 0.25
"""An example rests at least so far out that nobody has to measure."""
_IN_M = 0.10
_BACK_M = 2.0
"""How far back on a line, beyond where it may first be used, the example drops."""
_FARTHEST_ROLL_M = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DropExample:
    """One dropped ball.

    Attributes:
        touch: Where it first touches the ground.
        rest: Where it comes to rest.
        counts: Whether it is in play.
        because: Why, in a few words.
    """

    touch: Position
    rest: Position
    counts: bool
    because: str


def drop_examples(carried: Carried) -> tuple[DropExample, ...]:
    """A drop that counts, then those that do not; fewer where the ground has no room for one.

    Args:
        carried: The option; nothing comes of one that is not dropped.
    """
    if carried.option.put != Put.DROP:
        return ()
    if carried.option.relief_area is None:
        return _on_line(carried)
    touch = _middle(carried, carried.option.relief_area)
    if touch is None:
        return ()
    must_rest_in = carried.case.book.yes("dropped-ball-roll-limit.must_rest_in_area").value
    found = _in_area(carried, touch) if must_rest_in else _may_roll(carried, touch)
    beside = _touches_outside(carried, touch)
    return (*found, *((beside,) if beside is not None else ()))


def _middle(carried: Carried, area: ReliefArea) -> Position | None:
    """The place deepest in the area; on a line, the chosen point of it."""
    if carried.option.line is not None and isinstance(area.shape, Crescent):
        return area.shape.centre
    outline = area.outline()
    if outline.is_empty:
        return None
    least_x, least_y, most_x, most_y = outline.bounds
    steps = [number / 24 for number in range(25)]
    grid = [Position(x_m=least_x + a * (most_x - least_x), y_m=least_y + b * (most_y - least_y)) for a in steps for b in steps]
    return max(zip(area.depths_m(grid), range(len(grid)), grid, strict=True))[2]


def _around(carried: Carried, touch: Position) -> list[tuple[float, Position]]:
    """Places about the first touch, nearest first, those towards the hole before the others."""
    towards_deg = touch.bearing_deg(carried.case.hole_at)
    turns = sorted((_TURN_DEG * number for number in range(int(360 / _TURN_DEG))), key=lambda turn: min(turn, 360 - turn))
    rolls_m = [step * _STEP_M for step in range(1, int(_FARTHEST_ROLL_M / _STEP_M) + 1)]
    return [(roll_m, along_bearing(touch, (towards_deg + turn_deg) % 360, roll_m)) for roll_m in rolls_m for turn_deg in turns]


def _in_area(carried: Carried, touch: Position) -> Iterator[DropExample]:
    """Where the ball must come to rest in the area."""
    area = carried.option.relief_area
    assert area is not None
    about = _around(carried, touch)
    depths_m = area.depths_m([place for _, place in about])
    least_in_m = min(_IN_M, area.depth_m(touch) / 2)
    inside = [place for (roll_m, place), depth_m in zip(about, depths_m, strict=True) if 0.2 <= roll_m <= 0.8 and depth_m >= least_in_m]
    if inside:
        rest = max(inside, key=lambda place: (round(touch.distance_m(place), 1), place.distance_m(carried.case.hole_at)))
        words = f"rests {touch.distance_m(rest):.1f} m from its first touch, in the area: in play"
        yield DropExample(touch=touch, rest=rest, counts=True, because=words)
    out = _nearer_place(carried, touch) or next(
        (place for (_, place), depth_m in zip(about, depths_m, strict=True) if depth_m <= -_OUT_M), None
    )
    if out is not None:
        yield DropExample(touch=touch, rest=out, counts=False, because=_why_out(carried, out))


def _nearer_place(carried: Carried, touch: Position) -> Position | None:
    """The nearest place on open ground that is plainly nearer the hole than allowed: what players get wrong most."""
    option, case = carried.option, carried.case
    if not option.no_nearer_m:
        return None
    barred = _not_open(carried).buffer(_OUT_M)
    reach_m = 1.5 * (option.size_m or 1.0)
    for roll_m, place in _around(carried, touch):
        if roll_m > reach_m:
            return None
        if place.distance_m(case.hole_at) <= option.no_nearer_m - _OUT_M:
            point = Point(place.xy)
            if not barred.intersects(point) and case.course.boundary.covers(point):
                return place
    return None


def _why_out(carried: Carried, rest: Position) -> str:
    option, area = carried.option, carried.option.relief_area
    if option.no_nearer_m and rest.distance_m(carried.case.hole_at) < option.no_nearer_m:
        return "rests nearer the hole: drop again"
    shape = area.shape if area is not None else None
    if isinstance(shape, Crescent) and rest.distance_m(shape.centre) > shape.radius_m:
        return "rests beyond the measured length: drop again"
    return "rests outside the area: drop again"


def _not_open(carried: Carried) -> BaseGeometry:
    """Ground on which an example would say something else than it means: the water, and the thing in the way."""
    case, met = carried.case, carried.option.met
    grounds: list[BaseGeometry] = [case.penalty_area.geometry] if case.penalty_area is not None else []
    grounds += [met.condition.geometry] if met is not None else []
    return shapely.union_all(grounds) if grounds else Point()


def _may_roll(carried: Carried, touch: Position) -> Iterator[DropExample]:
    """Where the ball may roll out of the ground on which it is dropped, but not too far and not nearer the hole."""
    case, option = carried.case, carried.option
    if not case.book.has(ROLL_LIMIT):
        return  # how far it may roll is stated nowhere, so no example is certain
    limit_m = case.metres(case.book.size(ROLL_LIMIT).value)
    least_m = option.no_nearer_m or 0.0
    hole_at, area = case.hole_at, option.relief_area
    away_deg = (touch.bearing_deg(hole_at) + 180) % 360
    barred = _not_open(carried)
    for turn_deg in (0.0, 40.0, -40.0, 80.0, -80.0):
        rest = along_bearing(touch, (away_deg + turn_deg) % 360, 0.6 * limit_m)
        if not barred.intersects(Point(rest.xy).buffer(_OUT_M)):
            out = area is not None and area.depth_m(rest) < 0
            limits = [*(["out of the ground measured"] if out else []), *(["no nearer the hole"] if least_m > 0 else [])]
            words = f"rolls {', '.join([f'{0.6 * limit_m:.1f} m', *limits])}: in play"
            yield DropExample(touch=touch, rest=rest, counts=True, because=words)
            break
    nearer = next((place for roll_m, place in _around(carried, touch) if place.distance_m(hole_at) < least_m - _OUT_M), None)
    if nearer is not None and touch.distance_m(nearer) <= limit_m:
        yield DropExample(touch=touch, rest=nearer, counts=False, because="rests nearer the hole: drop again")
        return
    far = along_bearing(touch, (away_deg + 60) % 360, limit_m + _OUT_M)
    yield DropExample(touch=touch, rest=far, counts=False, because=f"rolls more than {limit_m:.2f} m: drop again")


def _touches_outside(carried: Carried, touch: Position) -> DropExample | None:
    """A ball that first touches other ground than it must, away from the hole."""
    area = carried.option.relief_area
    assert area is not None
    away_deg = (touch.bearing_deg(carried.case.hole_at) + 180) % 360
    if carried.procedure.word("shape") == ReliefShape.DISC_AT_FIRST_TOUCH:
        place = along_bearing(touch, (away_deg + 90) % 360, 2 * _OUT_M)
        return DropExample(touch=place, rest=place, counts=False, because="touches beside the line first: drop again, not counted")
    for turn_deg in (0.0, 30.0, 330.0, 60.0, 300.0, 90.0, 270.0, 120.0, 240.0):
        steps = range(1, int(_FARTHEST_ROLL_M / _STEP_M))
        places = [along_bearing(touch, (away_deg + turn_deg) % 360, step * _STEP_M) for step in steps]
        for place, depth_m in zip(places, area.depths_m(places), strict=True):
            if depth_m <= -_OUT_M:
                return DropExample(touch=place, rest=place, counts=False, because="touches outside first: drop again, not counted")
    return None


def _on_line(carried: Carried) -> tuple[DropExample, ...]:
    """Drops on a line with no area about it."""
    option = carried.option
    if option.line is None or not option.line.intervals_m:
        return ()
    near_m, far_m = option.line.intervals_m[0]
    back_m = carried.case.incident.choice.back_m
    chosen_m = back_m if back_m is not None and option.line.holds(back_m) else min(near_m + _BACK_M, (near_m + far_m) / 2)
    touch = option.line.place_at(chosen_m)
    if not carried.case.book.has(ROLL_LIMIT):
        return ()
    beside = along_bearing(touch, (touch.bearing_deg(carried.case.hole_at) + 90) % 360, 2 * _OUT_M)
    wrong = DropExample(touch=beside, rest=beside, counts=False, because="strikes the ground beside the line: not counted")
    return (*_may_roll(carried, touch), wrong)
