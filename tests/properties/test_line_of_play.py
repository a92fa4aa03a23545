"""Ground behind a condition against drawing the line of play from each of thousands of places."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from shapely.geometry import Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.relief.area.line_of_play import ground_behind, only_polygons

PLACES = 3000
BAND_M = 0.001


def random_blob(rng: np.random.Generator) -> Polygon:
    """A star-shaped outline, sometimes with dry ground in its middle."""
    count = int(rng.integers(3, 40))
    turns = np.sort(rng.uniform(0, 2 * math.pi, count))
    radii = rng.uniform(0.6, 4, count)
    middle = rng.uniform(-10, 10, 2)
    shell = Polygon(middle + np.column_stack([radii * np.cos(turns), radii * np.sin(turns)]))
    inner = Point(middle).buffer(0.3)
    has_hole = rng.uniform() < 0.5 and shell.contains_properly(inner)
    return Polygon(shell.exterior, [inner.exterior]) if has_hole else shell


def mismatches(places: NDArray[np.float64], hole: Position, condition: BaseGeometry, found: BaseGeometry, wide_m: float) -> int:
    """Places where the answer differs from the line itself, those within 1 mm of a change left out."""
    lines = shapely.linestrings(np.stack([places, np.broadcast_to(hole.xy, places.shape)], axis=1))
    gaps_m = shapely.distance(lines, condition)
    inside = shapely.contains_xy(found, places[:, 0], places[:, 1])
    from_edge_m = shapely.distance(shapely.points(places), found.boundary)
    clear = from_edge_m > BAND_M
    meets = gaps_m <= wide_m
    return int(((inside != meets) & clear & (np.abs(gaps_m - wide_m) >= wide_m / 1000)).sum())


@pytest.mark.parametrize("half_width_m", [0.0, 0.0213])
@pytest.mark.parametrize("seed", range(25))
def test_against_the_line_from_each_place(seed: int, half_width_m: float) -> None:
    rng = np.random.default_rng(seed)
    blobs = [random_blob(rng) for _ in range(int(rng.integers(1, 4)))]
    condition = only_polygons(shapely.union_all(blobs))
    hole = Position(x_m=float(rng.uniform(-14, 14)), y_m=float(rng.uniform(-14, 14)))
    within = box(-15, -15, 15, 15) if seed % 2 else Point(2, 1).buffer(12, quad_segs=32)
    found = ground_behind(condition, hole, within, half_width_m=half_width_m)
    assert found.is_valid
    places = rng.uniform(-15, 15, (PLACES, 2))
    places = places[shapely.contains_xy(within, places[:, 0], places[:, 1])]
    assert len(places) > PLACES / 3
    assert mismatches(places, hole, condition, found, half_width_m) == 0


@pytest.mark.parametrize("seed", range(10))
def test_hole_in_dry_ground_inside_a_ring_of_water(seed: int) -> None:
    """From everywhere outside the ring the line meets it; the dry middle is seen clear unless a bay of the ring juts into it."""
    rng = np.random.default_rng(seed)
    turns = np.linspace(0, 2 * math.pi, 24, endpoint=False)
    radii = rng.uniform(1, 3, 24)
    dry = Polygon(np.column_stack([radii * np.cos(turns), radii * np.sin(turns)]))
    ring = Polygon(Point(0, 0).buffer(5).exterior, [dry.exterior])
    hole, within = Position(x_m=0.1, y_m=-0.2), box(-9, -9, 9, 9)
    found = ground_behind(ring, hole, within)
    places = rng.uniform(-9, 9, (PLACES, 2))
    assert mismatches(places, hole, ring, found, 0.0) == 0
    assert within.difference(Point(0, 0).buffer(4.99)).difference(found).area < 1e-9


@pytest.mark.parametrize("gap_m", [1e-2, 1e-4, 1e-6])
def test_hole_almost_on_the_edge(gap_m: float) -> None:
    """The hole just short of a straight edge sees it over almost half a turn."""
    rng = np.random.default_rng(5)
    condition, hole = box(-6, 0, 6, 2), Position(x_m=0.3, y_m=-gap_m)
    found = ground_behind(condition, hole, box(-20, -20, 20, 20))
    assert mismatches(rng.uniform(-20, 20, (PLACES, 2)), hole, condition, found, 0.0) == 0
    assert found.area == pytest.approx(40 * 20, rel=0.02)
