"""Exact areas where circles and edges only just meet: worked by hand, or against discs drawn with thousands of sides."""

from __future__ import annotations

import math

import pytest
import shapely
from shapely.geometry import MultiPolygon, Point, Polygon, box
from shapely.geometry.polygon import orient

from marram.core.terms import Area, FeatureKind, Mark
from marram.course.frame import Position
from marram.relief.area.arcs import area_in_disc_m2, area_in_lens_m2, lens_area_m2
from marram.relief.area.area import measure_relief_area
from marram.relief.area.opposite import opposite_edge_points
from marram.relief.area.shapes import Crescent
from tests.support.ground import course, feature

CENTRE = Position(x_m=0, y_m=0)
EVERYWHERE = box(-50, -50, 50, 50)
RADIUS_M = 2.337


def crescent(to_hole_m: float, radius_m: float = RADIUS_M) -> Crescent:
    return Crescent(centre=CENTRE, radius_m=radius_m, hole=Position(x_m=to_hole_m, y_m=0), least_m=to_hole_m)


@pytest.mark.parametrize("to_hole_m", [0.0, 1e-9, 0.05, 0.5, 1.0, 1.1684, RADIUS_M / 2])
def test_a_hole_within_half_the_radius_cuts_a_whole_disc_out(to_hole_m: float) -> None:
    """The hole's disc lies wholly within the other: what is left is the one less the other."""
    whole_m2 = math.pi * (RADIUS_M**2 - to_hole_m**2)
    assert crescent(to_hole_m).area_on_m2(EVERYWHERE) == pytest.approx(whole_m2, abs=1e-9)


@pytest.mark.parametrize("off_m", [-1e-6, -1e-9, -1e-12, 0.0, 1e-12, 1e-9, 1e-6])
def test_nothing_jumps_at_half_the_radius(off_m: float) -> None:
    to_hole_m = RADIUS_M / 2 + off_m
    whole_m2 = math.pi * RADIUS_M**2 - lens_area_m2(RADIUS_M, to_hole_m, to_hole_m)
    assert crescent(to_hole_m).area_on_m2(EVERYWHERE) == pytest.approx(whole_m2, abs=1e-8)
    assert whole_m2 == pytest.approx(math.pi * 0.75 * RADIUS_M**2, abs=1e-4)
    assert crescent(to_hole_m).outline().is_valid


@pytest.mark.parametrize("to_hole_m", [0.4, RADIUS_M / 2, RADIUS_M, 5.0, 400.0])
def test_ground_within_the_disc_counts_whole_and_ground_around_it_counts_as_the_disc(to_hole_m: float) -> None:
    shape = crescent(to_hole_m)
    behind = box(-1.5, -0.5, -0.2, 0.5)
    assert shape.area_on_m2(behind) == pytest.approx(1.3, abs=1e-12)
    ringed = Polygon(EVERYWHERE.exterior, [behind.exterior])
    assert shape.area_on_m2(ringed) == pytest.approx(shape.area_on_m2(EVERYWHERE) - 1.3, abs=1e-9)
    assert shape.area_on_m2(box(3, 3, 4, 4)) == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("turn_deg", [0, 30, 45, 90, 135, 180, 270])
def test_the_reference_point_on_a_corner_or_an_edge_of_the_ground(turn_deg: float) -> None:
    """A square with a corner at the reference point holds a quarter of the disc, with an edge through it a half."""
    corner = shapely.affinity.rotate(box(0, 0, 9, 9), turn_deg, origin=(0, 0))
    edge = shapely.affinity.rotate(box(-9, 0, 9, 9), turn_deg, origin=(0, 0))
    for ground in (corner, edge):
        nearer = Point(60, 0).buffer(60, quad_segs=40_000)
        oracle_m2 = Point(0, 0).buffer(RADIUS_M, quad_segs=8000).difference(nearer).intersection(ground).area
        assert crescent(60).area_on_m2(ground) == pytest.approx(oracle_m2, abs=1e-4)
    assert area_in_disc_m2(corner, (0, 0), RADIUS_M) == pytest.approx(math.pi * RADIUS_M**2 / 4, abs=1e-12)
    assert area_in_disc_m2(edge, (0, 0), RADIUS_M) == pytest.approx(math.pi * RADIUS_M**2 / 2, abs=1e-12)


def test_edges_of_no_length_and_edges_along_a_tangent_add_nothing() -> None:
    """A square drawn about the circle touches it at four points and holds the whole disc."""
    doubled = Polygon([(-1, -1), (-1, -1), (1, -1), (1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)])
    assert area_in_disc_m2(doubled, (0, 0), 1.0) == pytest.approx(math.pi, abs=1e-12)
    beside = box(1, -1, 3, 1)
    assert area_in_disc_m2(beside, (0, 0), 1.0) == pytest.approx(0, abs=1e-12)
    inner = Polygon([(0.5, 0), (0, 0.5), (-0.5, 0), (0, -0.5)])
    assert area_in_disc_m2(inner, (0, 0), 0.5) == pytest.approx(0.5, abs=1e-12)


@pytest.mark.parametrize("clockwise", [False, True])
def test_rings_either_way_round_and_ground_that_touches_itself(clockwise: bool) -> None:
    bow = MultiPolygon([Polygon([(0, 0), (2, -1), (2, 1)]), Polygon([(0, 0), (-2, 1), (-2, -1)])])
    turned = MultiPolygon([orient(part, -1 if clockwise else 1) for part in bow.geoms])
    # Two wedges of twice the angle whose tangent is a half.
    assert area_in_disc_m2(turned, (0, 0), 1.0) == pytest.approx(2 * math.atan(0.5), abs=1e-12)


