"""The faults of a survey, as outsiders read them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Literal

from marram.answers.place_answer import PlaceShape, place_shape, rounded
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.course.check.faults import Fault
    from marram.course.frame import Frame
    from marram.office.courses.check_course import CourseChecked, HoleChecked


class HoleCheckedShape(Shape, frozen=True, kw_only=True):
    """A hole after the check.

    Attributes:
        hole: Its number.
        par: Its par; null where the survey does not state it.
        stroke_index: Its stroke index; null where the survey does not state it.
        length_m: Length along its line of play, metres; null where there is none.
        line: Its line of play; null where there is none.
        green: Its putting green; null where there is none.
        tees: Its teeing areas.
        location: Where the hole is cut; null where it is not surveyed.
        rulings: Whether rulings can be given there.
        because: Why they cannot be relied on; empty where they can be given.
    """

    hole: int
    par: int | None
    stroke_index: int | None
    length_m: float | None
    line: str | None
    green: str | None
    tees: tuple[str, ...]
    location: PlaceShape | None
    rulings: str
    because: tuple[str, ...]


class SurveyFaultShape(Shape, frozen=True, kw_only=True):
    """A fault of the survey.

    Attributes:
        kind: What is wrong.
        weight: Whether it stops rulings, asks for a decision, or is known and harmless.
        feature: Name of the feature; `hole 7` where a hole lacks something, empty where it is the whole survey.
        holes: Numbers of the holes that it touches; empty where all or none.
        at: A place to go and look at; null where there is none.
        message: What is wrong, with its numbers.
        remedy: What would put it right.
        stops_rulings: Whether rulings cannot be given, or not relied on, where it lies.
    """

    kind: str
    weight: Literal["stops", "asks", "notes"]
    feature: str
    holes: tuple[int, ...]
    at: PlaceShape | None
    message: str
    remedy: str
    stops_rulings: bool


class CourseCheckAnswer(Answer, frozen=True, kw_only=True):
    """Every fault of a survey, and which of them stop rulings.

    Attributes:
        schema: Name and version of this shape.
        course: The course.
        holes: Its holes.
        faults: The faults, those that stop rulings first.
    """

    schema: Literal["marram.course-check/1"] = "marram.course-check/1"
    course: str
    holes: tuple[HoleCheckedShape, ...]
    faults: tuple[SurveyFaultShape, ...]


def course_check_answer(checked: CourseChecked, told: Callable[[str], str] = str) -> CourseCheckAnswer:
    """The faults of a survey.

    Args:
        checked: What was found.
        told: How fields and jobs are named to whoever asked, in his own terms.
    """
    frame = checked.course.frame
    return CourseCheckAnswer(
        course=checked.course.name,
        holes=tuple(_hole(entry, frame) for entry in checked.holes),
        faults=tuple(_fault(fault, frame, told) for fault in checked.faults),
    )


def _hole(entry: HoleChecked, frame: Frame) -> HoleCheckedShape:
    hole = entry.hole
    return HoleCheckedShape(
        hole=hole.number,
        par=hole.par,
        stroke_index=hole.stroke_index,
        length_m=rounded(hole.length_m, 1),
        line=entry.line or None,
        green=None if hole.green is None else hole.green.id,
        tees=entry.tees,
        location=None if hole.location is None else place_shape(frame, hole.location),
        rulings="can be given" if not entry.stopped else f"stopped: {entry.stopped[0]}",
        because=entry.stopped,
    )


def _fault(fault: Fault, frame: Frame, told: Callable[[str], str]) -> SurveyFaultShape:
    return SurveyFaultShape(
        kind=fault.kind.value,
        weight=fault.weight.value,
        feature=fault.feature,
        holes=fault.holes,
        at=None if fault.at is None else place_shape(frame, fault.at),
        message=fault.message,
        remedy=told(fault.remedy),
        stops_rulings=fault.stops_rulings,
    )
