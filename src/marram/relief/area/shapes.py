"""The shapes that relief areas have: a disc cut by the hole's circle, a strip, a given outline.

Each shape knows its exact area on any ground and how far a point lies inside it. Its outline is for drawing and always lies within the
exact shape: arcs about the reference point are drawn inscribed, arcs about the hole circumscribed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Point, Polygon

from marram.course.frame import Position
from marram.course.partition import polygons_of
from marram.relief.area.arcs import area_in_disc_m2, area_in_lens_m2

CHORD_ERROR_M = 0.001
"""Largest distance between a drawn arc and the true one."""


class Shape(Protocol):
    """Ground that a rule measures out, before asking what lies there."""

    def area_on_m2(self, ground: Polygon | MultiPolygon) -> float:
        """Exact area of the shape on some ground, m²."""
        ...

    def outline(self) -> Polygon | MultiPolygon:
        """Outline for drawing, within the exact shape."""
        ...

    def depth_m(self, position: Position) -> float:
        """How far inside the shape a place lies, metres; negative outside."""
        ...

    def reach(self) -> tuple[float, float, float, float]:
        """A box about the shape: least x, least y, greatest x, greatest y."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Crescent:
    """All places within a distance of a point and not nearer the hole than a limit.

    Attributes:
        centre: The reference point.
        radius_m: Size of the relief area.
        hole: The hole.
        least_m: No place may be nearer to the hole than this.
    """

    centre: Position
    radius_m: float
    hole: Position
    least_m: float

    def area_on_m2(self, ground: Polygon | MultiPolygon) -> float:
        """Exact area of the crescent on some ground, m²."""
        whole_m2 = area_in_disc_m2(ground, self.centre.xy, self.radius_m)
        nearer_m2 = area_in_lens_m2(ground, self.centre.xy, self.radius_m, self.hole.xy, self.least_m)
        return max(whole_m2 - nearer_m2, 0.0)

    def outline(self) -> Polygon | MultiPolygon:
        """Outline with arcs true to 1 mm, within the exact crescent."""
        return polygons_of(_disc_within(self.centre, self.radius_m).difference(self._nearer_the_hole()))

    def _nearer_the_hole(self) -> Polygon:
        """The part of the hole's disc that can reach the crescent, drawn on its outer side."""
        if self.least_m <= 0:
            return Polygon()
        to_centre_m = self.centre.distance_m(self.hole)
        half = math.pi
        if to_centre_m > self.radius_m:
            half = min(math.pi, math.asin(self.radius_m / to_centre_m) + 0.05)
        return sector_about(self.hole, self.least_m, self.hole.bearing_deg(self.centre), math.degrees(half))

    def depth_m(self, position: Position) -> float:
        """How far inside the crescent a place lies, metres; negative outside."""
        from_centre_m = position.distance_m(self.centre)
        return min(self.radius_m - from_centre_m, position.distance_m(self.hole) - self.least_m)

    def reach(self) -> tuple[float, float, float, float]:
        """A box about the disc."""
        (x, y), r = self.centre.xy, self.radius_m
        return (x - r, y - r, x + r, y + r)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A shape with straight edges: a strip about a line, a teeing area, a dropping zone."""

    polygon: Polygon | MultiPolygon

    def area_on_m2(self, ground: Polygon | MultiPolygon) -> float:
        """Area of the outline on some ground, m²."""
        return float(self.polygon.intersection(ground).area)

    def outline(self) -> Polygon | MultiPolygon:
        """The outline itself."""
        return self.polygon

    def depth_m(self, position: Position) -> float:
        """How far inside the outline a place lies, metres; negative outside."""
        point = Point(position.xy)
        from_edge_m = float(self.polygon.boundary.distance(point))
        return from_edge_m if self.polygon.covers(point) else -from_edge_m

    def reach(self) -> tuple[float, float, float, float]:
        """A box about the outline."""
        return self.polygon.bounds


def _disc_within(centre: Position, radius_m: float) -> Polygon:
    """A disc whose drawn edge lies on or inside the true circle."""
    step = 2 * math.acos(max(0.0, 1 - CHORD_ERROR_M / radius_m))
    count = 4 * math.ceil(2 * math.pi / step / 4)
    return Polygon(np.array(centre.xy) + radius_m * _round(count))


@lru_cache(maxsize=64)
def _round(count: int) -> NDArray[np.float64]:
    """So many places evenly on a circle of one metre."""
    turns = [2 * math.pi * number / count for number in range(count)]
    return np.array([(math.cos(t), math.sin(t)) for t in turns])


def sector_about(centre: Position, radius_m: float, bearing_deg: float, half_deg: float) -> Polygon:
    """A sector of a disc whose drawn arc lies on or outside the true one.

    Args:
        centre: Centre of the disc.
        radius_m: Its radius.
        bearing_deg: Bearing of the middle of the sector.
        half_deg: Half its angle; 180 gives the whole disc.
    """
    step = 2 * math.acos(radius_m / (radius_m + CHORD_ERROR_M))
    count = max(4, math.ceil(2 * math.radians(half_deg) / step))
    step = 2 * math.radians(half_deg) / count
    outer_m = radius_m / math.cos(step / 2)
    first = math.radians(90 - bearing_deg) - math.radians(half_deg)
    # Vertices sit between the steps, so that each drawn edge touches the true arc in its middle.
    turns = [first + (number - 0.5) * step for number in range(count + 2)]
    points = [(centre.x_m + outer_m * math.cos(t), centre.y_m + outer_m * math.sin(t)) for t in turns]
    if half_deg >= 180:
        return Polygon(points[:count])
    return Polygon([centre.xy, *points])


def clipped(ground: Polygon | MultiPolygon, shape: Shape) -> Polygon | MultiPolygon:
    """The ground near a shape."""
    least_x, least_y, most_x, most_y = shape.reach()
    if math.isnan(least_x):  # an empty outline has no box: a strip along a line of which nothing may be used
        return Polygon()
    near = shapely.clip_by_rect(ground, least_x - 1e-3, least_y - 1e-3, most_x + 1e-3, most_y + 1e-3)
    polygons = [part for part in getattr(near, "geoms", [near]) if isinstance(part, Polygon) and not part.is_empty]
    return polygons[0] if len(polygons) == 1 else MultiPolygon(polygons)
