"""What the open change does on a real place of the folder's course, drawn before and now at one scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import MarramError
from marram.desk.chapters.trial.trial_address import address_from, number_in
from marram.desk.chapters.trial.trial_sheet_page import OpenTrial, open_trial, show_open
from marram.desk.pages.case_address import address_of_incident
from marram.desk.pages.page import Desk, Page, fill
from marram.desk.pages.posted import Posted
from marram.desk.pages.shared_parts import head
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.stated_case import open_ground
from marram.office.drafts.ground_of_change import OnGround, books_apart, draw_on_ground, on_found_ball, on_written_balls
from marram.office.drafts.what_it_touches import one_change, touches_of

if TYPE_CHECKING:
    from marram.office.drafts.what_it_touches import Touches
    from marram.office.open_course import OpenCourse

_MOST = 12
"""So many written balls are ruled on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    """A place with its drawing.

    Attributes:
        place: The place.
        drawings: The drawing for a wide page, and made anew for a phone.
        at: Which of the places it is, from 1.
        count: How many there are.
        link: The ruling under both books; empty where no address states it.
    """

    place: OnGround
    drawings: tuple[str, ...]
    at: int
    count: int
    link: str


def ground_page(desk: Desk, asked: Posted) -> Page:
    """The open change on real ground."""
    trial = open_trial(desk, asked)
    shown = show_open(trial, number_in(asked, "change"))
    drawn, why = _drawn(trial, shown.read.members) if shown.touches else (None, "no-value")
    address = address_from(asked)
    return fill(
        "trial/trial-ground.html",
        address,
        head=head(desk, address, (trial.book,)),
        trial=trial,
        kept=trial.kept,
        link=trial.link,
        asked=asked,
        shown=shown,
        drawn=drawn,
        why=why,
    )


def _drawn(trial: OpenTrial, members: dict[str, object]) -> tuple[_Shown | None, str]:
    """The place with its drawing, or a word for why there is none."""
    change = one_change(trial.book, members)
    touches = touches_of(trial.book, change)
    if not touches.procedure_names:
        return None, "no-relief"
    course = next(iter(trial.desk.folder.names(Holding.COURSE)), "")
    course = trial.asked.first("course") or course
    if not course:
        return None, "no-course"
    opened = open_ground(trial.desk.room, trial.desk.folder, course, trial.asked.first("day"))
    places = _places(trial, opened, touches, books_apart(trial.book, change, trial.kept.name))
    if not places:
        return None, "no-place"
    at = (max(number_in(trial.asked, "place"), 1) - 1) % len(places)
    place = places[at]
    return _Shown(place=place, drawings=draw_on_ground(place), at=at + 1, count=len(places), link=_link(trial, place, course)), ""


def _places(trial: OpenTrial, opened: OpenCourse, touches: Touches, books: tuple[object, object]) -> list[OnGround]:
    room, folder = trial.desk.room, trial.desk.folder
    written = {name: room.written_case(folder.file(Holding.INCIDENT, name)) for name in folder.names(Holding.INCIDENT)[:_MOST]}
    found = list(on_written_balls(written, opened, books, touches.situation_names, touches.procedure_names))  # type: ignore[arg-type]
    if found:
        return sorted(found, key=lambda place: place.before_m2 == place.now_m2)
    looked = on_found_ball(opened, books, touches.procedure_names)  # type: ignore[arg-type]
    return [] if looked is None else [looked]


def _link(trial: OpenTrial, place: OnGround, course: str) -> str:
    """The ruling page on the same ball, under the edition and under the trial as it is kept."""
    try:
        stated = address_of_incident(place.members, course=course) if place.members else None
    except MarramError:
        return ""
    if stated is None:
        return ""
    edition = trial.kept.edition
    return stated.put(book=(edition, f"{edition}+{trial.kept.name}")).link("/ruling")
