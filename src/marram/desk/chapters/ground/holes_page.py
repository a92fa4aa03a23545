"""The page that numbers the holes: what is proposed, each number to be changed or emptied, and one button that puts them on."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import TYPE_CHECKING

from marram.core.errors import MarramError, SurveyError
from marram.core.terms import FeatureKind
from marram.desk.chapters.ground.opened_ground import KNOWN, Opened, open_for_page, plans_of, show
from marram.desk.pages.case_address import Address
from marram.desk.pages.page import Desk, Page
from marram.desk.pages.posted import Posted
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.former_files import change_text
from marram.office.courses.mend_course import number_as_stated
from marram.office.courses.number_holes import ProposedHoles, number_from, propose_for, stated_hole
from marram.office.courses.write_ground import course_text

if TYPE_CHECKING:
    from marram.course.numbering.proposals import HoleEntry

_PARTS = ("green", "tees", "line", "location")


def holes_page(desk: Desk, address: Address, problem: MarramError | None = None, typed: dict[int, str] | None = None) -> Page:
    """The holes as they are proposed.

    Args:
        desk: What pages are made with.
        address: What is stated; ``first`` names the green, a tee or the line of the first hole.
        problem: What went wrong with what was just asked; None where nothing did.
        typed: Numbers as they were typed, by the row; None for those proposed.
    """
    opened = open_for_page(desk, address)
    try:
        proposed = propose_for(opened.survey, first=address.first("first"))
    except MarramError as refused:
        problem, proposed = problem or refused, propose_for(opened.survey)
    rows = proposed.proposals.holes
    numbers = {at: str(row.hole.number) for at, row in enumerate(rows)} | (typed or {})
    greens = [feature.id for feature in opened.survey.of_kind(FeatureKind.PUTTING_GREEN)]
    shown = _as_proposed(opened, proposed)
    return show("holes", opened, problem, rows=rows, numbers=numbers, left=proposed.proposals.left, greens=greens, plans=shown)


def _as_proposed(opened: Opened, proposed: ProposedHoles) -> tuple[str, ...]:
    """The plan with the numbers as they are proposed."""
    try:
        course = number_from(opened.survey, [row.hole for row in proposed.proposals.holes]).course
    except SurveyError:
        course = opened.survey
    return plans_of(course)


def number(desk: Desk, posted: Posted) -> Page:
    """Put the numbers on as they are typed; a row whose number is empty is left out."""
    address = posted.address(known=KNOWN)
    typed = {at: value.strip() for at, value in enumerate(posted.all("number"))}
    try:
        opened = open_for_page(desk, address)
        entries = list(_entries(posted, typed))
        if not entries:
            raise SurveyError("No row has a number.", where="holes", hint="Give at least one hole its number.")
        done = number_as_stated(opened.survey, entries, draws_lines=bool(posted.first("lines")))
        told = " ".join([done.told, *done.remarks])
        change_text(desk.folder, Holding.COURSE, opened.name, course_text(done.course), was=posted.first("was"), told=told)
    except MarramError as problem:
        return holes_page(desk, address, problem, typed)
    return Page(goes_to=opened.address.put(first="").link("/ground"))


def _entries(posted: Posted, typed: dict[int, str]) -> Iterator[HoleEntry]:
    """The rows that have a number, as the form has them."""
    parts = {part: posted.all(part) for part in _PARTS}
    if any(len(values) != len(typed) for values in parts.values()):
        raise SurveyError("The form does not hold together.", where="holes", hint="Open the page anew.")
    for at, text in typed.items():
        if not text:
            continue
        if not text.isdecimal() or not 1 <= int(text[:4]) <= 99:
            raise SurveyError(f"{text[:60]!r} is no hole number.", where=f"row {at + 1}", hint="Give a whole number from 1, or empty it.")
        tees = _names(parts["tees"][at])
        yield stated_hole(int(text), green=parts["green"][at], tees=tees, line=parts["line"][at], location=parts["location"][at])


def _names(text: str) -> tuple[str, ...]:
    """Names of tees, which may hold any sign, as the form has them."""
    try:
        names = json.loads(text)
    except ValueError:
        names = []
    return tuple(map(str, names)) if isinstance(names, list) else ()
