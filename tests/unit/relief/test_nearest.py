"""Nearest points of complete relief in the cases where a search is easily led astray."""

from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box

from marram.core.terms import Club, Hand
from marram.core.units import BALL_RADIUS_M
from marram.course.frame import Position
from marram.relief.area.line_of_play import ground_behind
from marram.relief.clear.nearest import nearest_points_of_relief
from marram.relief.clear.stance import STANCES, clearance_m, footprint

BALL_ONLY = footprint(STANCES[Club.IRON], Hand.RIGHT, frozenset({"lie"}))
WHOLE = footprint(STANCES[Club.IRON], Hand.RIGHT, frozenset({"lie", "stance", "swing"}))
BALL_AND_FEET = footprint(STANCES[Club.IRON], Hand.RIGHT, frozenset({"lie", "stance"}))
ANYWHERE = box(-300, -300, 300, 300)
HOLE = Position(x_m=50, y_m=0)
PATH = box(-60, -1.25, 60, 1.25)


def at(x_m: float, y_m: float) -> Position:
    return Position(x_m=x_m, y_m=y_m)


def test_middle_of_a_path_gives_both_sides() -> None:
    relief = nearest_points_of_relief(at(0, 0), HOLE, HOLE, PATH, BALL_ONLY, ANYWHERE)
    sides_m = sorted(point.position.y_m for point in relief.points)
    assert sides_m == pytest.approx([-1.25 - BALL_RADIUS_M, 1.25 + BALL_RADIUS_M], abs=1e-4)


def test_a_millimetre_to_one_side_turns_the_order_and_keeps_both() -> None:
    for off_m in (0.001, -0.001):
        relief = nearest_points_of_relief(at(0, off_m), HOLE, HOLE, PATH, BALL_ONLY, ANYWHERE)
        assert len(relief.points) == 2
        assert relief.points[0].position.y_m * off_m > 0
        assert relief.points[0].distance_m == pytest.approx(1.25 + BALL_RADIUS_M - 0.001, abs=1e-4)
        assert relief.points[1].distance_m == pytest.approx(1.25 + BALL_RADIUS_M + 0.001, abs=1e-4)


def test_two_nearest_places_on_one_stretch_of_edge() -> None:
    """The edge bulges by 2 cm between two places: the way round is shorter than the tolerance, yet they are 60 cm apart."""
    bulging = Polygon([(-60, -9), (60, -9), (60, 1.0), (0.6, 1.0), (0.3, 1.0), (0, 1.08), (-0.3, 1.0), (-0.6, 1.0), (-60, 1.0)])
    hole = at(0, -50)
    relief = nearest_points_of_relief(at(0, 0), hole, hole, bulging, BALL_ONLY, ANYWHERE)
    first, second = sorted(point.position.x_m for point in relief.points)
    assert first == pytest.approx(-second, abs=1e-3)
    assert second > 0.2
    assert relief.points[0].distance_m == pytest.approx(relief.points[1].distance_m, abs=1e-4)


@pytest.mark.parametrize(("off_m", "count"), [(0.02, 2), (0.03, 1)])
def test_both_sides_count_as_equal_up_to_five_centimetres(off_m: float, count: int) -> None:
    """2 cm off the middle of a path one side is 4 cm farther than the other, 3 cm off it 6 cm."""
    assert len(nearest_points_of_relief(at(0, off_m), HOLE, HOLE, PATH, BALL_ONLY, ANYWHERE).points) == count


def test_a_ragged_edge_gives_one_place() -> None:
    """A survey that wavers by 4 mm every 3 cm makes no further places."""
    edge = [(0.03 * step, 1.25 + (0.004 if step % 2 else 0.0)) for step in range(-240, 241)]
    ragged = Polygon([(-7.2, -9), (7.2, -9), *reversed(edge)])
    hole = at(0, -50)
    relief = nearest_points_of_relief(at(0, 0), hole, hole, ragged, BALL_ONLY, ANYWHERE)
    assert len(relief.points) == 1
    assert relief.points[0].distance_m == pytest.approx(1.25 + BALL_RADIUS_M, abs=0.005)


