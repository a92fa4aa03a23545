"""The point of maximum available relief: where a condition that cannot be got clear of interferes least."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.relief.area.line_of_play import only_polygons
from marram.relief.clear.interference import Floats, Interference, PartInterference, Weights
from marram.relief.clear.nearest_free import EQUAL_M
from marram.relief.clear.stance import Sample, forbidden_ground

SAME_INTERFERENCE = 0.01
"""Places count as equal where their weighted interference differs by less: one hundredth of the stance, half a millimetre of the lie."""
_APART_M = 0.5
_RISE_M = 0.01
_COARSE_M = 0.2
_MOST_PLACES = 20_000
_ROUNDS = ((0.05, 2, 60, 0.3), (0.02, 10, 8, 0.2), (0.005, 8, 6, 0.1))
"""Step of each finer grid in metres, steps to either side, about how many places it is laid, and how far these are apart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MaximumPoint:
    """A point of maximum available relief.

    Attributes:
        position: The point.
        distance_m: How far it is from the ball.
        interference: How far each part of the footprint is still in the condition.
        weighted: The weighted interference that was made least.
    """

    position: Position
    distance_m: float
    interference: tuple[PartInterference, ...]
    weighted: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Search:
    """What a search for places needs to know: the ball, the ground that it may lie on, and the interference."""

    ball: Position
    hole: Position
    allowed: Polygon | MultiPolygon
    interference: Interference

    def usable(self, places: Floats) -> Floats:
        """Those of some places that lie on allowed ground and not nearer the hole."""
        least_m = self.ball.distance_m(self.hole) - 1e-9
        places = places[np.hypot(places[:, 0] - self.hole.x_m, places[:, 1] - self.hole.y_m) >= least_m]
        return places[shapely.intersects_xy(self.allowed, places[:, 0], places[:, 1])]

    def distances_m(self, places: Floats) -> Floats:
        """How far places are from the ball."""
        return np.hypot(places[:, 0] - self.ball.x_m, places[:, 1] - self.ball.y_m)

    def best(self, places: Floats, weighted: Floats, count: int, apart_m: float, same: float = SAME_INTERFERENCE) -> Floats:
        """The best of some places: least interference first, nearest first among equals, each some way from the others."""
        over = np.where(weighted <= weighted.min() + same, 0.0, weighted)
        left = places[np.lexsort((self.distances_m(places), over))]
        kept: list[Floats] = []
        while len(left) and len(kept) < count:
            kept.append(left[0])
            left = left[np.hypot(*(left - left[0]).T) > apart_m]
        return np.array(kept)


