"""The check of a course's marking: its sums against the exact crescent and the overlay, its kinds of fault, its stakes."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely.affinity import translate
from shapely.geometry import MultiPolygon, Point, Polygon, box

from marram.core.terms import Area, FeatureKind, Mark
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.partition import polygons_of
from marram.relief.area import crescent_sums
from marram.relief.area.shapes import Crescent
from marram.relief.marking import kernel
from marram.relief.marking.edges import (
    PLAIN_UP_TO,
    LateralRelief,
    MarkingFault,
    find_faults,
    measure_table,
    measuring_for,
    try_marking,
)
from marram.relief.marking.places import find_places, sum_edges
from marram.relief.marking.small_rings import Ground, cut_into_rings
from marram.relief.marking.stakes import find_wide_spacing
from tests.support.ground import course, feature

SIZE_M = 2.337
RED = LateralRelief(size_m=SIZE_M, marks=frozenset({Mark.RED}), in_areas=frozenset(Area) - {Area.OUT_OF_BOUNDS})


def blob(random: np.random.Generator) -> Polygon:
    """A random outline of up to 60 corners, now and then with a hole in it."""
    turns = np.sort(random.uniform(0, 2 * math.pi, int(random.integers(3, 60))))
    radii_m = random.uniform(0.5, 12, len(turns))
    outline = polygons_of(shapely.make_valid(Polygon(np.column_stack([radii_m * np.cos(turns), radii_m * np.sin(turns)]))))
    largest = max(shapely.get_parts(outline), key=lambda part: part.area, default=box(0, 0, 1, 1))
    if random.random() < 0.3:
        largest = polygons_of(largest.difference(largest.representative_point().buffer(0.4)))
    return largest


def compare(cases: int, seed: int) -> None:
    """Kernel, exact crescent and drawn overlay on one random ground at a time, a hundred points on each."""
    random = np.random.default_rng(seed)
    points_each = 100
    for _ in range(cases // points_each):
        ground = blob(random)
        hole = np.array([[*random.uniform(-1, 1, 2) * 10 ** random.uniform(-1, 2.7)]])
        points = random.uniform(-12, 12, (points_each, 2))
        corners = shapely.get_coordinates(ground)
        points[:10] = corners[random.integers(len(corners), size=10)]  # reference points on corners
        points[10:20] = hole + random.uniform(-1, 1, (10, 2))  # and beside the hole, where its disc lies within reach
        nobody, same_hole = np.full(points_each, -1), np.zeros(points_each, dtype=np.int64)
        rings = cut_into_rings([Ground(geometry=ground, column=crescent_sums.COURSE)])
        table = measure_table(rings, points, nobody, same_hole, hole, SIZE_M, kernel.measure_crescents)
        hole_at = Position(x_m=float(hole[0, 0]), y_m=float(hole[0, 1]))
        for (x_m, y_m), found in zip(points, table, strict=True):
            centre = Position(x_m=float(x_m), y_m=float(y_m))
            shape = Crescent(centre=centre, radius_m=SIZE_M, hole=hole_at, least_m=centre.distance_m(hole_at))
            assert found[crescent_sums.COURSE] == pytest.approx(shape.area_on_m2(ground), abs=1e-6)
            drawn_m2 = shape.outline().intersection(ground).area
            assert drawn_m2 <= found[crescent_sums.COURSE] + 1e-6
            assert found[crescent_sums.COURSE] - drawn_m2 < 0.02


def test_kernel_exact_crescent_and_overlay_agree() -> None:
    compare(10_000, seed=11)


@pytest.mark.long
def test_kernel_exact_crescent_and_overlay_agree_at_length() -> None:
    compare(100_000, seed=12)


def test_the_kernel_is_its_plain_twin_compiled() -> None:
    random = np.random.default_rng(5)
    points = random.uniform(-8, 8, (200, 2))
    nobody, same_hole = np.full(200, -1), np.zeros(200, dtype=np.int64)
    rings = cut_into_rings([Ground(geometry=blob(random), column=column) for column in range(crescent_sums.CRESCENT)])
    for away_m in (0.5, SIZE_M / 2, 3.0, 150.0):
        hole = np.array([[away_m, 0.0]])
        tables = [
            measure_table(rings, points, nobody, same_hole, hole, SIZE_M, measure)
            for measure in (kernel.measure_crescents, crescent_sums.measure_crescents)
        ]
        np.testing.assert_allclose(tables[0], tables[1], atol=1e-9)


def pond_course(pond: Polygon | MultiPolygon, *others: Feature) -> Course:
    """One hole played north past a pond 150 m short of the green, with room on all sides; the shapes are given about the middle of that."""
    features = [feature("pond", FeatureKind.PENALTY_AREA, pond, mark=Mark.RED), *others]
    return course(*(replace(each, geometry=translate(each.geometry, 0, -150)) for each in features))


def worst(ground: Course) -> dict[MarkingFault, float]:
    """The smallest relief area of each kind of fault that is found."""
    found: dict[MarkingFault, float] = {}
    for place in find_places(ground, try_marking(ground, RED)):
        found[place.fault] = min(place.usable_m2, found.get(place.fault, math.inf))
    return found


def test_a_round_pond_beside_the_hole_has_room_everywhere_but_in_front_of_itself() -> None:
    ground = pond_course(Point(25, 0).buffer(10))
    serious = {fault for fault in worst(ground) if fault is not MarkingFault.SMALL}
    assert serious == set()


def test_a_notch_leaves_nowhere_to_drop() -> None:
    notch = Polygon([(20, -1.5), (20.3, 0), (20, 1.5), (30, 6), (30, -6)])
    pond = box(15, -12, 30, 12).difference(Polygon([(24.0, 12), (24.15, 0), (24.3, 12)]))
    found = worst(pond_course(polygons_of(pond.union(notch))))
    assert found[MarkingFault.NOWHERE] < 0.05


def test_a_bunker_against_the_edge_leaves_only_sand() -> None:
    sand = feature("sand", FeatureKind.BUNKER, box(8, -8, 15, 8))
    assert MarkingFault.ONLY_IN_BUNKER in worst(pond_course(box(15, -6, 30, 6), sand))


def test_another_penalty_area_against_the_edge() -> None:
    other = feature("burn", FeatureKind.PENALTY_AREA, box(8, -8, 14.9, 8), mark=Mark.YELLOW)
    assert MarkingFault.ONLY_IN_PENALTY_AREA in worst(pond_course(box(15, -6, 30, 6), other))


def test_a_zone_against_the_edge() -> None:
    zone = feature("reeds", FeatureKind.NO_PLAY_ZONE, box(8, -8, 15, 8))
    assert MarkingFault.NO_PLAY_ZONE in worst(pond_course(box(15, -6, 30, 6), zone))


def test_the_sums_of_an_edge_count_every_point() -> None:
    ground = pond_course(box(15, -6, 30, 6))
    tried = try_marking(ground, RED)
    (edge,) = sum_edges(ground, tried)
    assert edge.points == len(tried.place)
    assert edge.none + edge.small <= edge.points
    assert edge.least_m2 == pytest.approx(float(tried.usable_m2.min()))


def test_a_hole_in_the_penalty_area_and_touching_water_are_no_crash() -> None:
    around_hole = pond_course(Point(0, 150).buffer(8))
    assert len(try_marking(around_hole, RED).place) > 0
    touching = pond_course(box(15, -6, 30, 6), feature("next", FeatureKind.PENALTY_AREA, box(15, 6, 30, 9), mark=Mark.RED))
    assert len(try_marking(touching, RED).place) > 0


def test_yellow_edges_are_not_tried() -> None:
    ground = course(feature("pond", FeatureKind.PENALTY_AREA, box(15, -156, 30, -144), mark=Mark.YELLOW))
    assert len(try_marking(ground, RED).place) == 0


def test_the_worst_fault_is_told() -> None:
    area_m2 = {Area.GENERAL_AREA: np.array([0.01, 0.5, 0.5, 3.0]), Area.BUNKER: np.array([0.0, 2.0, 0.0, 0.0])}
    nothing = np.zeros(4)
    assert list(find_faults(area_m2, nothing, nothing)) == [
        list(MarkingFault).index(MarkingFault.NOWHERE),
        list(MarkingFault).index(MarkingFault.ONLY_IN_BUNKER),
        list(MarkingFault).index(MarkingFault.SMALL),
        -1,
    ]


def ring_of_stakes(count: int, radius_m: float) -> Polygon:
    turns = 2 * math.pi * np.arange(count) / count
    return Polygon(np.column_stack([25 + radius_m * np.cos(turns), radius_m * np.sin(turns)]))


@pytest.mark.parametrize(("count", "is_told"), [(8, True), (16, True), (60, False)])
def test_stakes_too_far_apart_for_their_curve(count: int, is_told: bool) -> None:
    radius_m = 12.0
    found = find_wide_spacing(pond_course(ring_of_stakes(count, radius_m)), tolerance_m=0.10)
    assert bool(found) == is_told
    for stretch in found:
        spacing_m = 2 * radius_m * math.sin(math.pi / count)
        assert stretch.radius_m == pytest.approx(radius_m, rel=1e-6)
        assert stretch.off_m == pytest.approx(spacing_m**2 / (8 * radius_m), rel=1e-6)
        # The sagitta itself, not its approximation, for the spacing that would do.
        true_m = radius_m - math.sqrt(radius_m**2 - (stretch.wanted_m / 2) ** 2)
        assert true_m == pytest.approx(0.10, rel=0.02)


def test_a_few_places_are_measured_without_compiling() -> None:
    assert measuring_for(PLAIN_UP_TO) is crescent_sums.measure_crescents
    assert measuring_for(PLAIN_UP_TO + 1) is kernel.measure_crescents


def test_rings_are_found_by_groups_of_places() -> None:
    """Nine places: eight share the list about all of them, the ninth far away has a list of its own; no place, no list."""
    grounds = [Ground(geometry=box(x, 0, x + 1, 1), column=crescent_sums.BUNKER) for x in (0, 7, 100)]
    rings = cut_into_rings(grounds)
    points = np.array([(float(step), 0.5) for step in range(8)] + [(100.5, 0.5)])
    first, near = rings.near(points, 2.0)
    columns = [sorted(rings.boxes[near[start:end], 0].tolist()) for start, end in zip(first[:-1], first[1:], strict=True)]
    assert columns == [[0.0, 7.0], [100.0]]
    assert [found.tolist() for found in rings.near(np.empty((0, 2)), 2.0)] == [[0], []]


def test_a_zone_out_of_bounds_takes_no_ground_from_a_relief_area() -> None:
    """Beyond the boundary, 0.1 m from the pond's far edge, nobody may drop anyway: the strip is small, and no zone has made it so."""
    pond, reeds = box(15, -156, 30, -144), box(30.1, -158, 38, -142)
    zone = feature("reeds", FeatureKind.NO_PLAY_ZONE, reeds)
    for boundary, is_of_zone in ((box(-300, -450, 30.1, 150), False), (box(-300, -450, 300, 150), True)):
        ground = course(feature("pond", FeatureKind.PENALTY_AREA, pond, mark=Mark.RED), zone, boundary=boundary)
        tried = try_marking(ground, RED)
        assert (float(tried.zone_m2.max()) > 0) is is_of_zone
        assert (MarkingFault.NO_PLAY_ZONE in worst(ground)) is is_of_zone


def test_ground_out_of_bounds_is_held_against_all_ground_for_a_drop_sand_too() -> None:
    """1.5 m² of good ground and 2 m² of sand are 3.5 m²: of 2 m² out of bounds most is not lost, of 3.6 m² it is."""
    area_m2 = {Area.GENERAL_AREA: np.array([1.5, 1.5]), Area.BUNKER: np.array([2.0, 2.0])}
    found = find_faults(area_m2, np.array([2.0, 3.6]), np.zeros(2))
    assert list(found) == [-1, list(MarkingFault).index(MarkingFault.OUT_OF_BOUNDS)]
