"""A course as the pages of its chapter show it: the survey, the day on it, and the stamp that a change hands back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import MarramError
from marram.core.words import visible
from marram.desk.pages.case_address import ORDER, Address
from marram.desk.pages.page import NOT_AS_STATED, WELL, Desk, Page, fill
from marram.desk.pages.shared_parts import chosen_course, head
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.former_files import Step, steps_of
from marram.office.at_desk.keep_in_folder import kept_text
from marram.office.at_desk.stated_case import open_books, open_ground
from marram.office.courses.draw_ground import draw_ground
from marram.office.drawing_asked import ask_drawing

if TYPE_CHECKING:
    from marram.course.course import Course
    from marram.course.frame import Position
    from marram.rulebook.book import Book
    from marram.sheets.scene.rendering import Bounds

KNOWN = (*ORDER, "show", "first", "source", "kind", "serves", "count", "tolerance")
"""Every name that an address of this chapter may hold."""
WIDE_PX, NARROW_PX = 860.0, 360.0
PAGE_LINKS = {
    name: "/ground" if name == "faults" else f"/ground/{name}" for name in ("faults", "holes", "marking", "places", "today", "bring")
}
"""The pages of the chapter, each with its address."""
_ABOUT_M = 60.0
"""So much ground is shown about places that are looked at."""
_ABOUT_GREEN_M = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A course, opened for a page.

    Attributes:
        desk: What pages are made with.
        address: What the address states, the course always.
        books: The books that are asked.
        survey: The course as it was surveyed.
        course: The same with the day on it, where the day fits.
        stamp: Stamp of the course file.
        day_fault: Why the day does not fit the course; empty where it does, or none is stated.
    """

    desk: Desk
    address: Address
    books: tuple[Book, ...]
    survey: Course
    course: Course
    stamp: str
    day_fault: str = ""

    @property
    def name(self) -> str:
        """Name of the course in the folder."""
        return self.address.first("course")

    @property
    def day(self) -> str:
        """Name of the day in the folder; empty for the course as surveyed."""
        return self.address.first("day")

    @property
    def steps(self) -> tuple[Step, ...]:
        """What was done to the course here, the last first."""
        return steps_of(self.desk.folder, Holding.COURSE, self.name)


def open_for_page(desk: Desk, address: Address) -> Opened:
    """Open the course of an address; a day that does not fit it is told and left off.

    Args:
        desk: What pages are made with.
        address: What is stated.

    Raises:
        DataError: There is no such course or book.
        SurveyError: The course file cannot be used.
    """
    asked = address.put(course=chosen_course(desk, address))
    books = open_books(desk.room, desk.folder, asked.all("book") or desk.books)
    name, day = asked.first("course"), asked.first("day")
    survey = desk.room.survey(desk.folder.file(Holding.COURSE, name))
    course, fault = survey, ""
    if day:
        try:
            course = open_ground(desk.room, desk.folder, name, day).course
        except MarramError as problem:
            fault = problem.message
    stamp = kept_text(desk.folder, Holding.COURSE, name).stamp
    return Opened(desk=desk, address=asked, books=books, survey=survey, course=course, stamp=stamp, day_fault=fault)


def show(page: str, opened: Opened, problem: MarramError | None = None, /, **shown: object) -> Page:
    """A page of the chapter.

    Args:
        page: Its name, one of ``PAGE_LINKS``.
        opened: The course.
        problem: What went wrong with what was just asked; None where nothing did.
        shown: What the page shows besides.
    """
    return fill(
        f"ground/{page}.html",
        opened.address,
        WELL if problem is None else NOT_AS_STATED,
        head=head(opened.desk, opened.address, opened.books),
        chapter="ground",
        path=PAGE_LINKS[page],
        page=page,
        pages=PAGE_LINKS,
        opened=opened,
        course=opened.course,
        problem=problem,
        days=opened.desk.folder.names(Holding.DAY),
        courses=opened.desk.folder.names(Holding.COURSE),
        **shown,
    )


def show_without_course(desk: Desk, address: Address, problem: MarramError) -> Page:
    """The page that stands where a course cannot be opened: what is wrong, other courses, and how one is brought in."""
    bare = address.put(day="", hole="", show="")
    return fill(
        "ground/none.html",
        bare,
        NOT_AS_STATED,
        head=head(desk, bare),
        chapter="ground",
        path="/ground",
        problem=seen_whole(problem),
        courses=desk.folder.names(Holding.COURSE),
    )


def seen_whole(problem: MarramError) -> MarramError:
    """The error with signs that cannot be seen told as such: names in files are foreign text."""
    problem.message, problem.where, problem.hint = visible(problem.message), visible(problem.where), visible(problem.hint)
    return problem


def plans_of(
    course: Course,
    *,
    listed: Sequence[tuple[str, Position]] = (),
    hole: int | None = None,
    window: Bounds | None = None,
    names_all: bool = False,
) -> tuple[str, ...]:
    """The plan of a course or a hole, for a table and for a phone, with the places of a list.

    Args:
        course: The course.
        listed: Places, each with its number in the list.
        hole: Number of the hole; None for the whole course.
        window: Ground to be shown; None for all of it.
        names_all: Whether every green, tee, line and hole location is named.
    """

    def draw() -> tuple[str, ...]:
        asked = (
            ask_drawing(is_map_alone=True, on_page=name, width_px=width_px, window=window)
            for name, width_px in (("plan", WIDE_PX), ("plan-narrow", NARROW_PX))
        )
        return tuple(draw_ground(course, hole=hole, names_all=names_all, listed=listed, rendering=each) for each in asked)

    key = ("plans of the ground", tuple((number, at.xy) for number, at in listed), hole, window, names_all)
    return course.worked.once(key, draw)


def window_about(places: Sequence[Position]) -> Bounds | None:
    """The ground about places that are looked at; None where there are none."""
    if not places:
        return None
    xs, ys = [place.x_m for place in places], [place.y_m for place in places]
    return (min(xs) - _ABOUT_M, min(ys) - _ABOUT_M, max(xs) + _ABOUT_M, max(ys) + _ABOUT_M)


def green_window(course: Course, number: int) -> Bounds | None:
    """The ground about the green of a hole; None where it has none.

    Args:
        course: The course.
        number: Number of the hole.
    """
    green = course.hole(number).green
    if green is None:
        return None
    least_x, least_y, most_x, most_y = green.geometry.bounds
    return (least_x - _ABOUT_GREEN_M, least_y - _ABOUT_GREEN_M, most_x + _ABOUT_GREEN_M, most_y + _ABOUT_GREEN_M)
