"""Nearest points of complete relief from curved paths and discs, against a search of a 2 cm grid.

The search puts a player at each place of the grid, from the lengths of the stance alone, and asks which of them are clear; it knows
nothing of the ground from which relief would be incomplete.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import LineString, Point, box

from marram.core.terms import Club, Hand
from marram.course.frame import Position
from marram.course.partition import polygons_of
from marram.relief.clear.stance import STANCES
from tests.support.random_ground import Scene

ALL_PARTS = frozenset({"lie", "stance", "swing"})
STEP_M = 0.02
BALL_RADIUS_M = 0.0213
FOOT_HALF_WIDTH_M = 0.05


def mirrored(scene: Scene) -> Scene:
    """The same ground seen in a mirror along the x axis, with the other hand."""
    return Scene(
        ball=Position(x_m=scene.ball.x_m, y_m=-scene.ball.y_m),
        hole=Position(x_m=scene.hole.x_m, y_m=-scene.hole.y_m),
        condition=affinity.scale(scene.condition, 1, -1, origin=(0, 0)),
        allowed=affinity.scale(scene.allowed, 1, -1, origin=(0, 0)),
        club=scene.club,
        hand=Hand.LEFT if scene.hand is Hand.RIGHT else Hand.RIGHT,
    )


def random_scene(number: int) -> Scene:
    """A bending path, a disc, or both; a ball on or near it; a bunker that may lie in the way."""
    rng = np.random.default_rng(1000 + number)
    along = np.linspace(-25, 25, 80)
    bend, wave, phase = rng.uniform(0.2, 2.5), rng.uniform(4, 18), rng.uniform(0, 2 * math.pi)
    across = bend * (np.sin(along / wave * 2 * math.pi + phase) - math.sin(phase))
    path = LineString(np.column_stack([along, across])).buffer(rng.uniform(0.4, 1.3))
    disc = Point(rng.uniform(-0.3, 0.3), rng.uniform(-0.3, 0.3)).buffer(rng.uniform(0.1, 1.2))
    kinds = [path, disc, path.union(affinity.translate(disc, 0.8, 1.1))]
    condition = affinity.rotate(kinds[number % 3], float(rng.uniform(0, 360)), origin=(0, 0))
    bunker = Point(rng.uniform(-4, 4), rng.uniform(-4, 4)).buffer(rng.uniform(0.5, 2))
    return Scene(
        ball=Position(x_m=float(rng.uniform(-0.5, 0.5)), y_m=float(rng.uniform(-0.5, 0.5))),
        hole=Position(x_m=float(rng.uniform(6, 150)), y_m=float(rng.uniform(-30, 30))),
        condition=polygons_of(condition),
        allowed=polygons_of(box(-150, -150, 300, 150).difference(bunker)),
        club=list(Club)[number % len(Club)],
        hand=Hand.RIGHT if rng.uniform() < 0.5 else Hand.LEFT,
    )


def player_at(scene: Scene) -> list[tuple[float, float, float]]:
    """How far ahead, to the left and round each part of the player reaches, from the lengths of the stance."""
    stance, side = STANCES[scene.club], 1 if scene.hand is Hand.RIGHT else -1
    parts = [(0.0, 0.0, BALL_RADIUS_M)]
    for heel_m in (-stance.heels_m / 2 - stance.forward_m, stance.heels_m / 2 - stance.forward_m):
        parts += [(heel_m, side * left_m, FOOT_HALF_WIDTH_M) for left_m in np.linspace(stance.toe_m + 0.05, stance.toe_m + 0.24, 11)]
    for ahead_m in np.linspace(-stance.swing_back_m, stance.swing_on_m, 10):
        parts.append((float(ahead_m), side * stance.swing_to_player_m, stance.swing_half_width_m))
    return parts


def is_clear(scene: Scene, xs: NDArray[np.float64], ys: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Whether the player is clear of the condition with the ball at each place."""
    turn = np.arctan2(scene.hole.y_m - ys, scene.hole.x_m - xs)
    clear = np.ones(xs.shape, dtype=bool)
    shapely.prepare(scene.condition)
    for ahead_m, left_m, radius_m in player_at(scene):
        left = np.flatnonzero(clear)
        px = xs[left] + ahead_m * np.cos(turn[left]) - left_m * np.sin(turn[left])
        py = ys[left] + ahead_m * np.sin(turn[left]) + left_m * np.cos(turn[left])
        clear[left] = ~shapely.dwithin(scene.condition, shapely.points(px, py), radius_m)
    return clear


