"""What serves which hole, on a drawing: numbers where there are some, and names for what still waits for one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.holes import Hole
from marram.sheets.scene.scene import Item, Label, LabelKind, Role, Spot, SpotKind

OF_HOLES = (FeatureKind.PUTTING_GREEN, FeatureKind.TEEING_AREA, FeatureKind.LINE_OF_PLAY, FeatureKind.HOLE_LOCATION)
NO_BOUNDARY = "The survey has no boundary, so nothing is drawn as out of bounds."
_FAR_M = 100_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MapMarks:
    """What a map says besides the ground itself.

    Attributes:
        labels: Words.
        items: Shapes; the title of each says what it means.
        spots: Points.
        meanings: What a kind of point means on this map, where it is another than on others.
    """

    labels: tuple[Label, ...]
    items: tuple[Item, ...]
    spots: tuple[Spot, ...]
    meanings: tuple[tuple[SpotKind, str], ...] = ()


def hole_marks(course: Course, *, names_all: bool) -> MapMarks:
    """Number each hole, and name every green, tee, line and hole location that serves none.

    Args:
        course: The course.
        names_all: Whether those that serve a hole are named too.

    Returns:
        Labels; lines of play and hole locations that nothing else on the drawing shows.
    """
    waiting = [feature for feature in course.features if feature.kind in OF_HOLES and (names_all or not feature.holes)]
    bare = [feature for feature in course.features if feature.kind in OF_HOLES and _is_bare(course, feature)]
    lines = [feature.geometry for feature in bare if isinstance(feature.geometry, LineString)]
    pins = [feature for feature in bare if feature.kind is FeatureKind.HOLE_LOCATION]
    return MapMarks(
        labels=(*hole_numbers(course), *(_name(feature) for feature in waiting)),
        items=tuple(Item(role=Role.LINE_TO_HOLE, geometry=line, title="line of play") for line in lines),
        spots=tuple(Spot(kind=SpotKind.HOLE, position=_place(feature.geometry)) for feature in pins),
    )


def hole_names(course: Course, hole: int) -> tuple[Label, ...]:
    """The names of everything that serves a hole."""
    return tuple(_name(feature) for feature in course.features if feature.kind in OF_HOLES and hole in feature.holes)


def _is_bare(course: Course, feature: Feature) -> bool:
    """Whether a line or hole location serves no hole, or one whose green nobody drew."""
    return not feature.holes or any(course.hole(number).green is None for number in feature.holes)


def hole_numbers(course: Course) -> list[Label]:
    """The number of each hole: in the middle of its line of play, else on its green, hole location or tee."""
    return [
        Label(lines=(str(hole.number),), kind=LabelKind.NUMBER, anchor=at, is_inside=True)
        for hole in course.holes.values()
        if (at := _of_hole(course, hole)) is not None
    ]


def _of_hole(course: Course, hole: Hole) -> Position | None:
    if hole.line is not None:
        x_m, y_m = hole.line.interpolate(0.5, normalized=True).coords[0]
        return Position(x_m=x_m, y_m=y_m)
    return next((_place(geometry) for geometry in ground_of_hole(course, hole.number)), None)


def ground_of_hole(course: Course, number: int) -> Iterator[BaseGeometry]:
    """Green, hole location, tees and line of a hole, in that order."""
    order = (FeatureKind.PUTTING_GREEN, FeatureKind.HOLE_LOCATION, FeatureKind.TEEING_AREA, FeatureKind.LINE_OF_PLAY)
    return (feature.geometry for kind in order for feature in course.of_kind(kind) if number in feature.holes)


def _name(feature: Feature) -> Label:
    """A feature's name beside it; a line's in its middle, clear of the green and tee at its ends."""
    return Label(lines=(feature.id,), kind=LabelKind.FACT, anchor=_place(feature.geometry))


def _place(geometry: BaseGeometry) -> Position:
    point = geometry.interpolate(0.5, normalized=True) if isinstance(geometry, LineString) else geometry.representative_point()
    return Position(x_m=float(point.x), y_m=float(point.y))


def with_any_boundary(course: Course) -> Course:
    """The course, on ground without end where its survey has no boundary, so that it can be drawn all the same."""
    if course.of_kind(FeatureKind.BOUNDARY):
        return course
    ground = shapely.box(-_FAR_M, -_FAR_M, _FAR_M, _FAR_M)
    return replace(course, features=(*course.features, Feature(id="", kind=FeatureKind.BOUNDARY, geometry=ground)))
