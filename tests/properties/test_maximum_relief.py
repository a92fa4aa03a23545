"""Maximum available relief against a search of a 2 cm grid that weighs each place by itself."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Point, Polygon

from marram.core.terms import Club, Hand
from marram.course.frame import Position
from marram.relief.area.line_of_play import only_polygons
from marram.relief.clear.maximum import points_of_maximum_relief
from marram.relief.clear.stance import STANCES, Sample, footprint

STEP_M = 0.02
SAME = 0.01
WEIGHTS = {"lie": 10.0, "stance": 1.0, "swing": 0.1}
WHOLE = footprint(STANCES[Club.WEDGE], Hand.RIGHT, frozenset(WEIGHTS))


def weigh(
    xs: NDArray[np.float64], ys: NDArray[np.float64], target: Position, condition: Polygon | MultiPolygon, samples: tuple[Sample, ...]
) -> NDArray[np.float64]:
    """Weighted interference at places, one disc after the other, by plain distances."""
    far = np.hypot(target.x_m - xs, target.y_m - ys)
    ux, uy = (target.x_m - xs) / far, (target.y_m - ys) / far
    total = np.zeros(xs.shape)
    for sample in samples:
        points = shapely.points(xs + sample.ahead_m * ux - sample.left_m * uy, ys + sample.ahead_m * uy + sample.left_m * ux)
        outside_m = shapely.distance(condition, points)
        inside_m = shapely.distance(shapely.boundary(condition), points)
        reach = sample.radius_m + np.where(outside_m > 0, -outside_m, inside_m)
        share = np.clip(reach / (2 * sample.radius_m), 0, 1)
        total += WEIGHTS[sample.part] * share / sum(other.part == sample.part for other in samples)
    return total


def blob(rng: np.random.Generator, middle: tuple[float, float], size_m: float) -> Polygon:
    turns = np.linspace(0, 2 * math.pi, 14, endpoint=False)
    radii = size_m * rng.uniform(0.75, 1.25, 14)
    return Polygon(np.array(middle) + np.column_stack([radii * np.cos(turns), radii * np.sin(turns)]))


@pytest.mark.parametrize("seed", range(10))
def test_no_place_of_a_fine_grid_is_better(seed: int) -> None:
    """A small bunker mostly or wholly under water, with dry spots in it and beside it."""
    rng = np.random.default_rng(seed)
    bunker = blob(rng, (0, 0), 1.5)
    water = blob(rng, (0.2, 0.1), float(rng.uniform(1.0, 2.2))).difference(Point(*rng.uniform(-0.9, 0.9, 2)).buffer(rng.uniform(0.03, 0.4)))
    condition, samples = only_polygons(water), WHOLE[::2]
    ball, hole = Position(x_m=0.3, y_m=0.0), Position(x_m=float(rng.uniform(8, 60)), y_m=float(rng.uniform(-9, 9)))
    found = points_of_maximum_relief(ball, hole, hole, condition, samples, bunker)
    best = found[0]
    here = np.array([best.position.x_m]), np.array([best.position.y_m])
    own = float(weigh(*here, hole, condition, samples)[0])
    assert best.weighted == pytest.approx(own, abs=1e-6)
    assert bunker.covers(Point(best.position.xy))
    assert best.position.distance_m(hole) >= ball.distance_m(hole) - 1e-6
    xs, ys = (axis.ravel() for axis in np.meshgrid(np.arange(-2, 2, STEP_M), np.arange(-2, 2, STEP_M)))
    usable = shapely.contains_xy(bunker, xs, ys) & (np.hypot(xs - hole.x_m, ys - hole.y_m) >= ball.distance_m(hole))
    xs, ys = xs[usable], ys[usable]
    weighted = weigh(xs, ys, hole, condition, samples)
    assert own <= weighted.min() + 2 * SAME
    as_good = weighted <= own - SAME / 2
    nearest_m = np.hypot(xs - ball.x_m, ys - ball.y_m)[as_good].min(initial=math.inf)
    assert best.distance_m <= nearest_m + 0.03