def grid_best_m(scene: Scene, reach_m: float) -> float:
    """Distance to the nearest place of the grid within reach that is clear, allowed and not nearer the hole; infinite for none."""
    offsets = np.arange(-reach_m, reach_m + STEP_M, STEP_M)
    dx, dy = (each.ravel() for each in np.meshgrid(offsets, offsets))
    xs, ys = scene.ball.x_m + dx, scene.ball.y_m + dy
    own_m = math.hypot(scene.hole.x_m - scene.ball.x_m, scene.hole.y_m - scene.ball.y_m)
    open_to_it = (np.hypot(dx, dy) <= reach_m) & (np.hypot(scene.hole.x_m - xs, scene.hole.y_m - ys) >= own_m)
    open_to_it &= shapely.contains_xy(scene.allowed, xs, ys)
    xs, ys, away_m = xs[open_to_it], ys[open_to_it], np.hypot(dx, dy)[open_to_it]
    clear = is_clear(scene, xs, ys)
    return float(away_m[clear].min()) if clear.any() else math.inf


@pytest.mark.parametrize("number", range(27))
def test_nearest_point_against_a_grid(number: int) -> None:
    scene = random_scene(number)
    found = scene.found()
    assert found.points
    best = found.points[0]
    on_grid_m = grid_best_m(scene, best.distance_m + 2 * STEP_M)
    assert best.distance_m - 1e-3 <= on_grid_m <= best.distance_m + 2 * STEP_M
    for point in found.points:
        place = point.position
        assert min(clearances_m(scene, place)) >= -1e-3
        assert place.distance_m(scene.hole) >= scene.ball.distance_m(scene.hole) - 1e-6
        assert scene.allowed.distance(Point(place.xy)) <= 1e-6
        assert point.distance_m == pytest.approx(place.distance_m(scene.ball))
        assert point.distance_m <= best.distance_m + 0.05


def clearances_m(scene: Scene, ball: Position) -> list[float]:
    """The gap between each part of the player and the condition, negative where they overlap."""
    turn = math.atan2(scene.hole.y_m - ball.y_m, scene.hole.x_m - ball.x_m)
    gaps = []
    for ahead_m, left_m, radius_m in player_at(scene):
        east_m, north_m = ahead_m * math.cos(turn) - left_m * math.sin(turn), ahead_m * math.sin(turn) + left_m * math.cos(turn)
        gaps.append(float(scene.condition.distance(Point(ball.x_m + east_m, ball.y_m + north_m))) - radius_m)
    return gaps


@pytest.mark.parametrize("number", range(27))
def test_the_other_hand_on_mirrored_ground_gets_the_mirrored_point(number: int) -> None:
    scene = random_scene(number)
    own, other = scene.found().points, mirrored(scene).found().points
    assert len(own) == len(other)
    assert other[0].distance_m == pytest.approx(own[0].distance_m, abs=1e-3)
    places = [(point.position.x_m, -point.position.y_m) for point in other]
    nearest_m = min(math.hypot(x - own[0].position.x_m, y - own[0].position.y_m) for x, y in places)
    assert nearest_m <= 0.005


def test_each_hand_has_its_own_point_beside_a_sprinkler_head() -> None:
    """A head 0.3 m across 2 m off the green, on the line from ball to hole: the two points are mirror images and not one."""
    places = {}
    for hand in Hand:
        scene = Scene(
            ball=Position(x_m=0, y_m=-14),
            hole=Position(x_m=0, y_m=0),
            condition=Point(0, -14).buffer(0.15, quad_segs=32),
            allowed=polygons_of(box(-90, -90, 90, 90).difference(Point(0, 0).buffer(12))),
            club=Club.WEDGE,
            hand=hand,
        )
        (point, *_) = scene.found().points
        assert grid_best_m(scene, point.distance_m + 2 * STEP_M) >= point.distance_m - 1e-3
        places[hand] = point.position
    assert places[Hand.RIGHT].x_m == pytest.approx(-places[Hand.LEFT].x_m, abs=2e-3)
    assert places[Hand.RIGHT].y_m == pytest.approx(places[Hand.LEFT].y_m, abs=2e-3)
    assert places[Hand.RIGHT].distance_m(places[Hand.LEFT]) > 0.1


def test_a_ball_that_is_clear_stays_where_it_is() -> None:
    scene = Scene(
        ball=Position(x_m=0, y_m=0),
        hole=Position(x_m=50, y_m=0),
        condition=Point(0, 4).buffer(1),
        allowed=box(-90, -90, 90, 90),
        club=Club.IRON,
        hand=Hand.RIGHT,
    )
    (point,) = scene.found().points
    assert point.distance_m <= 1e-3
