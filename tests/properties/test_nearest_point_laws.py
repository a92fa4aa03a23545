"""Laws that every nearest point of complete relief keeps: rigid motions, larger conditions, ground far away, other ways to write it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely.geometry import MultiPolygon, Point, Polygon, box

from marram.course.frame import Position
from marram.relief.clear.nearest import nearest_points_of_relief
from marram.relief.clear.nearest_free import EQUAL_M
from marram.relief.clear.stance import clearance_m
from tests.support.random_ground import PLAIN_WAYS, Scene, each_part, random_motion, random_scene, rewritten

NUMBERS = range(30)
STEP_OUT_M = 0.0012
"""An overlap by rounding is answered by a step of 1 mm, which one way to write the ground may need and another not."""


def distance_m(scene: Scene) -> float:
    """Distance to the nearest point; infinite where there is none."""
    points = scene.found().points
    return points[0].distance_m if points else math.inf


@pytest.mark.parametrize("number", [*NUMBERS, *(pytest.param(n, marks=pytest.mark.long) for n in range(30, 300))])
def test_turning_shifting_and_mirroring_change_no_distance(number: int) -> None:
    scene, motion = random_scene(number), random_motion(number)
    assert distance_m(motion.scene(scene)) == pytest.approx(distance_m(scene), abs=1e-4)


@pytest.mark.parametrize("number", NUMBERS)
def test_the_point_moves_with_the_ground(number: int) -> None:
    scene, motion = random_scene(number), random_motion(number)
    own, moved = scene.found().points[0], motion.scene(scene).found().points
    # Where the edge runs nearly across the way to the ball, a step of 1 mm slides the point along it.
    slide_m = math.sqrt(2 * max(own.distance_m, 0.05) * 0.0005) + STEP_OUT_M
    assert min(motion.place(own.position).distance_m(other.position) for other in moved) <= slide_m


@pytest.mark.parametrize("number", NUMBERS)
def test_no_point_overlaps_with_the_condition(number: int) -> None:
    """A point drawn a tenth of a millimetre within a round corner is stepped out."""
    scene = random_scene(number)
    for point in scene.found().points:
        assert clearance_m(point.position, scene.hole, scene.samples(), scene.condition) >= -2e-6


@pytest.mark.parametrize("number", NUMBERS)
def test_a_larger_condition_never_gives_a_shorter_distance(number: int) -> None:
    scene = random_scene(number)
    before_m = distance_m(scene)
    patch = Point(scene.ball.x_m + 1.0, scene.ball.y_m - 0.5).buffer(0.4)
    for larger in (scene.condition.union(patch), scene.condition.buffer(0.05), scene.condition.buffer(0.4)):
        assert distance_m(replace(scene, condition=MultiPolygon(each_part(larger)))) >= before_m - STEP_OUT_M


@pytest.mark.parametrize("number", NUMBERS)
def test_less_allowed_ground_never_gives_a_shorter_distance(number: int) -> None:
    scene = random_scene(number)
    own = scene.found().points[0].position
    less = MultiPolygon(each_part(scene.allowed.difference(Point(own.xy).buffer(0.3))))
    assert distance_m(replace(scene, allowed=less)) >= distance_m(scene) - STEP_OUT_M


@pytest.mark.parametrize("number", NUMBERS)
def test_ground_far_away_changes_nothing(number: int) -> None:
    scene = random_scene(number)
    (x, y), to_hole_m = scene.ball.xy, scene.ball.distance_m(scene.hole)
    back_x, back_y = (x - scene.hole.x_m) / to_hole_m, (y - scene.hole.y_m) / to_hole_m
    far = box(x + 60 * back_x - 2, y + 60 * back_y - 2, x + 60 * back_x + 2, y + 60 * back_y + 2)
    again = replace(scene, condition=MultiPolygon([*each_part(scene.condition), far]))
    assert distance_m(again) == pytest.approx(distance_m(scene), abs=1e-9)


@pytest.mark.parametrize("way", PLAIN_WAYS)
@pytest.mark.parametrize("number", range(12))
def test_how_the_ground_is_written_changes_nothing(number: int, way: str) -> None:
    scene = random_scene(number)
    written = replace(scene, condition=rewritten(scene.condition, PLAIN_WAYS[way]), allowed=rewritten(scene.allowed, PLAIN_WAYS[way]))
    assert distance_m(written) == pytest.approx(distance_m(scene), abs=STEP_OUT_M)


@pytest.mark.parametrize("number", range(12))
def test_a_condition_surveyed_in_two_parts_is_one(number: int) -> None:
    scene = random_scene(number)
    sides = [box(-90, -90, scene.ball.x_m, 90), box(scene.ball.x_m, -90, 90, 90)]
    parts = [part for side in sides for part in each_part(scene.condition.intersection(side))]
    divided = replace(scene, condition=MultiPolygon(parts))
    assert distance_m(divided) == pytest.approx(distance_m(scene), abs=STEP_OUT_M)


@pytest.mark.parametrize("number", range(12))
def test_whole_millimetres_move_the_point_by_no_more_than_their_own_size(number: int) -> None:
    """Snapped ground lies between the ground drawn in by 0.71 mm and the ground drawn out by it, and so does its answer."""
    scene = random_scene(number)
    snapped = replace(scene, condition=shapely.transform(scene.condition, lambda xy: xy.round(3)))
    less, more = (
        replace(scene, condition=MultiPolygon(each_part(scene.condition.buffer(by_m, join_style="mitre")))) for by_m in (-8e-4, 8e-4)
    )
    assert distance_m(less) - STEP_OUT_M <= distance_m(snapped) <= distance_m(more) + STEP_OUT_M


def walk(scene: Scene, step_m: float, count: int) -> list[Scene]:
    """The scene with the ball at places a step apart, each no farther from the hole than the one before."""
    ahead = np.random.default_rng(int(1000 * scene.hole.x_m)).uniform(-1.2, 1.2)
    turn = math.atan2(scene.hole.y_m - scene.ball.y_m, scene.hole.x_m - scene.ball.x_m) + ahead
    east_m, north_m = step_m * math.cos(turn), step_m * math.sin(turn)
    return [replace(scene, ball=scene.ball.moved(number * east_m, number * north_m)) for number in range(count)]


@pytest.mark.parametrize("number", range(15))
def test_the_distance_follows_the_ball_without_jumps(number: int) -> None:
    """A place that was open is still open to a ball nearer the hole, so the distance grows by no more than the ball has moved."""
    step_m = 0.02
    scenes = walk(random_scene(number), step_m, 10)
    distances_m = [distance_m(scene) for scene in scenes]
    for before_m, after_m in zip(distances_m, distances_m[1:], strict=False):
        assert after_m <= before_m + step_m + STEP_OUT_M


def told_jumps(number: int) -> int:
    """How often the nearest point jumps on a walk to a place that was open before, having checked that both places are told."""
    step_m, jumps = 0.01, 0
    told = [(scene, scene.found().points) for scene in walk(random_scene(number), step_m, 12)]
    for (first, before), (_, after) in zip(told, told[1:], strict=False):
        old, new = before[0].position, after[0].position
        was_open = new.distance_m(first.hole) >= first.ball.distance_m(first.hole)
        if old.distance_m(new) > 0.5 and was_open:
            assert new.distance_m(first.ball) <= before[0].distance_m + 2 * step_m + STEP_OUT_M
            assert is_told(new, [point.position for point in before])
            assert is_told(old, [point.position for point in after])
            jumps += 1
    return jumps


@pytest.mark.parametrize("number", [4, 8, 37])
def test_where_the_point_jumps_both_places_are_told(number: int) -> None:
    """A jump between two places of the ball means that both were nearly as near, and neither is kept back."""
    assert told_jumps(number) >= 1


@pytest.mark.long
def test_where_the_point_jumps_both_places_are_told_at_length() -> None:
    assert sum(told_jumps(number) for number in range(300)) >= 10


def is_told(place: Position, places: list[Position]) -> bool:
    """Whether a place is among some, to twice the distance at which two count as one."""
    return any(place.distance_m(other) <= 2 * EQUAL_M for other in places)


def test_the_middle_of_a_straight_path_has_two_points_and_a_millimetre_off_it_too() -> None:
    scene = replace(
        random_scene(0),
        ball=Position(x_m=0, y_m=0),
        hole=Position(x_m=0, y_m=-200),
        condition=box(-1.2, -40, 1.2, 40),
        allowed=Polygon(box(-90, -290, 90, 90).exterior),
    )
    lie_only = [sample for sample in scene.samples() if sample.part == "lie"]
    for aside_m in (-0.001, 0.0, 0.001):
        ball = scene.ball.moved(aside_m, 0)
        points = nearest_points_of_relief(ball, scene.hole, scene.hole, scene.condition, tuple(lie_only), scene.allowed).points
        sides = sorted(point.position.x_m for point in points)
        assert sides == pytest.approx([-1.2 - lie_only[0].radius_m, 1.2 + lie_only[0].radius_m], abs=STEP_OUT_M)
