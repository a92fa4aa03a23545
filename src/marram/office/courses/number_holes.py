"""Number the holes of a survey: propose them, and put the table back as somebody has confirmed it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.errors import SurveyError
from marram.core.field_names import Field
from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.numbering.numbers import Numbered, number_holes
from marram.course.numbering.proposals import HoleEntry, Proposals, propose_holes, with_features

_OF_HOLES = frozenset({FeatureKind.PUTTING_GREEN, FeatureKind.TEEING_AREA, FeatureKind.LINE_OF_PLAY, FeatureKind.HOLE_LOCATION})


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposedHoles:
    """A course with the holes proposed for it."""

    course: Course
    proposals: Proposals


@dataclass(frozen=True, slots=True, kw_only=True)
class HolesNumbered:
    """A course with numbers on it.

    Attributes:
        course: The course.
        left: Greens, tees, lines of play and hole locations without a number.
        remarks: What was turned round, drawn or assumed besides, a sentence each.
    """

    course: Course
    left: tuple[str, ...]
    remarks: tuple[str, ...]


def propose_for(course: Course, *, first: str = "") -> ProposedHoles:
    """Propose the holes of a course.

    Args:
        course: The course.
        first: Name of the green, a tee or the line of play of the first hole; empty where that is to be guessed.

    Raises:
        SurveyError: Nothing of that name goes with a hole.
    """
    try:
        return ProposedHoles(course=course, proposals=propose_holes(course, first=first))
    except SurveyError as problem:
        raise SurveyError(problem.message, field=Field.FIRST, hint=problem.hint) from None


def number_from(course: Course, holes: Sequence[HoleEntry], *, draws_lines: bool = False, where: str = "") -> HolesNumbered:
    """Put holes on a course.

    Args:
        course: The course.
        holes: The holes, confirmed or changed.
        draws_lines: Whether a hole with a tee and a green and no line of play gets a straight one.
        where: The table that states them, for errors; empty where there is none.

    Raises:
        SurveyError: The holes do not fit the course; the message lists every fault.
    """
    try:
        return _told(number_holes(course, holes, draws_lines=draws_lines))
    except SurveyError as problem:
        raise SurveyError(problem.message, where=where or problem.where, field=problem.field, hint=problem.hint) from None


def number_by_hand(course: Course, stated: Sequence[str], *, draws_lines: bool = False) -> HolesNumbered:
    """Number single features of a course.

    Args:
        course: The course.
        stated: ``NAME=NUMBER``, several for a green of several holes; what is named serves no other hole.
        draws_lines: Whether a hole with a tee and a green and no line of play gets a straight one.

    Raises:
        SurveyError: A name or number cannot be used.
    """
    holes: dict[int, list[Feature]] = {}
    for text in stated:
        name, _, number = text.partition("=")
        if not number.isdecimal() or not 1 <= int(number) <= 99:
            raise SurveyError(f"{text!r} numbers nothing.", field=Field.STATED, hint="Give NAME=N, such as `stated=green-x3=7`.")
        holes.setdefault(int(number), []).append(feature_of_holes(course, name))
    entries = [with_features(HoleEntry(number=number, green=""), features) for number, features in holes.items()]
    return _told(number_holes(course, entries, draws_lines=draws_lines))


def _told(numbered: Numbered) -> HolesNumbered:
    left = tuple(feature.id for feature in numbered.course.features if feature.kind in _OF_HOLES and not feature.holes)
    return HolesNumbered(course=numbered.course, left=left, remarks=numbered.remarks)


def stated_hole(number: int, *, green: str, tees: Sequence[str], line: str, location: str) -> HoleEntry:
    """A hole as somebody states it.

    Args:
        number: Its number.
        green: Name of its putting green; empty where there is none.
        tees: Names of its teeing areas.
        line: Name of its line of play; empty where there is none.
        location: Name of its hole location; empty where it is not surveyed.
    """
    return HoleEntry(number=number, green=green, tees=tuple(tees), line=line, location=location)


def with_names(course: Course, hole: HoleEntry, names: Sequence[str]) -> HoleEntry:
    """A hole with other features put to it.

    Args:
        course: The course.
        hole: The hole.
        names: Names of greens, tees, lines of play or hole locations.

    Raises:
        SurveyError: There is none of that name.
    """
    return with_features(hole, [feature_of_holes(course, name) for name in names])


def feature_of_holes(course: Course, name: str) -> Feature:
    """The green, tee, line of play or hole location of that name.

    Args:
        course: The course.
        name: Its name.

    Raises:
        SurveyError: There is none.
    """
    feature = next((feature for feature in course.features if feature.id == name), None)
    if feature is not None and feature.kind in _OF_HOLES:
        return feature
    known = ", ".join(each.id for each in course.features if each.kind in _OF_HOLES and not each.holes)
    what = "is not on the course" if feature is None else "serves no hole: greens, tees, lines of play and hole locations do"
    raise SurveyError(f"{name!r} {what}.", field=Field.STATED, hint=f"Without a number are: {known or 'none'}.")
