"""The line straight back from the hole, and which stretches of it may be used, worked by hand."""

from __future__ import annotations

import pytest
from shapely.geometry import MultiPolygon, Polygon, box

from marram.course.frame import Position
from marram.relief.area.lines import line_back, strip_about

HOLE = Position(x_m=0, y_m=0)
START = Position(x_m=0, y_m=-10)


def stretches(*grounds: Polygon) -> list[float]:
    """Where each stretch begins and ends, metres back."""
    return [end_m for stretch in line_back(START, HOLE, MultiPolygon(list(grounds))).intervals_m for end_m in stretch]


def test_the_line_goes_away_from_the_hole() -> None:
    """From 10 m south of the hole, due south: ground from y = -12 to -15 is 2 to 5 m back; ground towards the hole is not on it."""
    line = line_back(START, HOLE, MultiPolygon([box(-1, -15, 1, -12), box(-1, -8, 1, -5)]))
    assert line.bearing_deg == pytest.approx(180)
    assert stretches(box(-1, -15, 1, -12), box(-1, -8, 1, -5)) == pytest.approx([2, 5])
    assert line.place_at(3).xy == pytest.approx((0, -13))
    assert [line.holds(back_m) for back_m in (1.9, 2.0, 5.0, 5.1)] == [False, True, True, False]


def test_a_stretch_of_less_than_a_centimetre_is_no_ground_to_drop_on() -> None:
    """Lengths are told to a centimetre: 5 mm between two waters is nothing, 20 mm is a place."""
    assert stretches(box(-1, -12.005, 1, -12), box(-1, -20, 1, -15)) == pytest.approx([5, 10])
    assert stretches(box(-1, -12.02, 1, -12)) == pytest.approx([2, 2.02])


@pytest.mark.parametrize(("gap_m", "count"), [(0.0005, 1), (0.003, 2)])
def test_stretches_less_than_a_millimetre_apart_are_one(gap_m: float, count: int) -> None:
    found = stretches(box(-1, -12, 1, -11), box(-1, -14, 1, -12 - gap_m))
    assert len(found) == 2 * count
    assert (found[0], found[-1]) == pytest.approx((1, 4))


def test_ground_far_off_is_reached_and_no_ground_gives_no_stretch() -> None:
    """The line is as long as it must be: 5 m of ground, 5 to 10 m back, from a start at its own edge or well before it."""
    assert stretches(box(-2.5, -20, 2.5, -15)) == pytest.approx([5, 10])
    assert line_back(START, HOLE, Polygon()).intervals_m == ()


def test_from_the_hole_itself_there_is_no_line() -> None:
    with pytest.raises(ValueError, match="no line runs through one point"):
        line_back(HOLE, HOLE, box(-1, -1, 1, 1))


def test_the_strip_about_a_line_is_as_wide_on_either_side() -> None:
    """2 m either way, from the start to the end of the last stretch, 5 m back: 4 m by 5 m."""
    strip = strip_about(line_back(START, HOLE, box(-9, -15, 9, -12)), 2.0)
    assert strip.bounds == pytest.approx((-2, -15, 2, -10))
    assert strip.area == pytest.approx(20)
    assert strip_about(line_back(START, HOLE, Polygon()), 2.0).is_empty
