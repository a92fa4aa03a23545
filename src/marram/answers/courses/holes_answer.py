"""Holes proposed for a course, and holes put on it, as outsiders read them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.course.numbering.proposals import Proposal
    from marram.office.courses.number_holes import HolesNumbered, ProposedHoles


class ProposedHoleShape(Shape, frozen=True, kw_only=True):
    """A hole that is proposed.

    Attributes:
        number: Its number.
        green: Its putting green; null where there is none.
        tees: Its teeing areas.
        line: Its line of play; null where there is none.
        location: Where the hole is cut; null where it is not surveyed.
        sure: How sure it is that these go together: stated, drawn, likely or guess.
        number_sure: How sure its number is.
        why: Why, with distances.
    """

    number: int
    green: str | None
    tees: tuple[str, ...]
    line: str | None
    location: str | None
    sure: str
    number_sure: str
    why: str


class CourseHolesAnswer(Answer, frozen=True, kw_only=True):
    """The holes that are proposed for a course.

    Attributes:
        schema: Name and version of this shape.
        course: The course.
        holes: The holes.
        left: What no hole is proposed for.
    """

    schema: Literal["marram.course-holes/1"] = "marram.course-holes/1"
    course: str
    holes: tuple[ProposedHoleShape, ...]
    left: tuple[str, ...]


class CourseNumberedAnswer(Answer, frozen=True, kw_only=True):
    """A course with numbers put on it.

    Attributes:
        schema: Name and version of this shape.
        course: The course.
        holes: Numbers of its holes.
        left: Greens, tees, lines of play and hole locations without a number.
        remarks: What was turned round, drawn or assumed besides.
    """

    schema: Literal["marram.course-numbered/1"] = "marram.course-numbered/1"
    course: str
    holes: tuple[int, ...]
    left: tuple[str, ...]
    remarks: tuple[str, ...]


def course_holes_answer(proposed: ProposedHoles) -> CourseHolesAnswer:
    """The proposed holes."""
    proposals = proposed.proposals
    return CourseHolesAnswer(course=proposed.course.name, holes=tuple(map(_hole, proposals.holes)), left=tuple(proposals.left))


def _hole(proposal: Proposal) -> ProposedHoleShape:
    hole = proposal.hole
    return ProposedHoleShape(
        number=hole.number,
        green=hole.green or None,
        tees=tuple(hole.tees),
        line=hole.line or None,
        location=hole.location or None,
        sure=proposal.sure.value,
        number_sure=proposal.number_sure.value,
        why=proposal.why,
    )


def course_numbered_answer(done: HolesNumbered, told: Callable[[str], str] = str) -> CourseNumberedAnswer:
    """The numbered course.

    Args:
        done: The course with its numbers.
        told: How fields and jobs are named to whoever asked, in his own terms.
    """
    return CourseNumberedAnswer(
        course=done.course.name, holes=tuple(done.course.holes), left=done.left, remarks=tuple(map(told, done.remarks))
    )
