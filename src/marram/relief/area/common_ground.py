"""Two estimates of a reference point: the ground where a ball may be dropped by either of them."""

from __future__ import annotations

from dataclasses import dataclass

from shapely.geometry import MultiPolygon, Polygon

from marram.relief.area.area import ReliefArea
from marram.relief.area.line_of_play import only_polygons


@dataclass(frozen=True, slots=True, kw_only=True)
class CommonGround:
    """Ground that two relief areas share.

    Attributes:
        outline: Its outline; empty where they share none.
        area_m2: Its size as drawn.
    """

    outline: Polygon | MultiPolygon
    area_m2: float


def overlap_of(first: ReliefArea, second: ReliefArea) -> CommonGround:
    """The ground that the relief areas of two people's estimates have in common.

    Args:
        first: The relief area by one estimate.
        second: The relief area by the other.

    Accuracy: each outline lies within its exact relief area and up to 1 mm inside its arcs, so the common ground is never too large,
        and too small by at most 1 mm along its edge: under 0.02 m² for two club-lengths. Ground left out of one, as a penalty area,
        is left out of both.
    """
    outline = only_polygons(first.outline().intersection(second.outline()))
    return CommonGround(outline=outline, area_m2=float(outline.area))