def test_the_far_edge_of_a_narrow_strip_is_no_nearest_place() -> None:
    """Free ground 4 cm wide, narrowing to one side: 15 cm along, the far edge too comes nearest, but nearer ground lies before it."""
    hole = at(0, -50)
    far = Polygon([(-60, 1.31 + 7.2), (-60, 40), (60, 40), (60, 1.31 - 7.2)])  # its edge falls by 12 in 100
    strip = nearest_points_of_relief(at(0, 0), hole, hole, box(-60, -9, 60, 1.25), BALL_ONLY, ANYWHERE, also_forbidden=far)
    assert [point.distance_m for point in strip.points] == pytest.approx([1.25 + BALL_RADIUS_M], abs=1e-4)


def test_a_gutter_narrower_than_the_gap_to_the_feet_may_be_stood_astride() -> None:
    gutter = box(-60, -0.1, 60, 0.1)
    relief = nearest_points_of_relief(at(0, 0.0), HOLE, HOLE, gutter, BALL_AND_FEET, ANYWHERE)
    best = relief.points[0]
    assert best.distance_m == pytest.approx(0.1 + BALL_RADIUS_M, abs=2e-3)
    assert clearance_m(best.position, HOLE, BALL_AND_FEET, gutter) >= -1e-6
    feet = [sample for sample in BALL_AND_FEET if sample.part == "stance"]
    astride = nearest_points_of_relief(at(0, -0.05), HOLE, HOLE, gutter, BALL_AND_FEET, ANYWHERE).points[0]
    assert astride.position.y_m < -0.1  # the ball on one side, the feet of a right-hander on the other
    assert astride.position.y_m + min(sample.left_m for sample in feet) > 0.1


def test_what_lies_beyond_reach_of_the_ball_but_not_of_the_feet_counts() -> None:
    """3.22 m away the ball is off the path and the feet on a kerb, whose far side they pass with the ball at 3.95 - 0.70 + 0.05 m."""
    with_kerb = MultiPolygon([box(-60, -3.2, 60, 3.2), box(-60, 3.85, 60, 3.95)])
    hole = at(5000, 0)  # so far away that the player hardly turns on the way
    relief = nearest_points_of_relief(at(0, 0), hole, hole, with_kerb, BALL_AND_FEET, ANYWHERE)
    assert [point.position.y_m for point in relief.points] == pytest.approx([3.30], abs=2e-3)


def test_a_pocket_smaller_than_a_square_millimetre_is_no_place() -> None:
    pocket = box(0.3, -0.0004, 0.3008, 0.0004)
    barred = box(-1, -1, 1, 1).difference(pocket)
    for condition in (PATH, box(20, 20, 21, 21)):
        relief = nearest_points_of_relief(at(0, 0), at(-50, 0), HOLE, condition, BALL_ONLY, ANYWHERE, also_forbidden=barred)
        assert relief.points[0].distance_m > 0.9


def test_nowhere_to_go() -> None:
    assert nearest_points_of_relief(at(0, 0), HOLE, HOLE, PATH, WHOLE, box(-1, -1, 1, 1)).points == ()
    assert nearest_points_of_relief(at(0, 0), HOLE, HOLE, ANYWHERE, WHOLE, ANYWHERE).points == ()
    assert nearest_points_of_relief(at(0, 0), HOLE, HOLE, PATH, WHOLE, Polygon()).points == ()


def test_a_far_place_is_found() -> None:
    wide = box(-300, -60, 300, 60)
    relief = nearest_points_of_relief(at(0, 0), HOLE, HOLE, wide, BALL_ONLY, ANYWHERE)
    assert relief.points[0].distance_m == pytest.approx(60 + BALL_RADIUS_M, abs=1e-3)
    assert len(relief.points) == 2


def test_a_ball_just_clear_stays_where_it_is() -> None:
    for y_m in (1.25 + BALL_RADIUS_M, 5.0):
        relief = nearest_points_of_relief(at(0, y_m), HOLE, HOLE, PATH, BALL_ONLY, ANYWHERE)
        assert [(point.position, point.distance_m) for point in relief.points] == [(at(0, y_m), 0.0)]


def test_a_ball_on_the_very_edge_moves_by_its_radius() -> None:
    relief = nearest_points_of_relief(at(0, 1.25), HOLE, HOLE, PATH, BALL_ONLY, ANYWHERE)
    assert relief.points[0].distance_m == pytest.approx(BALL_RADIUS_M, abs=1e-4)


