"""The discs of a footprint, all at once: where they lie, how far they are from a condition, and where the ball may not lie for each."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.relief.clear.stance import Sample, grown_ground, inverse_image, longest_edge_m

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Discs:
    """The discs of a footprint for a ball played to a target, as arrays in the order of the samples.

    Attributes:
        samples: The discs.
        target: Where the stroke is aimed.
        ahead_m: How far ahead of the ball each lies.
        left_m: How far to the left of the line of play.
        radius_m: Its radius.
    """

    samples: tuple[Sample, ...]
    target: Position
    ahead_m: Floats
    left_m: Floats
    radius_m: Floats

    @property
    def reach_m(self) -> float:
        """How far the footprint reaches from the ball."""
        return float((np.hypot(self.ahead_m, self.left_m) + self.radius_m).max(initial=0.0))

    def offsets_m(self, ball: Position) -> tuple[Floats, Floats]:
        """How far east and north of the ball each disc lies."""
        to_target_m = ball.distance_m(self.target)
        ux, uy = (self.target.x_m - ball.x_m) / to_target_m, (self.target.y_m - ball.y_m) / to_target_m
        return self.ahead_m * ux - self.left_m * uy, self.ahead_m * uy + self.left_m * ux

    def gaps_m(self, ball: Position, ground: BaseGeometry) -> Floats:
        """The gap between each disc and some ground; negative where they overlap, without end where there is no ground."""
        if ground.is_empty:
            return np.full(len(self.samples), math.inf)
        east_m, north_m = self.offsets_m(ball)
        points = np.asarray(shapely.points(ball.x_m + east_m, ball.y_m + north_m))
        away_m = np.asarray(shapely.distance(points, ground))
        inside = np.flatnonzero(away_m == 0)
        if len(inside):
            away_m[inside] = -shapely.distance(points[inside], ground.boundary)
        return away_m - self.radius_m

    def last_clear(self, ball: Position, across: Floats) -> list[int]:
        """The discs that are the last to leave a straight strip of ground, whichever way across it the ball is moved."""
        east_m, north_m = self.offsets_m(ball)
        along_m = east_m * across[0] + north_m * across[1]
        return sorted({int((along_m - self.radius_m).argmin()), int((along_m + self.radius_m).argmax())})

    def moved_ground(self, numbers: Whole, outline: Floats) -> NDArray[np.object_]:
        """What the middle of some discs passes over while the ball is everywhere within an outline."""
        to_x, to_y = self.target.x_m - outline[:, 0], self.target.y_m - outline[:, 1]
        to_target_m = np.hypot(to_x, to_y)
        ux, uy = to_x / to_target_m, to_y / to_target_m
        ahead_m, left_m = self.ahead_m[numbers, None], self.left_m[numbers, None]
        corners = np.stack([outline[:, 0] + ahead_m * ux - left_m * uy, outline[:, 1] + ahead_m * uy + left_m * ux], axis=2)
        return np.asarray(shapely.polygons(corners))


def discs_of(samples: Sequence[Sample], target: Position) -> Discs:
    """The discs of a footprint for a ball played to a target."""
    table = np.array([(sample.ahead_m, sample.left_m, sample.radius_m) for sample in samples]).reshape(-1, 3).T
    return Discs(samples=tuple(samples), target=target, ahead_m=table[0], left_m=table[1], radius_m=table[2])


@dataclass(frozen=True, slots=True, kw_only=True)
class Images:
    """The places of the ball from which one disc or another reaches into a condition, drawn when they are asked for.

    Attributes:
        condition: The condition, as far as a footprint can touch it.
        discs: The footprint.
    """

    condition: BaseGeometry
    discs: Discs
    _grown: dict[float, BaseGeometry] = field(default_factory=dict)

    def of(self, number: int) -> BaseGeometry:
        """The places of the ball from which one disc reaches into the condition."""
        sample = self.discs.samples[number]
        if sample.radius_m not in self._grown:
            step_m = longest_edge_m(self.condition, self.discs.target)
            self._grown[sample.radius_m] = grown_ground(self.condition, sample.radius_m, step_m)
        return inverse_image(self._grown[sample.radius_m], self.discs.target, sample)
