"""The first page: the course drawn, where a ball can be put, and what may have happened."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import MarramError
from marram.core.lengths import Lengths
from marram.desk.pages.case_address import Address, address_of_incident
from marram.desk.pages.page import Desk, Page, fill
from marram.desk.pages.shared_parts import NARROW_PX, WIDE_PX, chosen_course, head
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.lies_here import MayBe, what_may_be
from marram.office.at_desk.stated_case import open_books, open_ground
from marram.office.courses.draw_ground import draw_ground
from marram.office.drawing_asked import ask_drawing

if TYPE_CHECKING:
    from marram.course.course import Course

PLAN = "plan"
_TITLED = 12
"""So many courses are opened for their names."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ball:
    """A ball to practise on."""

    title: str
    hole: str
    link: str
    situation: str


def home_page(desk: Desk, address: Address) -> Page:
    """The first page of a course; of a folder without courses, what to do."""
    if not desk.folder.names(Holding.COURSE):
        return fill("empty.html", address, head=head(desk, address), hidden=desk.folder.hidden)
    asked = address.put(course=chosen_course(desk, address))
    books = open_books(desk.room, desk.folder, asked.all("book") or desk.books)
    ground = open_ground(desk.room, desk.folder, asked.first("course"), asked.first("day"))
    plans = ground.course.worked.once((PLAN, asked.lengths), lambda: _plans(ground.course, asked.lengths))
    may_be, practice = what_may_be(books[0]), _practice(desk, asked)
    return fill(
        "home.html",
        asked,
        head=head(desk, asked, books),
        courses=_courses(desk),
        days=desk.folder.names(Holding.DAY),
        hidden=desk.folder.hidden,
        course=ground.course,
        may_be=may_be,
        plans=plans,
        practice=practice,
        practice_ball=min(practice, key=lambda ball: _rank(ball, may_be), default=None),
    )


def _plans(course: Course, lengths: Lengths) -> tuple[str, ...]:
    """The plan of a course, for a table and for a phone."""
    widths = {PLAN: WIDE_PX, f"{PLAN}-narrow": NARROW_PX}
    asked = (ask_drawing(is_map_alone=True, on_page=name, width_px=width_px, lengths=lengths) for name, width_px in widths.items())
    return tuple(draw_ground(course, rendering=rendering) for rendering in asked)


def _rank(ball: _Ball, may_be: Sequence[MayBe]) -> int:
    """How early a ball is practised on: by the order in which the book lists what may have happened."""
    names = [entry.situation for entry in may_be]
    return names.index(ball.situation) if ball.situation in names else len(names)


def _courses(desk: Desk) -> dict[str, str]:
    """What each course of the folder calls itself; one that cannot be used, or stands far down the list, goes by its file."""
    names = desk.folder.names(Holding.COURSE)
    return {name: _title(desk, name) if number < _TITLED else name for number, name in enumerate(names)}


def _title(desk: Desk, name: str) -> str:
    try:
        return open_ground(desk.room, desk.folder, name).course.name
    except MarramError:
        return name


def _practice(desk: Desk, address: Address) -> tuple[_Ball, ...]:
    """Written incidents of the folder that an address can state, as balls to practise on."""
    balls = []
    for name in desk.folder.names(Holding.INCIDENT):
        members = desk.room.written_case(desk.folder.file(Holding.INCIDENT, name))
        stated = address_of_incident(members, course=address.first("course"))
        if stated is not None:
            link = stated.put(book=address.all("book"), day=address.first("day"), light=address.first("light")).link("/ruling")
            balls.append(
                _Ball(title=str(members.get("title", name)), hole=stated.first("hole"), link=link, situation=stated.first("situation"))
            )
    return tuple(balls)
