"""Bands, equal arcs, fairway points, fans and common ground, worked by hand."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Polygon, box

from marram.core.terms import Area
from marram.course.frame import Position
from marram.relief.area.arcs import lens_area_m2
from marram.relief.area.area import AreaPart, ReliefArea
from marram.relief.area.band import Band
from marram.relief.area.common_ground import overlap_of
from marram.relief.area.equal_arc import points_on_equal_arc
from marram.relief.area.fairway_point import nearest_point_on_ground
from marram.relief.area.fan import Fan
from marram.relief.area.shapes import Crescent

HOLE = Position(x_m=0, y_m=0)
ANYWHERE = box(-500, -500, 500, 500)


def at(x_m: float, y_m: float) -> Position:
    return Position(x_m=x_m, y_m=y_m)


def band(first: Position, second: Position, margin_m: float = 1.0, least_m: float = 10.0, far_m: float = 50.0) -> Band:
    return Band(hole=HOLE, first=first, second=second, margin_m=margin_m, least_m=least_m, far_m=far_m)


def test_a_quarter_without_margins_is_a_quarter_of_a_ring() -> None:
    assert band(at(10, 0), at(0, 20), margin_m=0.0).area_on_m2(ANYWHERE) == pytest.approx(math.pi * (50**2 - 10**2) / 4)


def test_one_line_twice_leaves_the_margins() -> None:
    """Two strips side by side, 2 m wide in all, between two circles: by integrating sqrt(r² - y²) over the width."""

    def half_strip_m2(radius_m: float) -> float:
        return (math.sqrt(radius_m**2 - 1) + radius_m**2 * math.asin(1 / radius_m)) / 2

    same = band(at(10, 0), at(25, 0))
    assert same.area_on_m2(ANYWHERE) == pytest.approx(2 * (half_strip_m2(50) - half_strip_m2(10)))
    assert same.depth_m(at(30, 0.4)) == pytest.approx(0.6)
    assert same.depth_m(at(30, 1.5)) == pytest.approx(-0.5)
    assert same.depth_m(at(9, 0)) == pytest.approx(-1)
    assert same.depth_m(at(-30, 0)) < 0


@pytest.mark.parametrize(
    ("first", "second", "margin_m", "far_m", "words"),
    [
        (HOLE, at(1, 1), 1.0, 50.0, "hole itself"),
        (at(10, 0), at(-10, 0.1), 1.0, 50.0, "opposite sides"),
        (at(10, 0), at(20, 0), 0.0, 50.0, "no width"),
        (at(10, 0), at(0, 20), -1.0, 50.0, "no width"),
        (at(10, 0), at(0, 20), 1.0, 10.0, "end farther"),
    ],
)
def test_bands_that_are_none(first: Position, second: Position, margin_m: float, far_m: float, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        band(first, second, margin_m=margin_m, far_m=far_m)


def test_equal_arc_meets_both_edges_of_a_path() -> None:
    """On the circle of 5 m the path's edges y = 3 and y = -4 are at x = 4 and x = 3; the first is nearer along the arc."""
    found = points_on_equal_arc(at(5, 0), HOLE, box(-9, -4, 9, 3), ANYWHERE)
    assert [place.xy for place in found] == [pytest.approx((4, 3)), pytest.approx((3, -4))]


def test_equal_arc_without_a_place() -> None:
    assert points_on_equal_arc(at(5, 0), HOLE, ANYWHERE, ANYWHERE) == ()
    assert points_on_equal_arc(at(5, 0), HOLE, Polygon(), Polygon()) == ()
    assert points_on_equal_arc(at(5, 0), HOLE, Polygon(), ANYWHERE) == (at(5, 0),)
    with pytest.raises(ValueError, match="lies at the hole"):
        points_on_equal_arc(HOLE, HOLE, Polygon(), ANYWHERE)


def test_nearest_place_of_a_fairway() -> None:
    """Straight over where that is no nearer the hole; else where the circle of 5 m meets the edge."""
    found = nearest_point_on_ground(at(5, 0), HOLE, box(-9, 2, 9, 9))
    assert found is not None
    assert found.xy == pytest.approx((5, 2))
    sideways = nearest_point_on_ground(at(3, 4), HOLE, box(-9, -9, 9, 3.2))
    assert sideways is not None
    assert sideways.xy == pytest.approx((math.sqrt(25 - 3.2**2), 3.2))


def test_no_fairway_so_far_from_the_hole() -> None:
    assert nearest_point_on_ground(at(50, 0), HOLE, box(-9, -9, 9, 9)) is None
    assert nearest_point_on_ground(at(50, 0), HOLE, Polygon()) is None
    assert nearest_point_on_ground(at(5, 0), HOLE, box(-9, -9, 9, 9)) == at(5, 0)


def test_a_fan_widens_with_the_distance_from_the_hole() -> None:
    """0.3 m at 20 m from the hole: 300 m behind, sixteen times as much, in two standard deviations 9.6 m."""
    fan = Fan(hole=HOLE, reference=at(0, 20), sigma_m=0.3)
    assert fan.half_width_m(0) == pytest.approx(0.6)
    assert fan.half_width_m(300) == pytest.approx(9.6)
    outline = fan.outline([(0, 20), (40, 60)])
    assert outline.area == pytest.approx((0.6 + 1.2) * 20 + (1.8 + 2.4) * 20)
    assert outline.bounds == pytest.approx((-2.4, 20, 2.4, 80))
    assert fan.outline([]).is_empty


def test_a_fan_that_runs_any_way_is_refused() -> None:
    with pytest.raises(ValueError, match="any direction"):
        Fan(hole=HOLE, reference=at(0, 0.5), sigma_m=0.3)
    with pytest.raises(ValueError, match="any direction"):
        Fan(hole=HOLE, reference=HOLE, sigma_m=0.0)
    with pytest.raises(ValueError, match="0 or more"):
        Fan(hole=HOLE, reference=at(0, 20), sigma_m=-0.1)


def relief_area(centre: Position, ground: Polygon) -> ReliefArea:
    shape = Crescent(centre=centre, radius_m=2.0, hole=at(0, 100), least_m=0.0)
    outline = shape.outline().intersection(ground)
    assert isinstance(outline, Polygon)
    part = AreaPart(area=Area.GENERAL_AREA, area_m2=shape.area_on_m2(ground), outline=outline, ground=ground)
    return ReliefArea(shape=shape, parts=(part,))


def test_two_estimates_share_a_lens() -> None:
    common = overlap_of(relief_area(at(0, 0), ANYWHERE), relief_area(at(1.5, 0), ANYWHERE))
    exact_m2 = lens_area_m2(2.0, 2.0, 1.5)
    assert exact_m2 - 0.02 <= common.area_m2 <= exact_m2
    halved = overlap_of(relief_area(at(0, 0), ANYWHERE), relief_area(at(1.5, 0), box(-9, 0, 9, 9)))
    assert halved.area_m2 == pytest.approx(common.area_m2 / 2, abs=1e-3)


def test_two_estimates_far_apart_share_nothing() -> None:
    common = overlap_of(relief_area(at(0, 0), ANYWHERE), relief_area(at(9, 0), ANYWHERE))
    assert common.outline.is_empty
    assert common.area_m2 == 0
