"""How much a condition interferes with a player at each of many places: what share of ball, stance and swing lies in it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.relief.clear.stance import Sample

LINE = "line of play"
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """How much each part of a player's footprint counts, from 0 (clear) to the weight (wholly in the condition).

    The Rules compare lie, stance and swing, on the green the line of play too (Definition of Point of Maximum Available Relief, 2023), and
    give neither order nor formula; these weights are policy.

    Attributes:
        lie: Weight of the ball's lie; common practice of ours, with no source (docs/design/relief-geometry.md).
        stance: Weight of both feet.
        swing: Weight of the track of the club.
        line: Weight of a place in the further ground, as with the condition on the line of play.
    """

    lie: float = 10.0
    stance: float = 1.0
    swing: float = 0.1
    line: float = 1.0

    def of(self, part: str) -> float:
        """The weight of a part of the footprint."""
        return {"lie": self.lie, "stance": self.stance, "swing": self.swing, LINE: self.line}[part]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartInterference:
    """How far one part of the footprint is in a condition.

    Attributes:
        part: ``lie``, ``stance``, ``swing`` or ``line of play``.
        share: Share of it that is in the condition, from 0 to 1.
        depth_m: How far its worst place reaches in, metres; 0 where it is clear.
    """

    part: str
    share: float
    depth_m: float


class Interference:
    """A condition and a footprint, asked about many places at once."""

    def __init__(
        self, target: Position, condition: Polygon | MultiPolygon, samples: tuple[Sample, ...], also_bad: BaseGeometry, weights: Weights
    ) -> None:
        """Prepare for many questions.

        Args:
            target: Where the stroke is aimed.
            condition: The condition, metres.
            samples: The footprint.
            also_bad: Further ground where the ball lies badly; empty where there is none.
            weights: How much each part counts.
        """
        self._target = np.array(target.xy)
        self._condition, self._edge = condition, condition.boundary
        shapely.prepare([self._condition, self._edge, also_bad])
        self._also_bad = also_bad
        self._ahead_m, self._left_m, self._radius_m = (
            np.array([getattr(sample, name) for sample in samples]) for name in ("ahead_m", "left_m", "radius_m")
        )
        names = [sample.part for sample in samples]
        self._columns = {part: np.flatnonzero([name == part for name in names]) for part in dict.fromkeys(names)}
        self._weights = weights

    def roughly(self, places: Floats) -> Floats:
        """The weighted interference at places, each disc of the footprint counted as in or out by its middle."""
        x, y = self._footprints(places)
        return self._weighed(places, shapely.contains_xy(self._condition, x, y).astype(np.float64))

    def at(self, places: Floats) -> Floats:
        """The weighted interference at places, each disc counted by the share of its width that is in."""
        x, y = self._footprints(places)
        reach_m = self._reach_m(x, y, float(self._radius_m.max()))
        return self._weighed(places, np.clip(reach_m / (2 * self._radius_m), 0.0, 1.0))

    def parts_at(self, place: Position) -> tuple[PartInterference, ...]:
        """Share and depth of each part at one place."""
        here = np.array([place.xy])
        reach_m = self._reach_m(*self._footprints(here), np.inf)[0]
        shares = np.clip(reach_m / (2 * self._radius_m), 0.0, 1.0)
        parts = [
            PartInterference(part=part, share=float(shares[columns].mean()), depth_m=max(float(reach_m[columns].max()), 0.0))
            for part, columns in self._columns.items()
        ]
        if not self._also_bad.is_empty:
            is_in = bool(self._in_bad_ground(here)[0])
            depth_m = float(self._also_bad.boundary.distance(Point(place.xy))) if is_in else 0.0
            parts.append(PartInterference(part=LINE, share=float(is_in), depth_m=depth_m))
        return tuple(parts)

    def _footprints(self, places: Floats) -> tuple[Floats, Floats]:
        """Where each disc of the footprint lies, one row for each place of the ball."""
        way = self._target - places
        ux, uy = (way / np.hypot(way[:, 0], way[:, 1])[:, None]).T[:, :, None]
        x = places[:, :1] + self._ahead_m * ux - self._left_m * uy
        y = places[:, 1:] + self._ahead_m * uy + self._left_m * ux
        return x, y

    def _reach_m(self, x: Floats, y: Floats, farthest_m: float) -> Floats:
        """How far the condition reaches into each disc from its rim, true where the edge is within a distance of its middle."""
        inside = shapely.contains_xy(self._condition, x, y)
        reach_m = np.where(inside, np.inf, -np.inf)
        middles = np.asarray(shapely.points(x, y))
        near = shapely.dwithin(self._edge, middles, farthest_m)
        to_edge_m = shapely.distance(self._edge, middles[near])
        reach_m[near] = np.broadcast_to(self._radius_m, x.shape)[near] + np.where(inside[near], to_edge_m, -to_edge_m)
        return reach_m

    def _weighed(self, places: Floats, shares: Floats) -> Floats:
        total = np.zeros(len(places))
        for part, columns in self._columns.items():
            total += self._weights.of(part) * shares[:, columns].mean(axis=1)
        return total + self._weights.line * self._in_bad_ground(places)

    def _in_bad_ground(self, places: Floats) -> NDArray[np.bool_]:
        return np.asarray(shapely.contains_xy(self._also_bad, places[:, 0], places[:, 1]))
