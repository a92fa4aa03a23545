"""Which situations open a procedure, and through which rows."""

from __future__ import annotations

from collections.abc import Iterator

from marram.core.terms import Form
from marram.course.course import Course
from marram.rulebook.book import Book
from marram.rulebook.vocabulary import FollowFrom
from marram.rulings.case.case import Case
from marram.rulings.case.incident import Incident
from marram.rulings.case.procedure import Procedure
from marram.rulings.rule_on import situations


def find_openings(course: Course, book: Book, procedure: str) -> tuple[Procedure, ...]:
    """Every way in which a book comes to a procedure.

    Args:
        course: The course.
        book: The rule book.
        procedure: Name of the procedure's row, without its family.

    Returns:
        The rows that measure, each with the rows above it that it carries out; the asked one among them. The case of each states the
        situation and nothing more.
    """
    return tuple(_openings(course, book, procedure))


def _openings(course: Course, book: Book, procedure: str) -> Iterator[Procedure]:
    for situation in situations(book):
        if not book.has_row(f"situation.{situation}"):
            continue
        stated = Incident(hole=next(iter(course.holes), 1), situation=situation, form=Form.STROKE_PLAY, ball=None)
        case = Case(incident=stated, course=course, book=book)
        for listed in book.words(f"situation.{situation}.procedures").value:
            for last in _last_rows(Procedure(case=case, id=listed)):
                if procedure in {row.id for row in chain_of(last)}:
                    yield last


def _last_rows(procedure: Procedure) -> Iterator[Procedure]:
    """The rows by which a row is carried out in the end; itself where it measures."""
    if not procedure.case.book.has_row(procedure.row_id):
        return
    followed = procedure.words("follow")
    if not followed:
        yield procedure
    for row in followed:
        yield from _last_rows(procedure.follows(procedure.case, row))


def chain_of(procedure: Procedure) -> tuple[Procedure, ...]:
    """A procedure and the rows that it carries out, the outermost first."""
    above = () if procedure.led_by is None else chain_of(procedure.led_by)
    return (*above, procedure)


def ball_in_of(procedure: Procedure) -> tuple[str, ...]:
    """Where the ball must be for a procedure to be come to, through all rows above it that start from the ball."""
    areas = procedure.ball_in()
    for leader in chain_of(procedure)[:-1]:
        if leader.word("follow_from") == FollowFrom.BALL_SPOT:
            areas = tuple(area for area in areas if area in leader.ball_in())
    return areas