def test_a_clear_ball_outside_the_ground_allowed_must_move() -> None:
    relief = nearest_points_of_relief(at(0, 5), HOLE, HOLE, PATH, BALL_ONLY, box(-60, 6, 30, 20))
    assert relief.points[0].distance_m == pytest.approx(1, abs=1e-3)
    assert relief.points[0].clearance_m == pytest.approx(6 - 1.25 - BALL_RADIUS_M, abs=1e-3)


def test_a_ball_at_the_target_has_no_line_of_play() -> None:
    with pytest.raises(ValueError, match="no line of play"):
        nearest_points_of_relief(HOLE, HOLE, HOLE, PATH, BALL_ONLY, ANYWHERE)


def test_a_ball_at_the_hole_played_elsewhere_may_go_any_way() -> None:
    relief = nearest_points_of_relief(at(0, 0), at(0, 0), HOLE, PATH, BALL_ONLY, ANYWHERE)
    assert len(relief.points) == 2


@pytest.mark.parametrize("to_hole_m", [1.5, 2.0, 3.0, 6.0])
def test_hole_within_reach(to_hole_m: float) -> None:
    hole = at(to_hole_m, 0)
    best = nearest_points_of_relief(at(0, 0), hole, hole, PATH, WHOLE, ANYWHERE).points[0]
    assert best.position.distance_m(hole) >= to_hole_m - 1e-6
    assert clearance_m(best.position, hole, WHOLE, PATH) >= -1e-4
    assert best.distance_m == pytest.approx(1.25 + BALL_RADIUS_M, abs=0.25)


def test_with_the_hole_within_reach_the_near_side_is_barred() -> None:
    """The side of the path towards the hole is 0.97 m away but nearer the hole; the other is 0.3 + 1.25 m and a ball's radius."""
    hole = at(0, 3)
    best = nearest_points_of_relief(at(0, 0.3), hole, hole, PATH, BALL_ONLY, ANYWHERE).points[0]
    assert best.distance_m == pytest.approx(1.55 + BALL_RADIUS_M, abs=1e-4)


def test_the_line_of_play_may_have_to_be_clear_as_well() -> None:
    """Water between ball and hole on a green: the ball must go sideways until its line passes the water."""
    hole, water = at(10, 0), box(3, -1, 5, 1)
    ball = at(2.5, 0)
    behind = ground_behind(water, hole, Point(ball.xy).buffer(12), half_width_m=BALL_RADIUS_M)
    clear_of_water = nearest_points_of_relief(ball, hole, hole, water, BALL_ONLY, ANYWHERE)
    assert clear_of_water.points[0].distance_m == 0
    relief = nearest_points_of_relief(ball, hole, hole, water, BALL_ONLY, ANYWHERE, also_forbidden=behind)
    assert len(relief.points) == 2
    for point in relief.points:
        line = LineString([point.position.xy, hole.xy])
        assert line.distance(water) == pytest.approx(BALL_RADIUS_M, abs=1e-3)
        assert point.position.distance_m(hole) >= 7.5 - 1e-9
    assert relief.forbidden.covers(Point(ball.xy))


@pytest.mark.parametrize("seed", range(8))
def test_a_long_path_is_no_harder_than_its_nearest_part(seed: int) -> None:
    """What lies beyond reach changes nothing: the same answer from the whole path and from the part about the ball."""
    rng = np.random.default_rng(seed)
    xs = np.linspace(-200, 200, 900)
    path = LineString(np.column_stack([xs, 3 * np.sin(xs / 6 + rng.uniform(0, 6))])).buffer(1.4)
    ball = at(float(rng.uniform(-1, 1)), float(rng.uniform(-2, 2)))
    hole = at(float(rng.uniform(-90, 90)), 60.0)
    whole, part = (
        nearest_points_of_relief(ball, hole, hole, ground, WHOLE, ANYWHERE)  # type: ignore[arg-type]
        for ground in (path, path.intersection(box(-14, -14, 14, 14)))
    )
    assert [point.distance_m for point in whole.points] == pytest.approx([point.distance_m for point in part.points], abs=1e-4)
