"""The check of a course's marking: where a player who takes lateral relief would have nowhere good to drop.

Every place on an open edge of a penalty area is taken for the point where a ball last crossed it, for each hole that is played over it, and
the ground within the relief area is measured by kind. Which holes and which kinds of fault: docs/design/marking.md.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from marram.core.errors import SurveyError
from marram.core.terms import Area, Mark
from marram.core.work import Work
from marram.course.course import Course
from marram.course.holes import Hole
from marram.relief.area import crescent_sums as sums
from marram.relief.area.area import SMALLEST_M2
from marram.relief.area.crescent_sums import Floats, Whole
from marram.relief.marking.points import EdgePoints, played_over, points_on_edges
from marram.relief.marking.small_rings import Rings, cut_into_rings, ground_of

SMALL_M2 = 1.0
"""Less than this is told as small (docs/design/marking.md; from memory: a ball dropped rolls about a metre)."""
_MOST_HOLES = 62
_AT_ONCE = 1_000
"""So many places are tried before it is told how far the work is."""
PLAIN_UP_TO = 4_000
"""So many places take the plain functions about as long as the compiled ones take to be loaded (docs/speed.md)."""


class MarkingFault(StrEnum):
    """What is wrong with lateral relief at a place, worst first."""

    NOWHERE = "nowhere"
    ONLY_IN_PENALTY_AREA = "only-in-other-penalty-area"
    ONLY_IN_BUNKER = "only-in-bunker"
    NO_PLAY_ZONE = "no-play-zone"
    SMALL = "small"
    OUT_OF_BOUNDS = "mostly-out-of-bounds"


FAULTS = tuple(MarkingFault)
NO_FAULT = -1

_AREA_COLUMNS = {
    Area.PENALTY_AREA: sums.OTHER_PENALTY_AREA,
    Area.BUNKER: sums.BUNKER,
    Area.PUTTING_GREEN: sums.PUTTING_GREEN,
    Area.TEEING_AREA: sums.TEEING_AREA,
}
_POOR = (Area.PENALTY_AREA, Area.BUNKER)


@dataclass(frozen=True, slots=True, kw_only=True)
class LateralRelief:
    """What a rule book says of lateral relief, in plain numbers.

    Attributes:
        size_m: How far from the crossing point the ball may be dropped.
        marks: Marks of the penalty areas that give it.
        in_areas: Areas of the course in which the ball may be dropped.
    """

    size_m: float
    marks: frozenset[Mark]
    in_areas: frozenset[Area]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """What every place came to, a row for each place and hole.

    Attributes:
        holes: The holes that were played.
        points: The places.
        place: Number of the place in `points`.
        hole: Number of the hole in `holes`.
        area_m2: Ground of the relief area by area of the course; a ball may be dropped on all of it.
        out_of_bounds_m2: What of the measured crescent is out of bounds.
        zone_m2: What of it is in a no play zone.
        own_m2: What of it is in the penalty area that the ball has left.
        fault: Number in `FAULTS`, or -1.
    """

    holes: tuple[Hole, ...]
    points: EdgePoints
    place: Whole
    hole: Whole
    area_m2: dict[Area, Floats]
    out_of_bounds_m2: Floats
    zone_m2: Floats
    own_m2: Floats
    fault: Whole

    @property
    def usable_m2(self) -> Floats:
        """The whole relief area."""
        return np.asarray(sum(self.area_m2.values(), np.zeros(len(self.place))))


Measuring = Callable[..., None]


def try_marking(
    course: Course,
    relief: LateralRelief,
    *,
    holes: Sequence[Hole] | None = None,
    measure: Measuring | None = None,
    work: Work | None = None,
) -> Tried:
    """Try lateral relief at every place of every edge that gives it.

    Args:
        course: The course.
        relief: What the book says.
        holes: The holes to be tried; all that have a line of play and a hole location if none are given.
        measure: What measures the crescents; if none is given, the plain functions for a few places and their compiled form for more.
        work: Told how many places are tried; it may be stopped.

    Raises:
        SurveyError: The course has more holes than the check can hold apart.
    """
    played = tuple(holes) if holes is not None else tuple(hole for hole in course.holes.values() if is_playable(hole))
    if len(played) > _MOST_HOLES:
        raise SurveyError(
            f"The check of the marking takes up to {_MOST_HOLES} holes; {course.name} has {len(played)}.",
            where="holes",
            hint="Give each course of the club a file of its own.",
        )
    chosen = [number for number, area in enumerate(course.penalty_areas) if area.mark in relief.marks]
    points = points_on_edges(course, chosen)
    place, hole = played_over(points, played)
    rings = cut_into_rings(ground_of(course, [each.number for each in played]))
    locations = np.array([each.location.xy for each in played if each.location is not None]).reshape(-1, 2)
    measure, work, parts = measure or measuring_for(len(place)), work or Work(), [np.zeros((0, sums.COLUMNS))]
    for start in range(0, len(place), _AT_ONCE):
        work.tell("trying places on edges", start, len(place))
        now = slice(start, start + _AT_ONCE)
        parts.append(measure_table(rings, points.xy[place[now]], points.area[place[now]], hole[now], locations, relief.size_m, measure))
    table = np.concatenate(parts)
    return _sorted_by_kind(table, relief, played, points, place, hole)


def measuring_for(count: int) -> Measuring:
    """What measures so many crescents soonest in a program that has just been started: the same functions, plain or compiled."""
    if count <= PLAIN_UP_TO:
        return sums.measure_crescents
    from marram.relief.marking import kernel

    return kernel.measure_crescents


def is_playable(hole: Hole) -> bool:
    """Whether a hole has what the check needs: a line of play and a hole location."""
    return hole.line is not None and hole.location is not None


def measure_table(
    rings: Rings, points: Floats, owners: Whole, point_holes: Whole, holes: Floats, size_m: float, measure: Measuring
) -> Floats:
    """Areas by column of `crescent_sums`, a row for each point.

    Args:
        rings: The ground.
        points: Reference points, a row each.
        owners: Number of the penalty area that is left at each.
        point_holes: Number of the hole that is played at each.
        holes: The holes, a row each.
        size_m: Size of the relief area.
        measure: What measures the crescents.
    """
    table = np.zeros((len(points), sums.COLUMNS))
    ground = (rings.corners, rings.first, rings.columns, rings.owners, rings.serves, rings.boxes)
    measure(points, owners, point_holes, holes, rings.near(points, size_m), ground, size_m, table)
    return table


def _sorted_by_kind(table: Floats, relief: LateralRelief, holes: tuple[Hole, ...], points: EdgePoints, place: Whole, hole: Whole) -> Tried:
    specific = table[:, sums.OTHER_PENALTY_AREA : sums.OWN_PENALTY_AREA + 1].sum(axis=1)
    ground = {Area.GENERAL_AREA: table[:, sums.COURSE] - specific} | {area: table[:, column] for area, column in _AREA_COLUMNS.items()}
    # What rounding leaves below nothing is nothing.
    area_m2 = {area: np.maximum(found, 0.0) for area, found in ground.items() if area in relief.in_areas}
    out_m2 = np.maximum(table[:, sums.CRESCENT] - table[:, sums.COURSE], 0.0)
    zone_m2 = table[:, sums.NO_PLAY_ZONE]
    return Tried(
        holes=holes,
        points=points,
        place=place,
        hole=hole,
        area_m2=area_m2,
        out_of_bounds_m2=out_m2,
        zone_m2=zone_m2,
        own_m2=table[:, sums.OWN_PENALTY_AREA],
        fault=find_faults(area_m2, out_m2, zone_m2),
    )


def find_faults(area_m2: dict[Area, Floats], out_of_bounds_m2: Floats, zone_m2: Floats) -> Whole:
    """Say of each relief area what is wrong with it.

    Args:
        area_m2: Ground on which the ball may be dropped, by area of the course.
        out_of_bounds_m2: Ground lost out of bounds.
        zone_m2: Ground lost in a no play zone.

    Returns:
        Numbers in `FAULTS`, -1 where nothing is wrong; the worst fault of each.
    """
    nothing = np.zeros(len(out_of_bounds_m2))
    usable = sum(area_m2.values(), nothing)
    water, sand = (area_m2.get(area, nothing) for area in _POOR)
    good = usable - water - sand
    holds: dict[MarkingFault, NDArray[np.bool_]] = {
        MarkingFault.NOWHERE: usable < SMALLEST_M2,
        MarkingFault.ONLY_IN_PENALTY_AREA: (good < SMALL_M2) & (water >= usable / 2) & (water >= SMALL_M2),
        MarkingFault.ONLY_IN_BUNKER: (good < SMALL_M2) & (sand >= usable / 2) & (sand >= SMALL_M2),
        MarkingFault.NO_PLAY_ZONE: (good < SMALL_M2) & (zone_m2 + good >= SMALL_M2) & (zone_m2 > out_of_bounds_m2),
        MarkingFault.SMALL: good < SMALL_M2,
        MarkingFault.OUT_OF_BOUNDS: out_of_bounds_m2 > usable,
    }
    return np.select([holds[fault] for fault in FAULTS], list(range(len(FAULTS))), default=NO_FAULT).astype(np.int64)
