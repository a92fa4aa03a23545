"""Areas, lines and nearest points against slow oracles that share no code with what they check."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon, box

from marram.core.terms import Club, Hand
from marram.course.frame import Position
from marram.relief.area.lines import line_back
from marram.relief.area.shapes import Crescent
from marram.relief.clear.nearest import nearest_points_of_relief
from marram.relief.clear.stance import STANCES, footprint

ALL_PARTS = frozenset({"lie", "stance", "swing"})
coordinate = st.floats(-4, 4)


@st.composite
def crescents(draw: st.DrawFn) -> Crescent:
    return Crescent(
        centre=Position(x_m=draw(coordinate), y_m=draw(coordinate)),
        radius_m=draw(st.floats(0.3, 3)),
        hole=Position(x_m=draw(coordinate), y_m=draw(coordinate)),
        least_m=draw(st.floats(0.05, 6)),
    )


@st.composite
def stars(draw: st.DrawFn) -> Polygon:
    radii = draw(st.lists(st.floats(0.5, 5), min_size=3, max_size=11))
    turns = [2 * math.pi * number / len(radii) for number in range(len(radii))]
    return Polygon([(r * math.cos(t), r * math.sin(t)) for r, t in zip(radii, turns, strict=True)])


@given(crescents(), stars())
@settings(max_examples=300)
def test_exact_area_against_fine_polygons(shape: Crescent, ground: Polygon) -> None:
    disc = Point(shape.centre.xy).buffer(shape.radius_m, quad_segs=1000)
    near_hole = Point(shape.hole.xy).buffer(shape.least_m, quad_segs=1000)
    oracle = disc.difference(near_hole).intersection(ground).area
    assert shape.area_on_m2(ground) == pytest.approx(oracle, abs=1e-4)
    assert shape.outline().intersection(ground).area <= shape.area_on_m2(ground) + 1e-9


@given(crescents(), stars())
@settings(max_examples=100)
def test_area_by_counting_points(shape: Crescent, ground: Polygon) -> None:
    step = 0.05
    xs, ys = np.meshgrid(np.arange(-8, 8, step), np.arange(-8, 8, step))
    inside = shapely.contains_xy(ground, xs, ys)
    inside &= np.hypot(xs - shape.centre.x_m, ys - shape.centre.y_m) <= shape.radius_m
    inside &= np.hypot(xs - shape.hole.x_m, ys - shape.hole.y_m) >= shape.least_m
    assert shape.area_on_m2(ground) == pytest.approx(float(inside.sum()) * step**2, abs=0.6)


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("seed", range(100))
def test_nearest_point_is_never_longer_than_a_grid_finds(hand: Hand, seed: int) -> None:
    rng = np.random.default_rng(seed)
    hole = Position(x_m=float(rng.uniform(8, 60)), y_m=float(rng.uniform(-20, 20)))
    ball = Position(x_m=float(rng.uniform(-0.4, 0.4)), y_m=float(rng.uniform(-0.4, 0.4)))
    turn, width = rng.uniform(0, math.pi), rng.uniform(0.8, 2.4)
    path = shapely.affinity.rotate(box(-60, -width / 2, 60, width / 2), math.degrees(turn), origin=(0, 0))
    samples = footprint(STANCES[Club.IRON], hand, ALL_PARTS)
    found = nearest_points_of_relief(ball, hole, hole, path, samples, box(-200, -200, 200, 200))
    best = found.points[0]
    assert best.clearance_m >= -1e-4
    assert best.position.distance_m(hole) >= ball.distance_m(hole) - 1e-6
    step, reach = 0.05, best.distance_m + 0.3
    xs, ys = np.meshgrid(np.arange(-reach, reach, step) + ball.x_m, np.arange(-reach, reach, step) + ball.y_m)
    far = np.hypot(hole.x_m - xs, hole.y_m - ys)
    ux, uy = (hole.x_m - xs) / far, (hole.y_m - ys) / far
    clear = np.argwhere((far >= ball.distance_m(hole)) & (np.hypot(xs - ball.x_m, ys - ball.y_m) <= reach))
    for sample in samples:  # each looks only at the places that all before it found clear
        row, column = clear.T
        ahead_x, ahead_y = ux[row, column], uy[row, column]
        px = xs[row, column] + sample.ahead_m * ahead_x - sample.left_m * ahead_y
        py = ys[row, column] + sample.ahead_m * ahead_y + sample.left_m * ahead_x
        clear = clear[shapely.distance(path, shapely.points(px, py)) >= sample.radius_m]
    row, column = clear.T
    grid_best = float(np.hypot(xs[row, column] - ball.x_m, ys[row, column] - ball.y_m).min())
    assert best.distance_m <= grid_best + 1e-3
    assert best.distance_m >= grid_best - 2 * step


def test_mirrored_ground_gives_the_other_hand_the_mirrored_point() -> None:
    hole, ball = Position(x_m=30, y_m=0), Position(x_m=0, y_m=0.1)
    mirrored_ball = Position(x_m=0, y_m=-0.1)
    ground, allowed = box(-0.4, -0.3, 0.5, 0.7), box(-90, -90, 90, 90)
    mirrored = shapely.affinity.scale(ground, 1, -1, origin=(0, 0))
    right, left = (footprint(STANCES[Club.IRON], hand, ALL_PARTS) for hand in (Hand.RIGHT, Hand.LEFT))
    first = nearest_points_of_relief(ball, hole, hole, ground, right, allowed).points[0].position
    second = nearest_points_of_relief(mirrored_ball, hole, hole, mirrored, left, allowed).points[0].position
    assert (second.x_m, second.y_m) == pytest.approx((first.x_m, -first.y_m), abs=1e-4)


@given(st.lists(st.tuples(st.floats(1, 90), st.floats(0.5, 8)), max_size=5), st.floats(0, 2 * math.pi))
@settings(max_examples=100)
def test_line_intervals_against_stepping(ponds: list[tuple[float, float]], turn: float) -> None:
    start, hole = Position(x_m=0, y_m=0), Position(x_m=-20 * math.cos(turn), y_m=-20 * math.sin(turn))
    water = shapely.union_all([Point(d * math.cos(turn), d * math.sin(turn)).buffer(r) for d, r in ponds])
    allowed = box(-100, -100, 100, 100).difference(water)
    line = line_back(start, hole, allowed)
    for step in range(1, 199):
        back_m = step * 0.5 + 0.013
        place = Point(line.place_at(back_m).xy)
        if allowed.boundary.distance(place) > 0.01:
            assert line.holds(back_m) == allowed.contains(place)
