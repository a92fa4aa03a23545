"""The free ground about a ball, cut by no more discs of the footprint than bound it where it comes nearest.

The edge of what is free near the ball is made by a few of the some thirty discs: on a straight path by the last to leave it on either
side. So the ground is cut by these, its nearest place is tried with all, and a disc that reaches in is cut out as well, until none does
within the tolerance of the nearest place. What is left there is what the cut by every disc would leave.
"""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.relief.area.line_of_play import only_polygons
from marram.relief.area.shapes import sector_about
from marram.relief.clear.nearest_discs import Discs, Floats, Images, Whole

EQUAL_M = 0.05
"""Points whose distances differ by less than a tape can tell count as equally near."""
ROUNDING_M = 1e-6
_TOUCH_M = 1e-4
"""Edges are drawn true to this; a disc that reaches less far into free ground makes no edge of it."""
_SMALLEST_POCKET_M2 = 1e-6
"""Places of a ball, not ground: a square millimetre is a place where it can lie, less may be rounding."""
_ARC_SEGMENTS = 16


def open_ground(ball: Position, hole: Position, reach_m: float, allowed: BaseGeometry, also_forbidden: BaseGeometry) -> BaseGeometry:
    """What of the allowed ground within reach is not nearer the hole and not forbidden for another reason than the footprint.

    Args:
        ball: Where the ball lies.
        hole: The hole.
        reach_m: How far to go from the ball; the corners of a square about that disc may be left in.
        allowed: Ground in which the ball must lie.
        also_forbidden: Places where it may not lie.
    """
    x, y = ball.xy
    near = shapely.clip_by_rect(allowed, x - reach_m, y - reach_m, x + reach_m, y + reach_m)
    if not isinstance(near, Polygon | MultiPolygon) or not near.is_valid:
        near = only_polygons(shapely.make_valid(near))
    to_hole_m = ball.distance_m(hole)
    if to_hole_m > 0:
        half_deg = 180.0 if to_hole_m <= reach_m else math.degrees(math.asin(reach_m / to_hole_m)) + 3
        near = near.difference(sector_about(hole, to_hole_m, hole.bearing_deg(ball), min(half_deg, 180.0)))
    return near if also_forbidden.is_empty else near.difference(also_forbidden)


def leading_discs(ball: Position, images: Images) -> list[int]:
    """The discs to be cut first: the last to leave the condition if it were a straight strip along its edge next to the ball."""
    if images.condition.is_empty:
        return []
    way = shapely.get_coordinates(shapely.shortest_line(images.condition.boundary, Point(ball.xy)))
    return images.discs.last_clear(ball, way[1] - way[0])


def cut_until_clear(ball: Position, reach_m: float, ground: BaseGeometry, images: Images, cut: list[int]) -> BaseGeometry:
    """Ground that is free of the condition within the tolerance of its nearest place to the ball; anything where that is out of reach.

    Args:
        ball: Where the ball lies.
        reach_m: How far the nearest place may lie.
        ground: Where the ball might lie.
        images: What the discs of the footprint forbid.
        cut: Numbers of the discs to begin with; those that are cut out are added.
    """
    waiting = list(cut)
    free = _without_pockets(ground)
    while True:
        for number in waiting:
            free = _without_pockets(free.difference(images.of(number)))
        if free.is_empty or free.distance(Point(ball.xy)) >= reach_m:
            return free
        others = np.delete(np.arange(len(images.discs.samples)), cut)
        waiting = _reaching_in(ball, free, images, others)
        if not waiting:
            return free
        cut += waiting


def _without_pockets(ground: BaseGeometry) -> BaseGeometry:
    if isinstance(ground, Polygon) and ground.area >= _SMALLEST_POCKET_M2:
        return ground
    parts = shapely.get_parts(ground)
    is_place = shapely.area(parts) >= _SMALLEST_POCKET_M2
    return ground if is_place.all() else MultiPolygon(list(parts[is_place]))


def _reaching_in(ball: Position, free: BaseGeometry, images: Images, others: Whole) -> list[int]:
    """The disc that overlaps most with the ball at its nearest place, or else all that reach into places about as near."""
    nearest = nearest_place(ball, free)
    gaps_m = images.discs.gaps_m(nearest, images.condition)[others]
    if len(others) and gaps_m.min() < -ROUNDING_M:
        return [int(others[gaps_m.argmin()])]
    limit_m = nearest.distance_m(ball) + EQUAL_M
    about_as_near = free.intersection(Point(ball.xy).buffer(limit_m / math.cos(math.pi / 4 / _ARC_SEGMENTS), quad_segs=_ARC_SEGMENTS))
    found: set[int] = set()
    for part in shapely.get_parts(about_as_near):
        if isinstance(part, Polygon):
            found |= _reaching_into(shapely.get_coordinates(part.exterior), nearest, gaps_m, images, others)
    return sorted(found)


def _reaching_into(outline: Floats, place: Position, gaps_m: Floats, images: Images, others: Whole) -> set[int]:
    """Those of some discs that overlap with the condition for a ball somewhere within an outline, given their gaps at a place."""
    discs = images.discs
    farthest_m = float(np.hypot(outline[:, 0] - place.x_m, outline[:, 1] - place.y_m).max())
    near = others[gaps_m < farthest_m * _most_moved(discs, outline)]
    if not len(near):
        return set()
    over = discs.moved_ground(near, outline)
    reaches = shapely.distance(over, images.condition) < discs.radius_m[near] - _TOUCH_M
    return {int(number) for number in near[reaches]}


def _most_moved(discs: Discs, outline: Floats) -> float:
    """How far a disc can move for each metre that the ball moves within an outline: more than one, as the player turns as well."""
    to_target_m = float(np.hypot(outline[:, 0] - discs.target.x_m, outline[:, 1] - discs.target.y_m).min())
    width_m = float(np.ptp(outline, axis=0).max())
    return 1 + discs.reach_m / max(to_target_m - width_m, ROUNDING_M)


def nearest_place(ball: Position, ground: BaseGeometry) -> Position:
    """The place of some ground that is nearest to the ball."""
    (x_m, y_m), _ = shapely.get_coordinates(shapely.shortest_line(ground, Point(ball.xy))).tolist()
    return Position(x_m=x_m, y_m=y_m)
