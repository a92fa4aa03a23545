"""The discs of a footprint as arrays, on numbers worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely.geometry import Polygon, box

from marram.course.frame import Position
from marram.relief.clear.nearest_discs import Images, discs_of
from marram.relief.clear.stance import Sample

TARGET = Position(x_m=0, y_m=100)
BALL = Position(x_m=0, y_m=0)
AHEAD = Sample(ahead_m=0.3, left_m=0.0, radius_m=0.1, part="swing")
LEFT = Sample(ahead_m=0.0, left_m=0.4, radius_m=0.05, part="stance")
DISCS = discs_of((AHEAD, LEFT), TARGET)


def test_a_target_due_north_puts_ahead_north_and_left_west() -> None:
    east_m, north_m = DISCS.offsets_m(BALL)
    assert east_m.tolist() == pytest.approx([0.0, -0.4])
    assert north_m.tolist() == pytest.approx([0.3, 0.0])
    assert DISCS.reach_m == pytest.approx(0.45)


def test_gaps_outside_and_depths_inside() -> None:
    """Ground from 1 m north: the first disc ends 0.6 m short of it; from 0.2 m south to 0.5 m north its middle is 0.2 m from the edge."""
    assert DISCS.gaps_m(BALL, box(-5, 1, 5, 2)).tolist() == pytest.approx([0.6, 0.95])
    assert DISCS.gaps_m(BALL, box(-0.3, -0.2, 5, 0.5)).tolist() == pytest.approx([-0.3, 0.05])
    assert DISCS.gaps_m(BALL, Polygon()).tolist() == [math.inf, math.inf]


def test_the_last_to_leave_a_strip() -> None:
    """Northward over a strip the disc beside the ball leaves last, southward the one ahead."""
    assert DISCS.last_clear(BALL, np.array([0.0, 1.0])) == [0, 1]
    two_ahead = discs_of((AHEAD, Sample(ahead_m=0.32, left_m=0.0, radius_m=0.05, part="swing")), TARGET)
    assert two_ahead.last_clear(BALL, np.array([0.0, 1.0])) == [0]  # 0.2 m behind 0.27 m, and 0.4 m beyond 0.37 m


def test_moved_ground_is_what_the_middle_passes_over() -> None:
    """A square of 2 cm about the ball is a square of 2 cm about each disc, but for the player's turn of a two-hundredth of a degree."""
    square = np.array([(-0.01, -0.01), (0.01, -0.01), (0.01, 0.01), (-0.01, 0.01), (-0.01, -0.01)])
    (ahead,) = DISCS.moved_ground(np.array([0]), square)
    assert ahead.bounds == pytest.approx((-0.01, 0.29, 0.01, 0.31), abs=1e-4)


def test_an_image_holds_the_places_from_which_a_disc_reaches_in() -> None:
    """Ground from 1 m north: a ball 0.6 m north of the origin puts the edge of the first disc on it."""
    image = Images(condition=box(-5, 1, 5, 2), discs=DISCS).of(0)
    assert image.bounds[1] == pytest.approx(0.6, abs=1e-3)
