"""Where people can stand to be shown something: how they get there, and what may hit or harm them.

Distances and zones are common practice of those who lead groups over a course; none is a value of the Rules. docs/design/places.md.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.holes import Hole

LANDING_FROM_M, LANDING_TO_M, LANDING_HALF_WIDTH_M = 150.0, 260.0, 35.0
"""Where drives come down, measured from each set of tee-markers along the line of play (common practice)."""
AHEAD_FROM_M, AHEAD_HALF_WIDTH_M = 8.0, 20.0
"""Ground ahead of a tee that a mishit may reach before the landing zone (common practice)."""
SHORT_OF_GREEN_M = 25.0
"""On a hole too short for a drive the landing zone begins here before the end of the line of play (common practice)."""
FAR_M = 60.0
"""A place farther than this from tee, path and fairway is no place to lead players to (common practice)."""
NEAR_WATER_M, NEAR_BOUNDARY_M, NEAR_ANIMALS_M = 3.0, 10.0, 10.0
"""Closer than this, deep water, the boundary or an animal's hole is told of and counts against a place (common practice)."""
_TAKES = {
    "landing-zone": 0.7,
    "ahead-of-tee": 0.3,
    "fairway": 0.1,
    "deep-water": 0.2,
    "boundary": 0.2,
    "animals": 0.3,
    "trees": 0.5,
}
"""What each danger takes, once, from the full mark for safety, 1 (our choice)."""
DEEP_WATER = ("pond", "lake", "river", "reservoir", "sea")
_BOX_ROUNDING_M = 1e-6
"""What the arithmetic of boxes may err by."""
PATHS = ("path", "road", "track", "lane")


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What a spot offers to people who are shown something there.

    Attributes:
        reach_m: Distance to the nearest tee, path or fairway, metres; None where the course has none.
        reach_by: What that is.
        safe: From 0, dangerous, to 1, nothing against it.
        dangers: What to watch, in words.
    """

    reach_m: float | None
    reach_by: str
    safe: float
    dangers: tuple[str, ...]

    @property
    def reach(self) -> float:
        """From 0, out of reach, to 1, at a tee, a path or a fairway; a half where the course tells of none."""
        return 0.5 if self.reach_m is None else max(0.0, 1.0 - self.reach_m / FAR_M)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Danger:
    kind: str
    ground: BaseGeometry
    words: str
    within_m: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Grounds:
    """Grounds of one purpose, with the boxes about them: no ground is nearer than its box, so that most need no measuring."""

    grounds: NDArray[np.object_]
    boxes: NDArray[np.float64]

    def measured(self, point: Point, within_m: float | NDArray[np.float64]) -> Iterator[tuple[int, float]]:
        """The distances of all that may lie within a distance, by their numbers."""
        (near,) = np.nonzero(self.least_m(point) <= within_m)
        yield from zip(near.tolist(), shapely.distance(self.grounds[near], point).tolist(), strict=True)

    def least_m(self, point: Point) -> NDArray[np.float64]:
        """No ground is nearer than this."""
        west, south, east, north = self.boxes.T
        across = np.maximum(np.maximum(west - point.x, point.x - east), 0.0)
        up = np.maximum(np.maximum(south - point.y, point.y - north), 0.0)
        least_m: NDArray[np.float64] = np.hypot(across, up) - _BOX_ROUNDING_M
        return least_m

    def nearest(self, point: Point) -> list[tuple[int, float]]:
        """The ground that is nearest, with all that may be as near."""
        least_m = self.least_m(point)
        if not len(least_m):
            return []
        first = int(np.argmin(least_m))
        return list(self.measured(point, float(self.grounds[first].distance(point))))


def _grounds(shapes: Sequence[BaseGeometry]) -> _Grounds:
    grounds = np.empty(len(shapes), dtype=object)
    grounds[:] = shapes
    return _Grounds(grounds=grounds, boxes=shapely.bounds(grounds).reshape(-1, 4))


@dataclass(frozen=True, slots=True, kw_only=True)
class ShowingGround:
    """A course seen as ground to lead people over; made once for a course.

    Attributes:
        ways: What people come by.
        way_names: What to call each of them.
        dangers: What may harm them.
    """

    ways: _Grounds
    way_names: tuple[str, ...]
    dangers: tuple[_Danger, ...]
    _ground_of_dangers: _Grounds
    _within_m: NDArray[np.float64]

    def at(self, spot: Position) -> Standing:
        """What a spot offers."""
        point = Point(spot.xy)
        near = ((reach_m, self.way_names[number]) for number, reach_m in self.ways.nearest(point))
        reach_m, reach_by = min(near, default=(None, ""))
        measured = self._ground_of_dangers.measured(point, self._within_m)
        met = [self.dangers[number] for number, away_m in measured if away_m <= self.dangers[number].within_m]
        words = tuple(dict.fromkeys(danger.words for danger in met))
        taken = sum(_TAKES[kind] for kind in {danger.kind for danger in met})
        return Standing(reach_m=reach_m, reach_by=reach_by, safe=max(0.0, 1.0 - taken), dangers=words)


def see_ground(course: Course) -> ShowingGround:
    """See a course as ground to lead people over."""
    ways, dangers = list(_ways(course)), tuple(_dangers(course))
    return ShowingGround(
        ways=_grounds([way for way, _ in ways]),
        way_names=tuple(name for _, name in ways),
        dangers=dangers,
        _ground_of_dangers=_grounds([danger.ground for danger in dangers]),
        _within_m=np.array([danger.within_m for danger in dangers]),
    )


def _ways(course: Course) -> Iterator[tuple[BaseGeometry, str]]:
    for tee in course.of_kind(FeatureKind.TEEING_AREA):
        yield tee.geometry, f"a tee of hole {tee.holes[0]}" if tee.holes else "a tee"
    for path in course.of_kind(FeatureKind.IMMOVABLE_OBSTRUCTION):
        if path.noun in PATHS:
            yield path.geometry, f"the {path.noun} {path.id}"
    for fairway in course.of_kind(FeatureKind.FAIRWAY):
        yield fairway.geometry, f"the fairway of hole {fairway.holes[0]}" if fairway.holes else "a fairway"


def _dangers(course: Course) -> Iterator[_Danger]:
    for hole in course.holes.values():
        tees = [tee for tee in course.of_kind(FeatureKind.TEEING_AREA) if hole.number in tee.holes]
        yield from _ranges(hole, tees)
    for water in course.of_kind(FeatureKind.PENALTY_AREA):
        if water.noun in DEEP_WATER:
            yield _Danger(kind="deep-water", ground=water.geometry, words="Beside deep water.", within_m=NEAR_WATER_M)
    edge = course.boundary.boundary
    yield _Danger(kind="boundary", ground=edge, words="Beside the boundary.", within_m=NEAR_BOUNDARY_M)
    for kind in (FeatureKind.ANIMAL_HOLE, FeatureKind.DANGEROUS_ANIMAL):
        for animal in course.of_kind(kind):
            yield _Danger(kind="animals", ground=animal.geometry, words=f"Beside a {animal.noun}.", within_m=NEAR_ANIMALS_M)
    for trees in course.of_kind(FeatureKind.TREES):
        yield _Danger(kind="trees", ground=trees.geometry, words="Under trees: little room to stand.")
    for fairway in course.of_kind(FeatureKind.FAIRWAY):
        yield _Danger(kind="fairway", ground=fairway.geometry, words="On a fairway: let groups play through.")


def _ranges(hole: Hole, tees: Sequence[Feature]) -> Iterator[_Danger]:
    """The ground within range of a hole's tees."""
    if hole.line is None:
        return
    line, starts_m = hole.line, [hole.line.project(tee.geometry.centroid) for tee in tees] or [0.0]
    for start_m in starts_m:
        landing_m = start_m + min(LANDING_FROM_M, max(0.0, line.length - start_m - SHORT_OF_GREEN_M))
        yield _Danger(
            kind="ahead-of-tee",
            ground=_strip(line, start_m + AHEAD_FROM_M, landing_m, AHEAD_HALF_WIDTH_M),
            words=f"Ahead of the tee of hole {hole.number}: not while it is in use.",
        )
        yield _Danger(
            kind="landing-zone",
            ground=_strip(line, landing_m, start_m + LANDING_TO_M, LANDING_HALF_WIDTH_M),
            words=f"In the landing zone of hole {hole.number}: not while it is in use.",
        )


def _strip(line: LineString, from_m: float, to_m: float, half_width_m: float) -> BaseGeometry:
    part = substring(line, min(from_m, line.length), min(to_m, line.length))
    return part.buffer(half_width_m, cap_style="flat") if isinstance(part, LineString) else part
