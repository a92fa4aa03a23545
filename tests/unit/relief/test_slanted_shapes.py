"""Shapes for relief areas that lie aslant to the map, worked by hand: what holds due north or east need not hold there."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import box

from marram.course.frame import Position
from marram.relief.area.band import Band
from marram.relief.area.fan import Fan
from marram.relief.area.lines import line_back
from marram.relief.area.shapes import Crescent, clipped
from marram.relief.clear.stance import Sample, clearance_m, parts_touched, sample_position

HOLE = Position(x_m=0, y_m=0)


def at(x_m: float, y_m: float) -> Position:
    return Position(x_m=x_m, y_m=y_m)


def test_a_fan_aslant_stands_square_to_its_line() -> None:
    """Through (12, 16), 20 m from the hole, known to 0.3 m: 0.6 m to either side there and 1.2 m 20 m behind, along (-0.8, 0.6)."""
    outline = Fan(hole=HOLE, reference=at(12, 16), sigma_m=0.3).outline([(0, 20)])
    corners = {(round(x, 6), round(y, 6)) for x, y in outline.exterior.coords}  # type: ignore[union-attr]
    assert corners == {(11.52, 16.36), (12.48, 15.64), (23.04, 32.72), (24.96, 31.28)}
    assert outline.area == pytest.approx((0.6 + 1.2) * 20)


@pytest.mark.parametrize(("first", "second"), [(at(6, 8), at(-8, 6)), (at(-8, 6), at(6, 8)), (at(-5, -12), at(24, -10))])
def test_lines_at_a_right_angle_hold_a_quarter_of_a_ring_between_them(first: Position, second: Position) -> None:
    band = Band(hole=HOLE, first=first, second=second, margin_m=0.0, least_m=10.0, far_m=50.0)
    assert band.area_on_m2(box(-500, -500, 500, 500)) == pytest.approx(math.pi * (50**2 - 10**2) / 4)


def test_ground_near_a_shape_may_be_in_two_parts() -> None:
    """Two strips 1 m wide joined 9 m away: of each some 5 m lie near a disc of 2.5 m."""
    ground = box(-2, -10, -1, 10).union(box(1, -10, 2, 10)).union(box(-2, -10, 2, -9))
    shape = Crescent(centre=HOLE, radius_m=2.5, hole=at(0, 100), least_m=0.0)
    near = clipped(ground, shape)  # type: ignore[arg-type]
    assert near.area == pytest.approx(10, abs=0.1)
    # By integrating sqrt(6.25 - x²) from 1 to 2 above and below, in each strip.
    half_m2 = [(x * math.sqrt(6.25 - x * x) + 6.25 * math.asin(x / 2.5)) / 2 for x in (1, 2)]
    assert shape.area_on_m2(near) == pytest.approx(4 * (half_m2[1] - half_m2[0]))


def test_a_line_straight_back_may_be_used_in_two_stretches() -> None:
    """From (3, 4) away from the hole along (0.6, 0.8): ground between y = 12 and 20 and between y = 28 and 36 is 10 m to 20, 30 to 40."""
    allowed = box(-90, 12, 90, 20).union(box(-90, 28, 90, 36))
    line = line_back(at(3, 4), HOLE, allowed)
    assert [pytest.approx(stretch) for stretch in line.intervals_m] == [(10, 20), (30, 40)]


def test_a_foot_beside_a_ball_played_aslant_is_where_it_is_by_hand() -> None:
    """Played along (0.6, 0.8), 1 m ahead and 2 m left is (0.6 - 1.6, 0.8 + 1.2) = (-1, 2): 3 m from a wall at x = 2, less the half foot."""
    foot = Sample(ahead_m=1.0, left_m=2.0, radius_m=0.5, part="stance")
    assert sample_position(HOLE, at(30, 40), foot).xy == pytest.approx((-1, 2))
    assert clearance_m(HOLE, at(30, 40), (foot,), box(2, 0, 3, 4)) == pytest.approx(2.5)
    assert clearance_m(HOLE, at(30, 40), (foot,), box(-2, 1, 0, 9)) == pytest.approx(-1.5)  # 1 m inside
    assert parts_touched(HOLE, at(30, 40), (foot,), box(-0.6, 0, 3, 4)) == {"stance"}
    assert parts_touched(HOLE, at(30, 40), (foot,), box(-0.4, 0, 3, 4)) == set()
