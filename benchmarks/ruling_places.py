"""Places for rulings, drawn by a seed on three courses: balls in ponds, unplayable, on paths, and beside a thing met today.

The courses are the demo course and two that map data has; of the latter all water is taken to be marked red. Everything is written into one
folder, so that two states of the code can be asked about the very same places.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.interchange.courses.course_geojson import read_course, write_course
from marram.interchange.maps.map_import import MapOptions, import_map

ROOT = Path(__file__).resolve().parents[1]
COURSES = {
    "demo": ROOT / "examples" / "courses" / "thimble-moor.geojson",
    "parkland": ROOT / "tests" / "data" / "courses" / "iom-parkland-18-ponds.osm",
    "flat": ROOT / "tests" / "data" / "courses" / "malta-flat-18-coarse.osm",
}
KINDS = ("pond", "unplayable", "path", "thing met today")
MET = ("ground-under-repair", "temporary-water", "animal-hole")
"""What may be met today and gives relief."""
LEAST_M2 = 1.0
SEED = 14
NO = {"another_reason_makes_stroke_unreasonable": False, "interference_only_by_unreasonable_stroke": False}
Place = dict[str, object]
Rng = np.random.Generator


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """A course on which places are drawn."""

    name: str
    course: Course
    rng: Rng

    def within(self, ground: BaseGeometry) -> Point:
        """A place anywhere within some ground."""
        parts = [part for part in shapely.get_parts(ground) if isinstance(part, Polygon) and part.area > LEAST_M2]
        part = parts[int(self.rng.integers(len(parts)))]
        while True:
            place = Point(self.rng.uniform(part.bounds[:2], part.bounds[2:]))
            if part.contains(place):
                return place

    def in_play(self) -> Point:
        """A place within 25 m of a line of play that is not in a penalty area."""
        lines = [hole.line for hole in self.course.holes.values() if hole.line is not None and hole.location is not None]
        wet = shapely.union_all([area.geometry for area in self.course.penalty_areas])
        while True:
            line = lines[int(self.rng.integers(len(lines)))]
            on = line.interpolate(self.rng.uniform(0.05, 0.95), normalized=True)
            place = Point(np.array(on.coords[0]) + self.rng.normal(0, 12, 2))
            if self.course.boundary.contains(place) and not wet.contains(place):
                return place

    def hole_at(self, place: Point) -> int:
        """The hole whose line of play is nearest."""
        played = [hole for hole in self.course.holes.values() if hole.line is not None and hole.location is not None]
        return min(played, key=lambda hole: hole.line.distance(place)).number  # type: ignore[union-attr]

    def stated(self, situation: str, ball: Point, **more: object) -> Place:
        """What an official would state of a ball."""
        return {
            "course": self.name,
            "hole": self.hole_at(ball),
            "situation": situation,
            "ball": list(ball.coords[0]),
            "hand": "left" if self.rng.random() < 0.2 else "right",
            "club": str(self.rng.choice(["driver", "iron", "wedge"])),
            "previous": list(self.in_play().coords[0]),
            "facts": {},
        } | more

    def pond(self) -> Place:
        """A ball in the water that came in over the nearest edge."""
        water = self.course.penalty_areas[int(self.rng.integers(len(self.course.penalty_areas)))].geometry
        ball = self.within(water)
        edge = nearest_points(water.boundary, ball)[0]
        return self.stated("penalty-area", ball, crossed=list(edge.coords[0]))

    def unplayable(self) -> Place:
        """A ball that its player does not want to play as it lies."""
        return self.stated("unplayable", self.in_play())

    def path(self) -> Place:
        """A ball on a path or another immovable obstruction."""
        paths = self.course.of_kind(FeatureKind.IMMOVABLE_OBSTRUCTION)
        ground = [path.geometry.intersection(self.course.boundary) for path in paths if isinstance(path.geometry, Polygon)]
        return self.stated("immovable-obstruction", self.within(shapely.union_all(ground)), facts=NO)

    def thing_met_today(self) -> Place:
        """A ball within a step of something that nobody has surveyed."""
        ball, kind = self.in_play(), str(self.rng.choice(MET))
        turns, radii_m = np.sort(self.rng.uniform(0, 2 * np.pi, 12)), self.rng.uniform(0.4, 2.5, 12)
        middle = np.array(ball.coords[0]) + self.rng.normal(0, 0.8, 2)
        rim = middle + radii_m[:, None] * np.column_stack([np.cos(turns), np.sin(turns)])
        thing = {"kind": kind, "outline": shapely.MultiPoint(rim).convex_hull.wkt}
        return self.stated(kind, ball, facts=NO, met=thing)


def draw_places(folder: Path, count: int) -> list[dict[str, object]]:
    """Draw places of every kind, kind by kind in turn, and write them and their courses into a folder.

    Returns:
        The places; each names its kind and its course.
    """
    grounds = []
    for name, file in COURSES.items():
        course = (
            read_course(file)
            if file.suffix == ".geojson"
            else import_map(file, MapOptions(draws_lines=True, marks=(("all", "red"),))).course
        )
        (folder / f"{name}.geojson").write_text(write_course(course), encoding="utf-8")
        grounds.append(Drawn(name=name, course=read_course(folder / f"{name}.geojson"), rng=np.random.default_rng(SEED)))
    places = []
    for number in range(count):
        kind, ground = KINDS[number % len(KINDS)], grounds[number // len(KINDS) % len(grounds)]
        draw = {"pond": ground.pond, "unplayable": ground.unplayable, "path": ground.path, "thing met today": ground.thing_met_today}[kind]
        places.append(draw() | {"kind": kind})
    (folder / "places.json").write_text(json.dumps(places), encoding="utf-8")
    return places
