"""Where the edges of some ground meet a circle about the hole."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Polygon

from marram.course.frame import Position

Floats = NDArray[np.float64]


def edges_of(ground: Polygon | MultiPolygon) -> Floats:
    """All edges of some ground, as an array of start and end: edge, end, coordinate."""
    rings = shapely.get_rings(shapely.get_parts(ground))
    edges = [np.stack([corners[:-1], corners[1:]], axis=1) for corners in map(shapely.get_coordinates, rings)]
    return np.concatenate([np.empty((0, 2, 2)), *edges])


def crossings_of_circle(ground: Polygon | MultiPolygon, centre: Position, radius_m: float) -> Floats:
    """All places where the edge of some ground meets a circle.

    Args:
        ground: The ground, metres.
        centre: The middle of the circle.
        radius_m: Its radius.

    Returns:
        The places, two coordinates each, in no order; a place where an edge only touches the circle counts.

    Accuracy: rounding alone.
    """
    edges = edges_of(ground)
    start, step = edges[:, 0] - np.array(centre.xy), edges[:, 1] - edges[:, 0]
    square = (step**2).sum(axis=1)
    start, step, square = start[square > 0], step[square > 0], square[square > 0]
    half = (start * step).sum(axis=1) / square
    # Distance of the line from the centre, by a cross product, keeps its digits for a centre far away.
    off_m = (start[:, 0] * step[:, 1] - start[:, 1] * step[:, 0]) / np.sqrt(square)
    room = (radius_m - off_m) * (radius_m + off_m)
    root = np.sqrt(np.maximum(room, 0.0) / square)
    found = [np.empty((0, 2))]
    for share in (-half - root, -half + root):
        meets = (room >= 0) & (share >= 0) & (share <= 1)
        found.append(np.array(centre.xy) + start[meets] + share[meets, None] * step[meets])
    return np.concatenate(found)
