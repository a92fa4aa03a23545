"""Which tee, line of play and hole location go with which green, on a survey that does not say.

Where a line of play is drawn, it decides. Else a green is reached along its fairway: the tee lies off the fairway's far end. A green
without one is reached straight, as on a par 3. The tees are shared out so that all greens together fare best (an assignment problem).
The distances here are common practice or our own; docs/accuracy.md tells how often they are right.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.numbering.ways import LONGEST_M, NOBODY_M, may_go_together, off_way_m, ways_to

TO_GREEN_M, TO_TEE_M, FIRST_M = 15.0, 30.0, 60.0
"""A line of play ends this near its green; a tee lies this near the first metres of its line (common practice)."""
_GROUP_M = 40.0
_BESIDE_M, _AHEAD_M = 28.0, 150.0
"""A further tee of a hole lies this near the first stretch from its first tee towards the green."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Matched:
    """What goes together as one hole.

    Attributes:
        green: The putting green; None where there is a line of play alone.
        tees: Its teeing areas, the likeliest first.
        line: Its line of play, if one is drawn.
        location: Where the hole is cut, if surveyed.
        turned: Whether the line was drawn from green to tee.
        off_m: How far the first tee lies from where it was looked for; None where there is none, or a line decides.
        next_m: The same for the next best tee; infinite where there is none.
        begins: The far end of the green's fairway, for a green without a tee.
        by: What decided: a line, a fairway, or the straight way.
    """

    green: Feature | None
    tees: tuple[Feature, ...] = ()
    line: Feature | None = None
    location: Feature | None = None
    turned: bool = False
    off_m: float | None = None
    next_m: float = math.inf
    begins: Point | None = None
    by: str = ""

    @property
    def end(self) -> BaseGeometry | None:
        """Where the hole ends; None where nothing shows it."""
        if self.green is not None:
            return self.green.geometry
        if self.line is not None:
            return Point(self.line.geometry.coords[0 if self.turned else -1])
        return None if self.location is None else self.location.geometry

    @property
    def start(self) -> BaseGeometry | None:
        """Where the hole begins; None where nothing shows it."""
        if self.tees:
            return shapely.union_all([tee.geometry for tee in self.tees])
        return self.begins if self.line is None else Point(self.line.geometry.coords[-1 if self.turned else 0])


@dataclass
class _Ground:
    """What is still to be shared out."""

    greens: list[Feature]
    other_greens: list[Feature]
    tees: list[Feature]
    fairways: list[BaseGeometry]
    found: list[Matched] = field(default_factory=list)


def match_holes(course: Course) -> tuple[Matched, ...]:
    """Match greens, tees, lines of play and hole locations that serve no hole yet, or one that lacks its green or its tees.

    Args:
        course: The course. Holes with a green and a tee take no part, and what has a number is never put to another one.

    Returns:
        What goes together, in the order of lines first, then greens, as the file has them. A green of which nothing shows how it is
        played, such as a practice green, has no tee.
    """
    greens = _waiting(course, FeatureKind.PUTTING_GREEN)
    ground = _Ground(
        greens=greens,
        other_greens=[green for green in course.of_kind(FeatureKind.PUTTING_GREEN) if green not in greens],
        tees=_waiting(course, FeatureKind.TEEING_AREA),
        fairways=[part for feature in course.of_kind(FeatureKind.FAIRWAY) for part in shapely.get_parts(feature.geometry)],
    )
    locations = _waiting(course, FeatureKind.HOLE_LOCATION)
    for line in _waiting(course, FeatureKind.LINE_OF_PLAY):
        _match_line(line, ground, locations)
    lined = {matched.green.id for matched in ground.found if matched.green is not None}
    ground.greens = [green for green in ground.greens if green.id not in lined]
    _match_greens(ground)
    return tuple(_with_location(matched, locations) for matched in ground.found)


def _waiting(course: Course, kind: FeatureKind) -> list[Feature]:
    lacking = lacking_numbers(course)
    return [feature for feature in course.of_kind(kind) if lacking.issuperset(feature.holes)]


def lacking_numbers(course: Course) -> frozenset[int]:
    """Numbers of the holes that have no green or no tee."""
    with_tee = {number for tee in course.of_kind(FeatureKind.TEEING_AREA) for number in tee.holes}
    return frozenset(number for number, hole in course.holes.items() if hole.green is None or number not in with_tee)


def _with_location(matched: Matched, locations: Sequence[Feature]) -> Matched:
    """The hole with the location that lies on its green, or at the end of its line."""
    reach_m = 0.0 if matched.green is not None else TO_GREEN_M
    end, own = matched.end, matched.line or matched.green
    fitting = [(number, each) for number, each in enumerate(locations) if own is not None and may_go_together(own, each)]
    off_m = [(float(end.distance(each.geometry)), number) for number, each in fitting if end is not None]
    nearest_m, number = min(off_m, default=(math.inf, 0))
    return replace(matched, location=locations[number]) if nearest_m <= reach_m else matched


# By lines -------------------------------------------------------------------------------------------------------------


