"""The page of a situation: what applies and what it costs, drawn at a place of the course where it can happen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from marram.core.errors import MarramError, RuleDataError
from marram.desk.chapters.books.book_asked import BookAsked, book_page
from marram.desk.pages.case_address import Address, address_of_incident
from marram.desk.pages.page import LETTERS, Page
from marram.desk.pages.shared_parts import NARROW_PX, chosen_course
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.stated_case import open_ground, rule_on_case
from marram.office.books.tell_row import row_title
from marram.office.books.tell_situation import SituationTold, situation_names, situation_title, tell_situation
from marram.office.drawing_asked import ask_drawing
from marram.office.play.give_ruling import Rulings, draw_ruling

_DRAWN_PX = 480.0
"""Width of the drawing beside the text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A place where a situation is shown.

    Attributes:
        address: The case there.
        course: What the course calls itself.
        drawings: The ruling drawn for a wide page and for a phone.
        options: The letter on the drawing and the steps of each option there, by the rows that it is carried out by.
    """

    address: Address
    course: str
    drawings: tuple[str, ...]
    options: dict[tuple[str, ...], tuple[str, tuple[str, ...]]]


def situation_page(asked: BookAsked, why_none: str = "") -> Page:
    """The page of a situation.

    Args:
        asked: The book that is looked at.
        why_none: Why no place was found for it; empty where none was looked for.

    Raises:
        RuleDataError: There is no such situation.
    """
    told = _told(asked)
    names = situation_names(asked.book)
    place = names.index(told.situation)
    return book_page(
        "situation.html",
        asked,
        told.every_citation,
        told=told,
        shown=_shown(asked, told),
        has_course=bool(asked.desk.folder.names(Holding.COURSE)),
        why_none=why_none,
        row_title=partial(row_title, asked.book),
        situation_title=situation_title,
        before=names[place - 1] if place else "",
        after=names[place + 1] if place + 1 < len(names) else "",
    )


def find_place(asked: BookAsked) -> Page:
    """Look for a place on the course where a situation can happen, and go to its page with the place in the address."""
    from marram.core.terms import Club, Hand
    from marram.office.courses.find_places import find_places, player_with
    from marram.office.courses.write_ground import place_members

    told, room, folder = _told(asked), asked.desk.room, asked.desk.folder
    course = chosen_course(asked.desk, asked.address)
    opened, player = open_ground(room, folder, course, asked.address.first("day")), player_with(Hand.RIGHT, Club.IRON, 45.0)
    why_none = ""
    for row in dict.fromkeys(row for option in told.options for row in option.chain):
        found = find_places(opened, row, asked.books[:1], player=player, count=1, situation=told.situation)
        for place in found.places:
            at = address_of_incident(place_members(found, place), course=course)
            if at is not None:
                kept = {name: asked.address.all(name) for name in ("book", "day", "light")}
                return Page(goes_to=at.put(**kept).link("/books/situation"))
        why_none = why_none or found.why_none
    return situation_page(asked, why_none or " ")


def _told(asked: BookAsked) -> SituationTold:
    name = asked.address.first("situation")
    if not name:
        raise RuleDataError("No situation is named.", where="situation", hint="Choose one from the contents of the rule book.")
    return tell_situation(asked.book, name)


def _shown(asked: BookAsked, told: SituationTold) -> Shown | None:
    """The place of the address; where it states none, the ball of the folder that shows most of what is open."""
    if not asked.desk.folder.names(Holding.COURSE):
        return None
    ruled = list(_ruled(asked, told))
    if not ruled:
        return None
    at, rulings = ruled[0] if asked.address.has_ball else max(ruled, key=lambda one: len(one[1].given[0].ruling.options))
    return _placed(at, rulings, tuple(_drawn(rulings)))


def _ruled(asked: BookAsked, told: SituationTold) -> Iterator[tuple[Address, Rulings]]:
    """Cases of the situation that can be ruled on, with what is open there."""
    for address in _places(asked, told.situation):
        try:
            rulings = rule_on_case(asked.desk.room, asked.desk.folder, address.case)
        except MarramError:
            continue
        if rulings.given[0].ruling.options:
            yield address, rulings


def _places(asked: BookAsked, situation: str) -> Iterator[Address]:
    """Cases of the situation under the book alone: that of the address first, then those of the folder."""
    course = chosen_course(asked.desk, asked.address)
    alone = {"book": asked.address.all("book")[:1], "course": course, "day": asked.address.first("day")}
    if asked.address.has_ball and asked.address.first("hole"):
        yield Address(values={name: value for name, value in asked.address.values.items() if name != "rule"}).put(**alone)
    for name in asked.desk.folder.names(Holding.INCIDENT):
        members = asked.desk.room.written_case(asked.desk.folder.file(Holding.INCIDENT, name))
        stated = address_of_incident(members) if members.get("situation") == situation else None
        if stated is not None:
            yield stated.put(**alone)


def _drawn(rulings: Rulings) -> Iterator[str]:
    for width_px in (_DRAWN_PX, NARROW_PX):
        yield draw_ruling(rulings, rendering=ask_drawing(is_map_alone=True, on_page=f"book{width_px:.0f}", width_px=width_px))


def _placed(address: Address, rulings: Rulings, drawings: tuple[str, ...]) -> Shown:
    options = rulings.given[0].ruling.options
    return Shown(
        address=address,
        course=rulings.course.name,
        drawings=drawings,
        options={option.rows: (LETTERS[number], tuple(option.steps)) for number, option in enumerate(options)},
    )
