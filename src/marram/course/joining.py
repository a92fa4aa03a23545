"""Ground that touches and is of one kind: what the Rules treat as one, however many outlines a survey draws it with."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, Mark
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.partition import GRID_M, PenaltyArea, Piece, polygons_of

ACCURACY_SIGMAS = 2.0
"""A margin is safe beyond two standard deviations of the survey."""
JOINED_M = 0.002
"""Outlines held to whole millimetres whose edges were one may lie 1.4 mm apart; nearer than this they touch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinedArea:
    """All connected ground of one area of the course while a hole is played.

    Attributes:
        area: The area of the course.
        mark: How a penalty area is marked; None for other areas.
        geometry: Its ground, metres; parts of it may touch in a point.
        features: The surveyed features that it is made of.
    """

    area: Area
    mark: Mark | None
    geometry: Polygon | MultiPolygon
    features: tuple[Feature, ...]

    def edge_at(self, position: Position) -> tuple[float, float | None]:
        """How far a place is from its edge, and the accuracy of the feature whose edge that is; None where unknown."""
        point = Point(position.xy)
        nearest = min(self.features, key=lambda feature: (feature.geometry.boundary.distance(point), feature.id))
        return float(self.geometry.boundary.distance(point)), nearest.sigma_m


def groups_touching(grounds: Sequence[BaseGeometry], within_m: float = JOINED_M) -> tuple[tuple[int, ...], ...]:
    """Which of some grounds hang together, at a single point too.

    Args:
        grounds: The grounds, metres.
        within_m: Grounds no farther apart than this touch.

    Returns:
        The places of the grounds in the list, group by group, in the list's order.
    """
    leader = list(range(len(grounds)))

    def first(number: int) -> int:
        while leader[number] != number:
            number = leader[number]
        return number

    pairs = shapely.STRtree(grounds).query(grounds, predicate="dwithin", distance=within_m) if len(grounds) > 1 else np.empty((2, 0), int)
    for one, other in pairs.T.tolist():
        low, high = sorted((first(one), first(other)))
        leader[high] = low
    groups: dict[int, list[int]] = {}
    for number in range(len(grounds)):
        groups.setdefault(first(number), []).append(number)
    return tuple(tuple(group) for group in groups.values())


def join_pieces(pieces: Sequence[Piece], hole: int | None, area: Area, mark: Mark | None = None) -> Iterator[JoinedArea]:
    """The connected grounds of one area of the course.

    Args:
        pieces: The partition.
        hole: Number of the hole being played; None where the area is the same for every hole.
        area: The area of the course.
        mark: The mark, of penalty areas.
    """

    def is_own(piece: Piece) -> bool:
        return (piece.area if hole is None else piece.area_for(hole)) is area and (mark is None or _mark_of(piece) is mark)

    singles = [
        (single, piece.feature if hole is None else piece.feature_for(hole))
        for piece in pieces
        if piece.feature is not None and is_own(piece)
        for single in shapely.get_parts(piece.geometry)
    ]
    for group in groups_touching([single for single, _ in singles]):
        ground = polygons_of(shapely.union_all([singles[number][0] for number in group], grid_size=GRID_M))
        features = {feature.id: feature for _, feature in (singles[number] for number in group) if feature is not None}
        if not ground.is_empty:
            yield JoinedArea(area=area, mark=mark, geometry=ground, features=tuple(features.values()))


def _mark_of(piece: Piece) -> Mark | None:
    return None if piece.feature is None else piece.feature.mark


def join_penalty_areas(pieces: Sequence[Piece]) -> tuple[PenaltyArea, ...]:
    """Join touching penalty-area pieces of one mark into one penalty area each."""
    return tuple(
        PenaltyArea(mark=mark, geometry=joined.geometry, features=joined.features)
        for mark in Mark
        for joined in join_pieces(pieces, None, Area.PENALTY_AREA, mark)
    )


def as_joined(water: PenaltyArea) -> JoinedArea:
    """A penalty area as connected ground."""
    return JoinedArea(area=Area.PENALTY_AREA, mark=water.mark, geometry=water.geometry, features=water.features)


def whole_green(greens: Sequence[Feature], near: BaseGeometry | None) -> Feature | None:
    """The putting green of a hole, whole where several outlines of it touch.

    Args:
        greens: The outlines that serve the hole.
        near: Where the hole is cut, or its line ends: of greens that lie apart the nearest counts; None to take the first.

    Returns:
        The green under the first name of those that make it up; None where there is none.
    """
    if len(greens) < 2:
        return next(iter(greens), None)
    named = sorted(greens, key=lambda green: green.id)
    groups = [[named[number] for number in group] for group in groups_touching([green.geometry for green in named])]
    whole = [replace(group[0], geometry=polygons_of(shapely.union_all([green.geometry for green in group]))) for group in groups]
    return min(whole, key=lambda green: 0.0 if near is None else green.geometry.distance(near))
