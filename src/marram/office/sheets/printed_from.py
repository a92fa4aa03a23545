"""What is printed from: the things of a folder that a print needs, and what somebody states for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from marram.core.errors import DataError
from marram.core.work import Work
from marram.office.at_desk.desk_folder import DeskFolder, Holding
from marram.office.at_desk.stated_case import StatedCase, open_books
from marram.office.sheets.folder_papers import FolderPapers, named
from marram.office.workroom import Workroom

if TYPE_CHECKING:
    from marram.rulebook.book import Book
    from marram.rulebook.overlays.overlay import Overlay


class Need(StrEnum):
    """What a print is made from."""

    COURSE = "course"
    TRIAL = "trial"
    SECOND_BOOK = "second"
    CASE = "case"
    PLAN = "plan"
    RECORDS = "records"
    INCIDENTS = "incidents"
    TASKS = "tasks"
    EVENT = "competition"


class Field(StrEnum):
    """What somebody states for a print; each has a usual value but the seed."""

    HOLE = "hole"
    PROCEDURE = "procedure"
    LENGTH = "length"
    COUNT = "count"
    PEOPLE = "people"
    SEED = "seed"


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintAsked:
    """What is printed.

    Attributes:
        room: The workroom.
        folder: The folder of the desk.
        papers: What else it holds.
        books: Names of the books; the first is the one in hand.
        course: Name of the course.
        day: Name of the day; empty for the course as it was surveyed.
        trial: Name of the trial.
        case: The case that is ruled on; None where none is stated.
        names: Names of the plan, the records, the exercise and the event, by what they are.
        fields: What was stated besides.
        work: Told how far it is.
    """

    room: Workroom
    folder: DeskFolder
    papers: FolderPapers
    books: tuple[str, ...]
    course: str = ""
    day: str = ""
    trial: str = ""
    case: StatedCase | None = None
    names: Mapping[str, str] = field(default_factory=dict)
    fields: Mapping[Field, str] = field(default_factory=dict)
    work: Work = field(default_factory=Work)

    def opened_books(self) -> tuple[Book, ...]:
        """The books, opened together."""
        return open_books(self.room, self.folder, self.books)

    def overlay(self) -> Overlay:
        """The trial."""
        return self.room.trial(self.folder.file(Holding.TRIAL, self.trial))

    def whole(self, name: Field) -> int:
        """A whole number that was stated.

        Raises:
            DataError: It is none.
        """
        text = self.fields[name]
        if not text.isdecimal() or len(text) > 4:
            raise DataError(f"{text[:60]!r} is no whole number.", where=name.value, hint="Give a number such as 7.")
        return int(text)

    def file(self, need: Need) -> Path:
        """The file of the plan or of an exercise."""
        found = {Need.PLAN: self.papers.plans, Need.INCIDENTS: self.papers.incidents, Need.TASKS: self.papers.tasks}[need]
        return named(found, self.names.get(need.value, ""), need.value)


def has(need: Need, asked: PrintAsked) -> bool:
    """Whether a folder, or what is stated, holds what a print needs."""
    papers, folder = asked.papers, asked.folder
    return {
        Need.COURSE: bool(folder.names(Holding.COURSE)),
        Need.TRIAL: bool(folder.names(Holding.TRIAL)),
        Need.SECOND_BOOK: len(asked.books) > 1,
        Need.CASE: asked.case is not None,
        Need.EVENT: papers.store is not None,
        Need.RECORDS: bool(papers.seasons),
        Need.PLAN: bool(papers.plans),
        Need.INCIDENTS: bool(papers.incidents),
        Need.TASKS: bool(papers.tasks),
    }[need]
