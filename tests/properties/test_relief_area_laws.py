"""Relief areas measured on whole ground: against points counted one by one with an explicit order, and the laws that they keep."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, FeatureKind, Mark
from marram.course.course import Course
from marram.course.frame import Position
from marram.relief.area.arcs import lens_area_m2
from marram.relief.area.area import SMALLEST_M2, ReliefArea, measure_relief_area
from marram.relief.area.shapes import Crescent
from tests.support.ground import feature
from tests.support.random_ground import Crossing, area_at, areas_at, each_part, own_water, random_crossing, random_motion, red_area_at

NUMBERS = range(24)
RADIUS_M = 2.337
DROPPABLE = frozenset({Area.GENERAL_AREA, Area.BUNKER, Area.PUTTING_GREEN, Area.TEEING_AREA, Area.PENALTY_AREA})
STEP_M = 0.005
COUNTING_ERROR_M2 = 0.012
"""A sliver under 0.01 m² may be dropped; cells cut by 30 m of edge miscount 0.001 m², and whole millimetres as much."""

APART_M2 = 0.002
"""Edges that cross are held to whole millimetres where they do, on one side and not on the other: half a millimetre along 4 m."""


def crescent(crossing: Crossing, radius_m: float = RADIUS_M) -> Crescent:
    return Crescent(centre=crossing.at, radius_m=radius_m, hole=crossing.hole, least_m=crossing.at.distance_m(crossing.hole))


def measured(crossing: Crossing, radius_m: float = RADIUS_M) -> ReliefArea:
    shape = crescent(crossing, radius_m)
    return measure_relief_area(shape, crossing.course, 1, may_lie_in=lambda area: area in DROPPABLE, without=[crossing.own])


def sizes(area: ReliefArea) -> dict[Area, float]:
    return {part.area: part.area_m2 for part in area.parts}


@pytest.mark.parametrize("number", [*range(10), *(pytest.param(n, marks=pytest.mark.long) for n in range(10, 200))])
def test_each_part_by_counting_points(number: int) -> None:
    crossing = random_crossing(number)
    shape = crescent(crossing)
    offsets = np.arange(-RADIUS_M, RADIUS_M, STEP_M) + STEP_M / 3
    xs, ys = np.meshgrid(crossing.at.x_m + offsets, crossing.at.y_m + offsets)
    inside = np.hypot(xs - shape.centre.x_m, ys - shape.centre.y_m) <= RADIUS_M
    inside &= np.hypot(xs - shape.hole.x_m, ys - shape.hole.y_m) >= shape.least_m
    xs, ys = xs[inside], ys[inside]
    own = own_water(crossing)
    outside = ~shapely.contains_xy(own, xs, ys)
    counted = np.bincount(areas_at(crossing.course.features, 1, xs[outside], ys[outside]), minlength=len(Area)) * STEP_M**2
    found = sizes(measured(crossing))
    for area, counted_m2 in zip(Area, counted, strict=True):
        if area is not Area.OUT_OF_BOUNDS:
            assert found.get(area, 0.0) == pytest.approx(counted_m2, abs=COUNTING_ERROR_M2)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_thousand_points_of_the_drawn_area_are_where_a_ball_may_be_dropped(number: int) -> None:
    crossing = random_crossing(number)
    area, shape = measured(crossing), crescent(crossing)
    if area.area_m2 < SMALLEST_M2:
        assert area.outline().area <= area.area_m2
        return
    own = own_water(crossing)
    xs, ys = points_within(area.outline(), 1000, number)
    assert (np.hypot(xs - crossing.at.x_m, ys - crossing.at.y_m) <= RADIUS_M + 1e-9).all()
    assert (np.hypot(xs - crossing.hole.x_m, ys - crossing.hole.y_m) >= shape.least_m - 1e-9).all()
    points = shapely.points(xs, ys)
    surveyed = [each.geometry.boundary for each in crossing.course.features if isinstance(each.geometry, Polygon)]
    clear_of_edges = np.atleast_1d(shapely.distance(shapely.union_all(surveyed), points) > 0.001)
    kinds = areas_at(crossing.course.features, 1, xs, ys)
    out = list(Area).index(Area.OUT_OF_BOUNDS)
    assert not ((kinds == out) & clear_of_edges).any()
    assert not (shapely.contains_xy(own, xs, ys) & clear_of_edges).any()
    for x, y, is_sure in zip(xs[:100], ys[:100], clear_of_edges[:100], strict=True):
        if is_sure:
            (part,) = [part for part in area.parts if part.outline.covers(shapely.Point(x, y))]
            assert part.area is area_at(crossing.course, 1, x, y)
            assert area.depth_m(Position(x_m=x, y_m=y)) >= -0.001


def points_within(ground: Polygon | MultiPolygon, count: int, seed: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Random points of some ground."""
    rng = np.random.default_rng(seed)
    least_x, least_y, most_x, most_y = ground.bounds
    xs, ys = rng.uniform(least_x, most_x, 40 * count), rng.uniform(least_y, most_y, 40 * count)
    inside = shapely.contains_xy(ground, xs, ys)
    assert inside.sum() >= count, "too few points fell on the ground to say anything about it"
    return xs[inside][:count], ys[inside][:count]


