"""Each fault on a small course that has it, and none on the twin that does not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box

from marram.core.terms import FeatureKind, Mark
from marram.course.check.faults import Fault, FaultKind, LeftOut, Weight
from marram.course.check.whole import check_course
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Frame
from tests.support.random_ground import random_crossing

SIGMA_M = 0.05
KIND = FeatureKind


def made(name: str, kind: FeatureKind, geometry: object, **more: object) -> Feature:
    return Feature(id=name, kind=kind, geometry=geometry, **{"sigma_m": SIGMA_M, **more})  # type: ignore[arg-type]


def nine(**changed: Feature | None) -> Course:
    """Nine sound holes; a feature is replaced by its name, or taken away by None."""
    features: dict[str, Feature | None] = {"boundary": made("boundary", KIND.BOUNDARY, box(-50, -50, 1000, 400))}
    for number in range(1, 10):
        x = 100.0 * number
        own = {"holes": (number,)}
        features |= {
            f"tee-{number}": made(f"tee-{number}", KIND.TEEING_AREA, box(x - 5, 0, x + 5, 10), **own),
            f"green-{number}": made(f"green-{number}", KIND.PUTTING_GREEN, box(x - 10, 200, x + 10, 220), **own),
            f"line-{number}": made(f"line-{number}", KIND.LINE_OF_PLAY, LineString([(x, 5), (x, 210)]), par=4, stroke_index=number, **own),
            f"hole-{number}": made(f"hole-{number}", KIND.HOLE_LOCATION, Point(x, 212), **own),
        }
    for name, feature in changed.items():
        key = name.replace("_", "-")
        features[key] = feature
    kept = tuple(feature for feature in features.values() if feature is not None)
    return Course(name="Nine", frame=Frame(-2.0, 55.0), sigma_m=SIGMA_M, features=kept)


def at(course: Course, name: str) -> Feature:
    return next(feature for feature in course.features if feature.id == name)


def only(course: Course, left_out: tuple[LeftOut, ...] = ()) -> Fault:
    faults = check_course(course, left_out)
    assert len(faults) == 1, [fault.message for fault in faults]
    return faults[0]


def test_a_sound_course_has_no_faults() -> None:
    assert check_course(nine()) == ()


SOUND = nine()
POND = made("pond", KIND.PENALTY_AREA, box(130, 100, 160, 130), mark=Mark.UNMARKED, proposed=Mark.RED, what="pond")
CASES: list[tuple[FaultKind, Course, bool]] = [
    (FaultKind.BOUNDARY_ASSUMED, nine(boundary=replace(at(SOUND, "boundary"), assumed=(("outline", "drawn about golf"),))), True),
    (
        FaultKind.BOUNDARY_IN_PIECES,
        nine(boundary=replace(at(SOUND, "boundary"), geometry=MultiPolygon([box(-50, -50, 1000, 400), box(2000, 0, 2100, 100)]))),
        False,
    ),
    (FaultKind.OUTSIDE_BOUNDARY, nine(sand=made("sand", KIND.BUNKER, box(2000, 0, 2010, 10))), False),
    (FaultKind.OUTSIDE_BOUNDARY, nine(sand=made("sand", KIND.BUNKER, box(995, 0, 1010, 10))), False),
    (FaultKind.OPEN_RING, nine(green_3=replace(at(SOUND, "green-3"), repaired="a ring was open; it was closed by a straight side")), True),
    (FaultKind.SELF_CROSSING, nine(green_3=replace(at(SOUND, "green-3"), repaired="the outline crossed itself; it was mended")), True),
    (FaultKind.OVERLAP, nine(sand=made("sand", KIND.BUNKER, box(305, 195, 330, 215))), False),
    (FaultKind.MISSING_LINE, nine(line_4=None), False),
    (FaultKind.MISSING_GREEN, nine(green_4=None), True),
    (FaultKind.MISSING_TEE, nine(tee_4=None), False),
    (FaultKind.MISSING_LOCATION, nine(hole_4=None), True),
    (FaultKind.LOCATION_ASSUMED, nine(hole_4=replace(at(SOUND, "hole-4"), assumed=(("place", "the middle of the green"),))), False),
    (FaultKind.LOCATION_OFF_GREEN, nine(hole_4=replace(at(SOUND, "hole-4"), geometry=Point(400, 230))), True),
    (FaultKind.LINE_OFF_GREEN, nine(line_4=replace(at(SOUND, "line-4"), geometry=LineString([(400, 5), (400, 190)]))), False),
    (FaultKind.LINE_OFF_TEE, nine(line_4=replace(at(SOUND, "line-4"), geometry=LineString([(400, 20), (400, 210)]))), False),
    (FaultKind.PAR, nine(line_4=replace(at(SOUND, "line-4"), par=8)), False),
    (FaultKind.PAR, nine(line_4=replace(at(SOUND, "line-4"), par=None)), False),
    (FaultKind.SEVERAL_FOR_HOLE, nine(second=made("second", KIND.PUTTING_GREEN, box(300, 300, 320, 320), holes=(4,))), False),
    (FaultKind.SEVERAL_FOR_HOLE, nine(second=made("second", KIND.HOLE_LOCATION, Point(405, 212), holes=(4,))), False),
    (FaultKind.OUTSIDE_BOUNDARY, nine(line_4=replace(at(SOUND, "line-4"), geometry=LineString([(400, 5), (400, 450), (400, 210)]))), False),
    (FaultKind.SERVES_NO_HOLE, nine(spare=made("spare", KIND.PUTTING_GREEN, box(0, 300, 20, 320))), False),
    (FaultKind.SERVES_NO_HOLE, nine(zone=made("zone", KIND.DROPPING_ZONE, box(0, 300, 4, 304), serves="nothing-here", holes=(3,))), False),
    (FaultKind.UNMARKED_WATER, nine(pond=POND), False),
    (
        FaultKind.WIDTH_ASSUMED,
        nine(path=made("path", KIND.IMMOVABLE_OBSTRUCTION, box(0, 300, 90, 302), assumed=(("width", "2 m"),))),
        False,
    ),
    (FaultKind.ACCURACY_UNKNOWN, nine(sand=made("sand", KIND.BUNKER, box(0, 300, 9, 309), sigma_m=None)), False),
]


@pytest.mark.parametrize(("kind", "course", "stops"), CASES, ids=[f"{number}-{kind}" for number, (kind, _, _) in enumerate(CASES)])
def test_each_fault_is_found_alone(kind: FaultKind, course: Course, stops: bool) -> None:
    fault = only(course)
    assert fault.kind is kind
    assert fault.stops_rulings is stops
    assert fault.message
    assert fault.remedy


TWINS: list[tuple[str, Course]] = [
    ("a boundary in one piece out of two", nine(more=made("more", KIND.BOUNDARY, box(900, 0, 1100, 100)))),
    ("a path that runs on beyond the edge", nine(path=made("path", KIND.IMMOVABLE_OBSTRUCTION, box(980, 0, 1010, 3), what="path"))),
    ("a wall outside", nine(wall=made("wall", KIND.BOUNDARY_OBJECT, box(1001, 0, 1002, 90), what="wall"))),
    ("a bunker less than half a square metre over the edge", nine(sand=made("sand", KIND.BUNKER, box(990, 0, 1000.04, 10)))),
    ("a bunker less than half a square metre over a green", nine(sand=made("sand", KIND.BUNKER, box(309.97, 205, 330, 215)))),
    (
        "a bunker in a fairway",
        nine(sand=made("sand", KIND.BUNKER, box(295, 95, 305, 105)), cut=made("cut", KIND.FAIRWAY, box(285, 50, 315, 180))),
    ),
    (
        "a green that serves two holes",
        nine(green_3=replace(at(SOUND, "green-3"), geometry=box(290, 200, 410, 220), holes=(3, 4)), green_4=None),
    ),
    ("a line that ends just off its green", nine(line_4=replace(at(SOUND, "line-4"), geometry=LineString([(400, 5), (400, 199.1)])))),
    ("a line that begins near its tee", nine(line_4=replace(at(SOUND, "line-4"), geometry=LineString([(400, 14.9), (400, 210)])))),
    ("par 3 and par 6", nine(line_4=replace(at(SOUND, "line-4"), par=3), line_5=replace(at(SOUND, "line-5"), par=6))),
    ("a hole on the edge of its green", nine(hole_4=replace(at(SOUND, "hole-4"), geometry=Point(400, 220)))),
    (
        "a zone for a pond",
        nine(pond=replace(POND, mark=Mark.RED), zone=made("zone", KIND.DROPPING_ZONE, box(130, 90, 134, 94), serves="pond")),
    ),
]


@pytest.mark.parametrize("course", [course for _, course in TWINS], ids=[words for words, _ in TWINS])
def test_what_is_as_it_should_be_is_no_fault(course: Course) -> None:
    assert [fault.message for fault in check_course(course)] == []


@pytest.mark.parametrize(
    ("kind", "so"),
    [
        (KIND.PUTTING_GREEN, "spare (putting green) serves no hole, so it is a wrong green whichever hole is played."),
        (KIND.TEEING_AREA, "spare (teeing area) serves no hole, so it is general area."),
    ],
)
def test_what_a_green_or_tee_of_no_hole_is_while_a_hole_is_played(kind: FeatureKind, so: str) -> None:
    """Rules of Golf (January 2019): a green but that of the hole being played is a wrong green; other tees are general area."""
    assert only(nine(spare=made("spare", kind, box(0, 300, 20, 320)))).message == so


def test_no_boundary_stops_everything() -> None:
    fault = only(nine(boundary=None))
    assert fault.kind is FaultKind.NO_BOUNDARY
    assert fault.weight is Weight.STOPS


def test_missing_holes_are_named() -> None:
    course = nine(tee_4=None, green_4=None, line_4=None, hole_4=None)
    fault = only(course)
    assert fault.kind is FaultKind.MISSING_HOLE
    assert fault.holes == (4,)


def test_missing_and_doubled_stroke_indexes_are_told() -> None:
    none = only(nine(line_4=replace(at(SOUND, "line-4"), stroke_index=None)))
    assert none.kind is FaultKind.STROKE_INDEX
    assert none.holes == (4,)
    twice = only(nine(line_4=replace(at(SOUND, "line-4"), stroke_index=5)))
    assert twice.kind is FaultKind.STROKE_INDEX
    assert twice.holes == (4, 5)


def test_an_overlap_says_which_area_wins_and_by_how_much() -> None:
    fault = only(nine(sand=made("sand", KIND.BUNKER, box(305, 195, 330, 215))))
    assert "75.0 m² of green-3" in fault.message
    assert "sand (bunker) comes first" in fault.message


def test_a_slight_mending_is_noted_and_a_large_one_stops_rulings_where_it_lies() -> None:
    how = (
        "the outline crossed itself; it was mended to one part of 900.0 m² together ({} m² by its corners before, so mending changed {} m²)"
    )
    red = replace(POND, mark=Mark.RED)
    slight = only(nine(pond=replace(red, repaired=how.format("899.5", "0.5"))))
    assert slight.weight is Weight.NOTES
    large = only(nine(pond=replace(red, repaired=how.format("850.0", "50.0"))))
    assert large.weight is Weight.STOPS
    assert large.holes == (1, 2), "it lies between the lines of holes 1 and 2, within 60 m of both and of no other"


def test_far_from_every_hole_the_nearest_is_named() -> None:
    fault = only(nine(pond=replace(POND, geometry=box(530, 320, 560, 350))))
    assert fault.holes == (5,)


def test_a_mended_path_stops_nothing() -> None:
    path = made("path", KIND.IMMOVABLE_OBSTRUCTION, box(0, 300, 90, 302), repaired="the outline crossed itself; it was mended")
    assert only(nine(path=path)).weight is Weight.NOTES


def test_names_are_sorted_as_people_count() -> None:
    more = {f"spare_{n}": made(f"spare-{n}", KIND.PUTTING_GREEN, box(30 * n, 300, 30 * n + 20, 320)) for n in (10, 2, 1)}
    assert [fault.feature for fault in check_course(nine(**more))] == ["spare-1", "spare-2", "spare-10"]


def test_water_under_one_mark_may_lie_over_itself() -> None:
    red = replace(POND, mark=Mark.RED)
    assert check_course(nine(pond=red, stream=replace(red, id="stream", geometry=box(150, 90, 155, 200)))) == ()


def test_what_was_left_out_is_named() -> None:
    fault = only(nine(), (LeftOut(what="grass", why="it is no area of the course", names=tuple(f"way/{n}" for n in range(12))),))
    assert fault.kind is FaultKind.LEFT_OUT
    assert "grass (12)" in fault.message
    assert "and 4 more" in fault.message


def test_what_stops_rulings_comes_first() -> None:
    faults = check_course(
        nine(pond=POND, green_4=None, path=made("path", KIND.IMMOVABLE_OBSTRUCTION, box(0, 300, 90, 302), assumed=(("width", "2 m"),)))
    )
    assert [fault.weight for fault in faults] == [Weight.STOPS, Weight.ASKS, Weight.NOTES]


@pytest.mark.parametrize("number", range(40))
def test_awkward_ground_is_checked_and_its_faults_have_places(number: int) -> None:
    ground = random_crossing(number).course
    faults = check_course(ground)
    assert check_course(ground) == faults
    assert [list(Weight).index(fault.weight) for fault in faults] == sorted(list(Weight).index(fault.weight) for fault in faults)
    assert all(fault.at is not None for fault in faults if fault.kind in {FaultKind.OVERLAP, FaultKind.OUTSIDE_BOUNDARY})


@pytest.mark.parametrize("number", range(20))
def test_overlaps_agree_with_the_areas_measured_one_by_one(number: int) -> None:
    """Each overlap that is told is the ground that two features share, to 0.1 m²."""
    ground = random_crossing(number).course
    told = {
        (fault.feature, fault.message.split(" lie under ")[1].split(";")[0]): float(fault.message.split(" m²")[0])
        for fault in check_course(ground)
        if fault.kind is FaultKind.OVERLAP
    }
    areas = {each.id: each.geometry for each in ground.features if each.id in {"pond", "ditch", "sand", "first", "second"}}
    smaller, larger = sorted(("ditch", "pond"), key=lambda name: float(areas[name].area))
    pairs = [
        (larger, smaller),  # of two waters the smaller lies on top (docs/design/parts.md)
        ("sand", "pond"),
        ("sand", "ditch"),
        *((green, over) for green in ("first", "second") for over in ("pond", "ditch", "sand")),
    ]
    expected = {
        (under, over): areas[under].intersection(areas[over]).area
        for under, over in pairs
        if areas[under].intersection(areas[over]).area >= 0.5
    }
    assert told == {pair: pytest.approx(area, abs=0.051) for pair, area in expected.items()}


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.floats(-80, 1050), st.floats(-80, 450), st.floats(0.5, 90), st.sampled_from(list(KIND)[1:6])), max_size=12))
def test_no_ground_makes_the_check_fail(boxes: list[tuple[float, float, float, FeatureKind]]) -> None:
    more = {
        f"extra_{number}": made(
            f"extra-{number}",
            kind,
            Polygon([(x, y), (x + size, y), (x + size / 2, y + size)]),
            mark=Mark.RED if kind is KIND.PENALTY_AREA else None,
        )
        for number, (x, y, size, kind) in enumerate(boxes)
    }
    faults = check_course(nine(**more))
    assert all(fault.message and fault.remedy for fault in faults)
