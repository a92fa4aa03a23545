"""Maximum available relief, worked by hand."""

from __future__ import annotations

import pytest
from shapely.geometry import MultiPolygon, Polygon, box

from marram.core.terms import Club, Hand
from marram.core.units import BALL_RADIUS_M
from marram.course.frame import Position
from marram.relief.clear.interference import LINE, Weights
from marram.relief.clear.maximum import MaximumPoint, points_of_maximum_relief
from marram.relief.clear.stance import STANCES, footprint

HOLE = Position(x_m=100, y_m=0)
BUNKER = box(-5, -5, 5, 5)
BALL_ONLY = footprint(STANCES[Club.WEDGE], Hand.RIGHT, frozenset({"lie"}))
WHOLE = footprint(STANCES[Club.WEDGE], Hand.RIGHT, frozenset({"lie", "stance", "swing"}))
HERE = Position(x_m=0, y_m=0)


def depth_m(point: MaximumPoint, part: str) -> float:
    return next(each.depth_m for each in point.interference if each.part == part)


def share(point: MaximumPoint, part: str) -> float:
    return next(each.share for each in point.interference if each.part == part)


def test_a_dry_edge_gives_a_clear_ball_and_a_wet_stance() -> None:
    """Water up to y = 4.9: the ball just fits beyond it, with its feet farther on outside the bunker and dry."""
    water = box(-9, -9, 9, 4.9)
    (point,) = points_of_maximum_relief(HERE, HOLE, HOLE, water, BALL_ONLY, BUNKER)
    assert point.position.y_m == pytest.approx(4.9 + BALL_RADIUS_M, abs=2e-3)
    assert (share(point, "lie"), depth_m(point, "lie")) == pytest.approx((0, 0), abs=1e-3)


def test_the_lie_counts_before_the_stance() -> None:
    """A dry strip at the right-hand edge, looking to the hole: a right-hander there stands in the water with both feet."""
    water = box(-9, -4.8, 9, 9)
    (point,) = points_of_maximum_relief(HERE, HOLE, HOLE, water, WHOLE, BUNKER)
    assert point.position.y_m < -4.8 - BALL_RADIUS_M + 2e-3
    assert share(point, "lie") == pytest.approx(0, abs=1e-3)
    assert share(point, "stance") == pytest.approx(1)
    toe_m = STANCES[Club.WEDGE].toe_m
    assert depth_m(point, "stance") > toe_m - (-4.8 - point.position.y_m)


def test_a_dry_spot_smaller_than_the_first_grid_is_found() -> None:
    water = Polygon(box(-9, -9, 9, 9).exterior, [box(-3.43, 2.11, -3.36, 2.18).exterior])
    (point,) = points_of_maximum_relief(HERE, HOLE, HOLE, water, BALL_ONLY, BUNKER)
    assert (point.position.x_m, point.position.y_m) == pytest.approx((-3.39, 2.14), abs=0.02)
    assert point.weighted < 0.02


def test_water_everywhere_leaves_the_ball_where_it_is() -> None:
    (point,) = points_of_maximum_relief(HERE, HOLE, HOLE, box(-20, -20, 20, 20), WHOLE, BUNKER)
    assert point.distance_m == 0
    assert point.weighted == pytest.approx(11.1)


def test_two_dry_sides_equally_far() -> None:
    water = MultiPolygon([box(-9, -4.9, 9, 4.9)])
    found = points_of_maximum_relief(HERE, HOLE, HOLE, water, BALL_ONLY, BUNKER)
    assert sorted(point.position.y_m for point in found) == pytest.approx([-4.9 - BALL_RADIUS_M, 4.9 + BALL_RADIUS_M], abs=2e-3)


def test_other_weights_give_another_place() -> None:
    """With the stance counted before the lie, the feet go to the dry strip instead of the ball."""
    water = box(-9, -9, 9, 4.5)
    samples = tuple(sample for sample in WHOLE if sample.part != "swing")
    (lie_first,) = points_of_maximum_relief(HERE, HOLE, HOLE, water, samples, BUNKER)
    (stance_only,) = points_of_maximum_relief(HERE, HOLE, HOLE, water, samples, BUNKER, weights=Weights(lie=0.0))
    assert lie_first.position.y_m == pytest.approx(4.5 + BALL_RADIUS_M, abs=2e-3)
    # A hundredth of 22 discs 10 cm wide counts as nothing: 11 mm of the foremost disc of each foot.
    assert 4.5 - STANCES[Club.WEDGE].toe_m - 0.012 <= stance_only.position.y_m <= 4.5 - STANCES[Club.WEDGE].toe_m + 0.005


def test_further_ground_to_be_clear_of() -> None:
    water, blocked = box(-9, -9, 9, 4.5), box(-2, 4.5, 2, 5)
    (point,) = points_of_maximum_relief(HERE, HOLE, HOLE, water, BALL_ONLY, BUNKER, also_bad=blocked)
    assert point.position.x_m == pytest.approx(-2, abs=0.01)
    assert share(point, LINE) == 0


def test_no_ground_and_no_line() -> None:
    assert points_of_maximum_relief(HERE, HOLE, HOLE, BUNKER, WHOLE, Polygon()) == ()
    assert points_of_maximum_relief(HERE, HOLE, HOLE, BUNKER, WHOLE, box(20, -5, 30, 5)) == ()
    with pytest.raises(ValueError, match="no line of play"):
        points_of_maximum_relief(HOLE, HOLE, HOLE, BUNKER, WHOLE, BUNKER)
