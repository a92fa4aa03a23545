"""The page of the marking: the places where it leaves nowhere good to drop, numbered on the plan as in the list."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import DataError, MarramError
from marram.desk.chapters.ground.opened_ground import Opened, open_for_page, plans_of, show
from marram.desk.pages.case_address import Address
from marram.desk.pages.page import Desk, Page
from marram.office.courses.check_marking import USUAL_LONGEST_CLUB_IN, MarkingCheck, MarkingUnderBook, check_marking
from marram.office.courses.marking_words import fault_words, remedy_of
from marram.office.open_course import OpenCourse

if TYPE_CHECKING:
    from marram.relief.marking.places import MarkingPlace

USUAL_TOLERANCE_M = 0.10
"""How far stakes may leave the curve that they mark, as the command line has it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceRow:
    """A place with a fault, as the list has it.

    Attributes:
        number: Its number, in the list and on the plan.
        place: The place.
        fault: What is wrong.
        remedy: What would put it right.
        ruling: Address of a ball there.
        zone: Address where a dropping zone for it is laid down.
    """

    number: int
    place: MarkingPlace
    fault: str
    remedy: str
    ruling: str
    zone: str


def marking_page(desk: Desk, address: Address) -> Page:
    """Check the marking under the first book that is asked, and show its places."""
    opened = open_for_page(desk, address)
    try:
        check = _checked(opened)
    except MarramError as problem:
        return show("marking", opened, problem, found=None, rows=(), check=None, plans=plans_of(opened.course), **_typed(opened))
    found = check.under[0]
    rows = _rows(opened, found)
    plans = plans_of(opened.course, listed=[(str(row.number), row.place.at) for row in rows])
    return show("marking", opened, check=check, found=found, rows=rows, plans=plans, **_typed(opened))


def _checked(opened: Opened) -> MarkingCheck:
    longest_in = _number(opened.address, "longest", USUAL_LONGEST_CLUB_IN)
    tolerance_m = _number(opened.address, "tolerance", USUAL_TOLERANCE_M)
    ground = OpenCourse(course=opened.course, day=None)
    key = ("marking", opened.books[0].stamp, longest_in, tolerance_m)
    return opened.course.worked.once(
        key, lambda: check_marking(ground, opened.books[:1], longest_club_in=longest_in, tolerance_m=tolerance_m)
    )


def _typed(opened: Opened) -> dict[str, object]:
    longest = opened.address.first("longest") or f"{USUAL_LONGEST_CLUB_IN:g}"
    return {"longest": longest, "tolerance": opened.address.first("tolerance") or f"{USUAL_TOLERANCE_M:g}"}


def _number(address: Address, name: str, usual: float) -> float:
    text = address.first(name)
    try:
        return float(text.replace(",", ".")) if text else usual
    except ValueError:
        raise DataError(f"{text[:60]!r} is no number.", where=name, hint="Give a number such as 46.") from None


def _rows(opened: Opened, found: MarkingUnderBook) -> tuple[PlaceRow, ...]:
    serious = [place for place in found.places if place.is_serious]
    return tuple(
        PlaceRow(
            number=number,
            place=place,
            fault=fault_words(place),
            remedy=remedy_of(place),
            ruling=_at(opened, place).link("/ruling"),
            zone=_at(opened, place).put(kind="dropping-zone", serves=place.feature.id).link("/ground/today"),
        )
        for number, place in enumerate(serious, start=1)
    )


def _at(opened: Opened, place: MarkingPlace) -> Address:
    x, y = place.at.xy
    bare = Address(values={name: value for name, value in opened.address.values.items() if name in {"course", "day", "book", "light"}})
    return bare.put(hole=str(place.hole), x=f"{x:.2f}", y=f"{y:.2f}")