@pytest.mark.parametrize(
    ("other_m", "apart_m", "share_m2"), [(1.0, 2.0, 0.0), (1.0, 3.0, 0.0), (0.5, 0.5, math.pi / 4), (1.0, 0.0, math.pi)]
)
def test_lenses_of_circles_that_touch_or_fall_together(other_m: float, apart_m: float, share_m2: float) -> None:
    assert lens_area_m2(1.0, other_m, apart_m) == pytest.approx(share_m2, abs=1e-9)
    assert area_in_lens_m2(EVERYWHERE, (0, 0), 1.0, (apart_m, 0), other_m) == pytest.approx(share_m2, abs=1e-9)


@pytest.mark.parametrize("east_m", [0.0, 0.1, 3.7, 1000.3])
@pytest.mark.parametrize(("own_m", "other_m"), [(2.0, 1.0), (0.1, 0.2), (2.337, 411.7), (2.0, 500.0)])
def test_circles_that_overlap_by_less_than_rounding_share_nothing(east_m: float, own_m: float, other_m: float) -> None:
    """A lens of width w holds less than w times its chord 2 sqrt(2 w r): under 1e-9 m² for a nanometre and a radius of 500 m."""
    for thin_m in (0.0, 1e-15, 1e-13, 1e-11, 1e-9):
        other_x = math.nextafter(east_m + own_m + other_m - thin_m, 0)
        assert area_in_lens_m2(EVERYWHERE, (east_m, 0), own_m, (other_x, 0), other_m) == pytest.approx(0, abs=1e-9)


def test_empty_ground_and_an_empty_size_have_no_area() -> None:
    assert crescent(10).area_on_m2(Polygon()) == 0
    assert crescent(10).area_on_m2(MultiPolygon()) == 0
    assert area_in_lens_m2(EVERYWHERE, (0, 0), 0.0, (1, 0), 5.0) == 0


@pytest.mark.parametrize("marks", [(Mark.RED, Mark.RED), (Mark.RED, Mark.YELLOW)])
def test_the_reference_point_on_the_common_edge_of_two_penalty_areas(marks: tuple[Mark, Mark]) -> None:
    """Two ponds of one mark that touch are one penalty area; of two marks they are two, and one is no ground outside the other."""
    west = feature("west", FeatureKind.PENALTY_AREA, box(-20, -60, 0, -40), mark=marks[0])
    east = feature("east", FeatureKind.PENALTY_AREA, box(0, -60, 20, -40), mark=marks[1])
    ground = course(west, east)
    assert len(ground.penalty_areas) == len(set(marks))
    at, hole = Position(x_m=0, y_m=-60), Position(x_m=0, y_m=0)
    shape = Crescent(centre=at, radius_m=RADIUS_M, hole=hole, least_m=at.distance_m(hole))
    own = [area.geometry for area in ground.penalty_areas if area.mark is Mark.RED]
    areas = {Area.GENERAL_AREA, Area.PENALTY_AREA}
    found = measure_relief_area(shape, ground, 1, may_lie_in=lambda area: area in areas, without=own)
    # South of the ponds' common edge every place of the half disc is general area and none is nearer the hole.
    parts = {part.area: part.area_m2 for part in found.parts}
    assert parts[Area.GENERAL_AREA] == pytest.approx(math.pi * RADIUS_M**2 / 2, abs=1e-6)
    other_m2 = shape.area_on_m2(box(0, -60, 20, -40)) if len(set(marks)) == 2 else 0.0
    assert parts.get(Area.PENALTY_AREA, 0.0) == pytest.approx(other_m2, abs=1e-6)


def test_opposite_edge_of_a_place_on_a_corner_and_of_a_ring_with_a_point_twice() -> None:
    hole = Position(x_m=0, y_m=0)
    plain = box(-10, -60, 10, -40)
    doubled = Polygon([(-10, -60), (-10, -60), (10, -60), (10, -40), (10, -40), (-10, -40)])
    for at in (Position(x_m=-10, y_m=-50), Position(x_m=-10, y_m=-60), Position(x_m=-10, y_m=-40)):
        once, twice = (opposite_edge_points(at, hole, area) for area in (plain, doubled))
        assert [place.xy for place in once] == [pytest.approx(place.xy) for place in twice]
        for place in once:
            assert place.distance_m(hole) == pytest.approx(at.distance_m(hole), abs=1e-9)
            assert plain.boundary.distance(Point(place.xy)) < 1e-9
    (across,) = opposite_edge_points(Position(x_m=-10, y_m=-50), hole, plain)
    assert across.xy == pytest.approx((10, -50))


@pytest.mark.parametrize("bulge_m", [0.0, 0.0005])
def test_a_place_farther_along_the_same_bank_is_not_on_the_opposite_edge(bulge_m: float) -> None:
    """The bank runs across the line to the hole, straight or out by less than outlines are held to; both places are as far from it."""
    pond = Polygon([(-10, -60), (10, -60), (10, -50), (0, -50 + bulge_m), (-10, -50)])
    at = Position(x_m=-0.5, y_m=-50 + 0.95 * bulge_m)
    assert opposite_edge_points(at, Position(x_m=0, y_m=0), pond) == ()
