"""The footprint of a player at the ball, and the map between where a footprint sample lies and where the ball must be.

All lengths of the stance are from memory, mid-sized adults; they are parameters, and a ruling says which were used.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Club, Hand
from marram.core.units import BALL_RADIUS_M
from marram.course.frame import Position

_FOOT_LENGTH_M = 0.29
_FOOT_HALF_WIDTH_M = 0.05
_SHAFT_RADIUS_M, _SHAFT_STEP_M = 0.02, 0.03
"""Half the width that a shaft needs at address (from memory), sampled closely enough that discs overlap."""
_SAMPLE_STEP_M = 0.02
"""A foot sampled every 20 mm along its middle line is off by 1 mm at most."""
_LONGEST_EDGE_M = (0.2, 1.0)
_BEND = 1 / 40
"""Edges are split before they are bent by the map, to a share of their distance from the target between these lengths: an edge of step s
at distance D bends by left · s² / 8 D², under 0.1 mm for 0.9 m to the left beyond 8 m (docs/design/relief-geometry.md)."""
_CORNER_SEGMENTS = 16
"""Corners about a disc of 7 cm are then true to 0.1 mm."""
_SMALLEST_SQUARE_M2 = 1e-24


@dataclass(frozen=True, slots=True, kw_only=True)
class Stance:
    """Where the feet stand and the club swings, from the ball.

    Attributes:
        toe_m: From the ball's line to the toes.
        heels_m: Between the heels.
        forward_m: How far the ball lies ahead of the middle of the stance.
        swing_back_m: How far behind the ball the club passes near the ground.
        swing_on_m: How far beyond it.
        swing_half_width_m: Half the width of that track.
        swing_to_player_m: How far the middle of the track lies on the player's side of the ball: the heel of the club and the
            shaft above it pass there.
    """

    toe_m: float
    heels_m: float
    forward_m: float
    swing_back_m: float = 0.30
    swing_on_m: float = 0.15
    swing_half_width_m: float = 0.07
    swing_to_player_m: float = 0.03


STANCES = {
    Club.DRIVER: Stance(toe_m=0.85, heels_m=0.50, forward_m=0.18),
    Club.IRON: Stance(toe_m=0.65, heels_m=0.40, forward_m=0.05),
    Club.WEDGE: Stance(toe_m=0.45, heels_m=0.28, forward_m=0.0),
}
"""Stances by kind of club, from memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """A disc of the footprint.

    Attributes:
        ahead_m: How far ahead of the ball towards the target.
        left_m: How far to the left of the line of play.
        radius_m: Its radius.
        part: ``lie``, ``stance`` or ``swing``.
    """

    ahead_m: float
    left_m: float
    radius_m: float
    part: str


@lru_cache(maxsize=256)
def footprint(stance: Stance, hand: Hand, parts: frozenset[str], *, with_shaft: bool = False) -> tuple[Sample, ...]:
    """The discs that stand for a player at the ball.

    Args:
        stance: The stance.
        hand: The side from which the player strikes.
        parts: Which of ``lie``, ``stance`` and ``swing`` count.
        with_shaft: Whether the shaft above the ground counts as swing: for things that stand up between the ball and the feet.

    Returns:
        Samples for a right-hander to the left of the line of play, for a left-hander to the right.
    """
    samples = [Sample(ahead_m=0.0, left_m=0.0, radius_m=BALL_RADIUS_M, part="lie")]
    side = 1.0 if hand is Hand.RIGHT else -1.0
    near_m, far_m = stance.toe_m + _FOOT_HALF_WIDTH_M, stance.toe_m + _FOOT_LENGTH_M - _FOOT_HALF_WIDTH_M
    across = np.linspace(near_m, far_m, math.ceil((far_m - near_m) / _SAMPLE_STEP_M) + 1)
    for foot in (-stance.heels_m / 2, stance.heels_m / 2):
        ahead_m = foot - stance.forward_m
        samples += [Sample(ahead_m=ahead_m, left_m=side * float(left_m), radius_m=_FOOT_HALF_WIDTH_M, part="stance") for left_m in across]
    track = np.arange(-stance.swing_back_m, stance.swing_on_m + 1e-9, 0.05)
    samples += [
        Sample(ahead_m=float(ahead_m), left_m=side * stance.swing_to_player_m, radius_m=stance.swing_half_width_m, part="swing")
        for ahead_m in track
    ]
    if with_shaft:
        along = np.arange(0.0, stance.toe_m, _SHAFT_STEP_M)
        samples += [Sample(ahead_m=0.0, left_m=side * float(left_m), radius_m=_SHAFT_RADIUS_M, part="swing") for left_m in along]
    return tuple(sample for sample in samples if sample.part in parts)


@lru_cache(maxsize=64)
def shaft(stance: Stance, hand: Hand, parts: frozenset[str]) -> tuple[Sample, ...]:
    """The part of the footprint that only things which stand up can meet."""
    low = set(footprint(stance, hand, parts))
    return tuple(sample for sample in footprint(stance, hand, parts, with_shaft=True) if sample not in low)


def sample_position(ball: Position, target: Position, sample: Sample) -> Position:
    """Where a sample lies when the ball lies at a place and is played to a target."""
    to_target_m = ball.distance_m(target)
    ux, uy = (target.x_m - ball.x_m) / to_target_m, (target.y_m - ball.y_m) / to_target_m
    return ball.moved(sample.ahead_m * ux - sample.left_m * uy, sample.ahead_m * uy + sample.left_m * ux)


