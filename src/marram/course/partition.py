"""The partition: every point of the course lies in exactly one area of the course.

Order of precedence: penalty area, bunker, putting green, teeing area (Rules of Golf, January 2019, Rule 2.2c for the first three). Of two
things of one kind the smaller lies on top; for that there is no rule.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, FeatureKind, Mark
from marram.course.features import Feature

GRID_M = 0.001
"""Stored coordinates are held to 1 mm."""
_SLIVER_M2 = 0.01

_ORDER = (
    (FeatureKind.PENALTY_AREA, Area.PENALTY_AREA),
    (FeatureKind.BUNKER, Area.BUNKER),
    (FeatureKind.PUTTING_GREEN, Area.PUTTING_GREEN),
    (FeatureKind.TEEING_AREA, Area.TEEING_AREA),
)
_AREAS = dict(_ORDER)
_OF_A_HOLE = frozenset({Area.PUTTING_GREEN, Area.TEEING_AREA})


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A part of the course that lies in one area.

    Attributes:
        area: The area, before asking which hole is played.
        geometry: Its ground, metres.
        feature: The surveyed feature; None for the general area.
        beneath: Greens and tees of other holes that lie under the feature here, and count while those holes are played.
    """

    area: Area
    geometry: Polygon | MultiPolygon
    feature: Feature | None
    beneath: tuple[Feature, ...] = ()

    def area_for(self, hole: int) -> Area:
        """The area that the piece is while a hole is played: other holes' greens and tees are general area."""
        if self.area not in _OF_A_HOLE or self.feature is None or hole in self.feature.holes:
            return self.area
        under = self.feature_for(hole)
        return Area.GENERAL_AREA if under is self.feature or under is None else _AREAS[under.kind]

    def feature_for(self, hole: int) -> Feature | None:
        """The feature that counts while a hole is played."""
        if self.area in _OF_A_HOLE and self.feature is not None and hole not in self.feature.holes:
            return next((feature for feature in self.beneath if hole in feature.holes), self.feature)
        return self.feature


@dataclass(frozen=True, slots=True, kw_only=True)
class PenaltyArea:
    """All ground of touching penalty-area features under one mark, which the rules treat as one.

    Attributes:
        mark: Red, yellow or unmarked.
        geometry: Its ground, metres.
        features: The surveyed features that it is made of.
    """

    mark: Mark
    geometry: Polygon | MultiPolygon
    features: tuple[Feature, ...]

    @property
    def sigma_m(self) -> float | None:
        """The worst survey accuracy of its features; None where one is unknown."""
        return worst_sigma_m(self.features)


def worst_sigma_m(features: Sequence[Feature]) -> float | None:
    """The largest survey uncertainty of the features; None where one is unknown."""
    sigmas = [feature.sigma_m for feature in features]
    known = [sigma_m for sigma_m in sigmas if sigma_m is not None]
    return max(known) if known and len(known) == len(sigmas) else None


def polygons_of(geometry: BaseGeometry) -> Polygon | MultiPolygon:
    """The polygons of any geometry, without lines, points and slivers under 0.01 m²."""
    parts = [part for part in getattr(geometry, "geoms", [geometry]) if isinstance(part, Polygon | MultiPolygon)]
    singles = [single for part in parts for single in getattr(part, "geoms", [part])]
    kept = [single for single in singles if single.area >= _SLIVER_M2]
    return kept[0] if len(kept) == 1 else MultiPolygon(kept)


def make_partition(boundary: Polygon | MultiPolygon, features: Sequence[Feature]) -> tuple[Piece, ...]:
    """Cut the course into its areas.

    Args:
        boundary: Ground within the boundary edge, metres.
        features: All features; only those that are areas of the course are used.

    Returns:
        The pieces: specific areas first, in order of precedence, the general area last.
    """
    pieces: list[Piece] = []
    for kind, area in _ORDER:
        for feature in sorted((feature for feature in features if feature.kind is kind), key=smaller_first):
            ground: BaseGeometry = polygons_of(shapely.intersection(feature.geometry, boundary, grid_size=GRID_M))
            if area in _OF_A_HOLE:
                pieces = [part for piece in pieces for part in _laid_over(piece, feature, ground)]
            # Only what comes first and really lies here is cut away; cutting against everything is many times slower.
            above = [piece.geometry for piece in pieces if piece.geometry.intersects(ground)]
            if above:
                ground = shapely.difference(ground, shapely.union_all(above), grid_size=GRID_M)
            kept = polygons_of(ground)
            if not kept.is_empty:
                pieces.append(Piece(area=area, geometry=kept, feature=feature))
    specific = shapely.union_all([piece.geometry for piece in pieces])
    rest = polygons_of(shapely.difference(boundary, specific, grid_size=GRID_M))
    if not rest.is_empty:
        pieces.append(Piece(area=Area.GENERAL_AREA, geometry=rest, feature=None))
    return tuple(pieces)


def smaller_first(feature: Feature) -> tuple[float, str]:
    """What lies within another thing of its kind lies on top of it, wherever it stands in the file."""
    return round(feature.geometry.area, 3), feature.id


def _laid_over(piece: Piece, feature: Feature, ground: BaseGeometry) -> list[Piece]:
    """A green or tee, cut where another hole's lies under it, so that each hole keeps its own."""
    is_apart = piece.area not in _OF_A_HOLE or piece.feature is None or not set(feature.holes) - set(piece.feature.holes)
    if is_apart or not piece.geometry.intersects(ground):
        return [piece]
    both = polygons_of(shapely.intersection(piece.geometry, ground, grid_size=GRID_M))
    if both.is_empty:
        return [piece]
    alone = polygons_of(shapely.difference(piece.geometry, both, grid_size=GRID_M))
    shared = replace(piece, geometry=both, beneath=(*piece.beneath, feature))
    return [shared] if alone.is_empty else [replace(piece, geometry=alone), shared]
