"""Numbers put on a survey: which green, tees, line of play and hole location serve which hole, as somebody has decided."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.numbering.proposals import HoleEntry
from marram.course.written_features import on_grid, with_properties, written

_INSIDE_M = 3.0
STRAIGHT = "straight from the farthest tee to the middle of the green"
_LAST = 99


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """A course with numbers on it.

    Attributes:
        course: The course.
        remarks: What was turned round, drawn or assumed besides, a sentence each.
    """

    course: Course
    remarks: tuple[str, ...]


def number_holes(course: Course, holes: Sequence[HoleEntry], *, draws_lines: bool = False) -> Numbered:
    """Put numbers on a survey.

    Args:
        course: The course.
        holes: What makes up each hole. A feature that is named serves the holes that name it and no others; one that is not stays.
        draws_lines: Whether a hole with a tee and a green and no line of play gets a straight one.

    Returns:
        The course. Where a green gets a number and no hole location is there, the middle of the green is assumed and says so.

    Raises:
        SurveyError: A name is not there or is of another kind, or a number stands twice; the message lists every fault.
    """
    faults = list(_faults(course, holes))
    if faults:
        raise SurveyError(
            "\n  ".join(["The holes cannot be numbered so:", *faults]) + "\n", where="holes", hint="See docs/formats/holes.md."
        )
    numbers: dict[str, set[int]] = {}
    for hole in holes:
        for name in (hole.green, *hole.tees, hole.line, hole.location):
            numbers.setdefault(name, set()).add(hole.number)
    remarks: list[str] = []
    features = tuple(_numbered(feature, numbers.get(feature.id)) for feature in course.features)
    done = _with_turned_lines(replace(course, features=features), {hole.line for hole in holes if hole.line}, remarks)
    if draws_lines:
        done = _with_lines(done, remarks)
    return Numbered(course=_with_locations(done, [hole.number for hole in holes], remarks), remarks=tuple(remarks))


def _numbered(feature: Feature, numbers: set[int] | None) -> Feature:
    if numbers is None or tuple(sorted(numbers)) == feature.holes:
        return feature
    holes = tuple(sorted(numbers))
    return with_properties(replace(feature, holes=holes), {"holes": list(holes)})


def _faults(course: Course, holes: Sequence[HoleEntry]) -> Iterator[str]:
    kinds = {feature.id: feature.kind for feature in course.features}
    for number, count in sorted(Counter(hole.number for hole in holes).items()):
        if count > 1:
            yield f"hole {number} stands {count} times; give each hole a number of its own"
        if not 1 <= number <= _LAST:
            yield f"hole {number}: a hole has a number from 1 to {_LAST}"
    for hole in holes:
        for name, kind in _named(hole):
            if kinds.get(name) is not kind:
                is_there = f"{name!r} is no {kind.value.replace('-', ' ')}" if name in kinds else f"there is no {name!r} on the course"
                alike = [feature.id for feature in course.of_kind(kind)]
                yield f"hole {hole.number}: {is_there}; there are: {', '.join(alike[:30]) or 'none'}"


def _named(hole: HoleEntry) -> Iterator[tuple[str, FeatureKind]]:
    tees = [(tee, FeatureKind.TEEING_AREA) for tee in hole.tees]
    own = [(hole.green, FeatureKind.PUTTING_GREEN), (hole.line, FeatureKind.LINE_OF_PLAY), (hole.location, FeatureKind.HOLE_LOCATION)]
    return ((name, kind) for name, kind in [*own, *tees] if name)


# What follows from a number -------------------------------------------------------------------------------------------


def _with_turned_lines(course: Course, names: set[str], remarks: list[str]) -> Course:
    """Lines of play that run from green to tee are turned round."""
    features = []
    for feature in course.features:
        if feature.id in names and _runs_back(course, feature):
            remarks.append(f"{feature.id} ran from green to tee and was turned round.")
            features.append(replace(feature, geometry=LineString(feature.geometry.coords[::-1])))
        else:
            features.append(feature)
    return replace(course, features=tuple(features))


def _runs_back(course: Course, line: Feature) -> bool:
    mine = [feature for feature in course.features if set(feature.holes) & set(line.holes)]
    ends = [feature.geometry for feature in mine if feature.kind is FeatureKind.PUTTING_GREEN]
    ends = ends or [feature.geometry for feature in mine if feature.kind is FeatureKind.HOLE_LOCATION]
    if not ends:
        return False
    start, end = Point(line.geometry.coords[0]), Point(line.geometry.coords[-1])
    return bool(min(each.distance(start) for each in ends) + 1.0 < min(each.distance(end) for each in ends))


def _with_lines(course: Course, remarks: list[str]) -> Course:
    drawn, lacking = [], []
    for number, hole in course.holes.items():
        if hole.line is not None:
            continue
        tees = [tee.geometry for tee in course.of_kind(FeatureKind.TEEING_AREA) if number in tee.holes]
        if hole.green is None or not tees:
            lacking.append(f"hole {number} ({'no green' if hole.green is None else 'no tee'})")
            continue
        line = Feature(
            id=_free_name(course, f"line-{number}"),
            kind=FeatureKind.LINE_OF_PLAY,
            geometry=on_grid(straight_line(tees, hole.green.geometry)),  # type: ignore[arg-type]
            holes=(number,),
            sigma_m=hole.green.sigma_m,
            assumed=(("line", STRAIGHT),),
        )
        drawn.append(written(line, {}))
    remarks.extend(told_lines([line.holes[0] for line in drawn], lacking, has_numbers=bool(course.holes)))
    return replace(course, features=(*course.features, *drawn))


def told_lines(drawn: Sequence[int], lacking: Sequence[str], *, has_numbers: bool) -> Iterator[str]:
    """What was drawn, and why the rest was not.

    Args:
        drawn: Holes for which a line was drawn.
        lacking: Holes that lack one still, with what else they lack.
        has_numbers: Whether any green, tee or line serves a hole at all.
    """
    if drawn:
        yield f"Straight lines of play were drawn for hole{'s' * (len(drawn) != 1)} {', '.join(map(str, drawn))}."
    if lacking:
        yield f"No line of play could be drawn for {', '.join(lacking)}."
    if not has_numbers:
        yield "No line of play was drawn: no tee and no green has a number yet; `number_holes()` proposes them."
    elif not drawn and not lacking:
        yield "No line of play was drawn: every hole that has a number has one."


def straight_line(tees: Iterable[BaseGeometry], green: BaseGeometry) -> LineString:
    """A straight line of play, from the farthest tee to the middle of the green."""
    end = middle_of(green)
    return LineString([max((tee.representative_point() for tee in tees), key=end.distance), end])


def _with_locations(course: Course, numbers: Sequence[int], remarks: list[str]) -> Course:
    """Where nobody surveyed the hole, its line's end on the green or the middle of the green stands for it, and says so."""
    assumed = []
    for number in sorted(set(numbers)):
        hole = course.hole(number) if number in course.holes else None
        if hole is None or hole.green is None or hole.location is not None:
            continue
        point, words = assumed_location(hole.green.geometry, hole.line)
        location = Feature(
            id=_free_name(course, f"hole-{number}"),
            kind=FeatureKind.HOLE_LOCATION,
            geometry=on_grid(point),  # type: ignore[arg-type]
            holes=(number,),
            sigma_m=hole.green.sigma_m,
            assumed=(("place", words),),
        )
        assumed.append(written(location, {}))
    if assumed:
        told = ", ".join(str(location.holes[0]) for location in assumed)
        remarks.append(f"Where the hole is cut was assumed on hole{'s' * (len(assumed) != 1)} {told}.")
    return replace(course, features=(*course.features, *assumed))


def assumed_location(green: BaseGeometry, line: LineString | None) -> tuple[Point, str]:
    """Where a hole that nobody surveyed is taken to be cut, and the words that say so.

    Args:
        green: The putting green.
        line: The line of play; None where there is none.
    """
    end = None if line is None else Point(line.coords[-1])
    if end is not None and green.buffer(-_INSIDE_M).intersects(end):
        return end, "where the line of play ends on the green"
    return middle_of(green), "the middle of the green"


def middle_of(green: BaseGeometry) -> Point:
    """The place of a green that is farthest from its edge."""
    largest = max(shapely.get_parts(green), key=lambda part: part.area)
    return Point(shapely.maximum_inscribed_circle(largest, tolerance=0.1).coords[0])


def _free_name(course: Course, name: str) -> str:
    taken = {feature.id for feature in course.features}
    while name in taken:
        name += "x"
    return name
