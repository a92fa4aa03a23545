"""The ground between two lines straight back from the hole, with a margin outside each: a shape for a relief area."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely.geometry import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.course.partition import polygons_of
from marram.relief.area.arcs import area_in_disc_m2
from marram.relief.area.line_of_play import only_polygons
from marram.relief.area.shapes import CHORD_ERROR_M, sector_about

_LEAST_M = 0.001
_WIDEST_DEG = 170.0
_LEAST_DEG = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """All places between the lines from the hole through two points, or within a margin outside them, and not nearer the hole than a limit.

    Attributes:
        hole: The hole.
        first: A point of one line.
        second: A point of the other; the same point, or one on the same line, leaves the margins alone.
        margin_m: How far the band goes beyond each line, metres.
        least_m: No place may be nearer to the hole than this.
        far_m: No place farther from it is looked at.

    Accuracy: the size is exact but for rounding. The outline is drawn within the band and true to 1 mm.
    """

    hole: Position
    first: Position
    second: Position
    margin_m: float
    least_m: float
    far_m: float

    def __post_init__(self) -> None:
        """Refuse a band that is none.

        Raises:
            ValueError: A point is the hole, the lines run to opposite sides of the hole, the band has no width or no length.
        """
        if min(self.first.distance_m(self.hole), self.second.distance_m(self.hole)) < _LEAST_M:
            raise ValueError("one of the two points is the hole itself, and no line runs through one point")
        turn_deg = math.degrees(abs(self._turn()))
        if turn_deg > _WIDEST_DEG:
            raise ValueError(
                f"the two lines stand {turn_deg:.0f} degrees apart at the hole: points on opposite sides of it have no ground between "
                f"them; they must stand less than {_WIDEST_DEG:.0f} degrees apart"
            )
        if self.margin_m < 0 or (self.margin_m == 0 and turn_deg < _LEAST_DEG):
            raise ValueError(f"a band with a margin of {self.margin_m} m about lines {turn_deg:.6f} degrees apart has no width")
        if self.least_m < 0 or self.far_m - self.least_m < 0.01:
            raise ValueError(f"a band from {self.least_m} m to {self.far_m} m of the hole is none: it must end farther off than it begins")

    def area_on_m2(self, ground: Polygon | MultiPolygon) -> float:
        """Exact area of the band on some ground, m²."""
        within = only_polygons(ground.intersection(self._between()))
        if within.is_empty:
            return 0.0
        whole_m2 = area_in_disc_m2(within, self.hole.xy, self.far_m)
        nearer_m2 = area_in_disc_m2(within, self.hole.xy, self.least_m) if self.least_m > 0 else 0.0
        return max(whole_m2 - nearer_m2, 0.0)

    def outline(self) -> Polygon | MultiPolygon:
        """Outline with arcs true to 1 mm, within the exact band."""
        # A disc drawn outside the true circle, made smaller, is one drawn inside it.
        inner_m = self.far_m - CHORD_ERROR_M
        shape: BaseGeometry = self._between().intersection(sector_about(self.hole, inner_m, 0.0, 180.0))
        if self.least_m > 0:
            shape = shape.difference(sector_about(self.hole, self.least_m, 0.0, 180.0))
        return polygons_of(shape)

    def depth_m(self, position: Position) -> float:
        """How far inside the band a place lies, metres; negative outside."""
        point, between = Point(position.xy), self._between()
        from_edge_m = float(between.boundary.distance(point))
        from_hole_m = position.distance_m(self.hole)
        return min(from_edge_m if between.covers(point) else -from_edge_m, from_hole_m - self.least_m, self.far_m - from_hole_m)

    def reach(self) -> tuple[float, float, float, float]:
        """A box about the band."""
        x, y = self.hole.xy
        least_x, least_y, most_x, most_y = self._between().bounds
        return (max(least_x, x - self.far_m), max(least_y, y - self.far_m), min(most_x, x + self.far_m), min(most_y, y + self.far_m))

    def _turn(self) -> float:
        """The angle at the hole from the first line to the second, radians; positive to the left."""
        a, b = ((place.x_m - self.hole.x_m, place.y_m - self.hole.y_m) for place in (self.first, self.second))
        return math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])

    def _between(self) -> Polygon:
        """The wedge between the lines with its margins, without regard to distance; its far end lies beyond the farthest place."""
        x, y = self.hole.xy
        start, turn = math.atan2(self.first.y_m - y, self.first.x_m - x), self._turn()
        side = -1.0 if turn >= 0 else 1.0
        steps = max(1, math.ceil(abs(turn) / math.radians(30)))
        # Twice as far as asked keeps the edge at the far end from counting as the nearest one.
        long_m = 2 * self.far_m / math.cos(math.radians(15))
        ways = [start + turn * number / steps for number in range(steps + 1)]
        near, far = [], []
        for way, out in ((ways[0], ways[0] + side * math.pi / 2), (ways[-1], ways[-1] - side * math.pi / 2)):
            near.append((x + self.margin_m * math.cos(out), y + self.margin_m * math.sin(out)))
            far.append((near[-1][0] + long_m * math.cos(way), near[-1][1] + long_m * math.sin(way)))
        middle = [(x + long_m * math.cos(way), y + long_m * math.sin(way)) for way in ways]
        return Polygon([(x, y), near[0], far[0], *middle, far[1], near[1]])
