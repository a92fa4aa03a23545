"""The line straight back from the hole: which stretches of it may be used, and the strip on either side."""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position

_SHORTEST_M = 0.001
LEAST_STRETCH_M = 0.01
"""A shorter stretch, as where outlines held to whole millimetres just part, is no ground to drop on: lengths are told to a centimetre."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineBack:
    """The line from a point straight away from the hole.

    Attributes:
        start: The point that the line goes back from.
        bearing_deg: Its bearing, away from the hole.
        intervals_m: Stretches that may be used, as distances from the start, nearest first.
    """

    start: Position
    bearing_deg: float
    intervals_m: tuple[tuple[float, float], ...]

    def place_at(self, back_m: float) -> Position:
        """The place so far back on the line."""
        return along_bearing(self.start, self.bearing_deg, back_m)

    def holds(self, back_m: float) -> bool:
        """Whether the place so far back may be used."""
        return any(near_m <= back_m <= far_m for near_m, far_m in self.intervals_m)


def along_bearing(start: Position, bearing_deg: float, distance_m: float) -> Position:
    """The place so far from another on a bearing."""
    turn = math.radians(bearing_deg)
    return start.moved(distance_m * math.sin(turn), distance_m * math.cos(turn))


def line_back(start: Position, hole: Position, allowed: BaseGeometry) -> LineBack:
    """All stretches of the line straight back from the hole that lie on allowed ground.

    Args:
        start: The point that the line runs through; it must not be the hole itself.
        hole: The hole.
        allowed: Ground on which the ball may be dropped, metres.

    Raises:
        ValueError: The point is the hole, and there is no line.
    """
    if start.distance_m(hole) < _SHORTEST_M:
        raise ValueError("the point is the hole itself, and no line runs through one point")
    bearing_deg = hole.bearing_deg(start)
    least_x, least_y, most_x, most_y = allowed.bounds if not allowed.is_empty else (0.0, 0.0, 0.0, 0.0)
    longest_m = 2 * max(most_x - least_x, most_y - least_y) + 10.0
    ray = LineString([start.xy, along_bearing(start, bearing_deg, longest_m).xy])
    inside = ray.intersection(allowed)
    intervals = []
    for stretch in getattr(inside, "geoms", [inside]):
        if isinstance(stretch, LineString) and stretch.length > _SHORTEST_M:
            ends_m = sorted(start.distance_m(Position(x_m=x, y_m=y)) for x, y, *_ in stretch.coords)
            intervals.append((ends_m[0], ends_m[-1]))
    usable = (stretch for stretch in _joined(sorted(intervals)) if stretch[1] - stretch[0] >= LEAST_STRETCH_M)
    return LineBack(start=start, bearing_deg=bearing_deg, intervals_m=tuple(usable))


def _joined(intervals: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Intervals that touch, as where two areas of the course meet, become one."""
    joined: list[tuple[float, float]] = []
    for near_m, far_m in intervals:
        if joined and near_m <= joined[-1][1] + _SHORTEST_M:
            joined[-1] = (joined[-1][0], max(joined[-1][1], far_m))
        else:
            joined.append((near_m, far_m))
    return joined


def strip_about(line: LineBack, half_width_m: float) -> Polygon | MultiPolygon:
    """All ground within a distance of the line on either side, with square ends, as far back as the line may be used."""
    if not line.intervals_m:
        return Polygon()
    last_m = line.intervals_m[-1][1]
    spine = LineString([line.start.xy, line.place_at(last_m).xy])
    return shapely.buffer(spine, half_width_m, cap_style="flat")