def _match_line(line: Feature, ground: _Ground, locations: Sequence[Feature]) -> None:
    """The green at one end of a line of play, the tees at the other."""
    ends = [Point(line.geometry.coords[-1]), Point(line.geometry.coords[0])]
    greens = [green for green in ground.greens if may_go_together(green, line)]
    near = [(green.geometry.distance(end), turn, green) for green in greens for turn, end in enumerate(ends)]
    best = min((entry for entry in near if entry[0] <= TO_GREEN_M), key=lambda entry: (entry[0] > 0, entry[1], entry[0]), default=None)
    green = None if best is None else best[2]
    pins = [(feature.geometry.distance(end), turn) for feature in locations for turn, end in enumerate(ends)]
    turned = bool(best[1]) if best is not None else bool(min(pins, default=(0.0, 0))[1])
    played = LineString(line.geometry.coords[:: -1 if turned else 1])
    first = substring(played, 0.0, FIRST_M)
    tees = sorted(
        (tee for tee in ground.tees if may_go_together(tee, line) and tee.geometry.distance(first) <= TO_TEE_M),
        key=lambda tee: tee.geometry.distance(ends[1 - turned]),
    )
    ground.tees = [tee for tee in ground.tees if tee not in tees]
    ground.found.append(Matched(green=green, tees=tuple(tees), line=line, turned=turned, by="line"))


# By fairways, or straight ---------------------------------------------------------------------------------------------


def _match_greens(ground: _Ground) -> None:
    played = [entry for green in ground.greens for entry in ways_to(green, ground.fairways, [*ground.greens, *ground.other_greens])]
    off_m = np.array([[off_way_m(tee, green, ways) for tee in ground.tees] for green, ways in played])
    off_m = off_m.reshape(len(played), len(ground.tees))
    firsts = _share_out(off_m, _groups(ground.tees))
    # A second fairway to a green is a second hole only where there is a tee for it.
    served = {played[row][0].id for row in firsts}
    others = _other_tees(ground, [green for green, _ in played], firsts, off_m)
    for number, (green, ways) in enumerate(played):
        if number in firsts:
            mine = [firsts[number], *others.get(number, [])]
            rest = [off for column, off in enumerate(off_m[number].tolist()) if column not in mine]
            found = Matched(
                green=green,
                tees=tuple(ground.tees[column] for column in mine),
                off_m=float(off_m[number, firsts[number]]),
                next_m=min(rest, default=math.inf),
                by="fairway" if ways[0].is_fairway else "straight",
            )
            ground.found.append(found)
        elif green.id not in served:
            served.add(green.id)
            ground.found.append(Matched(green=green, begins=ways[0].begins if ways[0].is_fairway else None))


def _groups(tees: Sequence[Feature]) -> list[int]:
    """For each tee the number of its group: the tees of one hole lie near each other."""
    from scipy.sparse.csgraph import connected_components

    near = np.array([[tee.geometry.distance(other.geometry) <= _GROUP_M for other in tees] for tee in tees]).reshape(len(tees), len(tees))
    return [int(number) for number in connected_components(near)[1]] if tees else []


def _share_out(off_m: np.typing.NDArray[np.float64], groups: Sequence[int]) -> dict[int, int]:
    """The first tee of each green: no group serves two greens, unless a green would have none."""
    numbers = np.array(groups, dtype=int)
    by_group = np.array([[off_m[row, numbers == group].min() for group in sorted(set(groups))] for row in range(len(off_m))])
    chosen = _assigned(by_group.reshape(len(off_m), len(set(groups))))
    firsts = {row: int(np.argmin(np.where(numbers == group, off_m[row], np.inf))) for row, group in chosen.items()}
    left = [row for row in range(len(off_m)) if row not in firsts]
    free = [column for column in range(len(groups)) if column not in firsts.values()]
    again = _assigned(off_m[np.ix_(left, free)])
    return firsts | {left[row]: free[column] for row, column in again.items()}


def _assigned(off_m: np.typing.NDArray[np.float64]) -> dict[int, int]:
    """A column for each row, all together at the least cost; rows that fare better without one have none."""
    from scipy.optimize import linear_sum_assignment

    nobody = np.full((len(off_m), len(off_m)), NOBODY_M)
    rows, columns = linear_sum_assignment(np.hstack([np.minimum(off_m, 10 * LONGEST_M), nobody]))
    return {int(row): int(column) for row, column in zip(rows, columns, strict=True) if column < off_m.shape[1]}


def _other_tees(
    ground: _Ground, greens: Sequence[Feature], firsts: dict[int, int], off_m: np.typing.NDArray[np.float64]
) -> dict[int, list[int]]:
    """Further tees of each hole: near the first stretch from its first tee, and not better placed for another hole."""
    found: dict[int, list[int]] = {}
    for column in set(range(len(ground.tees))) - set(firsts.values()):
        tee = ground.tees[column]
        near = [number for number, first in firsts.items() if _is_beside(tee, ground.tees[first], greens[number])]
        near = [number for number in near if math.isfinite(off_m[number, column])]
        if near:
            found.setdefault(min(near, key=lambda number: float(off_m[number, column])), []).append(column)
    return found


def _is_beside(tee: Feature, first: Feature, green: Feature) -> bool:
    """Whether a tee lies on the way from a hole's first tee towards its green, or as far behind it."""
    start, end = first.geometry.centroid, green.geometry.centroid
    whole_m = start.distance(end)
    ahead = ((end.x - start.x) / whole_m, (end.y - start.y) / whole_m)
    back, front = (-_AHEAD_M / 2, min(_AHEAD_M, whole_m / 2))
    stretch = LineString([(start.x + ahead[0] * m, start.y + ahead[1] * m) for m in (back, front)])
    return bool(tee.geometry.distance(stretch) <= _BESIDE_M)
