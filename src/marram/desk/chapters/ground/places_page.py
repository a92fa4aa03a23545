"""The page of places to show: where a relief procedure can be shown well to players, each a step from its ruling."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass

from marram.core.errors import DataError, MarramError
from marram.core.terms import Club, Hand
from marram.desk.chapters.ground.opened_ground import Opened, open_for_page, plans_of, show
from marram.desk.pages.case_address import Address, address_of_incident
from marram.desk.pages.page import Desk, Page
from marram.office.courses.find_places import PlacesFound, ShownPlace, find_places, player_with
from marram.office.courses.shown_procedures import procedures_of
from marram.office.courses.write_ground import place_text
from marram.office.open_course import OpenCourse

_USUAL_COUNT, _MOST = 5, 12
_USUAL_CLUB_IN = 45.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownRow:
    """A place, as the list has it.

    Attributes:
        number: Its number, in the list and on the plan.
        place: The place.
        where: The same along the hole, in words; empty where that cannot be told.
        ruling: Address of its ruling; empty where an address cannot state it.
    """

    number: int
    place: ShownPlace
    where: str
    ruling: str


def places_page(desk: Desk, address: Address) -> Page:
    """Find places for the procedure that is asked; where none is, let one be chosen."""
    opened = open_for_page(desk, address)
    shown: dict[str, object] = {"procedures": procedures_of(opened.books[0]), "found": None, "rows": (), "count": _USUAL_COUNT}
    if not address.first("procedure"):
        return show("places", opened, plans=plans_of(opened.course), **shown)
    try:
        found = _found(opened)
    except MarramError as problem:
        return show("places", opened, problem, plans=plans_of(opened.course), **shown)
    rows = tuple(_row(opened, found, number, place) for number, place in enumerate(found.places, start=1))
    plans = plans_of(opened.course, listed=[(str(row.number), row.place.at) for row in rows])
    return show("places", opened, plans=plans, **{**shown, "found": found, "rows": rows, "count": _count(opened.address)})


def _count(address: Address) -> int:
    text = address.first("count") or str(_USUAL_COUNT)
    if not text.isdecimal() or not 1 <= int(text[:4]) <= _MOST:
        raise DataError(f"{text[:60]!r} places cannot be looked for.", where="count", hint=f"Give 1 to {_MOST}.")
    return int(text)


def _found(opened: Opened) -> PlacesFound:
    """The places, found once for a course as it is."""
    procedure, count = opened.address.first("procedure"), _count(opened.address)
    player = player_with(Hand.RIGHT, Club.IRON, _USUAL_CLUB_IN)
    ground = OpenCourse(course=opened.course, day=None)
    key = ("places to show", procedure, count, tuple(book.stamp for book in opened.books))
    return opened.course.worked.once(key, lambda: find_places(ground, procedure, opened.books, player=player, count=count))


def _row(opened: Opened, found: PlacesFound, number: int, place: ShownPlace) -> ShownRow:
    along = found.along(place)
    return ShownRow(number=number, place=place, where="" if along is None else along.words, ruling=_ruling(opened, found, number, place))


def _ruling(opened: Opened, found: PlacesFound, number: int, place: ShownPlace) -> str:
    """The address of the ruling that is shown there."""
    try:
        members = tomllib.loads(place_text(found, number, place))
    except MarramError:
        return ""
    stated = address_of_incident(members, course=opened.name)
    if stated is None:
        return ""
    return stated.put(day=opened.day, book=opened.address.all("book"), light=opened.address.first("light")).link("/ruling")
