"""Exact relief areas against fine buffers and counted points, and the laws that any area keeps."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Point, Polygon, box

from marram.course.frame import Position
from marram.relief.area.shapes import Crescent

ORACLE_ERROR_M2 = 2e-5
"""A disc drawn with n sides is short by 2 pi³ r² / 3 n²: with 8,000 sides 1.2e-5 m² at 6 m, 0.2e-5 m² at 2.5 m."""
_STEP_RAD = 6e-5
"""So far apart stand the corners of a far hole's disc: at 40 m a slice is short by 5e-9 m² for each of them."""
nearby = st.floats(-3, 3)


@st.composite
def crescents(draw: st.DrawFn) -> Crescent:
    """A relief area about a point, with a limit that may be the reference point's own distance or another's."""
    centre = Position(x_m=draw(nearby), y_m=draw(nearby))
    to_hole_m, turn = draw(st.floats(0.05, 40)), draw(st.floats(0, 2 * math.pi))
    least_m = max(to_hole_m + draw(st.sampled_from([0.0, 0.0, -0.6, 0.4])), 0.02)
    return Crescent(
        centre=centre,
        radius_m=draw(st.floats(0.3, 2.5)),
        hole=centre.moved(to_hole_m * math.cos(turn), to_hole_m * math.sin(turn)),
        least_m=least_m,
    )


@st.composite
def blobs(draw: st.DrawFn) -> Polygon:
    """A star-shaped polygon about a random middle, sometimes with a hole in it."""
    radii = draw(st.lists(st.floats(0.4, 6), min_size=3, max_size=14))
    turns = [2 * math.pi * number / len(radii) for number in range(len(radii))]
    x, y = draw(nearby), draw(nearby)
    shell = Polygon([(x + r * math.cos(t), y + r * math.sin(t)) for r, t in zip(radii, turns, strict=True)])
    inner = Point(x, y).buffer(0.1, quad_segs=2)
    has_hole = draw(st.booleans()) and shell.contains_properly(inner)
    return Polygon(shell.exterior, [inner.exterior]) if has_hole else shell


def fine_area_m2(shape: Crescent, ground: Polygon) -> float:
    """The same area from buffers of 8,000 sides."""
    disc = Point(shape.centre.xy).buffer(shape.radius_m, quad_segs=2000)
    nearer = Point(shape.hole.xy).buffer(shape.least_m, quad_segs=2000)
    if shape.least_m > 6:  # a far hole: only the slice of its disc that the area lies in matters, drawn a hundred times finer
        middle = math.atan2(shape.centre.y_m - shape.hole.y_m, shape.centre.x_m - shape.hole.x_m)
        widest = math.asin(shape.radius_m / shape.centre.distance_m(shape.hole)) + 0.01
        turns = middle + np.linspace(-widest, widest, math.ceil(2 * widest / _STEP_RAD) + 1)
        arc = np.column_stack([np.cos(turns), np.sin(turns)]) * shape.least_m + np.array(shape.hole.xy)
        nearer = Polygon([shape.hole.xy, *arc])
    return float(disc.difference(nearer).intersection(ground).area)


@given(crescents(), blobs())
@settings(max_examples=300)
def test_area_against_fine_buffers(shape: Crescent, ground: Polygon) -> None:
    assert shape.area_on_m2(ground) == pytest.approx(fine_area_m2(shape, ground), abs=ORACLE_ERROR_M2)


@pytest.mark.parametrize("number", range(12))
def test_area_by_counting_points_of_a_grid(number: int) -> None:
    """Only cells that an edge cuts can be miscounted: some 5,000 of 25 mm², either way, which adds up to about 0.001 m²."""
    rng = np.random.default_rng(number)
    shape = Crescent(
        centre=Position(x_m=0, y_m=0),
        radius_m=float(rng.uniform(0.5, 2.4)),
        hole=Position(x_m=float(rng.uniform(0.3, 9)), y_m=float(rng.uniform(-3, 3))),
        least_m=float(rng.uniform(0.2, 6)),
    )
    turns = np.sort(rng.uniform(0, 2 * math.pi, 9))
    radii = rng.uniform(0.8, 3, 9)
    ground = Polygon(np.column_stack([radii * np.cos(turns), radii * np.sin(turns)]))
    step = 0.005
    xs, ys = np.meshgrid(np.arange(-2.5, 2.5, step) + step / 3, np.arange(-2.5, 2.5, step) + step / 3)
    inside = np.hypot(xs, ys) <= shape.radius_m
    inside &= np.hypot(xs - shape.hole.x_m, ys - shape.hole.y_m) >= shape.least_m
    inside &= shapely.contains_xy(ground, xs, ys)
    assert shape.area_on_m2(ground) == pytest.approx(float(inside.sum()) * step**2, abs=0.01)


