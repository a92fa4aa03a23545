"""What the chapter of the ground does: each page from its address, each form with what it changes."""

from __future__ import annotations

from collections.abc import Callable

from marram.core.errors import MarramError
from marram.desk.chapters.ground.bring_page import bring_in, bring_page
from marram.desk.chapters.ground.faults_page import back, faults_page, mend
from marram.desk.chapters.ground.holes_page import holes_page, number
from marram.desk.chapters.ground.marking_page import marking_page
from marram.desk.chapters.ground.opened_ground import KNOWN, show_without_course
from marram.desk.chapters.ground.places_page import places_page
from marram.desk.chapters.ground.today_page import day_back, lay_down, take_entry_up, today_page
from marram.desk.pages.case_address import Address, read_address
from marram.desk.pages.chapter_list import ChapterJobs
from marram.desk.pages.page import Desk, Page
from marram.desk.pages.posted import Posted
from marram.office.at_desk.desk_folder import Holding


def _looks(make: Callable[[Desk, Address], Page]) -> Callable[[Desk, str], Page]:
    """A page from its address; where the course cannot be opened, the page that says so."""

    def page(desk: Desk, query: str) -> Page:
        address = Address(values={})
        try:
            address = read_address(query, KNOWN)
            if make is not bring_page and not desk.folder.names(Holding.COURSE):
                return bring_page(desk, address)
            return make(desk, address)
        except MarramError as problem:
            return show_without_course(desk, address, problem)

    return page


def _does(do: Callable[[Desk, Posted], Page]) -> Callable[[Desk, Posted], Page]:
    """A form done; where the course cannot be opened at all, the page that says so."""

    def page(desk: Desk, posted: Posted) -> Page:
        try:
            return do(desk, posted)
        except MarramError as problem:
            return show_without_course(desk, Address(values={}), problem)

    return page


JOBS = ChapterJobs(
    looks={
        "ground": _looks(faults_page),
        "ground-holes": _looks(holes_page),
        "ground-marking": _looks(marking_page),
        "ground-places": _looks(places_page),
        "ground-today": _looks(today_page),
        "ground-bring": _looks(bring_page),
    },
    does={
        "ground-bring-in": _does(bring_in),
        "ground-mend": _does(mend),
        "ground-number": _does(number),
        "ground-back": _does(back),
        "ground-put-down": _does(lay_down),
        "ground-take-up": _does(take_entry_up),
        "ground-day-back": _does(day_back),
    },
)
