"""Ground behind a condition, worked by hand."""

from __future__ import annotations

import pytest
from shapely.geometry import Point, Polygon, box

from marram.course.frame import Position
from marram.relief.area.line_of_play import ground_behind

HOLE = Position(x_m=0, y_m=0)


def test_a_square_throws_a_widening_shadow() -> None:
    """Edge from (2, -1) to (2, 1): at x the shadow is x wide, so up to x = 6 it holds (2 + 6) / 2 * 4 = 16 m²."""
    found = ground_behind(box(2, -1, 3, 1), HOLE, box(-10, -10, 6, 10))
    assert found.area == pytest.approx(16, abs=1e-9)


def test_places_beside_and_before_are_clear() -> None:
    found = ground_behind(box(2, -1, 3, 1), HOLE, box(-10, -10, 10, 10))
    assert found.covers(Point(5, 0))
    assert not found.intersects(Point(1.9, 0))
    assert not found.intersects(Point(5, 2.6))
    assert not found.intersects(Point(-5, 0))


def test_a_line_with_width_is_met_from_more_places() -> None:
    """The line from far behind passes the corner (2, 1) when it stays its half-width away from it."""
    ground = box(-10, -10, 10, 10)
    without, with_width = (ground_behind(box(2, -1, 3, 1), HOLE, ground, half_width_m=width_m) for width_m in (0.0, 0.1))
    beside = Point(6, 3.05)
    assert not without.intersects(beside)
    assert with_width.covers(beside)
    assert with_width.covers(without)


def test_a_condition_at_the_hole_is_met_from_everywhere() -> None:
    ground = box(-10, -10, 10, 10)
    assert ground_behind(box(-1, -1, 1, 1), HOLE, ground).equals(ground)
    assert ground_behind(box(0.01, -1, 1, 1), HOLE, ground, half_width_m=0.0213).equals(ground)


def test_a_hole_in_the_condition_is_dry_but_behind_it() -> None:
    ring = Polygon(box(4, -4, 12, 4).exterior, [box(6, -2, 10, 2).exterior])
    found = ground_behind(ring, HOLE, box(-20, -20, 20, 20))
    assert found.covers(Point(8, 0))
    inside = ground_behind(ring, Position(x_m=8, y_m=0), box(-20, -20, 20, 20))
    assert not inside.intersects(box(6.01, -1.99, 9.99, 1.99))
    assert inside.area == pytest.approx(40 * 40 - 16, abs=1e-9)


def test_a_thin_cable_counts() -> None:
    """A condition smaller than a sliver of ground still blocks the line."""
    found = ground_behind(box(2, -0.005, 2.01, 0.005), HOLE, box(-10, -10, 10, 10))
    assert found.covers(Point(9, 0))
    assert found.area == pytest.approx(0.005 * (10**2 - 2**2) / 2, rel=0.01)


def test_a_condition_on_the_far_side_is_met_from_nowhere() -> None:
    assert ground_behind(box(-6, -1, -5, 1), HOLE, box(2, -3, 10, 3)).is_empty
    assert ground_behind(Polygon(), HOLE, box(2, -3, 10, 3)).is_empty
    assert ground_behind(box(2, -1, 3, 1), HOLE, Polygon()).is_empty


def test_a_width_below_nought_is_refused() -> None:
    with pytest.raises(ValueError, match="0 or more"):
        ground_behind(box(2, -1, 3, 1), HOLE, box(2, -3, 10, 3), half_width_m=-0.1)
