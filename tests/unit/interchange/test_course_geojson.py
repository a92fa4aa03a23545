"""The course file: a round trip keeps the partition, and faults are told."""

from __future__ import annotations

from pathlib import Path

import pytest
from shapely.geometry import box

from marram.core.errors import SurveyError
from marram.core.terms import Area, FeatureKind
from marram.course.locate import locate
from marram.interchange.course_geojson import parse_course, read_course, write_course
from tests.support.ground import HOLE, course, feature, pond

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
