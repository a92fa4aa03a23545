"""Number the holes of a survey: propose them, and put the table back as somebody has confirmed it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from marram.core.errors import SurveyError
from marram.core.field_names import Field
from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.numbering.numbers import Numbered, number_holes
from marram.course.numbering.proposals import HoleEntry, Proposals, propose_holes, with_features
from marram.interchange.courses.course_geojson import read_course
from marram.interchange.courses.hole_table import read_holes

_OF_HOLES = frozenset({FeatureKind.PUTTING_GREEN, FeatureKind.TEEING_AREA, FeatureKind.LINE_OF_PLAY, FeatureKind.HOLE_LOCATION})


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposedHoles:
    """A course with the holes proposed for it."""

    course: Course
    proposals: Proposals


def propose_for(course_file: Path, *, first: str = "") -> ProposedHoles:
    """Propose the holes of a course.

    Args:
        course_file: The course.
        first: Name of the green, a tee or the line of play of the first hole; empty where that is to be guessed.

    Raises:
        SurveyError: The course cannot be read, or nothing of that name goes with a hole.
    """
    course = read_course(course_file)
    try:
        return ProposedHoles(course=course, proposals=propose_holes(course, first=first))
    except SurveyError as problem:
        raise SurveyError(problem.message, field=Field.FIRST, hint=problem.hint) from None


def number_from(course_file: Path, table: Path, *, draws_lines: bool = False) -> Numbered:
    """Put a table of holes on a course.

    Args:
        course_file: The course.
        table: The table, confirmed or changed.
        draws_lines: Whether a hole with a tee and a green and no line of play gets a straight one.

    Raises:
        SurveyError: A file cannot be used, or the table does not fit the course; the message lists every fault.
    """
    course = read_course(course_file)
    try:
        return number_holes(course, read_holes(table), draws_lines=draws_lines)
    except SurveyError as problem:
        raise SurveyError(problem.message, where=problem.where if table.name in problem.where else table.name, hint=problem.hint) from None


def number_by_hand(course_file: Path, stated: Sequence[str], *, draws_lines: bool = False) -> Numbered:
    """Number single features of a course.

    Args:
        course_file: The course.
        stated: ``NAME=NUMBER``, several for a green of several holes; what is named serves no other hole.
        draws_lines: Whether a hole with a tee and a green and no line of play gets a straight one.

    Raises:
        SurveyError: The course cannot be read, or a name or number cannot be used.
    """
    course = read_course(course_file)
    holes: dict[int, list[Feature]] = {}
    for text in stated:
        name, _, number = text.partition("=")
        if not number.isdecimal() or not 1 <= int(number) <= 99:
            raise SurveyError(f"{text!r} numbers nothing.", field=Field.STATED, hint="Give NAME=N, such as `stated=green-x3=7`.")
        holes.setdefault(int(number), []).append(feature_of_holes(course, name))
    entries = [with_features(HoleEntry(number=number, green=""), features) for number, features in holes.items()]
    return number_holes(course, entries, draws_lines=draws_lines)


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
