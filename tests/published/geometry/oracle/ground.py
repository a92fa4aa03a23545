"""The ground of a course file, read anew: which area of the course is where, and which connected part of it.

Order where areas overlap: penalty area, bunker, putting green, teeing area (Rules of Golf, January 2019, Rule 2.2c for the first three).
Of two penalty areas that overlap the smaller is the one on the ground, wherever it stands in the file (docs/formats/course.md). Areas of
one mark that touch, at a single point too, are one; what parts them, the boundary or an area above them, makes them two.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np
import shapely
from shapely.geometry import Point, shape
from shapely.geometry.base import BaseGeometry

from tests.published.geometry.oracle.projection import Projection

XY = tuple[float, float]
BALL_RADIUS_M = 0.021336
"""Half of the least diameter of a ball, 1.680 in (Equipment Rules; Rules of Golf 2016, Appendix III)."""
TOUCHES_M, SLIVER_M2 = 0.002, 0.01
"""Outlines are held to 1 mm: what is nearer than 2 mm touches (docs/design/parts.md), and a sliver below 0.01 m² is rounding."""
_FARTHEST_M = 0.05
_STANDING = frozenset(
    ["bench", "bin", "bridge", "building", "clubhouse", "fence", "gate", "hedge", "house", "hut", "hydrant"]
    + ["pole", "post", "pylon", "railing", "shed", "shelter", "sign", "stand", "tent", "wall"]
)
"""Nouns of things that stand up (docs/formats/course.md)."""


@dataclass(frozen=True)
class Thing:
    """One feature of the file, in metres."""

    name: str
    kind: str
    ground: BaseGeometry
    holes: tuple[int, ...]
    mark: str
    stands: bool
    sigma_m: float | None


@dataclass(frozen=True)
class Part:
    """A connected piece of ground of one kind: all of a penalty area under one mark, or a bunker."""

    kind: str
    mark: str
    ground: BaseGeometry


@dataclass(frozen=True)
class Place:
    """The area of the course that a ball is in, the connected part of it, and whether 3 mm more or less would change that."""

    area: str
    part: Part | None
    is_sure: bool


class Ground:
    """A course file as the oracle sees it."""

    def __init__(self, text: str) -> None:
        file = json.loads(text)
        self.projection = Projection(*file["course"]["origin"])
        self.sigma_m: float | None = file["course"].get("sigma_m")
        self.things = [self._thing(feature) for feature in file["features"] if feature.get("geometry")]
        self.boundary = shapely.union_all(self.of_kind("boundary"))
        self.holes: dict[int, XY] = {}
        for thing in self.things:
            if thing.kind == "hole-location":
                for number in thing.holes:
                    self.holes.setdefault(number, (thing.ground.centroid.x, thing.ground.centroid.y))

    def _thing(self, feature: dict[str, dict[str, object]]) -> Thing:
        more, geometry = feature["properties"], shape(feature["geometry"])
        metres = shapely.transform(geometry, lambda xy: np.array([self.projection.metres(*at) for at in xy]).round(3))
        if metres.geom_type in {"Polygon", "MultiPolygon"} and not metres.is_valid:
            metres = polygons(shapely.make_valid(metres))
        stands = more.get("stands")
        noun = not _STANDING.isdisjoint(str(more.get("what") or "").lower().split())
        return Thing(
            name=str(more["id"]),
            kind=str(more["kind"]),
            ground=metres,
            holes=tuple(more.get("holes") or ()),  # type: ignore[arg-type]
            mark=str(more.get("mark") or ""),
            stands=noun if stands is None else bool(stands),
            sigma_m=more.get("sigma_m", self.sigma_m),  # type: ignore[arg-type]
        )

    def of_kind(self, kind: str) -> list[BaseGeometry]:
        """The ground of all features of a kind."""
        return [thing.ground for thing in self.things if thing.kind == kind]

    @cached_property
    def water(self) -> list[Part]:
        """The penalty areas: connected parts of one mark."""
        kept: dict[str, list[BaseGeometry]] = {}
        above: dict[str, list[BaseGeometry]] = {}
        for thing in sorted(self.things, key=lambda thing: (round(thing.ground.area, 3), thing.name)):
            if thing.kind == "penalty-area":
                others = [ground for mark, grounds in above.items() if mark != thing.mark for ground in grounds]
                own = thing.ground.intersection(self.boundary).difference(shapely.union_all(others))
                kept.setdefault(thing.mark, []).append(own)
                above.setdefault(thing.mark, []).append(thing.ground)
        return [Part("penalty-area", mark, ground) for mark, grounds in kept.items() for ground in connected(grounds)]

    @cached_property
    def sand(self) -> list[Part]:
        """The bunkers: connected parts of the sand."""
        wet = shapely.union_all([part.ground for part in self.water])
        dry = [ground.intersection(self.boundary).difference(wet) for ground in self.of_kind("bunker")]
        return [Part("bunker", "", ground) for ground in connected(dry)]

    @cache  # noqa: B019 -- a handful of courses live as long as the test
    def area(self, area: str, hole: int) -> BaseGeometry:
        """All ground of an area of the course while a hole is played."""
        if area in {"penalty-area", "bunker"}:
            return shapely.union_all([part.ground for part in (self.water if area == "penalty-area" else self.sand)])
        above = {"putting-green": ("penalty-area", "bunker"), "teeing-area": ("penalty-area", "bunker", "putting-green")}
        first = above.get(area, ("penalty-area", "bunker", "putting-green", "teeing-area"))
        own = [thing.ground for thing in self.things if thing.kind == area and hole in thing.holes]
        ground = self.boundary if area == "general-area" else shapely.union_all(own).intersection(self.boundary)
        return polygons(ground.difference(shapely.union_all([self.area(other, hole) for other in first])))

    def tee_at(self, at: XY, hole: int) -> BaseGeometry:
        """The set of tees nearest to a place, whole though water may part it; of several about the place the smallest."""
        own = [thing.ground for thing in self.things if thing.kind == "teeing-area" and hole in thing.holes]
        area = self.area("teeing-area", hole)
        return min(own, key=lambda ground: (float(ground.distance(Point(at))), ground.area)).intersection(area)

    @cached_property
    def all_greens(self) -> BaseGeometry:
        """Every putting green, of whatever hole."""
        return shapely.union_all(self.of_kind("putting-green"))

    def locate(self, at: XY, hole: int) -> Place:
        """Where a ball lies: it is in an area that any part of it touches, and out of bounds only when all of it is."""
        found = [self._area_of(at, hole, BALL_RADIUS_M + off) for off in (0.0005, -0.003, 0.004)]
        area = found[0]
        parts = {"penalty-area": self.water, "bunker": self.sand}.get(area)
        if parts is None:
            return Place(area, None, len(set(found)) == 1)
        gaps = sorted((float(part.ground.distance(Point(at))), number) for number, part in enumerate(parts))
        is_sure = len(set(found)) == 1 and (len(gaps) == 1 or gaps[1][0] > BALL_RADIUS_M + 0.004)
        return Place(area, parts[gaps[0][1]], is_sure)

    def _area_of(self, at: XY, hole: int, radius_m: float) -> str:
        for area in ("penalty-area", "bunker", "putting-green", "teeing-area"):
            if self.area(area, hole).distance(Point(at)) <= radius_m:
                return area
        return "general-area" if self.boundary.distance(Point(at)) <= radius_m else "out-of-bounds"

    def conditions(self, kind: str) -> list[tuple[BaseGeometry, BaseGeometry]]:
        """Conditions of a kind, those that touch as one; each with what of it stands up.

        What lies apart by less than the survey can tell, two standard deviations but never more than 5 cm, touches (docs/design/parts.md).
        """
        things = [thing for thing in self.things if thing.kind == kind]
        tells_m = max((_FARTHEST_M if thing.sigma_m is None else 2 * thing.sigma_m for thing in things), default=0.0)
        standing = shapely.union_all([thing.ground for thing in things if thing.stands])
        grounds = connected([thing.ground for thing in things], max(TOUCHES_M, min(tells_m, _FARTHEST_M)))
        return [(ground, polygons(standing.intersection(ground))) for ground in grounds]


def polygons(geometry: BaseGeometry, least_m2: float = SLIVER_M2) -> BaseGeometry:
    """What of a geometry is ground, without slivers."""
    parts = shapely.get_parts(shapely.get_parts(geometry))
    return shapely.union_all([part for part in parts if part.geom_type == "Polygon" and part.area >= least_m2])


def connected(grounds: list[BaseGeometry], within_m: float = TOUCHES_M) -> list[BaseGeometry]:
    """Ground sorted into connected parts; what touches at a single point belongs together."""
    singles = list(shapely.get_parts(polygons(shapely.union_all(grounds))))
    if not singles:
        return []
    group = list(range(len(singles)))
    tree = shapely.STRtree(singles)
    for one, other in tree.query(singles, predicate="dwithin", distance=within_m).T.tolist():
        kept, lost = sorted((group[one], group[other]))
        group = [kept if each == lost else each for each in group]
    return [shapely.union_all([single for single, own in zip(singles, group, strict=True) if own == name]) for name in sorted(set(group))]
