"""Which edge a ball crossed, and where it last came into the water, worked by hand on straight edges."""

from __future__ import annotations

import pytest
from shapely.geometry import MultiPolygon, Polygon, box

from marram.core.terms import FeatureKind, Mark
from marram.course.course import Course
from marram.course.crossed import last_way_in, nearest_on, penalty_areas_crossed, penalty_areas_touching
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.partition import PenaltyArea
from tests.support.ground import course, feature


def at(x_m: float, y_m: float) -> Position:
    return Position(x_m=x_m, y_m=y_m)


def water(name: str, outline: Polygon, mark: Mark, sigma_m: float | None = 0.05) -> Feature:
    return feature(name, FeatureKind.PENALTY_AREA, outline, mark=mark, sigma_m=sigma_m)


def two_ponds(west_m: float, east_m: float, sigma_m: float | None = 0.05) -> Course:
    """A red pond to the west and a yellow one to the east of x = 0, their edges so far from it."""
    red, yellow = box(-20 - west_m, -60, -west_m, -50), box(east_m, -60, east_m + 20, -50)
    return course(water("red", red, Mark.RED, sigma_m), water("yellow", yellow, Mark.YELLOW, sigma_m))


def marks(ground: Course, holding: PenaltyArea | None = None) -> list[Mark]:
    return [area.mark for area in penalty_areas_crossed(ground, at(0, -55), holding)]


@pytest.mark.parametrize(("off_m", "count"), [(1.9, 2), (2.1, 1), (2.9, 1)])
def test_beyond_two_metres_a_crossing_point_is_a_mistake_and_tells_no_edges_apart(off_m: float, count: int) -> None:
    assert len(marks(two_ponds(off_m, off_m))) == count


def test_of_edges_at_different_distances_the_nearest_comes_first() -> None:
    assert marks(two_ponds(1.0, 1.5)) == [Mark.RED, Mark.YELLOW]
    assert marks(two_ponds(1.5, 1.0)) == [Mark.YELLOW, Mark.RED]


@pytest.mark.parametrize(("east_m", "count"), [(0.9, 2), (1.1, 1)])
def test_another_edge_may_be_meant_up_to_twice_as_far_as_the_estimate_is_off(east_m: float, count: int) -> None:
    """0.5 m off the nearest edge the estimate is known to be: one within another 0.5 m may be the one, one 1.1 m off not."""
    assert len(marks(two_ponds(0.5, east_m))) == count


@pytest.mark.parametrize(
    ("sigma_m", "east_m", "count"), [(0.2, 0.39, 2), (0.2, 0.41, 1), (0.001, 0.04, 2), (0.001, 0.06, 1), (None, 1.9, 2)]
)
def test_on_an_edge_the_survey_says_how_far_another_may_be(sigma_m: float | None, east_m: float, count: int) -> None:
    """Two standard deviations of the survey, but never less than a tape can tell, 0.05 m; 2 m where nobody knows."""
    assert len(marks(two_ponds(0.0, east_m, sigma_m))) == count


def test_the_water_that_holds_the_ball_comes_first_and_stands_alone_where_no_edge_is_near() -> None:
    near, far = course(*pair(0.0)), course(*pair(0.0))
    (yellow,) = (area for area in near.penalty_areas if area.mark is Mark.YELLOW)
    assert [area.mark for area in penalty_areas_crossed(near, at(0, -50), yellow)] == [Mark.YELLOW, Mark.RED]
    assert [area.mark for area in penalty_areas_crossed(far, at(0, -30), yellow)] == [Mark.YELLOW]


def pair(gap_m: float) -> tuple[Feature, Feature]:
    """A red and a yellow pond side by side."""
    return water("red", box(-20, -60, 0, -50), Mark.RED), water("yellow", box(gap_m, -60, 20, -50), Mark.YELLOW)


@pytest.mark.parametrize(("gap_m", "count"), [(0.0, 2), (0.001, 2), (0.01, 1)])
def test_water_that_does_not_meet_the_one_that_holds_the_ball_was_not_crossed(gap_m: float, count: int) -> None:
    ground = course(*pair(gap_m))
    (red,) = (area for area in ground.penalty_areas if area.mark is Mark.RED)
    assert len(penalty_areas_touching(ground, red)) == count
    assert len(penalty_areas_crossed(ground, at(0, -50), red)) == count


def test_without_penalty_areas_none_was_crossed() -> None:
    assert penalty_areas_crossed(course(), at(0, -55), None) == ()


def test_the_nearest_place_of_an_edge() -> None:
    assert nearest_on(box(0, 0, 10, 10).exterior, at(3, -2)) == at(3, 0)


FLIGHT = (at(0, 0), at(100, 0))
POND = box(10, -5, 20, 5)


def test_the_last_way_in_is_into_the_last_water_on_the_path() -> None:
    assert last_way_in(FLIGHT, POND) == at(10, 0)
    assert last_way_in(FLIGHT, MultiPolygon([POND, box(22, -5, 30, 5)])) == at(22, 0)
    assert last_way_in((FLIGHT[1], FLIGHT[0]), POND) == at(20, 0)


@pytest.mark.parametrize(("gap_m", "entered_m"), [(0.001, 10.0), (0.1, 20.1)])
def test_water_left_and_entered_within_a_hair_was_not_left(gap_m: float, entered_m: float) -> None:
    """Outlines that were one may be read up to 2 mm apart; 10 cm are ground."""
    found = last_way_in(FLIGHT, MultiPolygon([POND, box(20 + gap_m, -5, 30, 5)]))
    assert found is not None and found.x_m == pytest.approx(entered_m, abs=1e-6)


def test_a_path_that_begins_in_the_water_enters_it_only_when_it_comes_back() -> None:
    assert last_way_in((at(12, 0), at(100, 0)), POND) is None
    assert last_way_in((at(12, 0), at(100, 0)), MultiPolygon([POND, box(40, -5, 50, 5)])) == at(40, 0)


def test_a_path_that_misses_or_only_touches_the_water_never_enters_it() -> None:
    assert last_way_in(FLIGHT, box(10, 1, 20, 5)) is None
    assert last_way_in(FLIGHT, Polygon([(10, 0), (12, 5), (8, 5)])) is None
