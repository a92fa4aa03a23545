"""Discs as fine polygons, what is not nearer the hole, lines tried in steps: nothing exact, everything fine.

A polygon about a circle of radius r with n sides lies within it by at most r (1 - cos(pi / n)); n is chosen for 0.01 mm.
"""

from __future__ import annotations

import math

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from tests.published.geometry.oracle.ground import XY

FINE_M = 1e-5
_STEP_M, _FIRST_STEPS = 0.005, 40


def _sides(radius_m: float) -> int:
    return max(64, math.ceil(math.pi / math.acos(max(-1.0, 1 - FINE_M / max(radius_m, FINE_M)))))


def disc(centre: XY, radius_m: float) -> Polygon:
    """A disc."""
    turns = np.linspace(0, 2 * math.pi, _sides(radius_m), endpoint=False)
    return Polygon(np.column_stack([centre[0] + radius_m * np.cos(turns), centre[1] + radius_m * np.sin(turns)]))


def apart_m(one: XY, other: XY) -> float:
    """The distance between two places."""
    return math.hypot(one[0] - other[0], one[1] - other[1])


def not_nearer(about: XY, reach_m: float, hole: XY, least_m: float) -> BaseGeometry:
    """All ground within reach of a place that is not nearer the hole than a distance."""
    whole = disc(about, reach_m)
    if least_m <= 0:
        return whole
    if least_m <= 3 * reach_m + 1:
        return whole.difference(disc(hole, least_m))
    # Only the arc in front of the place matters: the ground beyond it, out to twice the reach.
    bearing = math.atan2(about[1] - hole[1], about[0] - hole[0])
    half = 1.3 * math.asin(min(1.0, reach_m / least_m)) + 0.01
    turns = np.linspace(bearing - half, bearing + half, max(32, math.ceil(2 * half / (2 * math.pi) * _sides(least_m)) + 1))
    far_m = apart_m(about, hole) + 2 * reach_m + 1
    inner = np.column_stack([hole[0] + least_m * np.cos(turns), hole[1] + least_m * np.sin(turns)])
    outer = np.column_stack(
        [hole[0] + far_m / math.cos(half) * np.cos(turns[::-1]), hole[1] + far_m / math.cos(half) * np.sin(turns[::-1])]
    )
    return whole.intersection(Polygon(np.vstack([inner, outer])))


def further(start: XY, hole: XY, back_m: float) -> XY:
    """The place so far behind another one, seen from the hole."""
    share = back_m / apart_m(start, hole)
    return (start[0] + share * (start[0] - hole[0]), start[1] + share * (start[1] - hole[1]))


def usable(start: XY, hole: XY, ground: BaseGeometry) -> list[tuple[float, float]]:
    """Stretches of the line back from a place on which some ground lies.

    The line is tried every 5 mm, from 0.1 mm on; where ground begins or ends, the place is found by halving down to 0.01 mm.
    """
    if ground.is_empty:
        return []
    x0, y0, x1, y1 = ground.bounds
    longest_m = max(apart_m(start, corner) for corner in ((x0, y0), (x0, y1), (x1, y0), (x1, y1))) + 1
    shapely.prepare(ground)
    backs_m = np.concatenate([np.geomspace(1e-4, _STEP_M, _FIRST_STEPS), np.arange(2 * _STEP_M, longest_m, _STEP_M)])
    on = _on_line(start, hole, backs_m, ground)
    turns = np.flatnonzero(np.diff(on.astype(int)))
    ends = [_end_m(start, hole, ground, float(backs_m[turn]), float(backs_m[turn + 1])) for turn in turns]
    ends = [0.0, *ends] if on[0] else ends
    return list(zip(ends[::2], ends[1::2], strict=True))


def _on_line(start: XY, hole: XY, backs_m: NDArray[np.float64], ground: BaseGeometry) -> NDArray[np.bool_]:
    ahead = np.array(further(start, hole, 1.0)) - np.array(start)
    places = np.array(start) + backs_m[:, None] * ahead
    return np.asarray(shapely.intersects_xy(ground, places[:, 0], places[:, 1]))


def _end_m(start: XY, hole: XY, ground: BaseGeometry, low_m: float, high_m: float) -> float:
    is_low_on, _ = _on_line(start, hole, np.array([low_m, high_m]), ground)
    while high_m - low_m > FINE_M:
        middle_m = (low_m + high_m) / 2
        if _on_line(start, hole, np.array([middle_m]), ground)[0] == is_low_on:
            low_m = middle_m
        else:
            high_m = middle_m
    return (low_m + high_m) / 2


def strip(start: XY, hole: XY, half_width_m: float, last_m: float) -> BaseGeometry:
    """All ground within a distance of a line back on either side, from its start to its last usable place, with square ends."""
    line = LineString([start, further(start, hole, last_m)])
    return line.buffer(half_width_m, cap_style="flat")


def on_edge(at: XY, ground: BaseGeometry) -> XY:
    """The place of an edge nearest to another place."""
    x_m, y_m = shapely.get_coordinates(shapely.shortest_line(ground.boundary, Point(at)))[0].tolist()
    return (x_m, y_m)


def opposite(crossing: XY, hole: XY, ground: BaseGeometry) -> tuple[list[tuple[XY, float]], list[tuple[XY, float]]]:
    """Places of the edge as far from the hole as the crossing, straight across the ground from it.

    The edge is walked in steps of 5 mm; where it passes the distance, the place is found by halving.

    Returns:
        Places that surely are such points, and places that may be; each with how far an error of 1 mm of the outline could move it.
    """
    least_m = apart_m(crossing, hole)
    sure, maybe = [], []
    for single in shapely.get_parts(ground):
        for ring in (single.exterior, *single.interiors):
            for place, moves_m in _level_places(ring, hole, least_m):
                if apart_m(place, crossing) <= max(0.01, moves_m):
                    continue
                chord = LineString([crossing, place])
                inner = LineString([chord.interpolate(share, normalized=True) for share in (0.01, 0.99)])
                if ground.buffer(0.005).covers(chord):
                    maybe.append((place, moves_m))
                    is_within = ground.buffer(-0.002).covers(inner) and ground.buffer(FINE_M).covers(chord)
                    if is_within and moves_m < 0.05:
                        sure.append((place, moves_m))
    return sure, maybe


def _level_places(ring: BaseGeometry, hole: XY, least_m: float) -> list[tuple[XY, float]]:
    fine = shapely.get_coordinates(shapely.segmentize(LineString(shapely.get_coordinates(ring)), 0.005))
    above = np.hypot(fine[:, 0] - hole[0], fine[:, 1] - hole[1]) - least_m
    found = []
    for number in np.flatnonzero((above[:-1] < 0) != (above[1:] < 0)):
        low, high = (fine[number], fine[number + 1]) if above[number] < 0 else (fine[number + 1], fine[number])
        slope = abs(above[number + 1] - above[number]) / max(float(np.hypot(*(high - low))), 1e-9)
        for _ in range(20):
            middle = (low + high) / 2
            low, high = (middle, high) if np.hypot(*(middle - hole)) < least_m else (low, middle)
        found.append(((float(low[0]), float(low[1])), 0.001 / max(float(slope), 1e-3)))
    return found
