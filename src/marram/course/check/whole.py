"""The check of a survey: every fault in one pass, those that stop rulings first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marram.course.check.boundary_faults import check_boundary
from marram.course.check.fault_places import HolesNear, in_order
from marram.course.check.faults import Fault, LeftOut, Weight
from marram.course.check.hole_faults import check_holes
from marram.course.check.outline_faults import check_outlines
from marram.course.check.stroke_index_faults import check_stroke_index
from marram.course.check.survey_faults import check_survey
from marram.course.course import Course

_ORDER = tuple(Weight)
_NO_HOLE = (100,)
"""Faults of no single hole come after those of holes."""


def check_course(course: Course, left_out: Sequence[LeftOut] = ()) -> tuple[Fault, ...]:
    """List every fault of a survey.

    Args:
        course: The course as it was read.
        left_out: What its source held and the course does not.

    Returns:
        The faults: what stops rulings first, then what asks for a decision, then what is known and harmless; by hole and name within.
    """
    return tuple(sorted(_every(course, left_out), key=_rank))


def _rank(fault: Fault) -> tuple[object, ...]:
    return (_ORDER.index(fault.weight), fault.holes or _NO_HOLE, fault.kind, in_order(fault.feature))


def _every(course: Course, left_out: Sequence[LeftOut]) -> Iterator[Fault]:
    near = HolesNear(course)
    yield from check_boundary(course, near)
    yield from check_outlines(course, near)
    yield from check_holes(course)
    yield from check_stroke_index(course)
    yield from check_survey(course, left_out, near)
