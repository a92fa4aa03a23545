"""Surveys that lack nearly everything, or hold what cannot be: each told by what is wrong, where, and what would be right."""

from __future__ import annotations

import json
import math
import re

import pytest
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box

from marram.core.errors import SurveyError
from marram.core.terms import Area, FeatureKind, Mark
from marram.course.check.faults import Fault, FaultKind, Weight
from marram.course.check.whole import check_course
from marram.course.course import Course
from marram.course.frame import Position
from marram.course.holes import Hole
from marram.course.locate import locate
from marram.interchange.courses.course_geojson import parse_course
from tests.support.ground import course, feature
from tests.support.odd_courses import odd_course

KIND = FeatureKind


def odd(*oddities: str) -> Course:
    return parse_course(json.dumps(odd_course(1, oddities)), where="odd.geojson")


def of_kind(ground: Course, kind: FaultKind) -> list[Fault]:
    return [fault for fault in check_course(ground) if fault.kind is kind]


def test_nothing_but_a_boundary() -> None:
    (fault,) = check_course(odd("boundary-only"))
    assert fault.kind is FaultKind.MISSING_HOLE
    assert fault.stops_rulings
    assert "no hole" in fault.message
    assert "Draw or walk" in fault.remedy


def test_nothing_but_a_boundary_and_one_hole() -> None:
    (missing,) = check_course(odd("one-hole"))
    assert missing.message == "Of 9 holes, 8 are nowhere in the survey: 2, 3, 4, 5, 6, 7, 8, 9."
    assert missing.holes == tuple(range(2, 10))


@pytest.mark.parametrize(
    ("lacks", "kinds"),
    [
        ("no-greens", {FaultKind.MISSING_GREEN}),
        ("no-tees", {FaultKind.MISSING_TEE}),
        ("no-lines", {FaultKind.MISSING_LINE}),
        ("lines-and-pins", {FaultKind.MISSING_GREEN, FaultKind.MISSING_TEE}),
        ("no-boundary", {FaultKind.NO_BOUNDARY}),
        ("no-water-no-bunkers", set()),
    ],
)
def test_a_whole_kind_that_lacks(lacks: str, kinds: set[FaultKind]) -> None:
    found = {fault.kind for fault in check_course(odd(lacks))}
    assert found - {FaultKind.MISSING_HOLE, FaultKind.STROKE_INDEX} == kinds


def greens(count: int, *, numbered: tuple[int, ...] = ()) -> Course:
    """So many greens in a row, of which some have a number."""
    put = [
        feature(f"g-{n}", KIND.PUTTING_GREEN, box(-280 + 25 * n, -100, -262 + 25 * n, -80), holes=(n,) if n in numbered else ())
        for n in range(1, count + 1)
    ]
    bare = course(*put)
    kept = tuple(each for each in bare.features if not each.holes or each.id.startswith("g-"))
    return Course(name=bare.name, frame=bare.frame, sigma_m=bare.sigma_m, features=kept)


@pytest.mark.parametrize(
    ("there", "numbered", "of"),
    [
        (18, (2,), 18),  # a map with eighteen greens is one of eighteen holes, whichever is numbered
        (20, (2,), 18),  # with two practice greens
        (17, (2,), 18),  # with one that nobody mapped
        (10, (2,), 9),
        (9, (2,), 9),
        (3, (1,), 9),
        (18, (), 18),
        (1, (1,), 9),
    ],
)
def test_holes_are_counted_by_what_is_there(there: int, numbered: tuple[int, ...], of: int) -> None:
    (missing,) = of_kind(greens(there, numbered=numbered), FaultKind.MISSING_HOLE)
    assert missing.message.startswith(f"Of {of} holes, {of - len(numbered)} are nowhere")
    waiting = there - len(numbered)
    assert (f"{waiting} putting green{'s' * (waiting != 1)} there serve" in missing.message) is (waiting > 0)


def test_spare_greens_beside_nine_numbered_ones_make_no_other_round() -> None:
    assert not of_kind(greens(16, numbered=tuple(range(1, 10))), FaultKind.MISSING_HOLE)


def test_features_of_no_width_are_told_and_no_ball_lies_in_them() -> None:
    ground = odd("sliver")
    faults = of_kind(ground, FaultKind.NO_WIDTH)
    assert [fault.feature.split("-")[0] for fault in faults] == ["bunker", "pond"]
    assert re.search(r": 0\.0\d\d m² along 4\.0 m", faults[0].message)  # 2 mm by 4 m, turned, on whole millimetres
    assert "Draw both sides" in faults[0].remedy


@pytest.mark.parametrize(("wide_m", "is_told"), [(0.040, True), (0.045, False)])
def test_ground_a_ball_wide_is_told_no_more(wide_m: float, is_told: bool) -> None:
    """A ball measures 42.67 mm (Equipment Rules, January 2019)."""
    ditch = feature("ditch", KIND.PENALTY_AREA, box(20, -60, 20 + wide_m, -40), mark=Mark.RED)
    assert bool(of_kind(course(ditch), FaultKind.NO_WIDTH)) is is_told


def test_a_wire_may_be_thin() -> None:
    assert not of_kind(course(feature("wire", KIND.BOUNDARY_OBJECT, box(20, -60, 20.01, -40), what="fence")), FaultKind.NO_WIDTH)