@pytest.mark.parametrize("number", NUMBERS)
def test_parts_are_apart_and_no_larger_than_the_crescent(number: int) -> None:
    crossing = random_crossing(number)
    area = measured(crossing)
    to_hole_m = crossing.at.distance_m(crossing.hole)
    whole_m2 = math.pi * RADIUS_M**2 - lens_area_m2(RADIUS_M, to_hole_m, to_hole_m)
    assert 0 < area.area_m2 <= whole_m2 + 1e-9
    grounds = [part.ground for part in area.parts]
    for index, first in enumerate(grounds):
        for second in grounds[index + 1 :]:
            assert first.intersection(second).area < APART_M2
    assert crescent(crossing).area_on_m2(polygons(grounds)) == pytest.approx(area.area_m2, abs=APART_M2)


def polygons(grounds: Sequence[BaseGeometry]) -> MultiPolygon:
    return MultiPolygon(each_part(shapely.union_all(grounds)))


@pytest.mark.parametrize("number", NUMBERS)
def test_a_longer_club_gives_no_part_less(number: int) -> None:
    crossing = random_crossing(number)
    shorter, longer = sizes(measured(crossing)), sizes(measured(crossing, 1.1 * RADIUS_M))
    for area, size_m2 in shorter.items():
        assert longer[area] >= size_m2 - 1e-9


@pytest.mark.parametrize("number", NUMBERS)
def test_a_larger_penalty_area_gives_no_more(number: int) -> None:
    crossing = random_crossing(number)
    before_m2 = measured(crossing).area_m2
    for more_m in (0.01, 0.3, 1.5):
        larger = replace(crossing, own=crossing.own.buffer(more_m))
        after_m2 = measured(larger).area_m2
        assert after_m2 <= before_m2 + 1e-9
        before_m2 = after_m2


@pytest.mark.parametrize("number", NUMBERS)
def test_ground_far_away_changes_nothing(number: int) -> None:
    crossing = random_crossing(number)
    far = feature("far", FeatureKind.PENALTY_AREA, box(40, -90, 60, -70), mark=Mark.RED)
    more = replace(crossing, course=crossing.course.with_conditions([far]))
    assert sizes(measured(more)) == pytest.approx(sizes(measured(crossing)), abs=1e-9)


