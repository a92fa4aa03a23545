"""The course as flat lists of small rings, so that the ground near a point is a few short edges.

Only what lies on the course is listed: the ground within the boundary, and on it penalty areas, bunkers, the greens and tees of each hole
and no play zones. What is in none of them is general area, and needs no ring.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, FeatureKind
from marram.course.course import Course
from marram.course.partition import GRID_M, polygons_of
from marram.relief.area import crescent_sums as sums
from marram.relief.area.crescent_sums import Floats, Whole

MOST_CORNERS = 32
"""Rings of at most 32 corners measured fastest of 8, 16, 32, 64 and whole outlines (docs/speed.md)."""
NO_OWNER = -1
EVERY_HOLE = -1
"""A bit for each hole, all set."""

_COLUMNS = {Area.BUNKER: sums.BUNKER, Area.PUTTING_GREEN: sums.PUTTING_GREEN, Area.TEEING_AREA: sums.TEEING_AREA}


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What one kind of ground is to the measuring.

    Attributes:
        geometry: Its outline, metres.
        column: The column of the table of areas that it counts to.
        owner: Number of the penalty area that it belongs to, or -1.
        serves: A bit for each hole for which it counts.
    """

    geometry: Polygon | MultiPolygon
    column: int
    owner: int = NO_OWNER
    serves: int = EVERY_HOLE


@dataclass(frozen=True, slots=True, kw_only=True)
class Rings:
    """Flat lists of rings.

    Attributes:
        corners: Two rows, eastings and northings of the corners of all rings, each ring closed and counter-clockwise.
        first: Where each ring begins; one entry more than there are rings.
        columns: The column of the table of areas that each ring counts to.
        owners: Number of the penalty area that it belongs to, or -1.
        serves: A bit for each hole for which it counts.
        boxes: A row for each ring: least x, least y, greatest x, greatest y.
        tree: Boxes about the rings, to find those near a point.
    """

    corners: Floats
    first: Whole
    columns: Whole
    owners: Whole
    serves: Whole
    boxes: Floats
    tree: shapely.STRtree

    def near(self, points: Floats, radius_m: float) -> tuple[Whole, Whole]:
        """The rings whose box meets the box about some points that follow each other: neighbours on an edge share most of them.

        Returns:
            Where the list of each `TOGETHER` points begins, one entry more than there are lists, and the lists one after another.
        """
        if not len(points):
            return np.zeros(1, dtype=np.int64), np.empty(0, dtype=np.int64)
        starts = np.arange(0, len(points), sums.TOGETHER)
        (west, south), (east, north) = (side.reduceat(points, starts).T for side in (np.minimum, np.maximum))
        of_list, ring = self.tree.query(shapely.box(west - radius_m, south - radius_m, east + radius_m, north + radius_m))
        first = np.searchsorted(of_list, np.arange(len(starts) + 1))
        return first.astype(np.int64), ring.astype(np.int64)


def ground_of(course: Course, holes: Sequence[int]) -> tuple[Ground, ...]:
    """All ground of a course that is not simply general area.

    Args:
        course: The course.
        holes: Numbers of the holes, at most 63; the place in this list is the number of the hole's bit.
    """
    zones = polygons_of(shapely.union_all([zone.geometry for zone in course.of_kind(FeatureKind.NO_PLAY_ZONE)])) & course.boundary
    found = [Ground(geometry=course.boundary, column=sums.COURSE)]
    for owner, area in enumerate(course.penalty_areas):
        found.append(Ground(geometry=_less(area.geometry, zones), column=sums.OTHER_PENALTY_AREA, owner=owner))
        # A zone within a penalty area is that area's own for a ball that leaves it, and closed to every other ball.
        found.append(Ground(geometry=polygons_of(area.geometry & zones), column=sums.NO_PLAY_ZONE, owner=owner))
    water = shapely.union_all([area.geometry for area in course.penalty_areas])
    found.append(Ground(geometry=polygons_of(zones - water), column=sums.NO_PLAY_ZONE))
    for piece in course.pieces:
        if piece.area in _COLUMNS:
            bits = sum(1 << place for place, hole in enumerate(holes) if piece.area_for(hole) is piece.area)
            found.append(Ground(geometry=_less(piece.geometry, zones), column=_COLUMNS[piece.area], serves=bits))
    return tuple(ground for ground in found if not ground.geometry.is_empty)


def _less(ground: Polygon | MultiPolygon, zones: BaseGeometry) -> Polygon | MultiPolygon:
    return polygons_of(ground - zones) if ground.intersects(zones) else ground


def cut_into_rings(grounds: Sequence[Ground], *, most_corners: int = MOST_CORNERS) -> Rings:
    """Cut ground into small rings.

    Args:
        grounds: The ground.
        most_corners: How many corners a ring may have.
    """
    parts = [(ground, part) for ground in grounds for part in _small_parts(ground.geometry, most_corners)]
    rings = [shapely.get_coordinates(part.exterior) for _, part in parts]
    columns, owners, serves = (
        np.array([getattr(ground, name) for ground, _ in parts], dtype=np.int64) for name in ("column", "owner", "serves")
    )
    return Rings(
        corners=np.ascontiguousarray(np.concatenate([np.empty((0, 2)), *rings]).T),
        first=np.concatenate([[0], np.cumsum([len(ring) for ring in rings], dtype=np.int64)]).astype(np.int64),
        columns=columns,
        owners=owners,
        serves=serves,
        boxes=shapely.bounds(np.array([part for _, part in parts], dtype=object)).reshape(-1, 4),
        tree=shapely.STRtree([part for _, part in parts]),
    )


def _small_parts(ground: BaseGeometry, most_corners: int) -> Iterator[Polygon]:
    """Halve ground across its longer side until each part has few corners and no holes."""
    waiting = [part for part in shapely.get_parts(ground) if isinstance(part, Polygon) and not part.is_empty]
    while waiting:
        part = waiting.pop()
        has_few = not part.interiors and shapely.get_num_coordinates(part) - 1 <= most_corners
        if has_few or (not part.interiors and _width_m(part) < GRID_M):
            yield shapely.orient_polygons(part)
            continue
        halves = [half for half in _halves(part) for half in shapely.get_parts(half)]
        waiting += [half for half in halves if isinstance(half, Polygon) and not half.is_empty]


def _width_m(part: Polygon) -> float:
    least_x, least_y, most_x, most_y = part.bounds
    return max(most_x - least_x, most_y - least_y)


def _halves(part: Polygon) -> tuple[BaseGeometry, BaseGeometry]:
    least_x, least_y, most_x, most_y = part.bounds
    if most_x - least_x >= most_y - least_y:
        middle = (least_x + most_x) / 2
        return (
            shapely.clip_by_rect(part, least_x, least_y, middle, most_y),
            shapely.clip_by_rect(part, middle, least_y, most_x, most_y),
        )
    middle = (least_y + most_y) / 2
    return (
        shapely.clip_by_rect(part, least_x, least_y, most_x, middle),
        shapely.clip_by_rect(part, least_x, middle, most_x, most_y),
    )
