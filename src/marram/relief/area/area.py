"""The relief area: a measured shape on the ground where a rule allows the ball, split by area of the course."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area
from marram.course.course import Course
from marram.course.frame import Position
from marram.course.partition import polygons_of
from marram.relief.area.shapes import Shape, clipped

SMALLEST_M2 = 0.05
"""An area smaller than this gives no room for a ball to come to rest in; it is told as none (common practice; docs/design/marking.md)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaPart:
    """The part of a relief area that lies in one area of the course.

    Attributes:
        area: The area of the course.
        area_m2: Its exact size.
        outline: Its outline for drawing.
        ground: The ground that bounds it, before it is cut by the shape.
    """

    area: Area
    area_m2: float
    outline: Polygon | MultiPolygon
    ground: Polygon | MultiPolygon


@dataclass(frozen=True, slots=True, kw_only=True)
class ReliefArea:
    """Where a ball must be dropped and come to rest.

    Attributes:
        shape: The measured shape.
        parts: What of it may be used, by area of the course.
    """

    shape: Shape
    parts: tuple[AreaPart, ...]

    @property
    def area_m2(self) -> float:
        """Exact size of all parts together, m²."""
        return sum(part.area_m2 for part in self.parts)

    def outline(self) -> Polygon | MultiPolygon:
        """Outline of all parts together, for drawing."""
        return polygons_of(shapely.union_all([part.outline for part in self.parts]))

    def depth_m(self, position: Position) -> float:
        """How far inside the relief area a place lies, metres; negative outside."""
        return self.depths_m([position])[0]

    def depths_m(self, positions: Sequence[Position]) -> list[float]:
        """The same for many places at once."""
        ground = shapely.union_all([part.ground for part in self.parts])
        shapely.prepare(ground)
        points = shapely.points([position.xy for position in positions])
        from_edge_m = shapely.distance(ground.boundary, points)
        on_ground = shapely.covers(ground, points)
        return [
            min(self.shape.depth_m(position), float(edge_m if is_on else -edge_m))
            for position, edge_m, is_on in zip(positions, from_edge_m, on_ground, strict=True)
        ]


def measure_relief_area(
    shape: Shape,
    course: Course,
    hole: int,
    *,
    may_lie_in: Callable[[Area], bool],
    within: BaseGeometry | None = None,
    without: Sequence[BaseGeometry] = (),
) -> ReliefArea:
    """Measure a relief area on the ground.

    Args:
        shape: The measured shape.
        course: The course.
        hole: Number of the hole being played.
        may_lie_in: Whether the rule allows an area of the course.
        within: Ground that must not be left, such as the very bunker; None where any ground of those areas will do.
        without: Ground that is left out: the penalty area just left, ground without complete relief.

    Returns:
        The relief area; it has no parts where nothing is left.
    """
    grounds: dict[Area, list[BaseGeometry]] = {}
    bounds = shape.reach()
    for piece in course.pieces_near(bounds) if not math.isnan(bounds[0]) else ():
        area = piece.area_for(hole)
        if may_lie_in(area):
            near: BaseGeometry = clipped(piece.geometry, shape)
            if within is not None and not near.is_empty:
                near = near.intersection(within)
            for barred in without:
                if not near.is_empty:
                    near = near.difference(barred)
            if not near.is_empty:
                grounds.setdefault(area, []).append(near)
    parts = []
    for area, pieces in grounds.items():
        ground = polygons_of(shapely.union_all(pieces))
        area_m2 = shape.area_on_m2(ground)
        if area_m2 > 1e-4:
            outline = polygons_of(shape.outline().intersection(ground))
            parts.append(AreaPart(area=area, area_m2=area_m2, outline=outline, ground=ground))
    return ReliefArea(shape=shape, parts=tuple(parts))
