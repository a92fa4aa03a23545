"""Exact areas of polygons within circles, by sums over edges.

The area of a polygon within a convex figure is the sum, over its edges, of the signed area that the figure has between two rays from an
inner point to the ends of the edge, cut short where the edge lies within the figure. No predicates are needed, so nothing fails where an
edge touches a circle; the error is rounding alone. Plain numbers in and out, so that the same functions can be compiled.

Source: Green's theorem; formulas in docs/design/relief-geometry.md.
"""

from __future__ import annotations

import math

from shapely import orient_polygons
from shapely.geometry import MultiPolygon, Polygon

Circle = tuple[float, float, float]
_THINNEST_M = 1e-9
"""A lens thinner than this holds under 1e-9 m², and rounding may put its inner point outside it, where the sums mean nothing."""


def lens_area_m2(first_m: float, second_m: float, between_m: float) -> float:
    """Area common to two discs.

    Args:
        first_m: Radius of one disc.
        second_m: Radius of the other.
        between_m: Distance between their centres.

    Source: the closed formula for two intersecting circles.
    """
    if between_m >= first_m + second_m:
        return 0.0
    if between_m <= abs(first_m - second_m):
        return math.pi * min(first_m, second_m) ** 2
    return _segment(first_m, second_m, between_m) + _segment(second_m, first_m, between_m)


def _segment(own_m: float, other_m: float, between_m: float) -> float:
    """Area of the part of a disc beyond the chord that it shares with another."""
    reach_m = (between_m**2 + own_m**2 - other_m**2) / (2 * between_m)
    half_angle = math.acos(max(-1.0, min(1.0, reach_m / own_m)))
    return own_m**2 * (half_angle - math.sin(half_angle) * math.cos(half_angle))


def area_in_disc_m2(ground: Polygon | MultiPolygon, centre: tuple[float, float], radius_m: float) -> float:
    """Area of ground within a disc, m²."""
    return _sum_over_rings(ground, ((*centre, radius_m),), centre)


def area_in_lens_m2(
    ground: Polygon | MultiPolygon,
    centre: tuple[float, float],
    radius_m: float,
    other: tuple[float, float],
    other_radius_m: float,
) -> float:
    """Area of ground within two discs at once, m².

    Where one disc lies within the other, the smaller one is all that counts; where they are apart, nothing does.
    """
    between_m = math.hypot(other[0] - centre[0], other[1] - centre[1])
    if between_m >= radius_m + other_radius_m - _THINNEST_M or min(radius_m, other_radius_m) <= 0:
        return 0.0
    if between_m + other_radius_m <= radius_m:
        return area_in_disc_m2(ground, other, other_radius_m)
    if between_m + radius_m <= other_radius_m:
        return area_in_disc_m2(ground, centre, radius_m)
    # An inner point: the middle of the lens along the line of centres.
    middle_m = (between_m - other_radius_m + radius_m) / 2
    ahead_x, ahead_y = (other[0] - centre[0]) / between_m, (other[1] - centre[1]) / between_m
    inner = (centre[0] + middle_m * ahead_x, centre[1] + middle_m * ahead_y)
    return _sum_over_rings(ground, ((*centre, radius_m), (*other, other_radius_m)), inner)


def _sum_over_rings(ground: Polygon | MultiPolygon, circles: tuple[Circle, ...], inner: tuple[float, float]) -> float:
    moved = tuple((x - inner[0], y - inner[1], radius_m) for x, y, radius_m in circles)
    corners = _corners(moved)
    total = 0.0
    oriented = orient_polygons(ground)
    for single in getattr(oriented, "geoms", [oriented]):
        for ring in (single.exterior, *single.interiors):
            points = [(x - inner[0], y - inner[1]) for x, y, *_ in ring.coords]
            total += sum(edge_area_m2(a, b, moved, corners) for a, b in zip(points, points[1:], strict=False))
    return total


def _corners(circles: tuple[Circle, ...]) -> tuple[tuple[float, float], ...]:
    """The two points where two circles meet; none for one circle."""
    if len(circles) == 1:
        return ()
    (x1, y1, r1), (x2, y2, r2) = circles
    between_m = math.hypot(x2 - x1, y2 - y1)
    along_m = (between_m**2 + r1**2 - r2**2) / (2 * between_m)
    across_m = math.sqrt(max(r1**2 - along_m**2, 0.0))
    ux, uy = (x2 - x1) / between_m, (y2 - y1) / between_m
    base_x, base_y = x1 + along_m * ux, y1 + along_m * uy
    return ((base_x - across_m * uy, base_y + across_m * ux), (base_x + across_m * uy, base_y - across_m * ux))


