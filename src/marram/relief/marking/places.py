"""From single points to places on the course that a Committee can walk to, and the sums for each edge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from marram.core.terms import Area
from marram.course.along_hole import AlongHole, tell_along
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.partition import PenaltyArea
from marram.relief.area.area import SMALLEST_M2
from marram.relief.area.crescent_sums import Floats, Whole
from marram.relief.marking.edges import FAULTS, SMALL_M2, MarkingFault, Tried

JOINED_M = 3.0
"""Faulty points no farther apart than this along the edge are one place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkingPlace:
    """A stretch of edge with one fault.

    Attributes:
        fault: What is wrong.
        feature: The surveyed feature whose edge it is.
        area: The penalty area that it belongs to.
        hole: Number of the hole that is played.
        at: The worst point.
        along: Where that is along the hole; None where no line square to the line of play leads there.
        points: How many of the tried points have the fault.
        extent_m: Length of the stretch.
        stretch: Its points in order.
        area_m2: The relief area at the worst point, by area of the course.
        out_of_bounds_m2: What of the crescent is out of bounds there.
        zone_m2: What of it is in a no play zone.
        own_m2: What of it is in the penalty area itself.
    """

    fault: MarkingFault
    feature: Feature
    area: PenaltyArea
    hole: int
    at: Position
    along: AlongHole | None
    points: int
    extent_m: float
    stretch: tuple[tuple[float, float], ...]
    area_m2: dict[Area, float]
    out_of_bounds_m2: float
    zone_m2: float
    own_m2: float

    @property
    def is_serious(self) -> bool:
        """Whether a Committee should do something about it; a small area alone still takes a drop, and most ponds have some."""
        return self.fault is not MarkingFault.SMALL

    @property
    def usable_m2(self) -> float:
        """Size of the relief area at the worst point."""
        return sum(self.area_m2.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeSum:
    """What one feature's edge came to for one hole.

    Attributes:
        feature: The feature.
        hole: Number of the hole.
        points: How many points were tried.
        none: How many have a relief area under 0.05 m².
        small: How many of the others have one under 1 m².
        faults: How many points have each fault.
        least_m2: The smallest relief area.
    """

    feature: Feature
    hole: int
    points: int
    none: int
    small: int
    faults: dict[MarkingFault, int]
    least_m2: float


def find_places(course: Course, tried: Tried) -> tuple[MarkingPlace, ...]:
    """Gather faulty points into places, worst fault first, then by hole.

    Args:
        course: The course.
        tried: What every point came to.
    """
    places = [_place(course, tried, rows) for rows in _runs(tried)]
    return tuple(sorted(places, key=lambda place: (FAULTS.index(place.fault), place.hole, place.usable_m2, place.at.xy)))


def _runs(tried: Tried) -> Iterator[Whole]:
    """Rows of one fault, hole and ring whose neighbours lie close together along the ring."""
    rows = np.nonzero(tried.fault >= 0)[0]
    ring, along_m = tried.points.ring[tried.place[rows]], tried.points.along_m[tried.place[rows]]
    order = np.lexsort((along_m, ring, tried.hole[rows], tried.fault[rows]))
    rows, ring, along_m = rows[order], ring[order], along_m[order]
    keys = np.stack([tried.fault[rows], tried.hole[rows], ring], axis=1)
    is_new = np.any(keys[1:] != keys[:-1], axis=1)
    for group in np.split(np.arange(len(rows)), np.nonzero(is_new)[0] + 1):
        if len(group):
            parts = np.split(group, np.nonzero(np.diff(along_m[group]) > JOINED_M)[0] + 1)
            ring_m = tried.points.ring_m[tried.place[rows[group[0]]]]
            if len(parts) > 1 and along_m[parts[0][0]] + ring_m - along_m[parts[-1][-1]] <= JOINED_M:
                parts = [np.concatenate([parts[-1], parts[0]]), *parts[1:-1]]  # the ring's first corner is no end
            yield from (rows[part] for part in parts)


def _place(course: Course, tried: Tried, rows: Whole) -> MarkingPlace:
    usable_m2 = tried.usable_m2[rows]
    worst = int(rows[int(np.argmin(usable_m2))])
    number = tried.place[worst]
    area = course.penalty_areas[tried.points.area[number]]
    x_m, y_m = tried.points.xy[number]
    at = Position(x_m=float(x_m), y_m=float(y_m))
    along_m, ring_m = tried.points.along_m[tried.place[rows]], float(tried.points.ring_m[number])
    return MarkingPlace(
        fault=FAULTS[tried.fault[worst]],
        feature=area.features[tried.points.feature[number]],
        area=area,
        at=at,
        hole=tried.holes[tried.hole[worst]].number,
        along=tell_along(tried.holes[tried.hole[worst]], at),
        points=len(rows),
        extent_m=float((along_m[-1] - along_m[0]) % ring_m),
        stretch=tuple((float(x), float(y)) for x, y in tried.points.xy[tried.place[rows]]),
        area_m2={kind: float(found[worst]) for kind, found in tried.area_m2.items()},
        out_of_bounds_m2=float(tried.out_of_bounds_m2[worst]),
        zone_m2=float(tried.zone_m2[worst]),
        own_m2=float(tried.own_m2[worst]),
    )


def sum_edges(course: Course, tried: Tried) -> tuple[EdgeSum, ...]:
    """What every edge came to, by hole and feature."""
    usable_m2 = tried.usable_m2
    area, feature = tried.points.area[tried.place], tried.points.feature[tried.place]
    keys, key_of = np.unique(np.stack([tried.hole, area, feature], axis=1), axis=0, return_inverse=True)
    sums = [
        _edge_sum(course.penalty_areas[key[1]].features[key[2]], tried.holes[key[0]].number, usable_m2[mine], tried.fault[mine])
        for number, key in enumerate(keys)
        for mine in [key_of.reshape(-1) == number]
    ]
    # One feature may lie in several penalty areas where the boundary cuts it; it is one edge to its Committee.
    merged: dict[tuple[int, str], EdgeSum] = {}
    for one in sums:
        name = (one.hole, one.feature.id)
        merged[name] = _joined(merged[name], one) if name in merged else one
    return tuple(merged[name] for name in sorted(merged))


def _edge_sum(feature: Feature, hole: int, usable_m2: Floats, fault: Whole) -> EdgeSum:
    none = int((usable_m2 < SMALLEST_M2).sum())
    return EdgeSum(
        feature=feature,
        hole=hole,
        points=len(usable_m2),
        none=none,
        small=int((usable_m2 < SMALL_M2).sum()) - none,
        faults={kind: int((fault == number).sum()) for number, kind in enumerate(FAULTS)},
        least_m2=float(usable_m2.min()),
    )


def _joined(one: EdgeSum, other: EdgeSum) -> EdgeSum:
    return EdgeSum(
        feature=one.feature,
        hole=one.hole,
        points=one.points + other.points,
        none=one.none + other.none,
        small=one.small + other.small,
        faults={kind: one.faults[kind] + other.faults[kind] for kind in FAULTS},
        least_m2=min(one.least_m2, other.least_m2),
    )
