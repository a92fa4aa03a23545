"""The doubt about a line straight back from the hole: a fan that widens with the distance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import MultiPolygon, Polygon

from marram.course.frame import Position
from marram.relief.area.line_of_play import only_polygons

TIMES_SIGMA = 2.0
"""Half the width in standard deviations: the true line lies within in 19 cases of 20."""
_LEAST_M = 0.001


@dataclass(frozen=True, slots=True, kw_only=True)
class Fan:
    """A line from the hole through a reference point whose place is known only so well.

    Attributes:
        hole: The hole, taken as known.
        reference: The reference point as estimated.
        sigma_m: Standard deviation of its place across the line, metres.
    """

    hole: Position
    reference: Position
    sigma_m: float

    def __post_init__(self) -> None:
        """Refuse a fan that is no fan.

        Raises:
            ValueError: The deviation is negative, or the point is so near the hole that the line might run either way.
        """
        if self.sigma_m < 0:
            raise ValueError(f"the standard deviation of the reference point is {self.sigma_m} m; it must be 0 or more")
        from_hole_m = self.reference.distance_m(self.hole)
        if from_hole_m < _LEAST_M or from_hole_m <= TIMES_SIGMA * self.sigma_m:
            raise ValueError(
                f"the reference point is {from_hole_m:.2f} m from the hole and known to {self.sigma_m:.2f} m (one standard deviation): "
                "the line may run in any direction; a point farther from the hole, or better measured, is needed"
            )

    def half_width_m(self, back_m: float) -> float:
        """Two standard deviations of the line so far behind the reference point, metres: they grow with the distance from the hole.

        Source: similar triangles; docs/design/relief-geometry.md.
        """
        from_hole_m = self.reference.distance_m(self.hole)
        return TIMES_SIGMA * self.sigma_m * (from_hole_m + back_m) / from_hole_m

    def outline(self, intervals_m: Sequence[tuple[float, float]]) -> Polygon | MultiPolygon:
        """The fan for drawing, over some stretches behind the reference point.

        Args:
            intervals_m: Nearest and farthest end of each stretch, metres behind the reference point.

        Returns:
            One four-sided outline for each stretch; an empty polygon where the point is known exactly or no stretch is given.
        """
        return only_polygons(shapely.union_all([self._stretch(near_m, far_m) for near_m, far_m in intervals_m]))

    def _stretch(self, near_m: float, far_m: float) -> Polygon:
        from_hole_m = self.reference.distance_m(self.hole)
        ux, uy = (self.reference.x_m - self.hole.x_m) / from_hole_m, (self.reference.y_m - self.hole.y_m) / from_hole_m
        corners = []
        for back_m, side in ((near_m, -1.0), (far_m, -1.0), (far_m, 1.0), (near_m, 1.0)):
            across_m = side * self.half_width_m(back_m)
            corners.append(self.reference.moved(back_m * ux - across_m * uy, back_m * uy + across_m * ux).xy)
        return Polygon(corners)
