"""The areas of a course, cut once from the features that make them: boundary, partition, and the ground that hangs together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

import shapely
from shapely.geometry import MultiPolygon, Point, Polygon

from marram.core.errors import SurveyError
from marram.core.kept import Kept
from marram.core.terms import Area, FeatureKind
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.joining import JoinedArea, as_joined, join_penalty_areas, join_pieces
from marram.course.partition import PenaltyArea, Piece, make_partition, polygons_of

CUT_KINDS = (
    FeatureKind.BOUNDARY,
    FeatureKind.PENALTY_AREA,
    FeatureKind.BUNKER,
    FeatureKind.PUTTING_GREEN,
    FeatureKind.TEEING_AREA,
)
"""The kinds of feature that the areas of a course are cut from; all others lie upon them."""


@dataclass(frozen=True)
class Areas:
    """The ground of a course as its boundary and its specific areas cut it.

    Attributes:
        name: What the course is called.
        features: The features of those kinds, in the file's order within each.
    """

    name: str
    features: tuple[Feature, ...]
    _kept: Kept = field(default_factory=Kept, compare=False, repr=False)

    @cached_property
    def boundary(self) -> Polygon | MultiPolygon:
        """Ground within the boundary edge, metres; several pieces are one boundary.

        Raises:
            SurveyError: The survey has none, so that nothing can be said of what lies out of bounds.
        """
        pieces = [feature.geometry for feature in self.features if feature.kind is FeatureKind.BOUNDARY]
        if not pieces:
            hint = "Add a feature of kind boundary; `check_course()` lists what else is missing."
            raise SurveyError(f"{self.name} has no boundary.", where="boundary", hint=hint)
        return polygons_of(shapely.union_all(pieces))

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The partition into areas of the course."""
        return self._kept.once("pieces", lambda: make_partition(self.boundary, self.features))

    @cached_property
    def _grounds(self) -> tuple[Polygon | MultiPolygon, ...]:
        return tuple(piece.geometry for piece in self.pieces)

    @cached_property
    def _tree(self) -> shapely.STRtree:
        return shapely.STRtree(self._grounds)

    def pieces_near(self, bounds: tuple[float, float, float, float]) -> Iterator[Piece]:
        """The pieces of the partition that a box may touch, in the partition's order."""
        pieces = self.pieces
        return (pieces[number] for number in sorted(self._tree.query(shapely.box(*bounds)).tolist()))

    def distances_m(self, position: Position) -> tuple[float, ...]:
        """How far a place is from each piece of the partition, metres, in the partition's order."""
        return tuple(shapely.distance(self._grounds, Point(position.xy)).tolist())

    @property
    def penalty_areas(self) -> tuple[PenaltyArea, ...]:
        """The penalty areas, touching ones of one mark joined."""
        return self._kept.once("penalty areas", lambda: join_penalty_areas(self.pieces))

    def joined_areas(self, area: Area, hole: int) -> tuple[JoinedArea, ...]:
        """The connected grounds of an area of the course while a hole is played; penalty areas apart by their mark."""
        if area is Area.PENALTY_AREA:
            return self._kept.once(area, lambda: tuple(as_joined(water) for water in self.penalty_areas))
        return self._kept.once((area, hole), lambda: tuple(join_pieces(self.pieces, hole, area)))
