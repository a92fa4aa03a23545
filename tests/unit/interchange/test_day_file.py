"""The conditions of a day: laid on the survey and kept apart from it, ruled on like the rest, with every fault told at once."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from shapely.geometry import Point, box

from marram.core.errors import SurveyError
from marram.core.terms import Area, FeatureKind, Mark
from marram.course.day import with_day
from marram.course.locate import locate
from marram.interchange.courses.course_geojson import read_course
from marram.interchange.field.day_file import day_schema, parse_day, read_day
from marram.office.open_course import open_course, open_with_day
from tests.support.ground import HOLE, course, feature, pond

ROOT = Path(__file__).resolve().parents[3]
DEMO, TODAY = ROOT / "examples/courses/thimble-moor.geojson", ROOT / "examples/days/2026-06-13.toml"
DATE = "date = 2026-06-13\n"
WATER = DATE + '[[conditions]]\nkind = "temporary-water"\n'
CUT = DATE + "[[hole_locations]]\nhole = 1\n"


@pytest.mark.parametrize(
    ("place", "x_m", "y_m"),
    [
        ("hole = 1\nbefore_green_m = 30\nright_m = 3", 3, -42),
        ("hole = 1\nbefore_green_m = 30", 0, -42),
        ("x_m = 3\ny_m = -42", 3, -42),
    ],
)
def test_a_condition_lies_where_it_is_stated(place: str, x_m: float, y_m: float) -> None:
    """The front of the round green of 12 m lies at y = -12, and the hole is played to the north."""
    day = parse_day(f"{WATER}{place}\nradius_m = 2\n", course(), where="day.toml")
    assert day.features[0].geometry.centroid.distance(Point(x_m, y_m)) < 0.05
    assert day.features[0].kind is FeatureKind.TEMPORARY_WATER
    assert day.features[0].is_surveyed


def test_accuracy_is_that_of_the_condition_then_of_the_file_then_unknown() -> None:
    water = WATER + "x_m = 0\ny_m = -42\nradius_m = 2\n"
    assert parse_day(water, course(), where="d").features[0].sigma_m is None
    assert parse_day("sigma_m = 0.3\n" + water, course(), where="d").features[0].sigma_m == 0.3
    assert parse_day("sigma_m = 0.3\n" + water + "sigma_m = 0.1\n", course(), where="d").features[0].sigma_m == 0.1


def test_the_survey_stays_as_it_is() -> None:
    survey = course()
    before = survey.features
    today = with_day(survey, parse_day(f"{CUT}on_m = 16\nleft_m = 9\n", survey, where="day.toml"))
    assert survey.features == before
    assert survey.hole(1).location == HOLE
    moved = today.hole(1).location
    assert moved is not None
    assert moved.xy == pytest.approx((-((12**2 - 4**2) ** 0.5) + 9, 4), abs=0.02)
    assert len(today.of_kind(FeatureKind.HOLE_LOCATION)) == 1
    assert json.loads(today.of_kind(FeatureKind.HOLE_LOCATION)[0].properties)["of_the_day"] == "2026-06-13"


def test_a_location_shared_by_two_holes_is_moved_for_one() -> None:
    both = course(feature("tee-2", FeatureKind.TEEING_AREA, box(50, -300, 60, -290), holes=(2,)))
    shared = [
        feature("cup", FeatureKind.HOLE_LOCATION, Point(1, 1), holes=(1, 2)) if each.id == "hole-1" else each for each in both.features
    ]
    survey = type(both)(name=both.name, frame=both.frame, sigma_m=None, features=tuple(shared), extra=both.extra)
    today = with_day(survey, parse_day(f"{CUT}x_m = 0\ny_m = 5\n", survey, where="d"))
    assert today.hole(1).location != today.hole(2).location
    assert today.hole(2).location == survey.hole(2).location


def test_a_penalty_area_of_the_day_is_located() -> None:
    text = DATE + '[[conditions]]\nkind = "penalty-area"\nmark = "red"\nx_m = 0\ny_m = -42\nradius_m = 5\n'
    survey = course()
    place = locate(with_day(survey, parse_day(text, survey, where="d")), 1, HOLE.moved(0, -42))
    assert (place.area, place.mark) == (Area.PENALTY_AREA, Mark.RED)
    assert locate(survey, 1, HOLE.moved(0, -42)).area is Area.GENERAL_AREA


def test_a_dropping_zone_serves_what_is_there() -> None:
    text = DATE + '[[conditions]]\nkind = "dropping-zone"\nserves = "pond"\nx_m = 20\ny_m = -42\nradius_m = 2\nholes = [1]\n'
    zone = parse_day(text, course(pond()), where="d").features[0]
    assert (zone.serves, zone.holes) == ("pond", (1,))
    with pytest.raises(SurveyError, match="nothing called 'pond'"):
        parse_day(text, course(), where="d")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "date' is missing"),
        ("date = 1\n", "a date"),
        (DATE + "colour = 1\n", "no member 'colour'"),
        (WATER + "radius_m = 2\n", "a place with radius_m"),
        (WATER + "x_m = 0\ny_m = 0\n", "a place with radius_m"),
        (WATER + "x_m = 0\nradius_m = 2\n", "as x_m and y_m"),
        (WATER + "x_m = 0\ny_m = 0\nhole = 1\nbefore_green_m = 3\nradius_m = 2\n", "Give the place once"),
        (WATER + "before_green_m = 3\nradius_m = 2\n", "Along a hole"),
        (WATER + "hole = 1\nbefore_green_m = nan\nradius_m = 2\n", "is no place"),
        (WATER + "x_m = 0\ny_m = 0\nradius_m = nan\n", "radius_m"),
        (WATER + "at = [55.0, -2.0]\nradius_m = 2\n", "look swapped"),
        (WATER + "at = [12.0, 48.0]\nradius_m = 2\n", "km from the middle"),
        (WATER + "ring = [[-2.0, 55.0], [-2.001, 55.001], [-2.0, 55.001], [-2.001, 55.0]]\n", "not crossing itself"),
        (WATER + 'x_m = 0\ny_m = 0\nradius_m = 2\nmark = "red"\n', "has a mark"),
        (WATER + 'x_m = 0\ny_m = 0\nradius_m = 2\nserves = "green-1"\n', "Only a dropping zone"),
        (WATER + 'x_m = 0\ny_m = 0\nradius_m = 2\nid = "green-1"\n', "something called 'green-1' already"),
        (WATER.replace("temporary-water", "swamp") + "x_m = 0\ny_m = 0\nradius_m = 2\n", "swamp"),
        (WATER + "hole = 9\nbefore_green_m = 3\nradius_m = 2\n", "no hole 9"),
        (CUT + "on_paces = 5\n", "Say on_paces"),
        (CUT + "on_paces = 5\nleft_m = 5\n", "all in metres"),
        (CUT + "on_paces = 5\nleft_paces = 5\nright_paces = 5\n", "Say on_paces"),
        (CUT + "on_m = 40\nleft_m = 5\n", "no green"),
        (CUT + "on_m = 12\nleft_m = 0.4\n", "0.40 m from the edge"),
        (CUT + "x_m = 30\ny_m = 0\n", "18.0 m off the green"),
        (CUT + "x_m = 0\ny_m = 0\non_m = 3\n", "Give the place once"),
        (CUT + "on_m = 12\nleft_m = 5\n[[hole_locations]]\nhole = 1\non_m = 12\nleft_m = 6\n", "hole 1 is given more than once"),
        ("pace_m = 9\n" + CUT + "on_m = 12\nleft_m = 5\n", "pace"),
    ],
)
def test_what_is_wrong_is_told(text: str, words: str) -> None:
    with pytest.raises(SurveyError) as caught:
        parse_day(text, course(), where="day.toml")
    assert str(caught.value).startswith("day.toml")
    assert re.search(words, str(caught.value)), str(caught.value)


def test_every_fault_is_told_in_one_pass() -> None:
    text = (
        WATER + 'radius_m = 2\n[[conditions]]\nkind = "animal-hole"\nhole = 9\nbefore_green_m = 3\nradius_m = 1\n' + CUT.removeprefix(DATE)
    )
    with pytest.raises(SurveyError, match=r"3 faults:\n  conditions 1: (.|\n)*conditions 2: (.|\n)*hole_locations 1: "):
        parse_day(text, course(), where="day.toml")


def test_a_file_that_is_no_text_is_told(tmp_path: Path) -> None:
    path = tmp_path / "day.toml"
    path.write_bytes(b"date = 2026-06-13 # \xe9")
    with pytest.raises(SurveyError, match="not UTF-8"):
        read_day(path, course())


def test_the_example_is_laid_on_the_demo_course() -> None:
    opened = open_with_day(DEMO, TODAY)
    survey = read_course(DEMO)
    assert opened.day is not None
    assert opened.day.remarks == ()
    assert len(opened.course.features) == len(survey.features) + 3
    assert opened.course.hole(9).location != survey.hole(9).location
    assert opened.course.hole(8).location == survey.hole(8).location
    assert "2026-06-13" in opened.day.words
    assert "puddle (today-1)" in opened.day.words
    assert "holes 7, 9 are cut" in opened.day.words
    assert open_course(DEMO, None).features == survey.features


def test_the_schema_names_what_may_stand() -> None:
    assert "hole_locations" in json.dumps(day_schema())
