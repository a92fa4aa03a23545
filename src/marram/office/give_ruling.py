"""Give a ruling: read the incident, the course and the books, and rule under each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from marram.core.errors import FactsNeeded, IncidentError
from marram.course.course import Course
from marram.course.day import Day
from marram.interchange.books.book_files import read_books
from marram.interchange.field.incident_file import read_incident
from marram.office.open_course import open_with_day
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.facts import refuse_contradiction
from marram.rulebook.values import FACT
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Question, Ruling
from marram.rulings.rule_on import rule_on

_GROUND_FACTS = frozenset({"on_fairway_height", "as_near_as_possible"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Rulings:
    """One incident ruled under several books.

    Attributes:
        incident: What happened.
        course: The course with the day's conditions.
        given: Each book with its ruling, in the order asked.
        day: What of the course is of the day and not of the survey; None where no such file was given.
    """

    incident: Incident
    course: Course
    given: tuple[tuple[Book, Ruling], ...]
    day: Day | None = None


def known_facts(catalogue: Catalogue) -> frozenset[str]:
    """Names of all yes-or-no facts that a ruling on a ball may turn on."""
    specs = (spec for row in catalogue.rows.values() for spec in row.parts.values())
    return _GROUND_FACTS | {word for spec in specs if spec.of == FACT for word in spec.words}


def give_rulings(incident_file: Path, course_file: Path, book_names: Sequence[str], *, today_file: Path | None = None) -> Rulings:
    """Rule on an incident under each book.

    Args:
        incident_file: What happened.
        course_file: The course.
        book_names: Editions, or editions with overlays.
        today_file: The conditions of the day; None where there are none.

    Raises:
        DataError: A file cannot be used.
        FactsNeeded: No book can say anything before some facts are known.
    """
    books = read_books(book_names)
    catalogue = books[0].catalogue
    opened = open_with_day(course_file, today_file)
    course = opened.course
    incident = read_incident(incident_file, course, known_facts=known_facts(catalogue), added_kinds=catalogue.added_conditions)
    refuse_contradiction(incident.facts, catalogue.facts, where=f"{incident_file.name}, facts")
    try:
        given = tuple((book, rule_on(incident, course, book)) for book in books)
    except IncidentError as problem:
        where = f"{incident_file.name}, {problem.where}" if problem.where else incident_file.name
        raise IncidentError(problem.message, where=where, hint=problem.hint) from None
    _refuse_empty(incident_file.name, [ruling for _, ruling in given])
    return Rulings(incident=incident, course=course.with_conditions(incident.conditions), given=given, day=opened.day)


def _put(question: Question) -> str:
    """A question with its answers, where it is not one of yes or no."""
    return f"{question.question.removesuffix('?')}: {' or '.join(question.answers)}?" if question.answers else question.question


def _refuse_empty(where: str, rulings: Sequence[Ruling]) -> None:
    if any(ruling.options for ruling in rulings) or not any(ruling.facts_needed for ruling in rulings):
        return
    asked = {entry.fact: _put(entry) for ruling in rulings for entry in ruling.facts_needed}
    raise FactsNeeded("Nothing can be ruled yet.", questions=tuple(asked.items()), where=where)
