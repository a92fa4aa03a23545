"""What a click can put right: the remedies that each fault is given, and the course with one of them carried out."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Point, box

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Mark
from marram.course.check.faults import Fault, FaultKind
from marram.course.check.whole import check_course
from marram.course.course import Course
from marram.interchange.courses.course_geojson import parse_course, write_course
from marram.office.courses.fault_rows import FaultRow, list_faults
from marram.office.courses.mend_course import Mending, Remedy, mend_course, proposed_numbers, remedies_of
from tests.support.ground import course, feature

POND = feature("pond", FeatureKind.PENALTY_AREA, box(-15, -70, 15, -40), mark=Mark.UNMARKED, what="pond")
STREAM = replace(
    feature("stream", FeatureKind.PENALTY_AREA, box(40, -300, 43, -100), mark=Mark.UNMARKED, what="stream"), proposed=Mark.YELLOW
)
SPARE = feature("green-x1", FeatureKind.PUTTING_GREEN, Point(150, 0).buffer(10))
FAR = feature("bunker-out", FeatureKind.BUNKER, box(900, 900, 910, 910))


def without(ground: Course, *names: str) -> Course:
    return replace(ground, features=tuple(each for each in ground.features if each.id not in names))


def fault(ground: Course, kind: FaultKind, name: str = "") -> Fault:
    return next(each for each in check_course(ground) if each.kind is kind and name in {"", each.feature})


def ways(ground: Course, kind: FaultKind, name: str = "") -> list[Remedy]:
    return list(remedies_of(ground, fault(ground, kind, name), proposed_numbers(ground)))


def kinds(ground: Course) -> list[tuple[str, str]]:
    return [(each.kind.value, each.feature) for each in check_course(ground)]


def written(ground: Course) -> Course:
    """The course as its file is read back."""
    return parse_course(write_course(ground), where="test")


def test_water_is_marked_one_by_one_and_the_file_holds_it() -> None:
    ground = course(POND, STREAM)
    assert [(way.how, way.value) for way in ways(ground, FaultKind.UNMARKED_WATER, "pond")] == [
        (Mending.MARK, "red"),
        (Mending.MARK, "yellow"),
    ]
    done = written(mend_course(ground, "mark", feature="pond", value="red").course)
    assert {each.id: each.mark for each in done.features if each.mark} == {"pond": Mark.RED, "stream": Mark.UNMARKED}
    assert len(check_course(done)) == len(check_course(ground)) - 1


def test_all_water_is_marked_at_once_and_what_has_a_mark_keeps_it() -> None:
    marked = mend_course(course(POND, STREAM), "mark", feature="pond", value="yellow").course
    done = written(mend_course(marked, "mark", feature="all", value="red").course)
    assert {each.id: each.mark for each in done.features if each.mark} == {"pond": Mark.YELLOW, "stream": Mark.RED}
    with pytest.raises(SurveyError, match="no water 'all'"):
        mend_course(done, "mark", feature="all", value="red")


def test_water_is_marked_as_its_source_suggests_and_other_water_waits() -> None:
    done = mend_course(course(POND, STREAM), "mark", feature="proposed").course
    assert {each.id: each.mark for each in done.features if each.mark} == {"pond": Mark.UNMARKED, "stream": Mark.YELLOW}


def test_what_somebody_decided_stays_whatever_the_source_suggests() -> None:
    decided = mend_course(course(POND, STREAM), "mark", feature="stream", value="red").course
    with pytest.raises(SurveyError, match="no water 'proposed'"):
        mend_course(decided, "mark", feature="proposed")


def test_a_mark_that_was_wrong_is_put_right() -> None:
    wrong = mend_course(course(POND), "mark", feature="pond", value="red").course
    assert (
        next(each.mark for each in mend_course(wrong, "mark", feature="pond", value="yellow").course.features if each.id == "pond")
        == "yellow"
    )


def test_a_hole_that_lacks_its_green_is_offered_the_nearest_without_a_number() -> None:
    near = feature("green-near", FeatureKind.PUTTING_GREEN, Point(30, 0).buffer(10))
    ground = without(course(SPARE, near), "green-1")
    assert ways(ground, FaultKind.MISSING_GREEN) == [Remedy(how=Mending.CHOOSE, value="1", choices=("green-near", "green-x1"))]
    done = written(mend_course(ground, "choose", feature="green-near", value="1").course)
    assert done.holes[1].green is not None
    assert ("missing-green", "hole 1") not in kinds(done)


def test_a_line_that_is_missing_is_drawn_from_the_farthest_tee_to_the_middle_of_the_green() -> None:
    ground = without(course(), "line-1")
    assert ways(ground, FaultKind.MISSING_LINE) == [Remedy(how=Mending.DRAW_LINES)]
    done = written(mend_course(ground, "draw-lines").course)
    line = done.holes[1].line
    assert line is not None
    assert line.coords[0] == pytest.approx((0, -380), abs=0.5)
    assert line.coords[-1] == pytest.approx((0, 0), abs=0.5)
    no_tee = without(ground, "tee-1")
    assert ways(no_tee, FaultKind.MISSING_LINE) == []


def test_a_hole_location_that_is_missing_is_assumed_and_says_so() -> None:
    ground = without(course(), "hole-1")
    assert ways(ground, FaultKind.MISSING_LOCATION) == [Remedy(how=Mending.TAKE_MIDDLE, value="1")]
    done = written(mend_course(ground, "take-middle", value="1").course)
    assert done.holes[1].location is not None
    assert ("location-assumed", "hole-1") in kinds(done)


def test_the_accuracy_is_stated_for_what_has_none_and_for_nothing_else() -> None:
    bare = feature("bunker-1", FeatureKind.BUNKER, box(20, 0, 30, 10), sigma_m=None)
    ground = course(bare)
    assert ways(ground, FaultKind.ACCURACY_UNKNOWN) == [Remedy(how=Mending.STATE_ACCURACY)]
    done = written(mend_course(ground, "state-accuracy", value="1,5").course)
    assert {each.id: each.sigma_m for each in done.features}["bunker-1"] == 1.5
    assert {each.id: each.sigma_m for each in done.features}["green-1"] == 0.05
    assert done.sigma_m == 0.05
    nameless = replace(ground, sigma_m=None, extra=json.dumps({"course": {"name": "Test Ground", "origin": [-2.0, 55.0]}}))
    assert written(mend_course(nameless, "state-accuracy", value="1.5").course).sigma_m == 1.5
    for value in ("0", "100.1", "", "inf"):
        with pytest.raises(SurveyError, match="no accuracy"):
            mend_course(ground, "state-accuracy", value=value)
    assert mend_course(ground, "state-accuracy", value="100").told == "Accuracy stated: 100 m, one standard deviation."


def test_only_what_lies_wholly_outside_or_is_not_used_is_left_out() -> None:
    across = feature("bunker-edge", FeatureKind.BUNKER, box(295, 0, 310, 10))
    ground = course(FAR, across)
    assert ways(ground, FaultKind.OUTSIDE_BOUNDARY, "bunker-out") == [Remedy(how=Mending.LEAVE_OUT, feature="bunker-out")]
    assert ways(ground, FaultKind.OUTSIDE_BOUNDARY, "bunker-edge") == []
    assert "bunker-out" not in {each.id for each in mend_course(ground, "leave-out", feature="bunker-out").course.features}
    second = feature("line-1b", FeatureKind.LINE_OF_PLAY, LineString([(5, -380), (0, 0)]), holes=(1,))
    assert ways(course(second), FaultKind.SEVERAL_FOR_HOLE) == [Remedy(how=Mending.LEAVE_OUT, feature="line-1b")]


def test_holes_are_numbered_as_proposed_and_a_spare_green_is_offered_its_number() -> None:
    tee = feature("tee-x1", FeatureKind.TEEING_AREA, box(146, -205, 154, -195))
    ground = course(SPARE, tee)
    proposed = proposed_numbers(ground)
    assert proposed == {"green-x1": 2, "tee-x1": 2}
    way = next(way for way in ways(ground, FaultKind.SERVES_NO_HOLE, "green-x1"))
    assert (way.how, way.feature, way.value) == (Mending.SERVE, "green-x1", "2")
    assert ways(ground, FaultKind.MISSING_HOLE) == [Remedy(how=Mending.NUMBER_ALL)]
    done = mend_course(ground, "number-all")
    assert done.course.holes.keys() == {1, 2}
    assert done.course.holes[2].line is not None
    assert done.told == "2 holes numbered."
    assert proposed_numbers(done.course) == {}


# Rows -----------------------------------------------------------------------------------------------------------------


def rows(ground: Course) -> tuple[FaultRow, ...]:
    return list_faults(ground, ground, check_course(ground))


def test_three_alike_stand_in_one_row_and_two_alone() -> None:
    spares = [feature(f"bunker-{n}", FeatureKind.BUNKER, box(900 + 20 * n, 900, 910 + 20 * n, 910)) for n in range(3)]
    outside = [row for row in rows(course(*spares)) if row.kind is FaultKind.OUTSIDE_BOUNDARY]
    assert [(len(row.faults), row.things, len(row.places)) for row in outside] == [(3, "3 bunkers", 3)]
    outside = [row for row in rows(course(*spares[:2])) if row.kind is FaultKind.OUTSIDE_BOUNDARY]
    assert [len(row.faults) for row in outside] == [1, 1]


def test_water_stands_alone_until_there_is_much_of_it() -> None:
    def ponds(count: int) -> list[int]:
        water = [
            feature(f"p{n}", FeatureKind.PENALTY_AREA, box(20 * n - 250, -200, 20 * n - 240, -190), mark=Mark.UNMARKED)
            for n in range(count)
        ]
        return [len(row.faults) for row in rows(course(*water)) if row.kind is FaultKind.UNMARKED_WATER]

    assert ponds(8) == [1] * 8
    assert ponds(9) == [9]


def test_rows_are_numbered_in_order_and_hold_every_fault() -> None:
    ground = without(course(POND, STREAM, SPARE, FAR), "hole-1")
    found = rows(ground)
    assert [row.number for row in found] == list(range(1, len(found) + 1))
    assert sum(len(row.faults) for row in found) == len(check_course(ground))
    assert [row.stops_rulings for row in found] == sorted([row.stops_rulings for row in found], reverse=True)
