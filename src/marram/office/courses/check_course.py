"""Check a survey: read the course and list every fault, and what they do to each hole."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.terms import FeatureKind
from marram.course.check.faults import Fault, LeftOut
from marram.course.check.whole import check_course
from marram.course.course import Course
from marram.course.holes import Hole


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleChecked:
    """One hole after the check.

    Attributes:
        hole: The hole.
        line: Name of its line of play; empty where there is none.
        tees: Names of its teeing areas.
        stopped: Why rulings cannot be relied on there; empty where they can be given.
    """

    hole: Hole
    line: str
    tees: tuple[str, ...]
    stopped: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseChecked:
    """A survey with its faults."""

    course: Course
    holes: tuple[HoleChecked, ...]
    faults: tuple[Fault, ...]


def check_survey(course: Course) -> CourseChecked:
    """Check a survey.

    Args:
        course: The course, with the conditions of the day where there are any.
    """
    faults = check_course(course, left_out_of(course))
    return CourseChecked(course=course, holes=tuple(_checked(course, hole, faults) for hole in course.holes.values()), faults=faults)


def left_out_of(course: Course) -> tuple[LeftOut, ...]:
    """What the import left out, as the course file tells it."""
    told = json.loads(course.extra).get("course", {}).get("left_out", [])
    entries = [entry for entry in told if isinstance(entry, dict)] if isinstance(told, list) else []
    return tuple(
        LeftOut(
            what=str(entry.get("what", "something")),
            why=str(entry.get("why", "no reason is given")),
            names=tuple(map(str, names)) if isinstance(names := entry.get("names"), list) else (),
        )
        for entry in entries
    )


def _checked(course: Course, hole: Hole, faults: Sequence[Fault]) -> HoleChecked:
    tees = tuple(feature.id for feature in course.of_kind(FeatureKind.TEEING_AREA) if hole.number in feature.holes)
    lines = [feature.id for feature in course.of_kind(FeatureKind.LINE_OF_PLAY) if hole.number in feature.holes]
    stopped = tuple(fault.message for fault in faults if fault.stops_rulings and (hole.number in fault.holes or not fault.holes))
    return HoleChecked(hole=hole, line=lines[0] if lines else "", tees=tees, stopped=stopped)
