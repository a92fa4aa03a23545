"""Places told and found on one straight hole: on its green, at the boundary edge, and where its hole is cut."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import LineString, Point, box

from marram.core.errors import SurveyError
from marram.core.terms import Area, FeatureKind, Mark
from marram.core.units import BALL_RADIUS_M
from marram.course.frame import Position
from marram.course.hole_locations import Side, place_location, tell_location
from marram.course.holes import Hole
from marram.course.locate import locate
from marram.course.partition import make_partition, polygons_of
from marram.course.written_features import with_location
from tests.support.ground import course, feature

KIND = FeatureKind


@pytest.mark.parametrize(("side", "in_m", "x_m"), [(Side.LEFT, 5.0, -7.0), (Side.RIGHT, 5.0, 7.0), (Side.LEFT, 24.0, 12.0)])
def test_a_hole_location_is_placed_from_the_front_and_an_edge(side: Side, in_m: float, x_m: float) -> None:
    """The green is 24 m wide 12 m on from its front, and the line runs north: left is west."""
    place = place_location(course().hole(1), on_m=12.0, side=side, in_m=in_m)
    assert place.xy == pytest.approx((x_m, 0.0), abs=1e-6)
    told = tell_location(course().hole(1), place)
    assert told is not None
    assert (told.on_m, told.left_m, told.right_m) == pytest.approx((12.0, 12 + x_m, 12 - x_m), abs=0.002)


@pytest.mark.parametrize(("on_m", "in_m", "said"), [(12.0, 24.5, "24.0 m wide"), (30.0, 1.0, "there is no green")])
def test_a_hole_location_off_the_green_is_refused(on_m: float, in_m: float, said: str) -> None:
    with pytest.raises(SurveyError, match=said):
        place_location(course().hole(1), on_m=on_m, side=Side.LEFT, in_m=in_m)


def test_where_a_green_lies_in_two_stretches_a_place_may_fit_both() -> None:
    """A green like a U, open to the north: 20 m on, two arms of 10 m each, 20 m apart; 6 m in from the left is in both, 12 m in neither."""
    arms = polygons_of(box(-20, 0, 20, 10).union(box(-20, 0, -10, 40)).union(box(10, 0, 20, 40)))
    green = feature("green", KIND.PUTTING_GREEN, arms, holes=(1,))
    hole = Hole(number=1, line=LineString([(0, -300), (0, 5)]), location=None, par=4, stroke_index=1, green=green)
    with pytest.raises(SurveyError, match="fits 2"):
        place_location(hole, on_m=20.0, side=Side.LEFT, in_m=6.0)
    with pytest.raises(SurveyError, match=r"10\.0 m and 10\.0 m wide"):
        place_location(hole, on_m=20.0, side=Side.LEFT, in_m=12.0)
    assert place_location(hole, on_m=5.0, side=Side.LEFT, in_m=6.0).xy == pytest.approx((-14, 5))


def test_before_a_line_begins_and_beyond_its_end_it_goes_on_straight() -> None:
    """A line east for 100 m, then north for 100 m to a green: its front is 90 m north of the bend."""
    green = feature("green", KIND.PUTTING_GREEN, box(90, 90, 110, 110), holes=(1,))
    hole = Hole(number=1, line=LineString([(0, 0), (100, 0), (100, 100)]), location=None, par=4, stroke_index=1, green=green)
    for before_m, right_m, xy in (
        (0.0, 0.0, (100, 90)),
        (40.0, 3.0, (103, 50)),
        (140.0, 3.0, (50, -3)),  # 50 m on along the first leg: right of east is south
        (200.0, 3.0, (-10, -3)),  # 10 m before the line begins
        (-30.0, -3.0, (97, 120)),  # 20 m beyond its end
    ):
        place = hole.before_green(before_m, right_m)
        assert place is not None
        assert place.xy == pytest.approx(xy, abs=1e-9)


@pytest.mark.parametrize(
    ("out_m", "area"),
    [(0.0, Area.GENERAL_AREA), (BALL_RADIUS_M, Area.GENERAL_AREA), (BALL_RADIUS_M + 0.002, Area.OUT_OF_BOUNDS)],
)
def test_a_ball_is_out_of_bounds_only_when_all_of_it_is(out_m: float, area: Area) -> None:
    """Rules of Golf (January 2019), Rule 18.2a(2); the boundary edge runs at x = 300."""
    assert locate(course(), 1, Position(x_m=300 + out_m, y_m=-200)).area is area


def test_where_greens_of_two_holes_lie_over_each_other_each_hole_keeps_its_own() -> None:
    """What both share is a putting green while either is played; what is the other hole's alone is general area then."""
    ground = course(feature("green-2", KIND.PUTTING_GREEN, box(0, -6, 30, 6), holes=(2,)))
    shared, second, first = (Position(x_m=x_m, y_m=0.0) for x_m in (6.0, 25.0, -6.0))
    green, general = Area.PUTTING_GREEN, Area.GENERAL_AREA
    assert [locate(ground, 1, place).area for place in (shared, second, first)] == [green, general, green]
    assert [locate(ground, 2, place).area for place in (shared, second, first)] == [green, green, general]
    (first_whole,), (whole,) = ground.joined_areas(green, 1), ground.joined_areas(green, 2)
    assert whole.geometry.area == 30 * 12
    assert [each.id for each in whole.features] == ["green-2"]
    assert [each.id for each in first_whole.features] == ["green-1"]


def test_a_new_hole_location_takes_the_place_of_its_own_hole_alone() -> None:
    """A location that served holes 1 and 10 serves hole 10 still; everything else stays as it was, once."""
    ground = course(
        feature("hole-3", KIND.HOLE_LOCATION, Point(50, 0), holes=(3,)),
        feature("green-10", KIND.PUTTING_GREEN, box(40, -9, 60, 9), holes=(10,)),
    )
    shared = replace(ground, features=tuple(replace(each, holes=(1, 10)) if each.id == "hole-1" else each for each in ground.features))
    done = with_location(shared, feature("new", KIND.HOLE_LOCATION, Point(2, 2), holes=(1,)))
    assert {each.id: each.holes for each in done.of_kind(KIND.HOLE_LOCATION)} == {"hole-1": (10,), "hole-3": (3,), "new": (1,)}
    assert sorted(each.id for each in done.features) == ["edge", "green-1", "green-10", "hole-1", "hole-3", "line-1", "new", "tee-1"]


def test_two_courses_of_the_same_ground_read_the_same_whichever_was_asked() -> None:
    """What is kept to answer the next question sooner is no part of what a course is."""
    asked, other = course(), course()
    locate(asked, 1, Position(x_m=0.0, y_m=-100.0))
    assert repr(asked) == repr(other)
    assert asked == other


def test_of_ground_that_lies_under_other_ground_what_is_left_counts() -> None:
    """A pond over half of a bunker of 100 m², and over nothing of another: areas 100, 50 and 100 m², and all 3600 m² once."""
    features = [
        feature("under", KIND.BUNKER, box(5, 0, 15, 10)),
        feature("apart", KIND.BUNKER, box(30, 0, 40, 10)),
        feature("pond", KIND.PENALTY_AREA, box(0, 0, 10, 10), mark=Mark.RED),
    ]
    pieces = make_partition(box(-10, -10, 50, 50), features)
    areas_m2 = {piece.feature.id: piece.geometry.area for piece in pieces if piece.feature is not None}
    assert areas_m2 == {"pond": 100, "under": 50, "apart": 100}
    assert sum(piece.geometry.area for piece in pieces) == 60 * 60
