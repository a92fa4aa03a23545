"""Ten kinds of course on which program and oracle are compared, as the texts of course files."""

from __future__ import annotations

import itertools
import json
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

from marram.interchange.courses.course_geojson import write_course
from marram.interchange.maps.map_import import MapOptions, import_map
from tests.support.odd_courses import odd_course

_ROOT = Path(__file__).resolve().parents[3]
_DATA = _ROOT / "tests" / "data" / "courses"
PATHS = "odd: paths and repair"
ODD_KINDS = {
    "odd: islands, necks, inlets": ("island", "neck", "causeway", "comb", "needle", "many-corners"),
    "odd: joined water": ("shared-corner", "one-feature-two-parts", "chain", "filled-ring", "moat", "neck"),
    "odd: cut water, two marks": ("cut-by-water", "cut-by-boundary", "stream-in-and-out", "nested-water", "red-meets-yellow"),
    "odd: tees, greens, bunkers over each other": (
        "overlapping-tees",
        "tee-under-green",
        "double-green",
        "green-in-water",
        "bunker-in-water",
        "bunker-on-green",
    ),
    PATHS: ("touching-paths", "path-meets-repair", "path-ring", "path-through-water"),
}
ANYTHING = "odd: anything, odd surveys too"
REAL_KINDS = ("demo course", "real parkland, all water red", "real parkland, red and yellow", "real flat course")
KINDS = (*REAL_KINDS, *ODD_KINDS, ANYTHING)


@lru_cache
def real_course(kind: str) -> str:
    """One of the courses that are no odd ones."""
    if kind == "demo course":
        return (_ROOT / "examples" / "courses" / "thimble-moor.geojson").read_text(encoding="utf-8")
    if kind == "real flat course":
        return _imported("malta-flat-18-coarse.osm", (("all", "red"),))
    red = _imported("iom-parkland-18-ponds.osm", (("all", "red"),))
    if kind == "real parkland, all water red":
        return red
    water = [feature["properties"]["id"] for feature in json.loads(red)["features"] if feature["properties"]["kind"] == "penalty-area"]
    return _imported("iom-parkland-18-ponds.osm", (("all", "red"), *((name, "yellow") for name in water[::2])))


def _imported(name: str, marks: tuple[tuple[str, str], ...]) -> str:
    return write_course(import_map(_DATA / name, MapOptions(marks=marks)).course)


def courses(kind: str) -> Iterator[tuple[int, str]]:
    """The courses of a kind with their seeds: a real one once, odd ones without end."""
    if kind in REAL_KINDS:
        yield 0, real_course(kind)
        return
    for seed in itertools.count():
        yield seed, json.dumps(odd_course(seed, ODD_KINDS.get(kind)))
