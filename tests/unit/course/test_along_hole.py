"""A place told along the hole leads back to the place."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.course.along_hole import tell_along
from marram.course.frame import Position
from marram.interchange.courses.course_geojson import read_course
from tests.support.ground import course

THIMBLE_MOOR = read_course(Path(__file__).resolve().parents[3] / "examples/courses/thimble-moor.geojson")


@pytest.mark.parametrize(("before_m", "right_m"), [(50.0, 12.0), (0.0, 0.0), (-30.0, -8.0), (380.0, 3.0), (500.0, -3.0)])
def test_a_straight_hole_is_told_by_hand(before_m: float, right_m: float) -> None:
    # The green's front lies 12 m south of the hole and the line runs north: before the green is south, right is east.
    along = tell_along(course().hole(1), Position(x_m=right_m, y_m=-12.0 - before_m))
    assert along is not None
    assert along.before_green_m == pytest.approx(before_m, abs=0.02)
    assert along.right_m == pytest.approx(right_m, abs=0.002)


@pytest.mark.parametrize("number", sorted(THIMBLE_MOOR.holes))
def test_what_is_told_leads_back(number: int) -> None:
    hole = THIMBLE_MOOR.hole(number)
    assert hole.line is not None
    x0, y0, x1, y1 = hole.line.buffer(40).bounds
    told = 0
    for column in range(9):
        for row in range(9):
            place = Position(x_m=x0 + (x1 - x0) * column / 8, y_m=y0 + (y1 - y0) * row / 8)
            along = tell_along(hole, place)
            if along is not None:
                told += 1
                back = hole.before_green(along.before_green_m, along.right_m)
                assert back is not None
                assert back.distance_m(place) < 0.002
    assert told >= 75
