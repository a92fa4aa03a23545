"""The course: features, partition and holes together."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import shapely
from shapely.geometry import LineString, MultiPolygon, Point, Polygon

from marram.core.errors import SurveyError
from marram.core.terms import Area, FeatureKind
from marram.course.conditions import WRONG_GREEN, Condition, join_conditions, wrong_greens
from marram.course.features import Feature
from marram.course.frame import Frame, Position
from marram.course.holes import Hole
from marram.course.joining import JoinedArea, as_joined, join_penalty_areas, join_pieces, whole_green
from marram.course.partition import PenaltyArea, Piece, make_partition, polygons_of


@dataclass(frozen=True)
class Course:
    """Surveyed ground in its metric frame.

    Attributes:
        name: What the course is called.
        frame: The metric frame.
        sigma_m: Survey accuracy of features that state none, metres; None where unknown.
        features: Every feature, the day's conditions included.
        extra: Members of the file that Marram does not read, as JSON text.
    """

    name: str
    frame: Frame
    sigma_m: float | None
    features: tuple[Feature, ...]
    extra: str = "{}"

    def of_kind(self, kind: FeatureKind) -> tuple[Feature, ...]:
        """All features of a kind, in the file's order."""
        return tuple(feature for feature in self.features if feature.kind is kind)

    @property
    def attribution(self) -> str:
        """Whose survey it is, where the course file says so: the licence of map data asks for it on whatever is made of it."""
        head = json.loads(self.extra).get("course", {})
        return str(head.get("attribution", "")) if isinstance(head, dict) else ""

    @cached_property
    def boundary(self) -> Polygon | MultiPolygon:
        """Ground within the boundary edge, metres; several pieces are one boundary.

        Raises:
            SurveyError: The survey has none, so that nothing can be said of what lies out of bounds.
        """
        pieces = [feature.geometry for feature in self.of_kind(FeatureKind.BOUNDARY)]
        if not pieces:
            hint = "Add a feature of kind boundary; `check_course()` lists what else is missing."
            raise SurveyError(f"{self.name} has no boundary.", where="boundary", hint=hint)
        return polygons_of(shapely.union_all(pieces))

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """The partition into areas of the course."""
        return make_partition(self.boundary, self.features)

    @cached_property
    def _grounds(self) -> tuple[Polygon | MultiPolygon, ...]:
        return tuple(piece.geometry for piece in self.pieces)

    @cached_property
    def _tree(self) -> shapely.STRtree:
        return shapely.STRtree(self._grounds)

    def pieces_near(self, bounds: tuple[float, float, float, float]) -> tuple[Piece, ...]:
        """The pieces of the partition that a box may touch, in the partition's order.

        Args:
            bounds: Least x, least y, greatest x, greatest y, metres.
        """
        return tuple(self.pieces[number] for number in sorted(self._tree.query(shapely.box(*bounds))))

    def distances_m(self, position: Position) -> tuple[float, ...]:
        """How far a place is from each piece of the partition, metres, in the partition's order."""
        return tuple(shapely.distance(self._grounds, Point(position.xy)).tolist())

    @cached_property
    def penalty_areas(self) -> tuple[PenaltyArea, ...]:
        """The penalty areas, touching ones of one mark joined."""
        return join_penalty_areas(self.pieces)

    @cached_property
    def _joined(self) -> dict[tuple[Area, int], tuple[JoinedArea, ...]]:
        return {}

    def joined_areas(self, area: Area, hole: int) -> tuple[JoinedArea, ...]:
        """The connected grounds of an area of the course while a hole is played; penalty areas apart by their mark.

        Args:
            area: Penalty area, bunker, putting green or teeing area; of other ground there are none.
            hole: Number of the hole being played.
        """
        found = self._joined.get((area, hole))
        if found is None:
            if area is Area.PENALTY_AREA:
                found = tuple(as_joined(water) for water in self.penalty_areas)
            else:
                found = tuple(join_pieces(self.pieces, hole, area))
            self._joined[area, hole] = found
        return found

    @cached_property
    def _conditions(self) -> dict[tuple[str, int], tuple[Condition, ...]]:
        return {}

    def conditions(self, kind: str, hole: int) -> tuple[Condition, ...]:
        """The conditions of a kind, those that touch joined.

        Args:
            kind: A kind of feature, the name of a kind that a trial adds, or the word for wrong greens.
            hole: Number of the hole being played, on which it hangs what a wrong green is.
        """
        named = (kind, hole if kind == WRONG_GREEN else 0)
        if named not in self._conditions:
            is_green = kind == WRONG_GREEN
            greens = self.of_kind(FeatureKind.PUTTING_GREEN) if is_green else ()
            things = wrong_greens(greens, hole) if is_green else tuple(thing for thing in self.features if thing.condition == kind)
            self._conditions[named] = join_conditions(things)
        return self._conditions[named]

    @cached_property
    def holes(self) -> dict[int, Hole]:
        """The holes by number."""
        numbers = sorted({number for feature in self.features for number in feature.holes})
        return {number: self._hole(number) for number in numbers}

    def _hole(self, number: int) -> Hole:
        mine = [feature for feature in self.features if number in feature.holes]
        line = next((feature for feature in mine if feature.kind is FeatureKind.LINE_OF_PLAY), None)
        location = next((feature for feature in mine if feature.kind is FeatureKind.HOLE_LOCATION), None)
        point = location.geometry if location else None
        return Hole(
            number=number,
            line=line.geometry if line and isinstance(line.geometry, LineString) else None,
            location=Position(x_m=point.x, y_m=point.y) if isinstance(point, Point) else None,
            par=line.par if line else None,
            stroke_index=line.stroke_index if line else None,
            green=whole_green([feature for feature in mine if feature.kind is FeatureKind.PUTTING_GREEN], point or _end_of(line)),
        )

    def hole(self, number: int) -> Hole:
        """The hole of that number.

        Raises:
            SurveyError: The course has no such hole.
        """
        if number not in self.holes:
            known = ", ".join(map(str, self.holes)) or "none"
            raise SurveyError(f"There is no hole {number} on {self.name}.", where="hole", hint=f"It has {known}.")
        return self.holes[number]

    def with_conditions(self, conditions: Sequence[Feature]) -> Course:
        """The course with things that were met today and not surveyed."""
        return replace(self, features=(*self.features, *conditions)) if conditions else self


def _end_of(line: Feature | None) -> Point | None:
    """Where a line of play ends."""
    return Point(line.geometry.coords[-1]) if line is not None and isinstance(line.geometry, LineString) else None
