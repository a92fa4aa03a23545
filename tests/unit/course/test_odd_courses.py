"""The odd courses that other tests start from are what they say: each oddity comes up, each file is read, and equal seeds are equal."""

from __future__ import annotations

import json

import pytest
import shapely
from shapely.geometry import Point

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.interchange.courses.course_geojson import parse_course
from tests.support.odd_courses import odd_course
from tests.support.odd_ground import NECK_M, ON_THE_GROUND
from tests.support.odd_surveys import OF_THE_SURVEY


def read(seed: int, *oddities: str) -> Course:
    return parse_course(json.dumps(odd_course(seed, oddities)), where=f"odd course {seed}")


def told(course: Course) -> set[tuple[object, ...]]:
    """What a course says of each feature."""
    return {(feature.id, feature.geometry.wkt, feature.holes, feature.mark, feature.sigma_m, feature.par) for feature in course.features}


@pytest.mark.parametrize("oddity", [*ON_THE_GROUND, *OF_THE_SURVEY])
def test_each_oddity_alone_is_a_course_file_and_changes_the_sound_one(oddity: str) -> None:
    # What is laid on water that is not there changes nothing; everything else does.
    assert (told(read(3, oddity)) != told(read(3))) is (oddity != "no-water-no-bunkers")


def test_equal_seeds_give_equal_courses() -> None:
    assert json.dumps(odd_course(41)) == json.dumps(odd_course(41))
    assert json.dumps(odd_course(41)) != json.dumps(odd_course(42))


def test_three_hundred_seeds_show_each_oddity() -> None:
    shown = [odd_course(seed)["course"]["oddities"] for seed in range(300)]  # type: ignore[index]
    assert {name for names in shown for name in names} == {*ON_THE_GROUND, *OF_THE_SURVEY}
    assert all(3 <= len(names) <= 7 for names in shown)


def test_a_neck_is_as_wide_as_it_says() -> None:
    water = next(feature for feature in read(5, "neck").features if feature.kind is FeatureKind.PENALTY_AREA)
    assert water.geometry.is_valid
    parts = [len(shapely.get_parts(water.geometry.buffer(-NECK_M / 2 + in_m))) for in_m in (0.002, -0.002)]
    assert parts == [1, 2]


def test_a_shared_corner_is_one_point_to_the_millimetre() -> None:
    first, second = (feature.geometry for feature in read(8, "shared-corner").features if feature.kind is FeatureKind.PENALTY_AREA)
    assert isinstance(first.intersection(second), Point)


def test_pieces_lie_five_kilometres_apart() -> None:
    west, east = (part for part in read(2, "two-pieces").boundary.geoms)  # type: ignore[union-attr]
    assert west.distance(east) == pytest.approx(5000 - 240, abs=1)
