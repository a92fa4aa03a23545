"""The ground from which relief is not complete against the player put down at thousands of places and looked at directly."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from marram.core.terms import Club, Hand
from marram.course.frame import Position
from marram.relief.clear.stance import STANCES, Sample, footprint, forbidden_ground, sample_position
from tests.support.random_ground import ALL_PARTS, Scene, random_scene

BAND_M = 0.001
"""Closer to touching than this the two may differ: arcs have corners, and bent edges are drawn straight for 20 cm."""


def gaps_m(scene: Scene, xs: NDArray[np.float64], ys: NDArray[np.float64]) -> NDArray[np.float64]:
    """Least gap between the player and the condition at each place of the ball; negative where a disc overlaps it."""
    far = np.hypot(scene.hole.x_m - xs, scene.hole.y_m - ys)
    ux, uy = (scene.hole.x_m - xs) / far, (scene.hole.y_m - ys) / far
    least = np.full(xs.shape, math.inf)
    edge = shapely.boundary(scene.condition)
    for sample in scene.samples():
        px, py = xs + sample.ahead_m * ux - sample.left_m * uy, ys + sample.ahead_m * uy + sample.left_m * ux
        points = shapely.points(px, py)
        depth = np.where(shapely.contains_xy(scene.condition, px, py), -1.0, 1.0) * shapely.distance(edge, points)
        least = np.minimum(least, depth - sample.radius_m)
    return least


def count_checked(number: int, count: int) -> int:
    """Compare random places about the ball; the number of places that were far enough from touching to be compared."""
    scene = random_scene(number)
    rng = np.random.default_rng(number)
    xs, ys = scene.ball.x_m + rng.uniform(-4, 4, count), scene.ball.y_m + rng.uniform(-4, 4, count)
    away = np.hypot(xs - scene.hole.x_m, ys - scene.hole.y_m) > 3
    xs, ys = xs[away], ys[away]
    gaps = gaps_m(scene, xs, ys)
    inside = shapely.contains_xy(forbidden_ground(scene.condition, scene.hole, scene.samples()), xs, ys)
    sure = np.abs(gaps) > BAND_M
    assert (inside[sure] == (gaps[sure] < 0)).all()
    assert (gaps[sure] < 0).any()
    assert (gaps[sure] > 0).any()
    return int(sure.sum())


@pytest.mark.parametrize("number", range(12))
def test_a_thousand_places_of_the_ball(number: int) -> None:
    assert count_checked(number, 1000) > 900


@pytest.mark.long
@pytest.mark.parametrize("number", range(12, 100))
def test_ten_thousand_places_of_the_ball(number: int) -> None:
    assert count_checked(number, 10_000) > 8_000


@given(
    st.sampled_from(Club),
    st.sampled_from(Hand),
    st.floats(5, 300),
    st.floats(0, 2 * math.pi),
    st.tuples(st.floats(-2, 2), st.floats(-2, 2)),
)
def test_a_disc_about_a_sample_comes_back_to_the_ball(
    club: Club, hand: Hand, to_target_m: float, turn: float, ball_xy: tuple[float, float]
) -> None:
    """The places from which one disc of the footprint touches a spot lie about the place that puts it there."""
    ball = Position(x_m=ball_xy[0], y_m=ball_xy[1])
    target = ball.moved(to_target_m * math.cos(turn), to_target_m * math.sin(turn))
    for sample in footprint(STANCES[club], hand, ALL_PARTS)[::4]:
        spot = sample_position(ball, target, sample)
        thin = Sample(ahead_m=sample.ahead_m, left_m=sample.left_m, radius_m=0.001, part=sample.part)
        back = forbidden_ground(shapely.Point(spot.xy).buffer(0.001), target, (thin,))
        assert back.centroid.distance(shapely.Point(ball.xy)) < 1e-4
        assert back.distance(shapely.Point(ball.xy)) == 0


@pytest.mark.parametrize("hand", list(Hand))
def test_a_right_hander_stands_on_the_left_of_the_line_of_play(hand: Hand) -> None:
    """Worked by hand: ball at the origin, target due north; a right-hander's feet are west of the ball."""
    ball, target = Position(x_m=0, y_m=0), Position(x_m=0, y_m=100)
    feet = [sample for sample in footprint(STANCES[Club.IRON], hand, ALL_PARTS) if sample.part == "stance"]
    places = [sample_position(ball, target, sample) for sample in feet]
    assert all((place.x_m < -0.6) == (hand is Hand.RIGHT) for place in places)
    assert all((place.x_m > 0.6) == (hand is Hand.LEFT) for place in places)
    assert {round(place.y_m, 9) for place in places} == {-0.25, 0.15}
