"""What an address of the sheets states: the print, and everything that it is made from."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from marram.desk.pages.case_address import ORDER, Address
from marram.desk.pages.page import Desk
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.stated_case import StatedCase
from marram.office.sheets.every_print import Print, every_print
from marram.office.sheets.folder_papers import FolderPapers, folder_papers, named
from marram.office.sheets.kept_prints import KeptPrints
from marram.office.sheets.printed_from import Field, Need, PrintAsked

NAMED = (Need.PLAN, Need.RECORDS, Need.INCIDENTS, Need.TASKS, Need.EVENT)
"""What is chosen by name besides course, trial and books."""
BALL = "ball"
KNOWN = (*ORDER, "print", "trial", BALL, "number", *NAMED, *(field.value for field in Field if field.value not in ORDER))
"""Names that an address of the sheets may hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetsAsked:
    """What is looked at.

    Attributes:
        desk: What pages are made with.
        address: What the address states, with the course, the books and the trial that are meant.
        papers: What the folder holds besides courses, trials and days.
    """

    desk: Desk
    address: Address
    papers: FolderPapers

    @property
    def kept(self) -> KeptPrints:
        """The prints that are kept."""
        return KeptPrints(self.desk.scratch or _own_scratch())

    def of(self, one: Print) -> PrintAsked:
        """What a print is made from; nothing that it does not need, so that it is kept under what it needs alone."""
        address = self.address
        needs_course, needs_trial = Need.COURSE in one.needs, Need.TRIAL in one.needs
        return PrintAsked(
            room=self.desk.room,
            folder=self.desk.folder,
            papers=self.papers,
            books=address.all("book"),
            course=address.first("course") if needs_course else "",
            day=address.first("day") if needs_course else "",
            trial=address.first("trial") if needs_trial else "",
            case=self.case() if Need.CASE in one.needs else None,
            names={need.value: address.first(need.value) for need in NAMED if need in one.needs and address.first(need.value)},
            fields={name: address.first(name.value) or usual for name, usual in one.fields.items()},
        )

    def case(self) -> StatedCase | None:
        """The case of the address, else the ball of the folder that it names, else its first; None where there is none."""
        address = self.address
        if address.has_ball and address.first("situation") and address.first("hole"):
            return address.case
        names = self.desk.folder.names(Holding.INCIDENT)
        if not names:
            return None
        members = dict(self.desk.room.written_case(self.desk.folder.file(Holding.INCIDENT, address.first(BALL) or names[0])))
        members.pop("title", None)
        return StatedCase(course=address.first("course"), day=address.first("day"), books=address.all("book"), incident=members)


@cache
def _own_scratch() -> Path:
    """A place for prints where the desk was given none; it goes with the process."""
    place = tempfile.TemporaryDirectory(prefix="marram-desk-")
    _HELD.append(place)
    return Path(place.name)


_HELD: list[tempfile.TemporaryDirectory[str]] = []


def sheets_asked(desk: Desk, address: Address) -> SheetsAsked:
    """What an address states, with what is meant where it states nothing: the first course and trial, the edition in force.

    Args:
        desk: What pages are made with.
        address: The address.
    """
    courses, trials = desk.folder.names(Holding.COURSE), desk.folder.names(Holding.TRIAL)
    meant = address.put(
        book=address.all("book") or desk.books or (desk.room.catalogue.latest,),
        course=address.first("course") or next(iter(courses), ""),
        trial=address.first("trial") or next(iter(trials), ""),
    )
    return SheetsAsked(desk=desk, address=meant, papers=folder_papers(desk.folder))


def print_named(name: str) -> Print:
    """The print of that name.

    Raises:
        DataError: There is none; the error names the nearest.
    """
    return named({one.name: one for one in every_print()}, name, "print")