def clearance_m(ball: Position, target: Position, samples: tuple[Sample, ...], condition: BaseGeometry) -> float:
    """Least gap between the footprint at a place and a condition, metres; negative where they overlap, by how deep it reaches in.

    No part of a footprint is in nobody's way: then the gap is without end.
    """
    if not samples:
        return math.inf
    points, gaps_m = _gaps_m(ball, target, samples, condition)
    if gaps_m.min() < 0:
        gaps_m -= np.where(shapely.intersects(points, condition), shapely.distance(points, condition.boundary), 0.0)
    return float(gaps_m.min())


def parts_touched(ball: Position, target: Position, samples: tuple[Sample, ...], condition: BaseGeometry) -> set[str]:
    """Which parts of the footprint reach into a condition."""
    if not samples:
        return set()
    _, gaps_m = _gaps_m(ball, target, samples, condition)
    return {samples[number].part for number in np.flatnonzero(gaps_m < 0).tolist()}


def _gaps_m(
    ball: Position, target: Position, samples: tuple[Sample, ...], condition: BaseGeometry
) -> tuple[NDArray[np.object_], NDArray[np.float64]]:
    """The middle of each sample, and its gap to a condition; where they overlap, negative, though not by how deep."""
    ahead_m, left_m, radius_m = np.array([(sample.ahead_m, sample.left_m, sample.radius_m) for sample in samples]).T
    to_target_m = ball.distance_m(target)
    ux, uy = (target.x_m - ball.x_m) / to_target_m, (target.y_m - ball.y_m) / to_target_m
    points = np.asarray(shapely.points(ball.x_m + (ahead_m * ux - left_m * uy), ball.y_m + (ahead_m * uy + left_m * ux)))
    return points, shapely.distance(points, condition) - radius_m


def forbidden_ground(condition: Polygon | MultiPolygon, target: Position, samples: tuple[Sample, ...]) -> BaseGeometry:
    """All places of the ball from which some part of the footprint reaches into a condition.

    The direction of play turns with the ball, and the map from the ball's place to a sample's place is inverted in closed form:
    with s the distance from the sample to the target, q = sqrt(s² - left²) and direction u that of the target seen from the sample,
    turned left by atan2(left, q), the ball lies at target - (ahead + q) u.

    Args:
        condition: The ground to be clear of, metres.
        target: Where the stroke is aimed.
        samples: The footprint.

    Source: derived in docs/design/relief-geometry.md.
    """
    if condition.is_empty:
        return Polygon()
    step_m = longest_edge_m(condition, target)
    images: dict[Sample, BaseGeometry] = {}
    for radius_m in {sample.radius_m for sample in samples}:
        own = [sample for sample in samples if sample.radius_m == radius_m]
        images |= zip(own, inverse_images(grown_ground(condition, radius_m, step_m), target, own), strict=True)
    return shapely.union_all([images[sample] for sample in samples])


def longest_edge_m(condition: BaseGeometry, target: Position) -> float:
    """How long an edge of a condition may be, so that the map bends it by less than it may be drawn off."""
    return min(max(_BEND * condition.distance(Point(target.xy)), _LONGEST_EDGE_M[0]), _LONGEST_EDGE_M[1])


def grown_ground(condition: BaseGeometry, radius_m: float, step_m: float) -> BaseGeometry:
    """All places where a disc of some radius reaches into a condition, with no edge longer than a step."""
    return shapely.segmentize(condition.buffer(radius_m, quad_segs=_CORNER_SEGMENTS), step_m)


def inverse_image(ground: BaseGeometry, target: Position, sample: Sample) -> BaseGeometry:
    """All places of the ball that put the middle of a sample on some ground."""
    return inverse_images(ground, target, [sample])[0]


def inverse_images(ground: BaseGeometry, target: Position, samples: Sequence[Sample]) -> list[BaseGeometry]:
    """The same for each of several samples."""
    places = _ball_places(shapely.get_coordinates(ground), target, samples)
    # Corners are put into copies of the ground, one after another.
    images = shapely.set_coordinates(np.array([ground] * len(samples), dtype=object), places.reshape(-1, 2))
    is_sound = shapely.is_valid(images)
    return [image if sound else shapely.make_valid(image) for image, sound in zip(images, is_sound.tolist(), strict=True)]


def _ball_places(xy: NDArray[np.float64], target: Position, samples: Sequence[Sample]) -> NDArray[np.float64]:
    """Where the ball must be for each sample, one row of places for each."""
    ahead_m, left_m = (np.array([[getattr(sample, name)] for sample in samples]) for name in ("ahead_m", "left_m"))
    to_x, to_y = target.x_m - xy[:, 0], target.y_m - xy[:, 1]
    # At the target itself there is no direction; any will do.
    square = np.maximum(to_x * to_x + to_y * to_y, _SMALLEST_SQUARE_M2)
    # Nearer the target than the feet stand apart from the ball there is no such place; the edge of what exists is used.
    beyond_m = np.sqrt(np.maximum(square - left_m * left_m, 0.0))
    # The direction turned left by atan2(left, q) has the cosine q / h and the sine left / h, with h the longer of s and left.
    reach = (ahead_m + beyond_m) / np.sqrt(square * np.maximum(square, left_m * left_m))
    places = np.empty((len(samples), len(xy), 2))
    places[:, :, 0] = target.x_m - reach * (to_x * beyond_m - to_y * left_m)
    places[:, :, 1] = target.y_m - reach * (to_y * beyond_m + to_x * left_m)
    return places