def points_of_maximum_relief(  # noqa: PLR0913
    ball: Position,
    hole: Position,
    target: Position,
    condition: Polygon | MultiPolygon,
    samples: tuple[Sample, ...],
    allowed: Polygon | MultiPolygon,
    *,
    also_bad: BaseGeometry | None = None,
    weights: Weights | None = None,
) -> tuple[MaximumPoint, ...]:
    """Find the points of maximum available relief.

    Args:
        ball: Where the ball lies.
        hole: Where the hole is.
        target: Where the player would have aimed.
        condition: The ground to be as clear of as may be.
        samples: The footprint.
        allowed: Ground in which the point must lie.
        also_bad: Further ground where the ball lies badly, as with the condition on the line of play.
        weights: How much lie, stance, swing and line of play count.

    Returns:
        The place with the least interference and, of places within a hundredth of it, the nearest to the ball; all such places within
        5 cm of the shortest distance, 50 cm apart and on stretches of their own, nearest first. No place where no allowed ground is left.

    Raises:
        ValueError: The ball lies where it would be played to, and no stance can be taken.

    Accuracy: against a search of a 2 cm grid never worse by more than 0.02 in interference and 3 cm in distance
        (tests/properties/test_maximum_relief.py). Ground beyond 800 m² is first looked over with steps coarser than 20 cm.
    """
    if ball.distance_m(target) < 0.001:
        raise ValueError("the ball lies at the very place it would be played to, so there is no line of play and no stance")
    shapely.prepare(allowed)
    near = _near(condition, allowed, samples)
    interference = Interference(target, near, samples, Polygon() if also_bad is None else also_bad, weights or Weights())
    search = _Search(ball=ball, hole=hole, allowed=allowed, interference=interference)
    coarse = search.usable(np.concatenate([np.array([ball.xy]), _grid(allowed), _edges_of_relief(near, target, samples, allowed)]))
    if not len(coarse):
        return ()
    roughly = interference.roughly(coarse)
    count, apart_m = _ROUNDS[0][2:]
    # Half the places by interference alone, half by distance among what a closer look may still find equal.
    seeds = np.concatenate([search.best(coarse, roughly, count // 2, apart_m, same) for same in (SAME_INTERFERENCE, 0.15)])
    return _told(search, _refined(search, seeds))


def _near(condition: Polygon | MultiPolygon, allowed: BaseGeometry, samples: tuple[Sample, ...]) -> Polygon | MultiPolygon:
    """The part of a condition that a footprint can touch."""
    if allowed.is_empty:
        return Polygon()
    reach_m = max(math.hypot(sample.ahead_m, sample.left_m) + sample.radius_m for sample in samples) + 1.0
    least_x, least_y, most_x, most_y = allowed.bounds
    return only_polygons(condition.intersection(box(least_x - reach_m, least_y - reach_m, most_x + reach_m, most_y + reach_m)))


def _grid(allowed: BaseGeometry) -> Floats:
    """A coarse grid over the allowed ground."""
    if allowed.is_empty:
        return np.empty((0, 2))
    step_m = max(_COARSE_M, math.sqrt(allowed.area / _MOST_PLACES))
    least_x, least_y, most_x, most_y = allowed.bounds
    x, y = np.meshgrid(np.arange(least_x, most_x, step_m), np.arange(least_y, most_y, step_m))
    places = np.column_stack([x.ravel(), y.ravel()])
    return places[shapely.contains_xy(allowed, places[:, 0], places[:, 1])]


def _edges_of_relief(condition: Polygon | MultiPolygon, target: Position, samples: tuple[Sample, ...], allowed: BaseGeometry) -> Floats:
    """Places along the edges of the ground where the lie is clear, where the stance is too, and where all is: a grid can miss dry spots."""
    edges: list[Floats] = [shapely.get_coordinates(shapely.segmentize(allowed.boundary, _COARSE_M / 2))]
    parts: list[Sample] = []
    for part in ("lie", "stance", "swing"):
        parts += [sample for sample in samples if sample.part == part]
        if parts:
            free = allowed.difference(forbidden_ground(condition, target, tuple(parts)))
            edges.append(shapely.get_coordinates(shapely.segmentize(free, _COARSE_M / 2)))
            edges.append(shapely.get_coordinates(shapely.point_on_surface(shapely.get_parts(free))))
    return np.concatenate(edges)


def _refined(search: _Search, seeds: Floats) -> Floats:
    """The best places after ever finer grids about the best so far."""
    for step_m, steps, count, apart_m in _ROUNDS:
        weighted = search.interference.at(seeds)
        chosen = search.best(seeds, weighted, count, apart_m)
        offsets = step_m * np.arange(-steps, steps + 1)
        window = np.stack(np.meshgrid(offsets, offsets), axis=-1).reshape(1, -1, 2)
        finer = search.usable((chosen[:, None, :] + window).reshape(-1, 2))
        seeds = np.concatenate([chosen, finer])
    return seeds


def _told(search: _Search, places: Floats) -> tuple[MaximumPoint, ...]:
    """The equally good and equally near of some places, each brought as near to the ball as its interference allows."""
    weighted = search.interference.at(places)
    level = float(weighted.min()) + SAME_INTERFERENCE
    good = places[weighted <= level]
    chosen = search.best(good, np.zeros(len(good)), len(_ROUNDS) + 3, _APART_M)
    points = [_point(search, _drawn_in(search, place, level)) for place in chosen]
    points.sort(key=lambda point: point.distance_m)
    kept: list[MaximumPoint] = []
    for point in points:
        if point.distance_m <= points[0].distance_m + EQUAL_M and not any(_is_joined(search, point, other, level) for other in kept):
            kept.append(point)
    return tuple(kept)


def _is_joined(search: _Search, point: MaximumPoint, other: MaximumPoint, level: float) -> bool:
    """Whether a ball could go from one place round to the other, no more than 1 cm farther out than they are: then they are one place."""
    first, last = (math.atan2(each.position.y_m - search.ball.y_m, each.position.x_m - search.ball.x_m) for each in (point, other))
    turn = (last - first + math.pi) % (2 * math.pi) - math.pi
    turns = first + turn * np.linspace(0.0, 1.0, 41)
    out_m = max(point.distance_m, other.distance_m) + _RISE_M
    round_m = np.array(search.ball.xy) + out_m * np.column_stack([np.cos(turns), np.sin(turns)])
    return len(search.usable(round_m)) == len(turns) and bool((search.interference.at(round_m) <= level).all())


def _drawn_in(search: _Search, place: Floats, level: float) -> Floats:
    """A place moved straight towards the ball, up to 1 cm, as long as it stays usable and no worse than a level."""
    way_m = float(search.distances_m(place[None, :])[0])
    if way_m == 0:
        return place
    shares = np.linspace(0.0, min(1.0, 0.01 / way_m), 21)[:, None]
    nearer = place + shares * (np.array(search.ball.xy) - place)
    usable = search.usable(nearer)
    usable = usable[search.interference.at(usable) <= level]
    return usable[search.distances_m(usable).argmin()] if len(usable) else place


def _point(search: _Search, place: Floats) -> MaximumPoint:
    position = Position(x_m=float(place[0]), y_m=float(place[1]))
    return MaximumPoint(
        position=position,
        distance_m=position.distance_m(search.ball),
        interference=search.interference.parts_at(position),
        weighted=float(search.interference.at(place[None, :])[0]),
    )
