"""The nearest point of complete relief by a list of candidates: slow, and without any overlay of polygons.

The nearest place lies where the ball's own projection falls on a bounding curve, or where two bounding curves meet. The curves are: for
each disc of the footprint the places of the ball from which that disc just touches the condition; the edge of the allowed ground; the
circle about the hole through the ball. All such places are listed; the nearest that is clear, allowed and not nearer the hole is the
answer. The places of the ball are found from the places of a disc by iterating the definition of the stance, not by its inverse.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.relief.clear.stance import Sample
from tests.support.random_ground import Scene, each_part

Points = NDArray[np.float64]
LINE_STEP_M = 0.05
ARC_STEP = math.radians(4)
ROUNDING_M = 1e-4
"""Curves in steps of 4 degrees of a 7 cm arc and of 5 cm of a line bent over 6 m are true to less than this."""
FARTHEST_M = 14.0


def nearest_by_candidates(
    scene: Scene, *, slack_m: float = 0.0, samples: tuple[Sample, ...] | None = None
) -> tuple[float, Position | None]:
    """Distance and place of the nearest point of complete relief; infinite and None where there is none within reach.

    Args:
        scene: The ball and its surroundings.
        slack_m: By how much more than touching the footprint, the limit and the edges of the allowed ground must be clear; negative
            for less.
        samples: The discs of the footprint; None for the whole player.
    """
    limits = _Limits(scene, slack_m, scene.samples() if samples is None else samples)
    ball = np.array(scene.ball.xy)
    if limits.holds(ball[None, :])[0]:
        return 0.0, scene.ball
    starts, ends = limits.pieces()
    feet = _projections(ball, starts, ends)
    away_m = np.hypot(*(feet - ball).T)
    best_m, best = _first_that_holds(limits, feet, away_m, ball)
    close = away_m < min(best_m, FARTHEST_M)
    met = _meetings(*limits.worth_meeting(starts[close], ends[close]))
    meeting_m, meeting = _first_that_holds(limits, met, np.hypot(*(met - ball).T), ball)
    if meeting_m < best_m:
        best_m, best = meeting_m, meeting
    return best_m, best


class _Limits:
    """What a place of the ball must keep to, and the curves where it just does."""

    def __init__(self, scene: Scene, slack_m: float, samples: tuple[Sample, ...]) -> None:
        self.scene = scene
        self.samples = [replace(sample, radius_m=sample.radius_m + slack_m) for sample in samples]
        self.least_m = scene.ball.distance_m(scene.hole) + slack_m
        self.allowed = scene.allowed.buffer(-slack_m) if slack_m else scene.allowed
        shapely.prepare(self.allowed)
        shapely.prepare(scene.condition)

    def holds(self, places: Points, room_m: float = 0.0) -> NDArray[np.bool_]:
        """Which places keep to all limits, but for rounding and the room given."""
        spare_m = ROUNDING_M + room_m
        hole = np.array(self.scene.hole.xy)
        kept: NDArray[np.bool_] = np.hypot(*(places - hole).T) >= self.least_m - spare_m
        kept &= shapely.dwithin(self.allowed, shapely.points(places), spare_m)
        for sample in self.samples:
            left = np.flatnonzero(kept)
            if left.size and sample.radius_m > spare_m:
                discs = shapely.points(_disc_places(places[left], hole, sample))
                kept[left] = ~shapely.dwithin(self.scene.condition, discs, sample.radius_m - spare_m)
        return kept

    def worth_meeting(self, starts: Points, ends: Points) -> tuple[Points, Points]:
        """Pieces that are not wholly and surely out of the question."""
        if not len(starts):
            return starts, ends
        # A disc moves at most 1.3 times as far as the ball beyond 5 m from the hole.
        kept = self.holds((starts + ends) / 2, room_m=0.7 * float(np.hypot(*(ends - starts).T).max()))
        return starts[kept], ends[kept]

    def pieces(self) -> tuple[Points, Points]:
        """Short straight pieces of all bounding curves near the ball."""
        chains = [ring for part in each_part(self.allowed) for ring in _rings(part)]
        near = [_fine(np.array(ring), LINE_STEP_M) for ring in chains]
        near.append(_circle(self.scene.hole, self.least_m, self.scene.ball))
        rims = {s.radius_m: _joined(_at_distance(self.scene.condition, s.radius_m)) for s in self.samples}
        near += [_ball_places(rims[sample.radius_m], np.array(self.scene.hole.xy), sample) for sample in self.samples]
        whole = _joined(near)
        starts, ends = whole[:-1], whole[1:]
        close = np.hypot(*(starts - np.array(self.scene.ball.xy)).T) < FARTHEST_M
        close &= np.isfinite(ends).all(axis=1)
        return starts[close], ends[close]


def _rings(part: Polygon) -> list[list[tuple[float, ...]]]:
    return [list(ring.coords) for ring in (part.exterior, *part.interiors)]


def _joined(chains: list[Points]) -> Points:
    """All chains in one, with a place that is nowhere between each two."""
    return np.vstack([part for chain in chains for part in (chain, np.full((1, 2), np.nan))])


def _fine(chain: Points, step_m: float) -> Points:
    """A chain with points put in so that no piece is longer than a step."""
    parts = []
    for a, b in zip(chain, chain[1:], strict=False):
        count = max(1, math.ceil(math.hypot(*(b - a)) / step_m))
        parts.append(a + (b - a) * np.arange(count)[:, None] / count)
    return np.vstack([*parts, chain[-1:]])


def _circle(centre: Position, radius_m: float, near: Position) -> Points:
    """The part of a circle near a place."""
    middle = math.atan2(near.y_m - centre.y_m, near.x_m - centre.x_m)
    half = math.pi if radius_m <= FARTHEST_M else math.asin(min(1.0, FARTHEST_M / radius_m)) + 0.01
    step = 2 * math.acos(radius_m / (radius_m + ROUNDING_M / 4))
    turns = middle + np.linspace(-half, half, math.ceil(2 * half / step) + 2)
    return np.column_stack([centre.x_m + radius_m * np.cos(turns), centre.y_m + radius_m * np.sin(turns)])


def _at_distance(ground: BaseGeometry, distance_m: float) -> list[Points]:
    """Lines along each edge and arcs about each corner that hold every place just so far from the ground."""
    chains = []
    for part in each_part(ground):
        for ring in _rings(shapely.orient_polygons(part)):
            corners = np.array(ring)
            for a, b in zip(corners, corners[1:], strict=False):
                ahead = (b - a) / math.hypot(*(b - a))
                chains.append(_fine(np.array([a, b]) + distance_m * np.array([ahead[1], -ahead[0]]), LINE_STEP_M))
            for before, corner, after in zip(corners[-2:-1].tolist() + corners[:-2].tolist(), corners[:-1], corners[1:], strict=True):
                first, last = corner - np.array(before), after - corner
                turn = math.atan2(first[0] * last[1] - first[1] * last[0], float(first @ last))
                if turn > 0:  # the discs of an inner corner all lie within the ground's two strips
                    start = math.atan2(-first[0], first[1])
                    turns = start + np.linspace(0, turn, math.ceil(turn / ARC_STEP) + 1)
                    chains.append(corner + distance_m * np.column_stack([np.cos(turns), np.sin(turns)]))
    return chains


def _disc_places(balls: Points, hole: Points, sample: Sample) -> Points:
    """Where a disc of the footprint lies for each place of the ball."""
    ahead = (hole - balls) / np.hypot(*(hole - balls).T)[:, None]
    left = np.column_stack([-ahead[:, 1], ahead[:, 0]])
    places: Points = balls + sample.ahead_m * ahead + sample.left_m * left
    return places


def _ball_places(discs: Points, hole: Points, sample: Sample) -> Points:
    """Where the ball lies for each place of a disc: the place from which the disc comes out there, approached step by step."""
    balls = discs.copy()
    for _ in range(40):
        balls += discs - _disc_places(balls, hole, sample)
    balls[np.hypot(*(_disc_places(balls, hole, sample) - discs).T) > 1e-9] = np.nan
    return balls


def _projections(place: Points, starts: Points, ends: Points) -> Points:
    along = ends - starts
    square = np.maximum((along**2).sum(axis=1), 1e-30)
    share = np.clip(((place - starts) * along).sum(axis=1) / square, 0, 1)
    feet: Points = starts + share[:, None] * along
    return feet


def _meetings(starts: Points, ends: Points) -> Points:
    """Every place where two pieces cross."""
    along = ends - starts
    found = [np.empty((0, 2))]
    for number in range(len(starts) - 1):
        gap, other = starts[number + 1 :] - starts[number], along[number + 1 :]
        across = along[number, 0] * other[:, 1] - along[number, 1] * other[:, 0]
        with np.errstate(divide="ignore", invalid="ignore"):
            own = (gap[:, 0] * other[:, 1] - gap[:, 1] * other[:, 0]) / across
            its = (gap[:, 0] * along[number, 1] - gap[:, 1] * along[number, 0]) / across
        crossing = (own >= 0) & (own <= 1) & (its >= 0) & (its <= 1)
        found.append(starts[number] + own[crossing][:, None] * along[number])
    return np.vstack(found)


def _first_that_holds(limits: _Limits, places: Points, away_m: NDArray[np.float64], ball: Points) -> tuple[float, Position | None]:
    """The nearest place that keeps to all limits, looked for from near to far."""
    order = np.argsort(away_m)
    for start in range(0, len(order), 400):
        some = places[order[start : start + 400]]
        kept = some[limits.holds(some)]
        if len(kept):
            return math.hypot(*(kept[0] - ball)), Position(x_m=float(kept[0, 0]), y_m=float(kept[0, 1]))
    return math.inf, None
