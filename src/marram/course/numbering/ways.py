"""On which ways a green may be reached, and how far a tee lies from where its tee is looked for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from marram.course.features import Feature

LONGEST_M, NOBODY_M = 620.0, 260.0
"""The longest hole from tee to green; what it costs to leave a green without a tee, since a tee farther off is none of its own."""
_FAIRWAY_TO_GREEN_M = 30.0
_SHORT_FAIRWAY_M = 130.0
"""A fairway shorter than this may be the apron of a par 3."""
_SHORTEST_M, _PAR_3_M = 60.0, 240.0
"""Least length of a hole, and greatest of a par 3, from tee to green."""
_USUAL_PAR_3_M, _END_M = 130.0, 40.0


def may_go_together(one: Feature, other: Feature) -> bool:
    """Whether two features are not numbered otherwise."""
    return not one.holes or not other.holes or not set(one.holes).isdisjoint(other.holes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way on which a green may be reached.

    Attributes:
        begins: Where it begins, metres: the far end of a fairway, or the green itself.
        ahead: Where it points there, away from the green, as a unit vector; None where nothing shows it.
        length_m: From its beginning to the middle of the green.
        gap_m: What of it is no fairway.
        is_fairway: Whether it runs along a fairway, and not straight as on a par 3.
    """

    begins: Point
    ahead: tuple[float, float] | None
    length_m: float
    gap_m: float = 0.0
    is_fairway: bool = True


def ways_to(green: Feature, fairways: Sequence[BaseGeometry], greens: Sequence[Feature]) -> list[tuple[Feature, list[Way]]]:
    """The ways to a green, once for each hole that may be played to it: two long fairways end at a double green.

    Args:
        green: The green.
        fairways: The fairways of the course, each in one part.
        greens: All greens of the course, since a fairway ends at the nearest.
    """
    own = [fairway for fairway in fairways if _ends_at(fairway, green, greens)]
    middle = green.geometry.centroid
    ways = [[_from_far_end(fairway, middle), *_through_gap(fairway, middle, own, fairways)] for fairway in own]
    long = [entry for entry in ways if entry[0].length_m >= _SHORT_FAIRWAY_M]
    if long:
        return [(green, entry) for entry in long]
    apron = _unit(middle, shapely.union_all(own).centroid) if own else None
    return [(green, [*(way for entry in ways for way in entry[1:]), Way(begins=middle, ahead=apron, length_m=0.0, is_fairway=False)])]


def _ends_at(fairway: BaseGeometry, green: Feature, greens: Sequence[Feature]) -> bool:
    """Whether a fairway ends at a green: near it, and nearer than at any other that it does not touch."""
    off_m = fairway.distance(green.geometry)
    nearest_m = min(fairway.distance(other.geometry) for other in greens)
    return bool(off_m <= _FAIRWAY_TO_GREEN_M and off_m <= nearest_m + 1.0)


def _through_gap(fairway: BaseGeometry, middle: Point, own: Sequence[BaseGeometry], fairways: Sequence[BaseGeometry]) -> list[Way]:
    """The ways that begin on another fairway, beyond a gap, and go on with this one."""
    length_m = _from_far_end(fairway, middle).length_m
    ways = [(before.distance(fairway), _from_far_end(before, middle)) for before in fairways if before not in own]
    return [
        Way(begins=way.begins, ahead=way.ahead, length_m=way.length_m, gap_m=gap_m)
        for gap_m, way in ways
        if gap_m <= NOBODY_M and way.length_m > length_m + _SHORTEST_M
    ]


def _from_far_end(fairway: BaseGeometry, middle: Point) -> Way:
    corners = shapely.get_coordinates(fairway)
    far = Point(corners[int(np.argmax(np.hypot(*(corners - [middle.x, middle.y]).T)))])
    begins = fairway.intersection(far.buffer(_END_M)).centroid
    behind = fairway.intersection(far.buffer(3 * _END_M)).centroid
    return Way(begins=begins, ahead=_unit(behind, begins), length_m=float(begins.distance(middle)))


def _unit(start: Point, end: Point) -> tuple[float, float] | None:
    length_m = start.distance(end)
    return None if length_m < 1.0 else ((end.x - start.x) / length_m, (end.y - start.y) / length_m)


def off_way_m(tee: Feature, green: Feature, ways: Sequence[Way]) -> float:
    """How far a tee lies from where the tee of a green is looked for, metres; infinite where it cannot be its tee.

    Args:
        tee: The tee.
        green: The green.
        ways: The ways to the green; the best counts.
    """
    length_m = tee.geometry.distance(green.geometry)
    if not _SHORTEST_M <= length_m <= LONGEST_M or not may_go_together(tee, green):
        return math.inf
    return min(_on_way_m(tee, length_m, way) for way in ways)


def _on_way_m(tee: Feature, length_m: float, way: Way) -> float:
    to_tee = _unit(way.begins, tee.geometry.centroid)
    aside = 0.0 if way.ahead is None or to_tee is None else 1.0 - (way.ahead[0] * to_tee[0] + way.ahead[1] * to_tee[1])
    if not way.is_fairway:
        usual_m = abs(length_m - _USUAL_PAR_3_M)
        return 50.0 + 0.4 * usual_m + 2 * max(0.0, length_m - _PAR_3_M) + 60.0 * aside
    # A tee beside the fairway, nearer the green than its far end, is some other hole's or a forward one.
    beside_m = 2 * max(0.0, way.length_m - 30.0 - length_m)
    return tee.geometry.distance(way.begins) * (1.0 + 1.5 * aside) + way.gap_m + beside_m
