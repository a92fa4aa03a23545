"""Sums over edges for lateral relief: against closed formulas and finely drawn circles, and where ground touches the reference point."""

from __future__ import annotations

import math
from types import FunctionType

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from marram.course.partition import polygons_of
from marram.relief.area.arcs import lens_area_m2
from marram.relief.area.crescent_sums import COURSE, CRESCENT, OTHER_PENALTY_AREA, OWN_PENALTY_AREA, measure_crescents, misses_disc
from marram.relief.marking import kernel
from marram.relief.marking.edges import measure_table
from marram.relief.marking.small_rings import Ground, cut_into_rings

SIZE_M = 2.337
ORIGIN = (0.0, 0.0)


def table(
    grounds: list[Ground], at: tuple[float, float], hole: tuple[float, float], *, owner: int = -1, most_corners: int = 32
) -> NDArray[np.float64]:
    """Areas by column about one point; compiled kernel and plain twin must agree."""
    rings = cut_into_rings(grounds, most_corners=most_corners)
    given = (rings, np.array([at]), np.array([owner]), np.array([0]), np.array([hole]), SIZE_M)
    compiled = measure_table(*given, kernel.measure_crescents)
    plain = measure_table(*given, measure_crescents)
    assert compiled == pytest.approx(plain, abs=1e-9)
    return np.asarray(compiled[0])


def area_m2(ground: Polygon | MultiPolygon, at: tuple[float, float], hole: tuple[float, float]) -> float:
    return float(table([Ground(geometry=ground, column=COURSE)], at, hole)[COURSE])


def drawn(at: tuple[float, float], hole: tuple[float, float]) -> BaseGeometry:
    """The crescent with circles so fine that its area is true to 0.001 m²: the hole's arc only as far as it matters."""
    away_m = math.dist(at, hole)
    disc = Point(at).buffer(SIZE_M, quad_segs=256)
    if away_m <= 2 * SIZE_M:
        return disc.difference(Point(hole).buffer(away_m, quad_segs=1024))
    back = math.atan2(at[1] - hole[1], at[0] - hole[0])
    half = 1.2 * 2 * math.asin(SIZE_M / (2 * away_m))
    turns = back + half * np.linspace(-1, 1, 257)
    arc = np.column_stack([hole[0] + away_m * np.cos(turns), hole[1] + away_m * np.sin(turns)])
    return disc.difference(Polygon([hole, *arc]))


@pytest.mark.parametrize("away_m", [0.05, 0.5, SIZE_M / 2, SIZE_M / 2 + 1e-9, 1.3, SIZE_M, 10.0, 150.0, 500.0, 5_000.0])
def test_ground_all_round_holds_the_whole_crescent(away_m: float) -> None:
    found = table([Ground(geometry=box(-50, -50, 50, 50), column=COURSE)], ORIGIN, (0.6 * away_m, 0.8 * away_m))
    exact_m2 = math.pi * SIZE_M**2 - lens_area_m2(SIZE_M, away_m, away_m)
    assert found[COURSE] == pytest.approx(exact_m2, abs=1e-8)
    assert found[CRESCENT] == pytest.approx(exact_m2, abs=1e-8)


def test_the_hole_at_the_reference_point_leaves_the_whole_disc() -> None:
    assert area_m2(box(-9, -9, 9, 9), ORIGIN, ORIGIN) == pytest.approx(math.pi * SIZE_M**2, abs=1e-9)


def test_half_the_crescent_on_either_side_of_the_line_to_the_hole() -> None:
    """The edge runs through the reference point and the hole, where a test of sides has nothing to hold on to."""
    left, right = box(-9, -9, 9, 0), box(-9, 0, 9, 9)
    for away_m in (0.4, 1.5, 30.0, 400.0):
        whole_m2 = math.pi * SIZE_M**2 - lens_area_m2(SIZE_M, away_m, away_m)
        for side in (left, right):
            assert area_m2(side, ORIGIN, (away_m, 0.0)) == pytest.approx(whole_m2 / 2, abs=1e-9)


@pytest.mark.parametrize("turn", [0.0, 0.1, math.pi / 2, 2.0, math.pi, 4.0])
def test_a_corner_at_the_reference_point(turn: float) -> None:
    hole = (120 * math.cos(turn), 120 * math.sin(turn))
    for wedge in (Polygon([ORIGIN, (8, 0), (8, 8)]), Polygon([ORIGIN, (8, -8), (8, 8)]), Polygon([ORIGIN, (-8, 1), (-8, -1)])):
        assert area_m2(wedge, ORIGIN, hole) == pytest.approx(drawn(ORIGIN, hole).intersection(wedge).area, abs=1e-3)


def test_neighbours_that_share_edges_add_up() -> None:
    hole = (40.0, 25.0)
    strips = [box(-3 + k, -3, -2 + k, 3) for k in range(6)]  # one shared edge runs through the reference point
    assert sum(area_m2(strip, ORIGIN, hole) for strip in strips) == pytest.approx(area_m2(box(-3, -3, 3, 3), ORIGIN, hole), abs=1e-9)


def test_zero_length_edges_and_double_corners_change_nothing() -> None:
    corners = [(-1.0, -2.0), (3.0, -1.0), (2.0, 2.5), (-2.0, 1.0)]
    doubled = [corner for corner in corners for _ in range(3)]
    between = polygons_of(shapely.segmentize(Polygon(corners), 0.05))
    for hole in ((70.0, 0.0), (0.7, 0.2)):
        expected = area_m2(Polygon(corners), ORIGIN, hole)
        assert area_m2(Polygon(doubled), ORIGIN, hole) == pytest.approx(expected, abs=1e-9)
        assert area_m2(between, ORIGIN, hole) == pytest.approx(expected, abs=1e-9)


