"""Bands between two lines, equal arcs and nearest places of a fairway against counting, stepping and fine grids."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from shapely.geometry import Point, Polygon, box

from marram.course.frame import Position
from marram.relief.area.band import Band
from marram.relief.area.equal_arc import points_on_equal_arc
from marram.relief.area.fairway_point import nearest_point_on_ground
from marram.relief.area.line_of_play import only_polygons

HOLE = Position(x_m=1.0, y_m=-2.0)


def polar(distance_m: float, turn: float) -> Position:
    return HOLE.moved(distance_m * math.cos(turn), distance_m * math.sin(turn))


def star(rng: np.random.Generator, middle: tuple[float, float], size_m: float) -> Polygon:
    turns = np.linspace(0, 2 * math.pi, 12, endpoint=False)
    radii = size_m * rng.uniform(0.4, 1.6, 12)
    return Polygon(np.array(middle) + np.column_stack([radii * np.cos(turns), radii * np.sin(turns)]))


def in_band(band: Band, x: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Straight from the words: between the lines by angle, or within the margin of either line behind the hole."""
    dx, dy = x - band.hole.x_m, y - band.hole.y_m
    inside = np.zeros(x.shape, dtype=bool)
    ways = [np.array([place.x_m - band.hole.x_m, place.y_m - band.hole.y_m]) for place in (band.first, band.second)]
    a, b = (way / np.hypot(*way) for way in ways)
    if a[0] * b[1] - a[1] * b[0] < 0:
        a, b = b, a
    inside |= (a[0] * dy - a[1] * dx >= 0) & (b[0] * dy - b[1] * dx <= 0) & ((a + b)[0] * dx + (a + b)[1] * dy >= 0)
    for way, outer in ((a, -1.0), (b, 1.0)):
        aside = outer * (way[0] * dy - way[1] * dx)
        inside |= (way[0] * dx + way[1] * dy >= 0) & (aside >= 0) & (aside <= band.margin_m)
    far = np.hypot(dx, dy)
    return inside & (far >= band.least_m) & (far <= band.far_m)


def random_band(rng: np.random.Generator) -> Band:
    first = float(rng.uniform(0, 2 * math.pi))
    return Band(
        hole=HOLE,
        first=polar(float(rng.uniform(2, 9)), first),
        second=polar(float(rng.uniform(2, 9)), first + float(rng.choice([0.0, *rng.uniform(-2.8, 2.8, 4)]))),
        margin_m=float(rng.uniform(0.1, 2)),
        least_m=float(rng.uniform(0, 6)),
        far_m=float(rng.uniform(7, 15)),
    )


@pytest.mark.parametrize("seed", range(25))
def test_band_by_counting_points(seed: int) -> None:
    rng = np.random.default_rng(seed)
    band, ground = random_band(rng), star(rng, (2, 1), 9)
    step = 0.04
    xs, ys = np.meshgrid(np.arange(-15, 19, step), np.arange(-18, 17, step))
    inside = in_band(band, xs, ys)
    counted_m2 = float((inside & shapely.contains_xy(ground, xs, ys)).sum()) * step**2
    assert band.area_on_m2(ground) == pytest.approx(counted_m2, abs=0.25)
    # Places and depths: of the same sign wherever it is not a matter of rounding.
    pick = rng.integers(0, xs.size, 300)
    for x, y, is_in in zip(xs.ravel()[pick], ys.ravel()[pick], inside.ravel()[pick], strict=True):
        depth_m = band.depth_m(Position(x_m=float(x), y_m=float(y)))
        assert abs(depth_m) < 1e-9 or (depth_m > 0) == is_in
    outline = band.outline()
    box_m2 = box(*band.reach())
    assert outline.is_valid
    assert box_m2.buffer(1e-6).covers(outline)
    drawn_m2 = float(outline.intersection(ground).area)
    assert drawn_m2 <= band.area_on_m2(ground) + 1e-9
    assert drawn_m2 >= band.area_on_m2(ground) - 0.001 * 3.2 * (band.far_m + band.least_m) - 0.01
    corners = shapely.get_coordinates(outline)
    assert (np.hypot(corners[:, 0] - HOLE.x_m, corners[:, 1] - HOLE.y_m) <= band.far_m + 1e-9).all()


@pytest.mark.parametrize("seed", range(60))
def test_equal_arc_against_steps_of_a_millimetre(seed: int) -> None:
    rng = np.random.default_rng(seed)
    ball_turn = float(rng.uniform(0, 2 * math.pi))
    ball = polar(6.0, ball_turn)
    forbidden = only_polygons(shapely.union(star(rng, ball.xy, 2.5), star(rng, (-3, 2), 2)))
    allowed = star(rng, HOLE.xy, 9)
    found = points_on_equal_arc(ball, HOLE, forbidden, allowed)
    stepped = []
    for side in (1, -1):
        turns = ball_turn + side * np.arange(0, math.pi, 0.001 / 6)
        x, y = HOLE.x_m + 6 * np.cos(turns), HOLE.y_m + 6 * np.sin(turns)
        clear = shapely.contains_xy(allowed, x, y) & ~shapely.contains_xy(forbidden, x, y)
        if clear.any():
            stepped.append((float(clear.argmax()) * 0.001, x[clear.argmax()], y[clear.argmax()]))
    stepped.sort()
    if stepped and stepped[0][0] == 0:
        assert found == (ball,)
    else:
        assert len(found) == len(stepped)
        for place, (_, x, y) in zip(found, stepped, strict=True):
            assert place.distance_m(HOLE) == pytest.approx(6, abs=1e-9)
            assert math.hypot(place.x_m - x, place.y_m - y) <= 0.0011


@pytest.mark.parametrize("seed", range(60))
def test_nearest_place_of_a_fairway_against_a_grid(seed: int) -> None:
    rng = np.random.default_rng(seed)
    point = polar(float(rng.uniform(0.5, 9)), float(rng.uniform(0, 2 * math.pi)))
    ground = only_polygons(star(rng, (float(rng.uniform(-9, 9)), 3), 4).difference(Point(0, 3).buffer(1)))
    found = nearest_point_on_ground(point, HOLE, ground)
    x, y = (axis.ravel() for axis in np.meshgrid(np.arange(-16, 16, 0.03), np.arange(-6, 12, 0.03)))
    usable = shapely.contains_xy(ground, x, y) & (np.hypot(x - HOLE.x_m, y - HOLE.y_m) >= point.distance_m(HOLE))
    if not usable.any():
        assert found is None or ground.distance(Point(found.xy)) < 1e-9
        return
    assert found is not None
    nearest_m = float(np.hypot(x - point.x_m, y - point.y_m)[usable].min())
    assert nearest_m - 0.3 <= found.distance_m(point) <= nearest_m + 1e-9
    assert ground.distance(Point(found.xy)) < 1e-9
    assert found.distance_m(HOLE) >= point.distance_m(HOLE) - 1e-8