def edge_area_m2(
    a: tuple[float, float],
    b: tuple[float, float],
    circles: tuple[Circle, ...],
    corners: tuple[tuple[float, float], ...],
) -> float:
    """Signed area that one edge adds, seen from the origin, which lies within all circles.

    Args:
        a: Start of the edge, metres from the inner point.
        b: Its end.
        circles: Centre and radius of each circle.
        corners: Where the circles meet.
    """
    enter, leave = 0.0, 1.0
    for circle in circles:
        first, last = _within(a, b, circle)
        enter, leave = max(enter, first), min(leave, last)
    if enter >= leave:
        return _sector(a, b, circles, corners)
    p = (a[0] + enter * (b[0] - a[0]), a[1] + enter * (b[1] - a[1]))
    q = (a[0] + leave * (b[0] - a[0]), a[1] + leave * (b[1] - a[1]))
    area_m2 = _cross(p, q) / 2
    if enter > 0.0:
        area_m2 += _sector(a, p, circles, corners)
    if leave < 1.0:
        area_m2 += _sector(q, b, circles, corners)
    return area_m2


def _within(a: tuple[float, float], b: tuple[float, float], circle: Circle) -> tuple[float, float]:
    """The stretch of an edge within a circle, as shares of the edge; (1, 0) where there is none."""
    x, y, radius_m = circle
    dx, dy = b[0] - a[0], b[1] - a[1]
    fx, fy = a[0] - x, a[1] - y
    square = dx * dx + dy * dy
    if square == 0.0:
        return (0.0, 1.0) if math.hypot(fx, fy) <= radius_m else (1.0, 0.0)
    half = fx * dx + fy * dy
    # Distance of the line from the centre, by a cross product, keeps its digits for a centre far away.
    off = (fx * dy - fy * dx) / math.sqrt(square)
    room = (radius_m - off) * (radius_m + off)
    if room <= 0.0:
        return (1.0, 0.0)
    reach = math.sqrt(room / square)
    return (-half / square - reach, -half / square + reach)


def _cross(p: tuple[float, float], q: tuple[float, float]) -> float:
    return p[0] * q[1] - p[1] * q[0]


def _sector(
    a: tuple[float, float],
    b: tuple[float, float],
    circles: tuple[Circle, ...],
    corners: tuple[tuple[float, float], ...],
) -> float:
    """Signed area of the figure between the directions of two points, cut at the corners passed on the way."""
    sweep = math.atan2(_cross(a, b), a[0] * b[0] + a[1] * b[1])
    if sweep == 0.0:
        return 0.0
    turns = [0.0, sweep]
    for corner in corners:
        turn = math.atan2(_cross(a, corner), a[0] * corner[0] + a[1] * corner[1])
        if turn * sweep > 0 and abs(turn) < abs(sweep):
            turns.append(turn)
    turns.sort(key=abs)
    start = math.atan2(a[1], a[0])
    return sum(_one_arc(start + first, start + last, circles) for first, last in zip(turns, turns[1:], strict=False))


def _one_arc(start: float, end: float, circles: tuple[Circle, ...]) -> float:
    """Signed area between two directions that see one circle only."""
    middle = (start + end) / 2
    circle = min(circles, key=lambda each: _ray_m(middle, each))
    x, y, radius_m = circle
    first_m, last_m = _ray_m(start, circle), _ray_m(end, circle)
    p = (first_m * math.cos(start), first_m * math.sin(start))
    q = (last_m * math.cos(end), last_m * math.sin(end))
    from_p, from_q = (p[0] - x, p[1] - y), (q[0] - x, q[1] - y)
    turn = math.atan2(_cross(from_p, from_q), from_p[0] * from_q[0] + from_p[1] * from_q[1])
    # The difference of a small angle and its sine loses all digits; its first term does not.
    bulge = turn**3 / 6 if abs(turn) < 1e-3 else turn - math.sin(turn)
    return _cross(p, q) / 2 + radius_m**2 * bulge / 2


def _ray_m(direction: float, circle: Circle) -> float:
    """Distance from the origin, inside the circle, to the circle in a direction."""
    x, y, radius_m = circle
    along = x * math.cos(direction) + y * math.sin(direction)
    far_m = math.hypot(x, y)
    inside = (radius_m - far_m) * (radius_m + far_m)
    root = math.sqrt(max(along * along + inside, 0.0))
    # Two forms of the same root; this choice never subtracts nearly equal numbers.
    return along + root if along >= 0 else inside / (root - along)