def test_ground_of_no_width_has_no_area() -> None:
    spike = Polygon([(-3, 0.3), (3, 0.3), (3, 0.3 + 1e-12), (-3, 0.3)])
    assert area_m2(spike, ORIGIN, (60.0, 0.0)) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("start", "end", "misses"),
    [
        ((1, 5), (2, 5), True),  # both ends north of the disc
        ((-9, 3), (9, 3), True),  # passes the centre 3 m off
        ((-9, 1), (9, 1), False),  # and 1 m off
        ((5, 0), (9, 0), True),  # its line meets the disc before the start
        ((-9, 0), (-5, 0), True),  # or beyond the end
        ((0, 1), (9, 9), False),  # begins within
        ((9, 9), (0, -1), False),  # ends within
        ((0, 5), (5, 0), True),  # 5 / sqrt(2) m off
        ((0, 2.8), (2.8, 0), False),  # 1.98 m off
    ],
)
def test_an_edge_misses_a_disc_of_two_metres(start: tuple[float, float], end: tuple[float, float], misses: bool) -> None:
    assert misses_disc(*start, *end, 4.0) is misses
    assert misses_disc(*end, *start, 4.0) is misses


def test_ground_far_away_or_behind_a_gap_counts_nothing() -> None:
    around = polygons_of(box(-30, -30, 30, 30).difference(box(-5, -5, 5, 5)))  # all round the point, and out of reach
    assert area_m2(around, ORIGIN, (60.0, 0.0)) == pytest.approx(0.0, abs=1e-9)


def test_nested_areas_and_the_area_that_is_left() -> None:
    """A pond with an island penalty area in it: what is left out is the pond alone."""
    island = Point(1.2, 0).buffer(0.4)
    pond = polygons_of(box(-6, -6, 6, 0.5).difference(island))
    grounds = [
        Ground(geometry=box(-40, -40, 40, 40), column=COURSE),
        Ground(geometry=pond, column=OTHER_PENALTY_AREA, owner=0),
        Ground(geometry=island, column=OTHER_PENALTY_AREA, owner=1),
    ]
    hole = (-80.0, 0.0)
    found = table(grounds, (0.0, 0.5), hole, owner=0)
    shape = drawn((0.0, 0.5), hole)
    assert found[OWN_PENALTY_AREA] == pytest.approx(shape.intersection(pond).area, abs=2e-3)
    assert found[OTHER_PENALTY_AREA] == pytest.approx(shape.intersection(island).area, abs=2e-3)
    from_island = table(grounds, (0.8, 0.0), hole, owner=1)
    assert from_island[OTHER_PENALTY_AREA] > from_island[OWN_PENALTY_AREA]


def test_cutting_into_smaller_rings_changes_no_area() -> None:
    stream = LineString([(-20, -3), (-5, 1), (4, -1), (20, 3)]).buffer(1.5, quad_segs=24)
    ground = [Ground(geometry=polygons_of(box(-25, -25, 25, 25).difference(stream)), column=COURSE)]
    found = [table(ground, (-5.0, 2.5), (90.0, 40.0), most_corners=most)[COURSE] for most in (4, 8, 16, 64, 100_000)]
    assert found == pytest.approx([found[0]] * len(found), abs=1e-9)


def agree_with_drawn_circles(cases: int, seed: int) -> None:
    rng = np.random.default_rng(seed)
    for _ in range(cases):
        turns = np.sort(rng.uniform(0, 2 * math.pi, int(rng.integers(4, 40))))
        radii_m = rng.uniform(0.5, 6, len(turns))
        ground = shapely.make_valid(Polygon(np.column_stack([radii_m * np.cos(turns), radii_m * np.sin(turns)])))
        part = polygons_of(max(shapely.get_parts(ground), key=lambda each: each.area))
        ring = shapely.get_coordinates(part)
        places = (ring[0], (ring[0] + ring[1]) / 2, rng.uniform(-4, 4, 2))  # a corner, the middle of an edge, anywhere
        x, y = places[int(rng.integers(3))]
        away_m, turn = 10 ** rng.uniform(-1, 2.7), rng.uniform(0, 2 * math.pi)
        at, hole = (float(x), float(y)), (float(x + away_m * math.cos(turn)), float(y + away_m * math.sin(turn)))
        assert area_m2(part, at, hole) == pytest.approx(drawn(at, hole).intersection(part).area, abs=0.005)


def test_random_ground_agrees_with_finely_drawn_circles() -> None:
    agree_with_drawn_circles(2_000, seed=3)


@pytest.mark.long
def test_random_ground_agrees_with_finely_drawn_circles_at_length() -> None:
    agree_with_drawn_circles(100_000, seed=4)


def test_the_kernel_is_compiled_anew_where_nothing_can_be_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither the package's folder nor the user's can be written to."""

    def no_cache(**options: object) -> object:
        if options.get("cache"):
            raise RuntimeError("cannot cache function: no locator available")
        return lambda plain: plain

    def plain() -> int:
        return 7

    assert isinstance(plain, FunctionType)
    monkeypatch.setattr("numba.njit", no_cache)
    assert kernel._jitted(plain) is plain
