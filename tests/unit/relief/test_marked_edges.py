"""Edges of penalty areas: stakes about a curve, places tried along an edge, and faults gathered over a ring's first corner, by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely.affinity import translate
from shapely.geometry import Polygon, box

from marram.core.terms import Area, FeatureKind, Mark
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.partition import polygons_of
from marram.relief.marking.edges import LateralRelief, MarkingFault, try_marking
from marram.relief.marking.places import find_places, sum_edges
from marram.relief.marking.points import points_on_edges
from marram.relief.marking.stakes import edge_bends, find_wide_spacing
from tests.support.ground import course, feature

SIZE_M = 2.337
RED = LateralRelief(size_m=SIZE_M, marks=frozenset({Mark.RED}), in_areas=frozenset(Area) - {Area.OUT_OF_BOUNDS})
POND = box(15, -12, 39, 12)


def pond_course(pond: Polygon, *others: Feature) -> Course:
    """One hole played north past a red pond 150 m short of the green; shapes are given about the middle of that."""
    features = [feature("pond", FeatureKind.PENALTY_AREA, pond, mark=Mark.RED), *others]
    return course(*(replace(each, geometry=translate(each.geometry, 0, -150)) for each in features))


def about(turns_deg: list[float]) -> Polygon:
    """Stakes on a circle of 12 m."""
    turns = np.radians(turns_deg)
    return Polygon(np.column_stack([40 + 12 * np.cos(turns), 12 * np.sin(turns)]))


def test_wide_gaps_on_both_sides_of_the_first_stake_are_one_stretch() -> None:
    """Stakes every 22.5 degrees on the eastern half, every 6 on the western; the file begins in the middle of the eastern half.

    Gaps of 24 sin(11.25 degrees) = 4.68 m leave the arc by 4.68² / 96 = 0.228 m, those of 1.26 m by 0.016 m.
    """
    east = [22.5 * step for step in range(5)]
    west = [90 + 6.0 * step for step in range(1, 30)]
    (stretch,) = find_wide_spacing(pond_course(about([*east, *west, *(270 + 22.5 * step for step in range(4))])))
    assert stretch.gaps == 8
    assert stretch.spacing_m == pytest.approx(24 * math.sin(math.radians(11.25)))
    assert stretch.off_m == pytest.approx(0.228, abs=0.001)
    assert stretch.radius_m == pytest.approx(12.0)


def test_three_stakes_tell_no_curve() -> None:
    """A circle runs through any three places."""
    assert find_wide_spacing(pond_course(about([0, 120, 240]))) == ()


def test_a_corner_between_straight_edges_is_no_curve() -> None:
    """Of a long box with one stake in the middle of its side no edge bends at both ends but the short ones, and those by the lesser."""
    lengths_m, bends_per_m = edge_bends(np.array([(0.0, 0.0), (10.0, 0.0), (20.0, 0.0), (20.0, 6.0), (0.0, 6.0)]))
    assert lengths_m == pytest.approx([10, 10, 6, 20, 6])
    # Through three corners of a right angle runs the circle about the middle of the longest side: radii sqrt(136) / 2 and sqrt(436) / 2.
    assert bends_per_m == pytest.approx([0, 0, 2 / math.sqrt(436), 2 / math.sqrt(436), 2 / math.sqrt(436)])


def test_both_ends_of_a_bunker_along_the_edge_are_tried_on_either_side() -> None:
    """Sand from 3.3 m south to 4.1 m north of the middle of the western edge: 2 mm to either side of each end."""
    ground = pond_course(POND, feature("sand", FeatureKind.BUNKER, box(10, -3.3, 15, 4.1)))
    xy = points_on_edges(ground, [0]).xy
    on_west = {round(float(y) + 150, 3) for x, y in xy if abs(x - 15) < 1e-6}
    assert on_west >= {-3.302, -3.298, 4.098, 4.102}
    assert len(on_west & {-3.312, 4.112}) == 0


def test_a_fault_that_runs_over_the_first_corner_of_a_ring_is_one_place() -> None:
    """Sand 5 m wide about the whole pond but for 8 m before the middle of its western edge.

    South of y = -6.337 a relief area of 2.337 m reaches no grass: half of the way round, over the two southern corners, at one of which
    the ring begins, a ball may be dropped in sand alone. That is one place, 24 m long in the south and over 5 m up either side.
    """
    sand = polygons_of(POND.buffer(5, join_style="mitre").difference(POND).difference(box(5, -4, 15, 4)))
    ground = pond_course(POND, feature("sand", FeatureKind.BUNKER, sand))
    assert tuple(shapely.get_coordinates(ground.penalty_areas[0].geometry)[0]) in {(15, -162), (39, -162)}
    found = [place for place in find_places(ground, try_marking(ground, RED)) if any(y < -157 for _, y in place.stretch)]
    assert [place.fault for place in found] == [MarkingFault.ONLY_IN_BUNKER]
    assert {(15.0, -157.5), (15.0, -162.0), (39.0, -162.0), (39.0, -157.5)} <= {(round(x, 6), round(y, 6)) for x, y in found[0].stretch}
    assert found[0].extent_m > 24 + 2 * 5


@pytest.mark.parametrize(("usable_m2", "none", "small"), [(0.049, 1, 0), (0.05, 0, 1), (0.999, 0, 1), (1.0, 0, 0)])
def test_under_a_twentieth_of_a_square_metre_is_nowhere_and_under_one_is_small(usable_m2: float, none: int, small: int) -> None:
    ground = pond_course(POND)
    tried = try_marking(ground, RED)
    count = len(tried.place)
    (edge,) = sum_edges(ground, replace(tried, area_m2={Area.GENERAL_AREA: np.full(count, usable_m2)}))
    assert (edge.none, edge.small) == (none * count, small * count)