def test_an_outline_without_any_ground_is_refused() -> None:
    raw = odd_course(1, ())
    raw["features"].append(  # type: ignore[attr-defined]
        {
            "type": "Feature",
            "properties": {"id": "thread", "kind": "bunker"},
            "geometry": {"type": "Polygon", "coordinates": [[raw["course"]["origin"]] * 4]},  # type: ignore[index]
        }
    )
    with pytest.raises(SurveyError, match=r"\(thread\): .*holds no ground; draw both sides"):
        parse_course(json.dumps(raw), where="c.geojson")


def test_a_line_of_play_without_length_is_refused() -> None:
    raw = odd_course(1, ())
    line = next(each for each in raw["features"] if each["properties"]["id"] == "line-2")  # type: ignore[attr-defined]
    line["geometry"]["coordinates"] = line["geometry"]["coordinates"][:1] * 2
    with pytest.raises(SurveyError, match=r"\(line-2\): the line begins where it ends.*back tee"):
        parse_course(json.dumps(raw), where="c.geojson")


def test_a_line_that_turns_back_on_itself_still_has_a_left_and_a_right() -> None:
    green = feature("g", KIND.PUTTING_GREEN, box(-5, 95, 5, 105), holes=(1,))
    hole = Hole(number=1, line=LineString([(0, 0), (0, 105), (0, 60)]), location=None, par=4, stroke_index=1, green=green)
    assert hole.before_green(-10.0, 2.0) is not None  # exactly where it turns
    assert hole.before_green(95.0, 2.0) == Position(x_m=2.0, y_m=0.0)


def test_two_features_with_one_name_are_refused_with_both_places() -> None:
    raw = odd_course(1, ())
    raw["features"][3]["properties"]["id"] = raw["features"][1]["properties"]["id"]  # type: ignore[index]
    with pytest.raises(SurveyError, match=r"feature 4 \(tee-1\): feature 2 has the id tee-1 already; give each"):
        parse_course(json.dumps(raw), where="c.geojson")


def test_a_hole_location_in_water() -> None:
    (fault,) = of_kind(odd("hole-in-water"), FaultKind.LOCATION_IN_WATER)
    assert (fault.feature, fault.holes, fault.stops_rulings) == ("hole-1", (1,), True)
    assert "ends at the green" in fault.remedy
    assert fault.at == odd("hole-in-water").hole(1).location
    assert not of_kind(odd(), FaultKind.LOCATION_IN_WATER)


def test_pieces_five_kilometres_apart_are_told_with_the_distance() -> None:
    ground = odd("two-pieces")
    (fault,) = of_kind(ground, FaultKind.BOUNDARY_IN_PIECES)
    assert fault.weight is Weight.NOTES
    assert "2 pieces (12.00 ha, 3.20 ha), up to 4760 m apart" in fault.message
    assert "another course" in fault.remedy
    assert locate(ground, 4, Position(x_m=4950.0, y_m=-10.0)).area is Area.PENALTY_AREA
    assert locate(ground, 4, Position(x_m=2500.0, y_m=0.0)).area is Area.OUT_OF_BOUNDS


def test_three_pieces_tell_the_farthest() -> None:
    boundary = MultiPolygon([box(0, 0, 100, 100), box(150, 0, 250, 100), box(0, 400, 100, 500)])
    ground = course(boundary=boundary)  # type: ignore[arg-type]
    (fault,) = of_kind(ground, FaultKind.BOUNDARY_IN_PIECES)
    assert "up to 300 m apart" in fault.message


def test_thirty_thousand_corners() -> None:
    turns = [2 * math.pi * number / 30_000 for number in range(30_000)]
    pond = Polygon([(60 + 30 * math.cos(turn), -150 + 30 * math.sin(turn)) for turn in turns])
    ground = course(feature("lake", KIND.PENALTY_AREA, pond, mark=Mark.RED, what="lake"))
    (fault,) = of_kind(ground, FaultKind.MANY_CORNERS)
    assert "lake (lake) has 30,000 corners, one every 0.006 m" in fault.message
    assert {fault.kind for fault in check_course(ground)} == {FaultKind.MISSING_HOLE, FaultKind.MANY_CORNERS}
    (area,) = ground.penalty_areas
    assert area.geometry.area == pytest.approx(math.pi * 900, rel=1e-5)
    place = locate(ground, 1, Position(x_m=60.0, y_m=-150.0))
    assert place.margin_m == pytest.approx(30, abs=0.002)
    assert Point(60, -150).within(area.geometry)


@pytest.mark.parametrize("order", [1, -1])
def test_an_overlap_tells_the_water_that_a_ball_lies_in(order: int) -> None:
    """A small yellow pool in a large red pond, in either order of the file: what the check says comes first is what a ball is in."""
    waters = [
        feature("pond", KIND.PENALTY_AREA, box(20, -80, 60, -40), mark=Mark.RED, what="pond"),
        feature("pool", KIND.PENALTY_AREA, box(30, -70, 40, -60), mark=Mark.YELLOW, what="pool"),
    ]
    ground = course(*waters[::order])
    (fault,) = of_kind(ground, FaultKind.OVERLAP)
    assert fault.message == "100.0 m² of pond (red pond, 6% of it) lie under pool; pool (yellow pool) comes first there."
    assert locate(ground, 1, Position(x_m=35.0, y_m=-65.0)).mark is Mark.YELLOW
