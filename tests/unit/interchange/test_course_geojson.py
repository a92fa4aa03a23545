"""The course file: a round trip keeps the partition, and faults are told."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest
from shapely.geometry import MultiPolygon, box

from marram.core.errors import SurveyError
from marram.core.terms import Area, FeatureKind, Mark
from marram.course.check.faults import FaultKind
from marram.course.check.whole import check_course
from marram.course.course import Course
from marram.course.locate import locate
from marram.interchange.courses.course_geojson import parse_course, read_course, write_course
from tests.support.ground import FRAME, HOLE, course, feature, pond

DEMO = Path(__file__).resolve().parents[3] / "examples" / "courses" / "thimble-moor.geojson"


def test_round_trip_keeps_the_partition() -> None:
    first = read_course(DEMO)
    second = parse_course(write_course(first), where="again")
    assert len(first.pieces) == len(second.pieces)
    for ours, theirs in zip(first.pieces, second.pieces, strict=True):
        assert ours.area is theirs.area
        assert ours.geometry.equals(theirs.geometry)


def test_partition_covers_the_course_once() -> None:
    ground = read_course(DEMO)
    assert sum(piece.geometry.area for piece in ground.pieces) == pytest.approx(ground.boundary.area, abs=0.01)


def test_areas_come_in_their_order() -> None:
    """Penalty area before bunker before green (Rules of Golf, January 2019, Rule 2.2c)."""
    ground = course(pond(), feature("sand", FeatureKind.BUNKER, box(-20, -50, 20, 5)))
    assert locate(ground, 1, HOLE.moved(0, -45)).area is Area.PENALTY_AREA
    assert locate(ground, 1, HOLE).area is Area.BUNKER
    assert locate(ground, 1, HOLE.moved(0, 8)).area is Area.PUTTING_GREEN
    assert locate(ground, 2, HOLE.moved(0, 8)).area is Area.GENERAL_AREA
    assert locate(ground, 1, HOLE.moved(500, 0)).area is Area.OUT_OF_BOUNDS


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{", "not JSON"),
        ("[]", "FeatureCollection"),
        ('{"type": "FeatureCollection", "features": []}', "origin"),
        ('{"type": "FeatureCollection", "features": [], "course": {"name": "a", "origin": [0, 50]}}', "boundary"),
        (write_course(course(pond())).replace('"kind": "penalty-area"', '"kind": "swamp"'), "swamp"),
        (write_course(course(pond())).replace('"mark": "red"', '"mark": "green"'), "mark"),
        (write_course(course(pond())).replace("[-2.0, 55.0]", "[55.0, -2.0]"), "swapped"),
    ],
)
def test_faults_say_what_is_wrong(text: str, words: str) -> None:
    with pytest.raises(SurveyError, match=words):
        parse_course(text, where="bad.geojson")


def file_of(ground: Course, name: str, properties: Mapping[str, object], ring: Sequence[Sequence[float]] = ()) -> str:
    """The text of a course file in which one feature has more properties, or another outline, given in metres."""
    raw = json.loads(write_course(ground))
    own = next(each for each in raw["features"] if each["properties"]["id"] == name)
    own["properties"] |= dict(properties)
    if ring:
        own["geometry"] = {"type": "Polygon", "coordinates": [[list(ground.frame.to_lonlat(HOLE.moved(*xy))) for xy in ring]]}
    return json.dumps(raw)


def read(text: str, name: str) -> tuple[Course, str]:
    """The course, and how one of its features was mended."""
    ground = parse_course(text, where="own.geojson")
    return ground, next(each.repaired for each in ground.features if each.id == name)


def test_an_outline_that_crosses_itself_is_mended_and_told() -> None:
    """It was refused before; a mended course with a fault in its list helps an official more than none."""
    bow_tie: list[list[float]] = [[-15, -70], [15, -40], [15, -70], [-15, -40], [-15, -70]]
    ground, how = read(file_of(course(pond()), "pond", {}, bow_tie), "pond")
    own = next(each for each in ground.features if each.id == "pond")
    assert own.geometry.is_valid
    assert own.geometry.area == pytest.approx(450, abs=0.1)
    assert "2 parts of 450.0 m²" in how
    fault = next(each for each in check_course(ground) if each.feature == "pond")
    assert fault.kind is FaultKind.SELF_CROSSING
    assert fault.stops_rulings
    assert fault.holes == (1,)


def test_an_open_ring_is_closed_and_told_with_the_length_of_the_side() -> None:
    """RFC 7946, section 3.1.6: the first and last positions of a ring are the same."""
    ground, how = read(file_of(course(pond()), "pond", {}, [[-15, -70], [15, -70], [15, -40], [-15, -40]]), "pond")
    assert next(each for each in ground.features if each.id == "pond").geometry.area == pytest.approx(900, abs=0.1)
    assert "straight side of 30.0 m" in how


@pytest.mark.parametrize(
    "ring",
    [
        [[-15, -70], [15.123, -40.377], [15, -70.301], [-14.877, -40], [-15, -70]],
        [[-15, -70], [15, -70], [15, -40], [-15, -40]],
        [[-15, -70], [15, -70], [15, -40], [0.333, -71.7], [-15, -40], [-15, -70]],
    ],
)
def test_what_was_mended_is_written_and_read_back_as_it_is(ring: list[list[float]]) -> None:
    first, how = read(file_of(course(pond()), "pond", {}, ring), "pond")
    assert how
    second, again = read(write_course(first), "pond")
    assert again == how
    assert second.features == first.features
    assert write_course(second) == write_course(first)


def test_what_was_proposed_and_assumed_is_read_and_kept() -> None:
    more = {"proposed": "red", "assumed": {"width": "1.5 m"}, "repaired": "drawn again", "source": "way/7", "colour": [1]}
    text = file_of(course(pond(Mark.UNMARKED)), "pond", more)
    ground, how = read(text, "pond")
    own = next(each for each in ground.features if each.id == "pond")
    assert (own.proposed, own.assumed, how) == (Mark.RED, (("width", "1.5 m"),), "drawn again")
    written = next(each for each in json.loads(write_course(ground))["features"] if each["properties"]["id"] == "pond")
    assert written["properties"]["source"] == "way/7"
    assert written["properties"]["colour"] == [1]


@pytest.mark.parametrize(
    ("properties", "words"),
    [
        ({"proposed": "blue"}, "proposed is 'blue'"),
        ({"proposed": "unmarked"}, "proposed is 'unmarked'"),
        ({"proposed": ["red"]}, "proposed is"),
        ({"assumed": ["width"]}, "assumed is"),
        ({"assumed": {"width": 2}}, "assumed is"),
        ({"repaired": 3}, "repaired is 3"),
    ],
)
def test_faulty_values_are_named(properties: dict[str, object], words: str) -> None:
    with pytest.raises(SurveyError, match=words):
        parse_course(file_of(course(pond()), "pond", properties), where="bad.geojson")


def test_several_boundaries_are_one_in_pieces() -> None:
    far = feature("far", FeatureKind.BOUNDARY, box(400, 0, 500, 100))
    beside = feature("beside", FeatureKind.BOUNDARY, box(300, -450, 350, 150))
    ground = parse_course(write_course(course(far, beside)), where="own")
    assert isinstance(ground.boundary, MultiPolygon)
    assert ground.boundary.area == pytest.approx(650 * 600 + 100 * 100, abs=1)
    assert locate(ground, 1, HOLE.moved(450, 50)).area is Area.GENERAL_AREA
    assert locate(ground, 1, HOLE.moved(375, 50)).area is Area.OUT_OF_BOUNDS


def test_without_a_boundary_it_is_read_and_says_so_where_one_is_needed() -> None:
    whole = json.loads(write_course(course(pond())))
    whole["features"] = [each for each in whole["features"] if each["properties"]["kind"] != "boundary"]
    ground = parse_course(json.dumps(whole), where="own.geojson")
    assert {fault.kind for fault in check_course(ground)} >= {FaultKind.NO_BOUNDARY}
    with pytest.raises(SurveyError, match="no boundary"):
        locate(ground, 1, HOLE)


def test_a_course_may_lie_across_the_date_line() -> None:
    """The same ground at longitude 180: places beyond it are written as -179.99, and the areas stay as they are."""
    text = write_course(course(pond()))
    raw = json.loads(text)
    raw["course"]["origin"] = [180.0, FRAME.lat_deg]
    for each in raw["features"]:
        each["geometry"]["coordinates"] = moved(each["geometry"]["coordinates"], 180.0 - FRAME.lon_deg)
    there = parse_course(json.dumps(raw), where="own.geojson")
    here = parse_course(text, where="own.geojson")
    for ours, theirs in zip(here.features, there.features, strict=True):
        assert theirs.geometry.equals_exact(ours.geometry, tolerance=0.0011)
    again = parse_course(write_course(there), where="own.geojson")
    assert again.features == there.features


def moved(coordinates: list[object] | float, east_deg: float) -> list[object]:
    """Coordinates moved east, held between -180 and 180 degrees."""
    assert isinstance(coordinates, list)
    if isinstance(coordinates[0], float):
        return [round((coordinates[0] + east_deg + 180) % 360 - 180, 9), *coordinates[1:]]
    return [moved(each, east_deg) for each in coordinates]  # type: ignore[arg-type]
