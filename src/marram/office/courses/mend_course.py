"""What a click can put right on a course: the remedies of each fault, and the course with one of them carried out.

Outlines are not touched: what was surveyed is marked, numbered, given an accuracy or left out.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from shapely.geometry import Point

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Mark
from marram.core.words import counted
from marram.course.check.faults import Fault, FaultKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.numbering.numbers import number_holes
from marram.course.numbering.proposals import HoleEntry
from marram.course.written_features import with_properties
from marram.office.courses.number_holes import number_by_hand, number_from, propose_for

EVERY, AS_PROPOSED = "all", "proposed"
"""Water to mark: every water without a mark, or each as its source suggests."""
_MOST_M = 100.0
_MOST_CHOICES = 30
_SERVES = {
    FaultKind.MISSING_GREEN: FeatureKind.PUTTING_GREEN,
    FaultKind.MISSING_TEE: FeatureKind.TEEING_AREA,
    FaultKind.MISSING_LINE: FeatureKind.LINE_OF_PLAY,
    FaultKind.MISSING_LOCATION: FeatureKind.HOLE_LOCATION,
}
_OF_HOLES = frozenset(_SERVES.values())


class Mending(StrEnum):
    """A way to put a fault right."""

    MARK = "mark"
    NUMBER_ALL = "number-all"
    SERVE = "serve"
    CHOOSE = "choose"
    TAKE_MIDDLE = "take-middle"
    DRAW_LINES = "draw-lines"
    STATE_ACCURACY = "state-accuracy"
    LEAVE_OUT = "leave-out"


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """What can be done about a fault.

    Attributes:
        how: The way.
        feature: Name of the feature that it is done to; empty where it is the whole survey, or is to be chosen.
        value: The mark, or the number of the hole; empty where it is to be stated.
        choices: Features to choose from, the nearest first.
    """

    how: Mending
    feature: str = ""
    value: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseMended:
    """A course with something put right.

    Attributes:
        course: The course.
        told: What was done, in a sentence.
        remarks: What was turned round, drawn or assumed besides, a sentence each.
    """

    course: Course
    told: str
    remarks: tuple[str, ...] = ()


def remedies_of(course: Course, fault: Fault, proposed: Mapping[str, int]) -> tuple[Remedy, ...]:
    """What can be done about a fault without drawing anything anew.

    Args:
        course: The course as it was surveyed.
        fault: The fault.
        proposed: The hole that is proposed for each feature without a number.
    """
    return tuple(_remedies(course, fault, {feature.id: feature for feature in course.features}, proposed))


def _remedies(course: Course, fault: Fault, named: Mapping[str, Feature], proposed: Mapping[str, int]) -> Iterator[Remedy]:
    feature = named.get(fault.feature)
    if fault.kind is FaultKind.UNMARKED_WATER and feature is not None:
        yield from (Remedy(how=Mending.MARK, feature=feature.id, value=mark.value) for mark in (Mark.RED, Mark.YELLOW))
    elif fault.kind is FaultKind.SERVES_NO_HOLE and feature is not None and feature.kind in _OF_HOLES:
        yield Remedy(how=Mending.SERVE, feature=feature.id, value=str(proposed.get(feature.id, "")))
    elif fault.kind is FaultKind.MISSING_HOLE and proposed:
        yield Remedy(how=Mending.NUMBER_ALL)
    elif fault.kind in _SERVES:
        yield from _for_what_lacks(course, fault)
    elif feature is not None and _may_be_left_out(course, fault, feature):
        yield Remedy(how=Mending.LEAVE_OUT, feature=feature.id)
    elif fault.kind is FaultKind.ACCURACY_UNKNOWN:
        yield Remedy(how=Mending.STATE_ACCURACY)


def _may_be_left_out(course: Course, fault: Fault, feature: Feature) -> bool:
    """Whether the course lacks nothing without it: a second one of which only the first is used, or what lies wholly outside."""
    if fault.kind is FaultKind.OUTSIDE_BOUNDARY:
        return not course.boundary.intersects(feature.geometry)
    return fault.kind is FaultKind.SEVERAL_FOR_HOLE


def _for_what_lacks(course: Course, fault: Fault) -> Iterator[Remedy]:
    """Something that serves no hole yet may be what a hole lacks; a line or a hole location can be assumed besides."""
    hole = course.hole(fault.holes[0])
    kind = _SERVES[fault.kind]
    waiting = [feature for feature in course.of_kind(kind) if not feature.holes]
    if fault.at is not None:
        there = Point(fault.at.xy)
        waiting.sort(key=lambda feature: feature.geometry.distance(there))
    if waiting:
        names = tuple(feature.id for feature in waiting[:_MOST_CHOICES])
        yield Remedy(how=Mending.CHOOSE, value=str(hole.number), choices=names)
    has_tee = any(hole.number in tee.holes for tee in course.of_kind(FeatureKind.TEEING_AREA))
    if kind is FeatureKind.LINE_OF_PLAY and hole.green is not None and has_tee:
        yield Remedy(how=Mending.DRAW_LINES)
    if kind is FeatureKind.HOLE_LOCATION and hole.green is not None:
        yield Remedy(how=Mending.TAKE_MIDDLE, value=str(hole.number))


def proposed_numbers(course: Course) -> Mapping[str, int]:
    """The hole that is proposed for each green, tee, line and hole location without a number."""
    without = {feature.id for feature in course.features if feature.kind in _OF_HOLES and not feature.holes}
    if not without:
        return {}
    found: dict[str, int] = {}
    for proposal in propose_for(course).proposals.holes:
        hole = proposal.hole
        found |= {name: hole.number for name in (hole.green, *hole.tees, hole.line, hole.location) if name in without}
    return found


def mend_course(course: Course, how: str, *, feature: str = "", value: str = "") -> CourseMended:
    """Carry a remedy out.

    Args:
        course: The course as it was surveyed.
        how: The way, one of ``Mending``.
        feature: Name of the feature that it is done to; of water also ``all`` and ``proposed``.
        value: The mark, the number of the hole, or metres.

    Raises:
        SurveyError: There is no such way or feature, or the value cannot be.
    """
    if how not in list(Mending):
        raise SurveyError(f"Nothing can be put right by {how[:60]!r}.", where=course.name, hint=f"There are: {', '.join(Mending)}.")
    return _WAYS[Mending(how)](course, feature, value)


def _mark(course: Course, name: str, value: str) -> CourseMended:
    if name != AS_PROPOSED and value not in {Mark.RED.value, Mark.YELLOW.value}:
        raise SurveyError(f"{value[:60]!r} is no mark.", where=name, hint="Water is marked red or yellow.")
    marks = _marks(course, name, value)
    if not marks:
        hint = f"Without a mark are: {', '.join(_unmarked(course)) or 'none'}."
        raise SurveyError(f"There is no water {name[:60]!r} to be marked.", where=course.name, hint=hint)
    features = tuple(
        with_properties(replace(feature, mark=marks[feature.id]), {"mark": marks[feature.id].value}) if feature.id in marks else feature
        for feature in course.features
    )
    told = f"{name} marked {value}." if name not in {EVERY, AS_PROPOSED} else f"{counted(len(marks), 'water')} marked."
    return CourseMended(course=replace(course, features=features), told=told)


def _marks(course: Course, name: str, value: str) -> Mapping[str, Mark]:
    """The new mark of each water by its name; a mark that was wrong can be put right by its name too."""
    water = course.of_kind(FeatureKind.PENALTY_AREA)
    if name == AS_PROPOSED:
        return {each.id: each.proposed for each in water if each.mark is Mark.UNMARKED and each.proposed is not None}
    wanted = _unmarked(course) if name == EVERY else (name,)
    return {each.id: Mark(value) for each in water if each.id in wanted}


def _unmarked(course: Course) -> tuple[str, ...]:
    return tuple(each.id for each in course.of_kind(FeatureKind.PENALTY_AREA) if each.mark is Mark.UNMARKED)


def _number_all(course: Course, name: str, value: str) -> CourseMended:
    return number_as_stated(course, [proposal.hole for proposal in propose_for(course, first=name).proposals.holes], draws_lines=True)


def number_as_stated(course: Course, holes: Sequence[HoleEntry], *, draws_lines: bool) -> CourseMended:
    """Number holes as they were proposed, or as somebody changed that.

    Args:
        course: The course.
        holes: What makes up each hole.
        draws_lines: Whether a hole with a tee and a green and no line of play gets a straight one.

    Raises:
        SurveyError: The holes do not fit the course; the message lists every fault.
    """
    done = number_from(course, holes, draws_lines=draws_lines)
    return CourseMended(course=done.course, told=f"{counted(len(holes), 'hole')} numbered.", remarks=done.remarks)


def _serve(course: Course, name: str, value: str) -> CourseMended:
    done = number_by_hand(course, [f"{name}={value}"])
    return CourseMended(course=done.course, told=f"{name} serves hole {int(value)}.", remarks=done.remarks)


def _take_middle(course: Course, name: str, value: str) -> CourseMended:
    """A hole whose location nobody surveyed is taken to be cut where its line ends, or in the middle of its green, and says so."""
    hole = course.hole(_whole(value, course))
    if hole.green is None:
        raise SurveyError(f"Hole {hole.number} has no green.", where=course.name, hint="Say first which green it is.")
    done = number_holes(course, [HoleEntry(number=hole.number, green="")])
    return CourseMended(course=done.course, told=f"Hole {hole.number} has a location that is assumed.", remarks=done.remarks)


def _draw_lines(course: Course, name: str, value: str) -> CourseMended:
    done = number_holes(course, [], draws_lines=True)
    return CourseMended(course=done.course, told="Straight lines of play drawn.", remarks=done.remarks)


def _state_accuracy(course: Course, name: str, value: str) -> CourseMended:
    """The accuracy of everything that states none."""
    sigma_m = _metres(value)
    features = tuple(
        with_properties(replace(feature, sigma_m=sigma_m), {"sigma_m": sigma_m}) if feature.sigma_m is None else feature
        for feature in course.features
    )
    extra = json.loads(course.extra)
    if course.sigma_m is None and isinstance(extra.get("course"), dict):
        extra["course"]["sigma_m"] = sigma_m
    whole = sigma_m if course.sigma_m is None else course.sigma_m
    mended = replace(course, features=features, sigma_m=whole, extra=json.dumps(extra, sort_keys=True))
    return CourseMended(course=mended, told=f"Accuracy stated: {sigma_m:g} m, one standard deviation.")


def _leave_out(course: Course, name: str, value: str) -> CourseMended:
    kept = tuple(feature for feature in course.features if feature.id != name)
    if len(kept) == len(course.features):
        raise SurveyError(f"There is nothing called {name[:60]!r} on the course.", where=course.name, hint="Open the page anew.")
    return CourseMended(course=replace(course, features=kept), told=f"{name} left out.")


def _whole(text: str, course: Course) -> int:
    if not text.isdecimal() or not 1 <= int(text[:4]) <= 99:
        raise SurveyError(f"{text[:60]!r} is no hole number.", where=course.name, hint="Give a whole number from 1 to 99.")
    return int(text)


def _metres(text: str) -> float:
    try:
        length_m = float(text.strip().replace(",", "."))
    except ValueError:
        length_m = math.nan
    if not 0 < length_m <= _MOST_M:
        raise SurveyError(
            f"{text[:60]!r} is no accuracy.", where="accuracy", hint=f"Give metres above 0, up to {_MOST_M:g}: one standard deviation."
        )
    return length_m


_WAYS: Mapping[Mending, Callable[[Course, str, str], CourseMended]] = {
    Mending.MARK: _mark,
    Mending.NUMBER_ALL: _number_all,
    Mending.SERVE: _serve,
    Mending.CHOOSE: _serve,
    Mending.TAKE_MIDDLE: _take_middle,
    Mending.DRAW_LINES: _draw_lines,
    Mending.STATE_ACCURACY: _state_accuracy,
    Mending.LEAVE_OUT: _leave_out,
}
