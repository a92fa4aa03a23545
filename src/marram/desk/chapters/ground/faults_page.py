"""The page of the faults: each numbered on the plan and in the list, with the clicks that put it right; what was done, and the way back."""

from __future__ import annotations

from collections.abc import Mapping

from marram.core.errors import MarramError
from marram.core.terms import FeatureKind, Mark
from marram.desk.chapters.ground.opened_ground import KNOWN, Opened, open_for_page, plans_of, show, window_about
from marram.desk.chapters.ground.today_page import entries_of
from marram.desk.pages.case_address import Address
from marram.desk.pages.page import Desk, Page
from marram.desk.pages.posted import Posted
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.former_files import change_text, take_back
from marram.office.courses.check_course import check_survey
from marram.office.courses.fault_rows import FaultRow, list_faults
from marram.office.courses.mend_course import mend_course
from marram.office.courses.write_ground import course_text

GOES_ON: Mapping[str, tuple[str, Mapping[str, str]]] = {
    "location-assumed": ("/ground/today", {"kind": "hole-location"}),
    "location-off-green": ("/ground/today", {"kind": "hole-location"}),
    "location-in-water": ("/ground/today", {"kind": "hole-location"}),
    "missing-hole": ("/ground/holes", {}),
    "par": ("/ground/bring", {"source": "tees"}),
    "stroke-index": ("/ground/bring", {"source": "tees"}),
    "no-boundary": ("/ground/bring", {"source": "walk"}),
    "boundary-assumed": ("/ground/bring", {"source": "walk"}),
}
"""Where a fault is put right that no single click puts right."""
_SQUARES_OF_A_ROW = 1


def faults_page(desk: Desk, address: Address, problem: MarramError | None = None) -> Page:
    """The plan with the faults of the survey, and their list.

    Args:
        desk: What pages are made with.
        address: What is stated; ``show`` is the number of a fault that is looked at.
        problem: What went wrong with what was just asked; None where nothing did.
    """
    opened = open_for_page(desk, address)
    rows = _rows(opened)
    looked_at = next((row for row in rows if str(row.number) == address.first("show")), None)
    return show(
        "faults",
        opened,
        problem,
        rows=rows,
        looked_at=looked_at,
        plans=_plans(opened, rows, looked_at),
        count=sum(len(row.faults) for row in rows),
        waters=sum(len(row.faults) for row in rows if row.kind == "unmarked-water"),
        has_proposed=any(feature.proposed for feature in opened.survey.of_kind(FeatureKind.PENALTY_AREA) if feature.mark is Mark.UNMARKED),
        stopping=sum(len(row.faults) for row in rows if row.stops_rulings),
        goes_on=GOES_ON,
        numbers=_numbers(opened),
        entries=entries_of(opened),
    )


def _rows(opened: Opened) -> tuple[FaultRow, ...]:
    course = opened.course
    return course.worked.once("rows of faults", lambda: list_faults(course, opened.survey, check_survey(course).faults))


def _plans(opened: Opened, rows: tuple[FaultRow, ...], looked_at: FaultRow | None) -> tuple[str, ...]:
    """The whole plan with a square for each row; or the ground of one row with a square at each of its places."""
    if looked_at is not None and looked_at.places:
        places = [(str(looked_at.number), place) for place in looked_at.places]
        return plans_of(opened.course, listed=places, window=window_about(looked_at.places))
    return plans_of(opened.course, listed=[(str(row.number), place) for row in rows for place in row.places[:_SQUARES_OF_A_ROW]])


def _numbers(opened: Opened) -> dict[int, bool]:
    """The holes of the round, and whether each has a number on a green."""
    greens = {number for number, hole in opened.survey.holes.items() if hole.green is not None}
    missing = {number for row in _rows(opened) if row.kind == "missing-hole" for each in row.faults for number in each.fault.holes}
    return {number: number in greens for number in sorted({*opened.survey.holes, *missing})}


def mend(desk: Desk, posted: Posted) -> Page:
    """Put a fault right, and show the list that is shorter now."""
    address = posted.address(known=KNOWN)
    try:
        opened = open_for_page(desk, address)
        mended = mend_course(opened.survey, posted.first("how"), feature=posted.first("feature"), value=posted.first("value").strip())
        told = " ".join([mended.told, *mended.remarks])
        change_text(desk.folder, Holding.COURSE, opened.name, course_text(mended.course), was=posted.first("was"), told=told)
    except MarramError as problem:
        return faults_page(desk, address.put(show=""), problem)
    row = posted.first("row")
    onward = f"#fault-{row}" if row.isdecimal() else ""  # the list goes on where it was worked on
    return Page(goes_to=opened.address.put(show="").link("/ground") + onward)


def back(desk: Desk, posted: Posted) -> Page:
    """Take the last change of the course back."""
    address = posted.address(known=KNOWN).put(show="")
    name = address.first("course")
    try:
        take_back(desk.folder, Holding.COURSE, name, was=posted.first("was"))
    except MarramError as problem:
        return faults_page(desk, address, problem)
    is_gone = not desk.folder.file(Holding.COURSE, name).exists()
    return Page(goes_to=(address.put(course="") if is_gone else address).link("/ground"))