@given(crescents(), blobs())
@settings(max_examples=150)
def test_outline_lies_within_the_exact_shape(shape: Crescent, ground: Polygon) -> None:
    outline = shape.outline()
    for x, y in shapely.get_coordinates(outline):
        assert math.hypot(x - shape.centre.x_m, y - shape.centre.y_m) <= shape.radius_m + 1e-9
    middles = [(np.array(a) + np.array(b)) / 2 for ring in rings(outline) for a, b in zip(ring, ring[1:], strict=False)]
    for x, y in middles:
        assert math.hypot(x - shape.hole.x_m, y - shape.hole.y_m) >= shape.least_m - 1e-9
    drawn_m2 = float(outline.intersection(ground).area)
    assert drawn_m2 <= shape.area_on_m2(ground) + 1e-9
    # Not emptier than 1 mm along both arcs, and a sliver of 0.01 m² that is not drawn.
    assert drawn_m2 >= shape.area_on_m2(ground) - 0.002 * 2 * math.pi * (shape.radius_m + min(shape.least_m, 9)) - 0.02


def rings(outline: shapely.Geometry) -> list[list[tuple[float, ...]]]:
    """Corner points of each ring."""
    singles = [part for part in shapely.get_parts(outline) if isinstance(part, Polygon)]
    return [list(ring.coords) for single in singles for ring in (single.exterior, *single.interiors)]


@given(crescents(), blobs(), st.floats(0, 1))
@settings(max_examples=150)
def test_a_larger_radius_never_gives_less(shape: Crescent, ground: Polygon, more_m: float) -> None:
    larger = replace(shape, radius_m=shape.radius_m + more_m)
    assert larger.area_on_m2(ground) >= shape.area_on_m2(ground) - 1e-9
    assert larger.area_on_m2(ground) <= math.pi * larger.radius_m**2 + 1e-9


@given(crescents(), blobs(), nearby, st.floats(0, math.pi))
@settings(max_examples=150)
def test_parts_sum_to_the_whole(shape: Crescent, ground: Polygon, across: float, turn: float) -> None:
    half = affinity.translate(affinity.rotate(box(0, -90, 90, 90), math.degrees(turn), origin=(0, 0)), across, 0)
    parts = [ground.intersection(half), ground.difference(half)]
    sums_m2 = [shape.area_on_m2(part) for whole in parts for part in shapely.get_parts(whole) if isinstance(part, Polygon)]
    assert sum(sums_m2) == pytest.approx(shape.area_on_m2(ground), abs=1e-8)


@given(crescents(), blobs(), st.floats(0, 2 * math.pi), st.floats(-1e4, 1e4), st.floats(-1e4, 1e4), st.booleans())
@settings(max_examples=200)
def test_turning_moving_and_mirroring_change_nothing(
    shape: Crescent, ground: Polygon, turn: float, east_m: float, north_m: float, mirrored: bool
) -> None:
    flip = -1.0 if mirrored else 1.0
    matrix = [math.cos(turn), -flip * math.sin(turn), math.sin(turn), flip * math.cos(turn), east_m, north_m]

    def place(at: Position) -> Position:
        moved = affinity.affine_transform(Point(at.xy), matrix)
        return Position(x_m=moved.x, y_m=moved.y)

    moved = replace(shape, centre=place(shape.centre), hole=place(shape.hole))
    assert moved.area_on_m2(affinity.affine_transform(ground, matrix)) == pytest.approx(shape.area_on_m2(ground), abs=1e-6)


@given(crescents(), blobs(), st.integers(0, 13))
@settings(max_examples=100)
def test_how_a_ring_is_written_changes_nothing(shape: Crescent, ground: Polygon, first: int) -> None:
    """Reversed, started elsewhere, with points put in along its edges and one point written twice."""
    points = list(ground.exterior.coords)[:-1]
    first %= len(points)
    turned = [*points[first:], *points[:first]]
    doubled = Polygon([turned[0], *turned][::-1], list(ground.interiors))
    split = shapely.segmentize(doubled, 0.3)
    assert shape.area_on_m2(split) == pytest.approx(shape.area_on_m2(ground), abs=1e-8)
