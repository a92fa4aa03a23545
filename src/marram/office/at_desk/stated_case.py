"""A case as it is stated at the desk, by names alone, and opened: books, course as it is today, incident placed on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from marram.core.errors import DataError
from marram.office.at_desk.desk_folder import DeskFolder, Holding
from marram.office.workroom import Workroom

if TYPE_CHECKING:
    from marram.course.frame import Position
    from marram.office.open_course import OpenCourse
    from marram.office.play.give_ruling import Rulings
    from marram.rulebook.book import Book
    from marram.rulings.case.incident import Incident

CASE = "the case"


@dataclass(frozen=True, slots=True, kw_only=True)
class StatedCase:
    """What is stated of a case.

    Attributes:
        course: Name of the course.
        day: Name of the day; empty for the course as it was surveyed.
        books: Names of the books; none for the edition in force.
        incident: Members of the incident as its file has them; what is not known is left out.
    """

    course: str
    day: str = ""
    books: tuple[str, ...] = ()
    incident: Mapping[str, object] = field(default_factory=dict)


def open_books(room: Workroom, folder: DeskFolder, names: tuple[str, ...]) -> tuple[Book, ...]:
    """Open the books of a case.

    Args:
        room: The workroom.
        folder: The folder of the desk.
        names: Names of the books; none for the edition in force.

    Raises:
        DataError: There is no such book.
    """
    local_rules = [overlay.name for overlay in room.local_rules]
    asked = names or (room.catalogue.latest,)
    return room.books([folder.book_asked(name, local_rules) for name in asked])


def open_ground(room: Workroom, folder: DeskFolder, course: str, day: str = "") -> OpenCourse:
    """Open a course as it is today.

    Args:
        room: The workroom.
        folder: The folder of the desk.
        course: Name of the course; empty where the folder holds one alone.
        day: Name of the day; empty for the course as it was surveyed.

    Raises:
        DataError: There is no such course or day.
        SurveyError: A file cannot be used.
    """
    return room.course(folder.file(Holding.COURSE, course), folder.file(Holding.DAY, day) if day else None)


def rule_on_case(room: Workroom, folder: DeskFolder, case: StatedCase) -> Rulings:
    """Rule on a case under its books.

    Args:
        room: The workroom.
        folder: The folder of the desk.
        case: The case.

    Raises:
        DataError: Something of it is not known, or cannot be.
        FactsNeeded: No book can say anything before some facts are known.
    """
    from marram.office.play.give_ruling import give_rulings  # a case is read without all that rules on it

    for member in ("hole", "situation", "ball"):
        if member not in case.incident:
            raise DataError(f"The {member} is not stated.", where=CASE, hint="A ruling needs a hole, a situation and a ball.")
    books, opened = open_books(room, folder, case.books), open_ground(room, folder, case.course, case.day)
    return give_rulings(incident_stated(case.incident, opened, books), opened, books)


def known_conditions(books: tuple[Book, ...]) -> tuple[str, ...]:
    """Kinds of condition that may be met under some books."""
    from marram.interchange.field.stated_ground import CONDITIONS

    return (*CONDITIONS, *books[0].catalogue.added_conditions)


def place_of_ball(case: StatedCase, opened: OpenCourse, books: tuple[Book, ...]) -> Position | None:
    """Where the ball of a case lies; None where nobody says, or where it was not found.

    Args:
        case: The case; its hole and its situation may be missing.
        opened: The course as it is today.
        books: The books, opened together.

    Raises:
        DataError: The ball cannot be where it is said to be.
    """
    if "ball" not in case.incident:
        return None
    any_hole = next(iter(opened.course.holes), 0)
    bare = {"hole": case.incident.get("hole", any_hole), "situation": "", "ball": case.incident["ball"]}
    return incident_stated(bare, opened, books).ball


def incident_stated(members: Mapping[str, object], opened: OpenCourse, books: tuple[Book, ...]) -> Incident:
    """The incident that members state, placed on a course.

    Args:
        members: Members of the incident, as its file has them.
        opened: The course as it is today.
        books: The books, opened together.

    Raises:
        DataError: Something of it cannot be.
    """
    from marram.interchange.field.incident_file import incident_of
    from marram.rulings.case.facts_of_situation import known_facts

    catalogue = books[0].catalogue
    return incident_of(members, opened.course, where=CASE, known_facts=known_facts(catalogue), added_kinds=catalogue.added_conditions)
