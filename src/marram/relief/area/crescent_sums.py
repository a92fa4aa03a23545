"""Areas of polygons within lateral relief areas, as sums over edges: plain functions on plain numbers, written to be compiled.

The area of a polygon within a convex figure is the sum, over its edges, of the signed area that the figure has between two rays from an
inner point (docs/design/relief-geometry.md). Here the stretches of a ring outside the figure are summed as differences of one function of
the direction. It cancels at every corner outside, so that it is worked out only where an edge crosses the edge of the figure; whole turns
about the inner point are counted. The frame of a crescent has the reference point at its origin and the hole on the positive x axis.

`relief.marking_kernel` compiles the functions of this module as they stand.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

COURSE, OTHER_PENALTY_AREA, BUNKER, PUTTING_GREEN, TEEING_AREA, NO_PLAY_ZONE, OWN_PENALTY_AREA, CRESCENT = range(8)
"""Columns of the table of areas: COURSE is all ground within the boundary, CRESCENT the crescent on any ground."""
COLUMNS = 8
TOGETHER = 8
"""Points that follow each other and share one list of the rings near them (docs/speed.md)."""


def chord(square: float, half: float, rest: float) -> tuple[float, float]:
    """Where a line lies within a circle: the roots of square t² + 2 half t + rest, or (1, 0) where it misses.

    Args:
        square: Square of the edge's length, not zero.
        half: Scalar product of the edge and the way from the centre to its start.
        rest: Square of that way, less the square of the radius.
    """
    room = half * half - square * rest
    if room <= 0.0:
        return 1.0, 0.0
    # The form of each root is the one that never subtracts nearly equal numbers: the hole may be 500 m away.
    if half > 0.0:
        larger = -half - math.sqrt(room)
        return larger / square, rest / larger
    larger = -half + math.sqrt(room)
    return rest / larger, larger / square


def inside_stretch(first: float, last: float, is_from_inside: bool, is_to_inside: bool) -> tuple[float, float]:
    """The stretch of an edge within a figure: its ends decide which side they are on, the roots only where between them it crosses."""
    if is_from_inside:
        return 0.0, min(max(last, 0.0), 1.0)
    if is_to_inside:
        return max(min(first, 1.0), 0.0), 1.0
    return max(first, 0.0), min(last, 1.0)


def whole_turns(ax: float, ay: float, bx: float, by: float) -> int:
    """How often the way from one place to another passes the negative x axis, counter-clockwise less clockwise."""
    if (ay >= 0.0) == (by >= 0.0):
        return 0
    cross = ax * by - ay * bx
    if ay >= 0.0:
        return 1 if cross > 0.0 else 0
    return -1 if cross < 0.0 else 0


def edge_in_disc_m2(ax: float, ay: float, bx: float, by: float, radius_m: float) -> float:
    """Signed area that one edge adds to the area of a ring within the disc about the origin.

    Args:
        ax: Start of the edge, from the centre.
        ay: The same, across.
        bx: End of the edge.
        by: The same, across.
        radius_m: Radius of the disc.
    """
    disc_m2 = radius_m * radius_m
    ex, ey = bx - ax, by - ay
    start_m2 = ax * ax + ay * ay - disc_m2
    is_from_inside, is_to_inside = start_m2 <= 0.0, bx * bx + by * by <= disc_m2
    if is_from_inside and is_to_inside:
        return (ax * by - ay * bx) / 2
    first, last = chord(ex * ex + ey * ey, ax * ex + ay * ey, start_m2)
    enter, leave = inside_stretch(first, last, is_from_inside, is_to_inside)
    if enter >= leave and not (is_from_inside or is_to_inside):
        return math.pi * disc_m2 * whole_turns(ax, ay, bx, by)
    px, py = ax + enter * ex, ay + enter * ey
    qx, qy = ax + leave * ex, ay + leave * ey
    area_m2 = (px * qy - py * qx) / 2
    turns = 0
    # Adding zero turns minus zero into zero, whose direction is on the side where whole_turns puts it.
    if not is_from_inside:
        area_m2 += disc_m2 / 2 * math.atan2(py + 0.0, px)
        turns += whole_turns(ax, ay, px, py)
    if not is_to_inside:
        area_m2 -= disc_m2 / 2 * math.atan2(qy + 0.0, qx)
        turns += whole_turns(qx, qy, bx, by)
    return area_m2 + math.pi * disc_m2 * turns


def bulge(angle: float) -> float:
    """An angle less its sine: twice the share of a disc between a chord and its arc.

    The hole's disc may be large, and its angle small; at 5 km the digits lost here are still under 1e-11 m².
    """
    return angle - math.sin(angle)


def half_lens_m2(radius_m: float, away_m: float) -> float:
    """Half the area common to the disc about the reference point and the disc about the hole that passes through that point.

    Args:
        radius_m: Radius of the first disc, less than twice `away_m`.
        away_m: Distance to the hole.
    """
    corner = math.acos(radius_m / (2 * away_m))
    return radius_m * radius_m * corner / 2 + away_m * away_m / 2 * bulge(2 * math.asin(radius_m / (2 * away_m)))


def lens_up_to_m2(x: float, y: float, is_on_hole_arc: bool, radius_m: float, away_m: float, half_m2: float) -> float:
    """Signed area of the lens between the direction of the hole and that of a place on its edge, seen from its inner point.

    The inner point lies half a radius from the reference point towards the hole.
    """
    across = abs(y)
    if is_on_hole_arc:
        area_m2 = half_m2 - radius_m * across / 4 - away_m * away_m / 2 * bulge(math.atan2(across, away_m - x))
    else:
        area_m2 = radius_m * radius_m / 2 * math.atan2(across, x) - radius_m * across / 4
    return area_m2 if y >= 0.0 else -area_m2


def edge_in_lens_m2(ax: float, ay: float, bx: float, by: float, radius_m: float, away_m: float, half_m2: float) -> float:
    """Signed area that one edge adds to the area of a ring within the lens.

    Args:
        ax: Start of the edge, from the reference point towards the hole.
        ay: The same, across.
        bx: End of the edge.
        by: The same, across.
        radius_m: Radius of the disc about the reference point, less than twice `away_m`.
        away_m: Distance to the hole.
        half_m2: Half the area of the lens.
    """
    inner = radius_m / 2
    ex, ey = bx - ax, by - ay
    a_m2, b_m2 = ax * ax + ay * ay, bx * bx + by * by
    is_from_inside = a_m2 <= min(radius_m * radius_m, 2 * away_m * ax)
    is_to_inside = b_m2 <= min(radius_m * radius_m, 2 * away_m * bx)
    if is_from_inside and is_to_inside:
        return ((ax - inner) * by - ay * (bx - inner)) / 2
    square, half = ex * ex + ey * ey, ax * ex + ay * ey
    first, last = chord(square, half, a_m2 - radius_m * radius_m)
    hole_first, hole_last = chord(square, half - away_m * ex, a_m2 - 2 * away_m * ax)
    enter, leave = inside_stretch(max(first, hole_first), min(last, hole_last), is_from_inside, is_to_inside)
    if enter >= leave and not (is_from_inside or is_to_inside):
        return 2 * half_m2 * whole_turns(ax - inner, ay, bx - inner, by)
    px, py = ax + enter * ex, ay + enter * ey
    qx, qy = ax + leave * ex, ay + leave * ey
    area_m2 = ((px - inner) * qy - py * (qx - inner)) / 2
    turns = 0
    if not is_from_inside:
        area_m2 += lens_up_to_m2(px, py, hole_first > first, radius_m, away_m, half_m2)
        turns += whole_turns(ax - inner, ay, px - inner, py)
    if not is_to_inside:
        area_m2 -= lens_up_to_m2(qx, qy, hole_last < last, radius_m, away_m, half_m2)
        turns += whole_turns(qx - inner, qy, bx - inner, by)
    return area_m2 + 2 * half_m2 * turns


def misses_disc(ax: float, ay: float, bx: float, by: float, disc_m2: float) -> bool:
    """Whether an edge stays outside the disc about the origin."""
    if ax * ax + ay * ay <= disc_m2 or bx * bx + by * by <= disc_m2:
        return False
    ex, ey = bx - ax, by - ay
    half, square = ax * ex + ay * ey, ex * ex + ey * ey
    cross = ax * ey - ay * ex
    return half >= 0.0 or half <= -square or cross * cross >= disc_m2 * square


Frame = tuple[float, float, float, float, float, float]


def frame_of(at: tuple[float, float], hole: tuple[float, float], radius_m: float) -> Frame:
    """The frame of a crescent: its origin, the direction of the hole, how far away that is, and half the ground nearer to it.

    Args:
        at: The reference point.
        hole: The hole.
        radius_m: Size of the relief area.
    """
    to_x, to_y = hole[0] - at[0], hole[1] - at[1]
    away_m = math.hypot(to_x, to_y)
    ux, uy = (to_x / away_m, to_y / away_m) if away_m > 0.0 else (1.0, 0.0)
    # The disc of a hole within half the size lies wholly within the other disc: there is no lens, and there are no corners.
    half_m2 = half_lens_m2(radius_m, away_m) if 2 * away_m > radius_m else math.pi * away_m * away_m / 2
    return at[0], at[1], ux, uy, away_m, half_m2


def ring_in_crescent_m2(xs: Floats, ys: Floats, first: int, last: int, frame: Frame, radius_m: float) -> float:
    """Area of one ring within a crescent.

    Args:
        xs: Eastings of all rings, metres.
        ys: Northings.
        first: Number of the ring's first corner.
        last: Number of its last corner, which is the first one again; the ring runs counter-clockwise.
        frame: The frame of the crescent.
        radius_m: Size of the relief area.
    """
    at_x, at_y, ux, uy, away_m, half_m2 = frame
    has_lens = 2 * away_m > radius_m
    disc_m2 = radius_m * radius_m
    area_m2, turns = 0.0, 0
    dx, dy = xs[first] - at_x, ys[first] - at_y
    ax, ay = dx * ux + dy * uy, dy * ux - dx * uy
    for number in range(first + 1, last + 1):
        dx, dy = xs[number] - at_x, ys[number] - at_y
        bx, by = dx * ux + dy * uy, dy * ux - dx * uy
        if misses_disc(ax, ay, bx, by, disc_m2):
            turns += whole_turns(ax, ay, bx, by)
        elif ax != bx or ay != by:
            area_m2 += edge_in_disc_m2(ax, ay, bx, by, radius_m)
            if has_lens:
                area_m2 -= edge_in_lens_m2(ax, ay, bx, by, radius_m, away_m, half_m2)
            else:
                area_m2 -= edge_in_disc_m2(ax - away_m, ay, bx - away_m, by, away_m)
        ax, ay = bx, by
    return area_m2 + turns * (math.pi * disc_m2 - 2 * half_m2)


def meets_box(boxes: Floats, ring: int, at: tuple[float, float], radius_m: float) -> bool:
    """Whether the box about a ring comes within a distance of a place, east or west and north or south."""
    x, y = at
    is_across = boxes[ring, 0] <= x + radius_m and boxes[ring, 2] >= x - radius_m
    return bool(is_across and boxes[ring, 1] <= y + radius_m and boxes[ring, 3] >= y - radius_m)


Ground = tuple[Floats, Whole, Whole, Whole, Whole, Floats]


def measure_crescents(
    points: Floats,
    owners: Whole,
    point_holes: Whole,
    holes: Floats,
    near: tuple[Whole, Whole],
    ground: Ground,
    radius_m: float,
    out: Floats,
) -> None:
    """Measure what ground lies in the crescent about each point, for one hole each.

    Args:
        points: Reference points, a row each.
        owners: Number of the penalty area that each point's ball has left.
        point_holes: Number, in `holes`, of the hole played at each point.
        holes: The holes, a row each.
        near: Where the list of rings near each `TOGETHER` points begins, one entry more than there are lists; then the lists, one after
            another.
        ground: The rings: two rows of corners; where each ring begins, one entry more than there are rings; the column that each counts
            to; the number of its penalty area, or -1; a bit for each hole in `holes` for which it counts; its box, a row each.
        radius_m: Size of the relief area.
        out: Table to fill, a row for each point.
    """
    near_first, near_rings = near
    corners, ring_first, columns, ring_owners, serves, boxes = ground
    xs, ys = corners[0], corners[1]
    for number in range(len(points)):
        at = (points[number, 0], points[number, 1])
        which = point_holes[number]
        hole = (holes[which, 0], holes[which, 1])
        out[number, :] = 0.0
        frame = frame_of(at, hole, radius_m)
        out[number, CRESCENT] = math.pi * radius_m * radius_m - 2 * frame[5]
        shared = number // TOGETHER
        for place in range(near_first[shared], near_first[shared + 1]):
            ring = near_rings[place]
            if (serves[ring] >> which) & 1 and meets_box(boxes, ring, at, radius_m):
                is_own = ring_owners[ring] >= 0 and ring_owners[ring] == owners[number]
                column = OWN_PENALTY_AREA if is_own else columns[ring]
                out[number, column] += ring_in_crescent_m2(xs, ys, ring_first[ring], ring_first[ring + 1] - 1, frame, radius_m)
