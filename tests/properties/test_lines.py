"""The line straight back against a walk along it in 5 mm steps."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPolygon, Point, box
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.relief.area.lines import line_back, strip_about

STEP_M = 0.005
HOLE = Position(x_m=0, y_m=0)


def walked_intervals(start: Position, ground: BaseGeometry, longest_m: float) -> list[tuple[float, float]]:
    """Stretches of the ray away from the hole that lie on the ground, found step by step with no geometry but point in polygon."""
    to_hole_m = math.hypot(start.x_m, start.y_m)
    steps_m = np.arange(0, longest_m, STEP_M)
    xs, ys = start.x_m * (1 + steps_m / to_hole_m), start.y_m * (1 + steps_m / to_hole_m)
    inside = shapely.contains_xy(ground, xs, ys)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], inside, [False]]).astype(np.int8)))
    return [(float(steps_m[first]), float(steps_m[last - 1])) for first, last in zip(edges[::2], edges[1::2], strict=True)]


def only_long(intervals: list[tuple[float, float]], least_m: float) -> list[tuple[float, float]]:
    """Neighbours joined over gaps, and stretches dropped, that are too short for a walk to see them surely."""
    joined: list[tuple[float, float]] = []
    for near_m, far_m in intervals:
        if joined and near_m - joined[-1][1] < least_m:
            joined[-1] = (joined[-1][0], far_m)
        else:
            joined.append((near_m, far_m))
    return [(near_m, far_m) for near_m, far_m in joined if far_m - near_m > least_m]


def smallest_feature_m(intervals: list[tuple[float, float]]) -> float:
    """The shortest stretch or gap of some intervals."""
    lengths = [far_m - near_m for near_m, far_m in intervals]
    gaps = [later[0] - earlier[1] for earlier, later in zip(intervals, intervals[1:], strict=False)]
    return min([*lengths, *gaps], default=math.inf)


@given(
    st.floats(0, 2 * math.pi),
    st.floats(2, 60),
    st.lists(st.tuples(st.floats(1, 90), st.floats(-4, 4), st.floats(0.5, 8)), max_size=6),
)
@settings(max_examples=150)
def test_intervals_against_a_walk(turn: float, to_start_m: float, ponds: list[tuple[float, float, float]]) -> None:
    ahead, left = np.array([math.cos(turn), math.sin(turn)]), np.array([-math.sin(turn), math.cos(turn)])
    start = Position(x_m=float(to_start_m * ahead[0]), y_m=float(to_start_m * ahead[1]))
    water = [Point(*((to_start_m + back_m) * ahead + side_m * left)).buffer(radius_m) for back_m, side_m, radius_m in ponds]
    ground = box(-90, -70, 80, 100).difference(shapely.union_all(water))
    found = only_long(list(line_back(start, HOLE, ground).intervals_m), 4 * STEP_M)
    walked = only_long(walked_intervals(start, ground, 300), 4 * STEP_M)
    if min(smallest_feature_m(found), smallest_feature_m(walked)) > 8 * STEP_M:
        assert len(found) == len(walked)
        for exact, stepped in zip(found, walked, strict=True):
            assert exact == pytest.approx(stepped, abs=STEP_M + 1e-6)


def test_a_pond_cuts_the_line_in_two() -> None:
    """Worked by hand: hole at the middle, start 20 m out, water from 30 m to 40 m, boundary at 100 m."""
    ground = box(-5, -100, 5, 100).difference(box(-5, 30, 5, 40))
    line = line_back(Position(x_m=0, y_m=20), HOLE, ground)
    assert [round(end_m, 9) for stretch in line.intervals_m for end_m in stretch] == [0, 10, 20, 80]
    assert len(line.intervals_m) == 2
    assert line.bearing_deg == pytest.approx(0)
    assert [line.holds(back_m) for back_m in (5, 15, 25, 81)] == [True, False, True, False]


def test_no_ground_behind_gives_no_interval_and_an_empty_strip() -> None:
    line = line_back(Position(x_m=0, y_m=20), HOLE, box(-5, -5, 5, 15))
    assert line.intervals_m == ()
    assert strip_about(line, 0.508).is_empty


def test_ground_in_two_touching_parts_is_one_stretch() -> None:
    ground = MultiPolygon([box(-5, 10, 5, 30), box(-5, 30, 5, 50)])
    (stretch,) = line_back(Position(x_m=0, y_m=20), HOLE, ground).intervals_m
    assert stretch == pytest.approx((0, 30))


def test_no_line_runs_through_the_hole_alone() -> None:
    with pytest.raises(ValueError, match="hole itself"):
        line_back(HOLE, HOLE, box(-5, -5, 5, 5))


@pytest.mark.parametrize(("length_m", "is_told"), [(0.009, False), (0.011, True)])
def test_a_stretch_that_would_be_told_as_nothing_is_none(length_m: float, is_told: bool) -> None:
    ground = MultiPolygon([box(-5, 20, 5, 20 + length_m), box(-5, 30, 5, 50)])
    stretches = line_back(Position(x_m=0, y_m=20), HOLE, ground).intervals_m
    assert len(stretches) == 1 + is_told
    assert stretches[-1] == pytest.approx((10, 30))
