"""Places as far from the hole as another, and areas between circles, worked by hand; the hole is not at the origin."""

from __future__ import annotations

import math

import pytest
from shapely import affinity
from shapely.geometry import Polygon, box

from marram.course.frame import Position
from marram.relief.area.arcs import lens_area_m2
from marram.relief.area.circle_crossings import crossings_of_circle, edges_of
from marram.relief.area.equal_arc import points_on_equal_arc
from marram.relief.area.fairway_point import nearest_point_on_ground
from marram.relief.area.opposite import opposite_edge_points

EAST_M, NORTH_M = 70.0, -90.0
HOLE = Position(x_m=EAST_M, y_m=NORTH_M)


def at(x_m: float, y_m: float) -> Position:
    """A place so far east and north of the hole."""
    return HOLE.moved(x_m, y_m)


def ground(outline: Polygon) -> Polygon:
    """Ground drawn about the hole."""
    moved = affinity.translate(outline, EAST_M, NORTH_M)
    assert isinstance(moved, Polygon)
    return moved


def from_hole(places: object) -> set[tuple[float, float]]:
    """Places as east and north of the hole, to a millimetre."""
    assert hasattr(places, "__iter__")
    pairs = [place.xy if isinstance(place, Position) else place for place in places]
    return {(round(x - EAST_M, 3), round(y - NORTH_M, 3)) for x, y in pairs}


def test_two_discs_have_a_lens_in_common() -> None:
    """Radii 1, centres 1 apart: 2 pi / 3 - sqrt(3) / 2. Apart: nothing. One within the other: the smaller."""
    assert lens_area_m2(1, 1, 1) == pytest.approx(2 * math.pi / 3 - math.sqrt(3) / 2)
    assert lens_area_m2(1, 2, 3) == lens_area_m2(1, 2, 4) == 0
    assert lens_area_m2(1, 3, 1.5) == lens_area_m2(3, 1, 2) == pytest.approx(math.pi)
    # Radii 1 and sqrt(3), centres 2 apart: a right angle where they meet; pi / 3 + pi / 2 - sqrt(3)
    assert lens_area_m2(1, math.sqrt(3), 2) == pytest.approx(math.pi / 3 + math.pi / 2 - math.sqrt(3))


@pytest.mark.parametrize(
    ("outline", "meets"),
    [
        (box(0, -10, 20, 0), {(0.0, -5.0), (5.0, 0.0)}),
        (Polygon([(7, 0), (0, 7), (10, 10)]), {(3.0, 4.0), (4.0, 3.0)}),  # x + y = 7
        (box(4.75, -0.25, 5.25, 0.25), {(4.994, 0.25), (4.994, -0.25)}),  # sqrt(25 - 1 / 16)
        (box(6, 6, 7, 7), set()),
    ],
)
def test_where_edges_meet_a_circle_of_five_metres(outline: Polygon, meets: set[tuple[float, float]]) -> None:
    assert from_hole(crossings_of_circle(ground(outline), HOLE, 5.0).tolist()) == meets


def test_a_square_has_four_edges() -> None:
    assert edges_of(box(0, 0, 1, 1)).shape == (4, 2, 2)


@pytest.mark.parametrize(
    ("outline", "nearest"),
    [
        (box(3, -12, 8, -2), (3.0, -10.0)),  # straight across: sqrt(109) m from the hole
        (box(3, -20, 8, -12), (3.0, -12.0)),  # a corner
        (box(1, -9, 8, -2), (4.359, -9.0)),  # the foot is nearer the hole: where y = -9 meets the circle, sqrt(100 - 81)
        (box(-1, -11, 1, -9), (0.0, -10.0)),  # on the ground
    ],
)
def test_the_nearest_place_of_the_fairway_not_nearer_the_hole(outline: Polygon, nearest: tuple[float, float]) -> None:
    found = nearest_point_on_ground(at(0, -10), HOLE, ground(outline))
    assert found is not None and from_hole([found]) == {nearest}


def test_no_place_of_a_fairway_near_the_hole_is_as_far_from_it() -> None:
    assert nearest_point_on_ground(at(0, -10), HOLE, ground(box(-2, -4, 2, -2))) is None


def test_the_opposite_edge_is_as_far_from_the_hole() -> None:
    """A pond 6 m wide on the line to the hole: from its east edge straight across to the west one."""
    pond = ground(box(-3, -20, 3, -10))
    assert from_hole(opposite_edge_points(at(3, -15), HOLE, pond)) == {(-3.0, -15.0)}
    # A pond whose west edge leans: x = -3 - (y + 15) / 2 meets x^2 + y^2 = 3^2 + 15^2 at y = -15 again, for x = -3 there.
    leaning = ground(Polygon([(3, -20), (3, -10), (-5.5, -10), (-0.5, -20)]))
    assert (-3.0, -15.0) in from_hole(opposite_edge_points(at(3, -15), HOLE, leaning))


def test_the_first_clear_place_on_either_side_at_the_same_distance() -> None:
    """10 m from the hole a thing reaches 2 m to one side and 3 m to the other: y = -sqrt(96) and -sqrt(91)."""
    thing, all_ground = ground(box(-2, -12, 3, -8)), ground(box(-50, -50, 50, 50))
    near, far = points_on_equal_arc(at(0, -10), HOLE, thing, all_ground)
    assert (from_hole([near]), from_hole([far])) == ({(-2.0, -9.798)}, {(3.0, -9.539)})
    assert points_on_equal_arc(at(10, 0), HOLE, thing, all_ground) == (at(10, 0),)
