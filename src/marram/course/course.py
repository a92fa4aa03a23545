"""The course: features, partition and holes together."""

from __future__ import annotations

import json
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TypeVar

from shapely.geometry import LineString, MultiPolygon, Point, Polygon

from marram.core.errors import SurveyError
from marram.core.kept import Kept
from marram.core.terms import Area, FeatureKind
from marram.course.areas import CUT_KINDS, Areas
from marram.course.conditions import WRONG_GREEN, Condition, join_conditions, wrong_greens
from marram.course.features import Feature
from marram.course.frame import Frame, Position
from marram.course.holes import Hole
from marram.course.joining import JoinedArea, whole_green
from marram.course.partition import PenaltyArea, Piece

T = TypeVar("T")
_MANY, _FEW = 256, 8
"""So many answers about a course are kept, and so many courses with what was met on them: several times what one incident needs."""
_OF_HOLES = (FeatureKind.LINE_OF_PLAY, FeatureKind.HOLE_LOCATION, FeatureKind.PUTTING_GREEN)


@dataclass(frozen=True)
class Course:
    """Surveyed ground in its metric frame.

    Attributes:
        name: What the course is called.
        frame: The metric frame.
        sigma_m: Survey accuracy of features that state none, metres; None where unknown.
        features: Every feature, the day's conditions included.
        extra: Members of the file that Marram does not read, as JSON text.
        kept: What was made of some of the features; a course made from this one shares it, and makes anew what is of other features.
        worked: What was worked out on this very ground, so that no second rule book works it out again; no other course shares it.
    """

    name: str
    frame: Frame
    sigma_m: float | None
    features: tuple[Feature, ...]
    extra: str = "{}"
    kept: Kept = field(default_factory=Kept, compare=False, repr=False)
    worked: Kept = field(default_factory=lambda: Kept(_MANY), init=False, compare=False, repr=False)

    @cached_property
    def _by_kind(self) -> dict[FeatureKind, tuple[Feature, ...]]:
        found: dict[FeatureKind, list[Feature]] = {}
        for feature in self.features:
            found.setdefault(feature.kind, []).append(feature)
        return {kind: tuple(features) for kind, features in found.items()}

    def of_kind(self, kind: FeatureKind) -> tuple[Feature, ...]:
        """All features of a kind, in the file's order."""
        return self._by_kind.get(kind, ())

    def _kept_of(self, what: Hashable, things: tuple[Feature, ...], work: Callable[[], T]) -> T:
        """What is made of some features alone: made once for all courses that share them."""
        return self.kept.once((what, tuple(map(id, things))), lambda: (things, work()))[1]

    @property
    def attribution(self) -> str:
        """Whose survey it is, where the course file says so: the licence of map data asks for it on whatever is made of it."""
        head = json.loads(self.extra).get("course", {})
        return str(head.get("attribution", "")) if isinstance(head, dict) else ""

    @cached_property
    def _areas(self) -> Areas:
        own = tuple(feature for kind in CUT_KINDS for feature in self.of_kind(kind))
        return self._kept_of(("areas", self.name), own, lambda: Areas(name=self.name, features=own))

    @property
    def boundary(self) -> Polygon | MultiPolygon:
        """Ground within the boundary edge, metres; several pieces are one boundary.

        Raises:
            SurveyError: The survey has none, so that nothing can be said of what lies out of bounds.
        """
        return self._areas.boundary

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The partition into areas of the course."""
        return self._areas.pieces

    def pieces_near(self, bounds: tuple[float, float, float, float]) -> tuple[Piece, ...]:
        """The pieces of the partition that a box may touch, in the partition's order.

        Args:
            bounds: Least x, least y, greatest x, greatest y, metres.
        """
        return tuple(self._areas.pieces_near(bounds))

    def distances_m(self, position: Position) -> tuple[float, ...]:
        """How far a place is from each piece of the partition, metres, in the partition's order."""
        return self._areas.distances_m(position)

    @property
    def penalty_areas(self) -> tuple[PenaltyArea, ...]:
        """The penalty areas, touching ones of one mark joined."""
        return self._areas.penalty_areas

    def joined_areas(self, area: Area, hole: int) -> tuple[JoinedArea, ...]:
        """The connected grounds of an area of the course while a hole is played; penalty areas apart by their mark.

        Args:
            area: Penalty area, bunker, putting green or teeing area; of other ground there are none.
            hole: Number of the hole being played.
        """
        return self._areas.joined_areas(area, hole)

    @cached_property
    def _by_condition(self) -> dict[str, tuple[Feature, ...]]:
        found: dict[str, list[Feature]] = {}
        for feature in self.features:
            found.setdefault(feature.condition, []).append(feature)
        return {name: tuple(features) for name, features in found.items()}

    def conditions(self, kind: str, hole: int) -> tuple[Condition, ...]:
        """The conditions of a kind, those that touch joined.

        Args:
            kind: A kind of feature, the name of a kind that a trial adds, or the word for wrong greens.
            hole: Number of the hole being played, on which it hangs what a wrong green is.
        """
        if kind == WRONG_GREEN:
            greens = self.of_kind(FeatureKind.PUTTING_GREEN)
            return self._kept_of((WRONG_GREEN, hole), greens, lambda: join_conditions(wrong_greens(greens, hole)))
        things = self._by_condition.get(kind, ())
        return self._kept_of("conditions", things, lambda: join_conditions(things))

    @cached_property
    def holes(self) -> dict[int, Hole]:
        """The holes by number."""
        numbers = tuple(sorted({number for feature in self.features for number in feature.holes}))
        things = tuple(feature for kind in _OF_HOLES for feature in self.of_kind(kind))
        return self._kept_of(("holes", numbers), things, lambda: {number: _hole(number, things) for number in numbers})

    def hole(self, number: int) -> Hole:
        """The hole of that number.

        Raises:
            SurveyError: The course has no such hole.
        """
        if number not in self.holes:
            known = ", ".join(map(str, self.holes)) or "none"
            raise SurveyError(f"There is no hole {number} on {self.name}.", where="hole", hint=f"It has {known}.")
        return self.holes[number]

    @cached_property
    def _laid(self) -> Kept:
        return Kept(_FEW)

    def with_conditions(self, conditions: Sequence[Feature]) -> Course:
        """The course with things that were met today and not surveyed; of what this one has cut only what they touch is cut anew."""
        if not conditions:
            return self
        things = tuple(conditions)
        return self._laid.once(tuple(map(id, things)), lambda: (things, replace(self, features=(*self.features, *things))))[1]


def _hole(number: int, things: Sequence[Feature]) -> Hole:
    """A hole, from the lines, hole locations and greens of a course."""
    mine = [feature for feature in things if number in feature.holes]
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


def _end_of(line: Feature | None) -> Point | None:
    """Where a line of play ends."""
    return Point(line.geometry.coords[-1]) if line is not None and isinstance(line.geometry, LineString) else None
