"""Sheets of hole locations: what officials write becomes a place on the green, and a place is told as they write it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon, box

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.hole_locations import Side, place_location, tell_location
from marram.course.holes import Hole
from marram.interchange.courses.course_geojson import parse_course, write_course
from marram.interchange.courses.hole_location_sheet import read_hole_locations
from tests.support.ground import course, feature
from tests.support.random_ground import blob

YARD_M = 0.9144


def square_green(line: LineString | None = None) -> Course:
    """A green of 20 m by 30 m, played to from the south: its front edge lies along y = -10."""
    ground = course()
    own = {
        "green-1": feature("green-1", FeatureKind.PUTTING_GREEN, box(-10, -10, 10, 20), holes=(1,)),
        "line-1": feature("line-1", FeatureKind.LINE_OF_PLAY, line or LineString([(0, -380), (0, 0)]), holes=(1,)),
    }
    features = tuple(own.get(each.id, each) for each in ground.features)
    return Course(name=ground.name, frame=ground.frame, sigma_m=ground.sigma_m, features=features, extra=ground.extra)


def read(tmp_path: Path, text: str, ground: Course | None = None, **options: float) -> Course:
    path = tmp_path / "holes.csv"
    path.write_text(text, encoding="utf-8")
    return read_hole_locations(ground or square_green(), path, **options).course


@pytest.mark.parametrize(
    ("text", "x_m", "y_m"),
    [
        ("hole,on,left\n1,10,5\n", -10 + 5 * YARD_M, -10 + 10 * YARD_M),
        ("hole,on_paces,right_paces\n1,10,5\n", 10 - 5 * YARD_M, -10 + 10 * YARD_M),
        ("Hole;On m;Left m\n1;12,5;4\n", -6, 2.5),
        ("hole,on_m,left_m,right_m\n1,25,,4\n", 6, 15),
    ],
    ids=["paces-left", "paces-right", "metres", "beyond-the-end-of-the-line"],
)
def test_places_are_measured_from_front_and_edge(tmp_path: Path, text: str, x_m: float, y_m: float) -> None:
    location = read(tmp_path, text).hole(1).location
    assert location is not None
    assert location.xy == pytest.approx((x_m, y_m), abs=0.002)


def test_the_pace_may_be_stated(tmp_path: Path) -> None:
    location = read(tmp_path, "hole,on,left\n1,10,5\n", pace_m=0.8).hole(1).location
    assert location is not None
    assert location.xy == pytest.approx((-6, -2), abs=0.002)
    with pytest.raises(SurveyError, match="pace"):
        read(tmp_path, "hole,on,left\n1,10,5\n", pace_m=3)


def test_left_is_left_of_the_last_leg(tmp_path: Path) -> None:
    """The hole bends and comes in from the west, so that left is north."""
    ground = square_green(LineString([(-300, -380), (-300, 5), (0, 5)]))
    location = read(tmp_path, "hole,on_m,left_m\n1,8,3\n", ground).hole(1).location
    assert location is not None
    assert location.xy == pytest.approx((-2, 17), abs=0.002)


def test_written_form_and_place_are_both_kept(tmp_path: Path) -> None:
    ground = read(tmp_path, "hole,on,left\n1,10,5\n")
    again = parse_course(write_course(ground), where="again")
    kept = [each for each in again.features if each.kind is FeatureKind.HOLE_LOCATION]
    assert len(kept) == 1
    assert json.loads(kept[0].properties)["written"] == {"on": 10, "left": 5, "unit": "paces"}
    assert json.loads(kept[0].properties)["pace_m"] == YARD_M
    assert kept[0].sigma_m is None
    assert again.hole(1).location == ground.hole(1).location


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("hole,on,left\n1,10,0.5\n", "0.46 m from the edge.*1 m is the least"),
        ("hole,on_m,left_m\n1,31,5\n", "31.0 m on from its front there is no green"),
        ("hole,on_m,left_m\n1,10,25\n", "the green is 20.0 m wide, so 25.0 m from its left edge is off it"),
        ("hole,on_m,left_m\n9,10,5\nx,1,1\n,1,1\n1,,1\n1,1,\n", "row 2.*no hole 9(.|\n)*row 3(.|\n)*row 4(.|\n)*row 5(.|\n)*row 6"),
        ("hole,on_m,left_m\n1,10,5\n1,11,5\n", "row 3.*earlier row"),
        ("hole,on,left_m\n1,10,5\n", "two units"),
        ("hole,on,left,right\n1,10,5,5\n", "once how far from the left or from the right"),
        ("hole,on,left\n1,-10,5\n", "expected 0 to 150"),
        ("hole,on,left\n", "no hole"),
        ("hole,on\n1,10\n", "Needed: hole, on_paces, left_paces"),
        ("", "empty"),
    ],
)
def test_what_is_wrong_is_told_by_row(tmp_path: Path, text: str, words: str) -> None:
    with pytest.raises(SurveyError) as caught:
        read(tmp_path, text)
    told = str(caught.value)
    assert told.startswith("holes.csv")
    assert re.search(words, told), told


def test_a_hole_without_line_or_green_is_told(tmp_path: Path) -> None:
    ground = course(feature("tee-2", FeatureKind.TEEING_AREA, box(50, 50, 60, 60), holes=(2,)))
    with pytest.raises(SurveyError, match="Hole 2 has no line of play that meets its green"):
        read(tmp_path, "hole,on,left\n2,10,5\n", ground)


def test_a_green_in_two_stretches_is_measured_where_only_one_fits() -> None:
    """At 20 m on, a horseshoe has two arms, 4 m and 12 m wide."""
    shoe = Polygon([(-10, -10), (14, -10), (14, 20), (2, 20), (2, 5), (-6, 5), (-6, 20), (-10, 20)])
    green = feature("green-1", FeatureKind.PUTTING_GREEN, shoe, holes=(1,))
    hole = hole_of(green, LineString([(0, -100), (0, 0)]))
    assert place_location(hole, on_m=20, side=Side.LEFT, in_m=8).xy == pytest.approx((10, 10), abs=0.002)
    with pytest.raises(SurveyError, match="lies in 2 stretches, and 3.0 m from the left edge fits 2"):
        place_location(hole, on_m=20, side=Side.LEFT, in_m=3)
    told = tell_location(hole, Position(x_m=10, y_m=10))
    assert told is not None
    assert (told.on_m, told.left_m, told.right_m) == pytest.approx((20, 8, 4), abs=0.002)


def hole_of(green: Feature, line: LineString) -> Hole:
    return Hole(number=1, line=line, location=None, par=4, stroke_index=1, green=green)


@given(number=st.integers(0, 10_000), across=st.floats(-0.6, 0.6), deep=st.floats(-0.6, 0.6), turn=st.floats(-1, 1))
def test_telling_is_the_inverse_of_placing(number: int, across: float, deep: float, turn: float) -> None:
    """On a random green with a random last leg, a place told and placed again is the same place."""
    outline: Polygon = blob(np.random.default_rng(number), 0, 0, 14)
    hole = hole_of(feature("green-1", FeatureKind.PUTTING_GREEN, outline, holes=(1,)), LineString([(200 * turn, -200), (0, 0)]))
    place = Position(x_m=14 * across, y_m=14 * deep)
    told = tell_location(hole, place)
    if not outline.covers(Point(place.xy)):
        assert told is None
        return
    assert told is not None
    for side, in_m in ((Side.LEFT, told.left_m), (Side.RIGHT, told.right_m)):
        try:
            again = place_location(hole, on_m=told.on_m, side=side, in_m=in_m)
        except SurveyError as problem:
            assert "stretches" in problem.message  # a green with an arm: two places fit, and none is guessed
            continue
        assert again.distance_m(place) < 0.005
