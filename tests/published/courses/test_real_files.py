"""Two real courses from open map data: what their carrier says they hold, and what a course must be.

Source: tests/data/courses/SOURCES.md, column *contents*. (c) OpenStreetMap contributors, Open Database License (ODbL) 1.0.
"""

from __future__ import annotations

from collections import Counter
from functools import lru_cache
from pathlib import Path

import pytest
from shapely.geometry import Point

from marram.core.terms import FeatureKind, Mark
from marram.course.check.faults import FaultKind
from marram.course.check.whole import check_course
from marram.course.course import Course
from marram.interchange.courses.course_geojson import parse_course, write_course
from marram.interchange.courses.imported import Imported
from marram.interchange.maps.map_import import MapOptions, import_map
from marram.sheets.drawn.course_drawing import draw_course
from marram.sheets.drawn.course_paper import Paper, draw_course_on_paper

_DATA = Path(__file__).parents[2] / "data" / "courses"
PARKLAND, FLAT = _DATA / "iom-parkland-18-ponds.osm", _DATA / "malta-flat-18-coarse.osm"


@lru_cache
def imported(path: Path) -> Imported:
    return import_map(path, MapOptions())


def kinds(course: Course) -> Counter[FeatureKind]:
    return Counter(feature.kind for feature in course.features)


def test_the_parkland_holds_what_its_source_says() -> None:
    found = kinds(imported(PARKLAND).course)
    assert found[FeatureKind.LINE_OF_PLAY] == 18
    assert found[FeatureKind.PUTTING_GREEN] == 18
    assert found[FeatureKind.TEEING_AREA] == 30
    assert found[FeatureKind.FAIRWAY] == 17
    assert found[FeatureKind.BUNKER] == 41


def test_the_flat_course_holds_what_its_source_says() -> None:
    found = kinds(imported(FLAT).course)
    assert found[FeatureKind.PUTTING_GREEN] == 18
    assert found[FeatureKind.LINE_OF_PLAY] == 1
    assert found[FeatureKind.FAIRWAY] == 15
    assert found[FeatureKind.BUNKER] == 41
    assert found[FeatureKind.TEEING_AREA] == 14


@pytest.mark.parametrize("number", range(1, 19))
def test_each_hole_of_the_parkland_runs_from_a_tee_to_its_green(number: int) -> None:
    course = imported(PARKLAND).course
    hole = course.hole(number)
    assert hole.line is not None and hole.green is not None and hole.location is not None
    start, end = Point(hole.line.coords[0]), Point(hole.line.coords[-1])
    tees = [tee for tee in course.of_kind(FeatureKind.TEEING_AREA) if number in tee.holes]
    assert min(tee.geometry.distance(start) for tee in tees) <= 1.0
    assert hole.green.geometry.distance(end) == 0
    assert hole.green.geometry.covers(Point(hole.location.xy))


def test_par_and_stroke_index_are_read() -> None:
    course = imported(PARKLAND).course
    assert sorted(hole.stroke_index or 0 for hole in course.holes.values()) == list(range(1, 19))
    assert {hole.par for hole in course.holes.values()} == {3, 4, 5}


@pytest.mark.parametrize("path", [PARKLAND, FLAT], ids=["parkland", "flat"])
def test_writing_and_reading_gives_the_same_partition(path: Path) -> None:
    course = imported(path).course
    text = write_course(course)
    again = parse_course(text, where="again")
    assert write_course(again) == text
    assert len(again.pieces) == len(course.pieces)
    for first, second in zip(course.pieces, again.pieces, strict=True):
        assert first.area is second.area
        assert first.geometry.symmetric_difference(second.geometry).area < 0.05
    assert sum(piece.geometry.area for piece in again.pieces) == pytest.approx(
        again.boundary.area, abs=0.05
    )  # slivers under 0.01 m² each are dropped


@pytest.mark.parametrize("path", [PARKLAND, FLAT], ids=["parkland", "flat"])
def test_nothing_is_lost_in_silence(path: Path) -> None:
    """Every thing with a word for ground that lies in the file is a feature, or is named among what was left out."""
    import osmium

    made = imported(path)
    told = {name for entry in made.left_out for name in entry.names}
    told |= {name for feature in made.course.features for name in [_source(feature.properties)] if name}
    silent = []
    for thing in osmium.FileProcessor(str(path)):
        name = f"{type(thing).__name__.lower()}/{thing.id}"
        if "golf" in thing.tags and name not in told:
            silent.append(name)
    assert silent == []


def _source(properties: str) -> str:
    import json

    return str(json.loads(properties).get("source", ""))


def test_water_is_unmarked_until_somebody_decides() -> None:
    water = imported(PARKLAND).course.of_kind(FeatureKind.PENALTY_AREA)
    assert water
    assert {feature.mark for feature in water} == {Mark.UNMARKED}
    red = import_map(PARKLAND, MapOptions(marks=(("all", "red"), (water[0].id, "yellow")))).course
    assert Counter(feature.mark for feature in red.of_kind(FeatureKind.PENALTY_AREA)) == {Mark.YELLOW: 1, Mark.RED: len(water) - 1}


def test_the_messy_course_has_a_long_list_of_faults() -> None:
    course = imported(FLAT).course
    found = Counter(fault.kind for fault in check_course(course))
    assert found[FaultKind.SERVES_NO_HOLE] >= 17 + 13
    assert found[FaultKind.MISSING_HOLE] == 1
    assert found[FaultKind.UNMARKED_WATER] == len(course.of_kind(FeatureKind.PENALTY_AREA))
    assert found[FaultKind.ACCURACY_UNKNOWN] == 1


def test_the_licence_travels_with_the_course() -> None:
    text = write_course(imported(PARKLAND).course)
    assert "Open Database License" in text
    assert "OpenStreetMap contributors" in text
    course = parse_course(text, where="again")
    for drawing in (draw_course(course, hole=11), draw_course_on_paper(course, hole=11, paper=Paper.A4, scale=None)):
        assert "OpenStreetMap contributors" in drawing