@pytest.mark.parametrize("number", NUMBERS)
def test_turning_shifting_and_mirroring_the_ground(number: int) -> None:
    """Outlines are held to whole millimetres, which lie elsewhere on turned ground; shifts by whole metres change nothing."""
    crossing, motion = random_crossing(number), random_motion(number)
    moved = replace(crossing, course=moved_course(crossing.course, number), at=motion.place(crossing.at), hole=motion.place(crossing.hole))
    moved = replace(moved, own=motion.ground(crossing.own))
    before, after = sizes(measured(crossing)), sizes(measured(moved))
    for area in before.keys() | after.keys():
        assert after.get(area, 0.0) == pytest.approx(before.get(area, 0.0), abs=COUNTING_ERROR_M2)
    shifted = replace(motion, turn_deg=90.0 * (number % 4), east_m=8000.0, north_m=-7000.0)
    kept = replace(crossing, course=moved_course(crossing.course, number, shifted.matrix()), own=shifted.ground(crossing.own))
    kept = replace(kept, at=shifted.place(crossing.at), hole=shifted.place(crossing.hole))
    assert sizes(measured(kept)) == pytest.approx(before, abs=2e-5)


def moved_course(ground: Course, number: int, matrix: list[float] | None = None) -> Course:
    turned = matrix or random_motion(number).matrix()
    features = [replace(each, geometry=affinity.affine_transform(each.geometry, turned)) for each in ground.features]
    return replace(ground, features=tuple(features))


@pytest.mark.parametrize("number", NUMBERS)
def test_how_the_survey_writes_its_rings_changes_nothing(number: int) -> None:
    crossing = random_crossing(number)
    written = [replace(each, geometry=shapely.segmentize(shapely.reverse(each.geometry), 0.5)) for each in crossing.course.features]
    again = replace(crossing, course=replace(crossing.course, features=tuple(written)))
    for area, size_m2 in sizes(measured(crossing)).items():
        # Points put in along an edge come to lie on whole millimetres too, up to half a millimetre beside it.
        assert sizes(measured(again))[area] == pytest.approx(size_m2, abs=COUNTING_ERROR_M2)


@pytest.mark.parametrize("number", [n if n in (2, 9, 16, 21) else n for n in NUMBERS])
def test_an_outline_in_two_touching_parts_is_one(number: int) -> None:
    """The pond surveyed as two features that share an edge gives the relief area of the pond surveyed as one."""
    crossing = random_crossing(number)
    (pond,) = [each for each in crossing.course.features if each.id == "pond"]
    west, east = box(-200, -200, round(crossing.at.x_m, 3), 200), box(round(crossing.at.x_m, 3), -200, 200, 200)
    halves = [
        replace(pond, id=name, geometry=polygons([pond.geometry.intersection(side)]), properties=json.dumps({"id": name}))
        for name, side in (("west", west), ("east", east))
        if pond.geometry.intersection(side).area > 0.01
    ]
    others = [each for each in crossing.course.features if each is not pond]
    divided = replace(crossing.course, features=(*halves, *others))
    joined = [area for area in divided.penalty_areas if area.mark is Mark.RED]
    assert len(joined) == len([area for area in crossing.course.penalty_areas if area.mark is Mark.RED])
    again = measured(replace(crossing, course=divided, own=red_area_at(divided, crossing.at)))
    for area, size_m2 in sizes(measured(crossing)).items():
        assert sizes(again)[area] == pytest.approx(size_m2, abs=COUNTING_ERROR_M2)


def test_a_far_hole_leaves_half_a_disc_and_a_near_one_more() -> None:
    half_m2 = math.pi * RADIUS_M**2 / 2
    everywhere = box(-1e5, -1e5, 1e5, 1e5)
    last_m2 = math.inf
    for to_hole_m in (0.3, 1.2, 2.4, 10, 100, 1000, 10_000):
        hole = Position(x_m=to_hole_m, y_m=0)
        shape = Crescent(centre=Position(x_m=0, y_m=0), radius_m=RADIUS_M, hole=hole, least_m=to_hole_m)
        size_m2 = shape.area_on_m2(everywhere)
        assert half_m2 < size_m2 < last_m2
        # The hole's arc bulges into the half disc by x²/2d at x from the middle, which adds up to r³/3d.
        if to_hole_m >= 100:
            assert size_m2 - half_m2 == pytest.approx(RADIUS_M**3 / (3 * to_hole_m), rel=0.01)
        last_m2 = size_m2
