"""What comes of bringing something into a course: the course, what was left out, and what the official should know."""

from __future__ import annotations

from dataclasses import dataclass

from marram.course.check.faults import LeftOut
from marram.course.course import Course


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """A course with something brought in.

    Attributes:
        course: The course.
        left_out: What the source held and the course does not.
        remarks: What was assumed, mended, replaced or not read, a sentence each.
    """

    course: Course
    left_out: tuple[LeftOut, ...] = ()
    remarks: tuple[str, ...] = ()
