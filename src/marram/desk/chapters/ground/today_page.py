"""The page of the day: where holes are cut, temporary water, ground under repair and zones, laid down by touch or by numbers."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import DataError, MarramError
from marram.core.terms import FeatureKind
from marram.desk.chapters.ground.opened_ground import KNOWN, Opened, green_window, open_for_page, plans_of, show
from marram.desk.pages.case_address import Address
from marram.desk.pages.page import Desk, Page
from marram.desk.pages.posted import Posted
from marram.office.at_desk.day_entries import DayEntry, DayOnGround, look_at_day, new_day, put_down, take_up
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.former_files import Step, change_text, steps_of, take_back
from marram.office.at_desk.keep_in_folder import KeptText, free_name, kept_text
from marram.office.at_desk.typed_entry import FIELDS, SIDES, UNITS, kinds_of_day, typed_entry

if TYPE_CHECKING:
    from marram.course.course import Course

_USUAL = {"kind": "hole-location", "unit": "m", "side": "left", "radius": "3"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Day:
    """A day of the folder as the page has it.

    Attributes:
        name: Its name; empty where none is stated.
        kept: Its file.
        seen: What it holds; None where none is stated, or it cannot be read.
    """

    name: str = ""
    kept: KeptText = KeptText()
    seen: DayOnGround | None = None


def _day(opened: Opened) -> _Day:
    name = opened.day
    if not name:
        return _Day()
    kept = KeptText()
    try:
        kept = kept_text(opened.desk.folder, Holding.DAY, name)
        return _Day(name=name, kept=kept, seen=look_at_day(kept.text, opened.survey, where=f"{name}.toml"))
    except MarramError:
        return _Day(name=name, kept=kept)  # why it cannot be used is told above every page of a course with that day


def entries_of(opened: Opened) -> tuple[DayEntry, ...]:
    """The points and rings of the day that is stated; none where none is, or it cannot be read."""
    seen = _day(opened).seen
    return () if seen is None else seen.entries


def today_page(desk: Desk, address: Address, problem: MarramError | None = None, typed: Mapping[str, str] | None = None) -> Page:
    """The hole with what lies on it today, the form that lays something down, and the list of the day.

    Args:
        desk: What pages are made with.
        address: What is stated.
        problem: What went wrong with what was just asked; None where nothing did.
        typed: What stands in the form; None for what is usual.
    """
    opened = open_for_page(desk, address)
    day, hole = _day(opened), _hole(opened)
    entries = () if day.seen is None else day.seen.entries
    green = None if hole is None else green_window(opened.survey, hole)
    is_near = green is not None and (opened.address.first("show") or _usual_show(opened.address)) == "green"
    listed = [(str(number), entry.at) for number, entry in enumerate(entries, start=1) if entry.at is not None]
    return show(
        "today",
        opened,
        problem,
        day=day,
        hole=hole,
        holes=tuple(opened.survey.holes),
        entries=entries,
        is_of_another_day=day.seen is not None and day.seen.date != datetime.date.today(),
        now=datetime.date.today().isoformat(),
        has_green=green is not None,
        is_near=is_near,
        plans=plans_of(opened.course, hole=hole, listed=listed, window=green if is_near else None),
        typed=dict.fromkeys(FIELDS, "") | _USUAL | _stated(opened.address, hole) | dict(typed or {}),
        kinds=kinds_of_day(),
        units=UNITS,
        sides=SIDES,
        served=_served(opened.survey),
        steps=_steps(opened, day),
    )


def _hole(opened: Opened) -> int | None:
    """The hole that is looked at: the one stated, else the first."""
    asked = opened.address.first("hole")
    if asked.isdecimal() and int(asked[:4]) in opened.survey.holes:
        return int(asked)
    return next(iter(opened.survey.holes), None)


def _usual_show(address: Address) -> str:
    """What is shown where nobody says: the green, for a hole location."""
    return "green" if address.first("kind") == FeatureKind.HOLE_LOCATION.value else "hole"


def _stated(address: Address, hole: int | None) -> dict[str, str]:
    """What an address states of the form, as a link from a list of faults does."""
    told = {name: address.first(name) for name in ("kind", "serves", "x", "y") if address.first(name)}
    return {"hole": "" if hole is None else str(hole), **told}


def _served(survey: Course) -> tuple[str, ...]:
    """What a dropping zone may be given for."""
    return tuple(feature.id for feature in survey.of_kind(FeatureKind.PENALTY_AREA))


def _steps(opened: Opened, day: _Day) -> tuple[Step, ...]:
    return steps_of(opened.desk.folder, Holding.DAY, day.name) if day.name else ()


def lay_down(desk: Desk, posted: Posted) -> Page:
    """Lay a point or a ring down; where no day is stated, the day of the form is begun with it."""
    address = posted.address(known=KNOWN).put(x="", y="", kind="", serves="", before="", right="")
    typed = {name: posted.first(name) for name in FIELDS}
    try:
        opened = open_for_page(desk, address)
        if not opened.day and (there := _there_already(opened, posted)):
            return today_page(desk, address.put(day=there), _begun(there), typed)
        table, members = typed_entry(typed, opened.survey)
        name, kept = _file_of(opened, posted)
        changed = put_down(kept.text, table, members, opened.survey, where=f"{name}.toml")
        was = posted.first("was") if kept.stamp else ""
        change_text(desk.folder, Holding.DAY, name, changed, was=was, told=_told(typed))
    except MarramError as problem:
        return today_page(desk, address, problem, typed)
    return Page(goes_to=opened.address.put(day=name, hole=typed["hole"] or opened.address.first("hole")).link("/ground/today"))


def _file_of(opened: Opened, posted: Posted) -> tuple[str, KeptText]:
    """The day that is changed; a new one where none is stated."""
    if opened.day:
        return opened.day, kept_text(opened.desk.folder, Holding.DAY, opened.day)
    date = _date(posted)
    return free_name(opened.desk.folder, Holding.DAY, date.isoformat()), KeptText(text=new_day(date))


def _date(posted: Posted) -> datetime.date:
    try:
        return datetime.date.fromisoformat(posted.first("date"))
    except ValueError:
        hint = "Give year, month and day, such as 2026-06-13."
        raise DataError(f"{posted.first('date')[:60]!r} is no date.", where="date", hint=hint) from None


def _there_already(opened: Opened, posted: Posted) -> str:
    """A day of that date that fits this course, begun by another page or by hand; empty where there is none."""
    date, folder = _date(posted), opened.desk.folder
    for name in folder.names(Holding.DAY):
        try:
            seen = look_at_day(kept_text(folder, Holding.DAY, name).text, opened.survey, where=f"{name}.toml")
        except MarramError:
            continue
        if seen.date == date and not seen.fault:
            return name
    return ""


def _begun(name: str) -> DataError:
    hint = "Its list stands here now, and the form holds what was typed: press again, and it is laid down there."
    return DataError(f"The day {name!r} is begun already.", where="day", hint=hint)


def _told(typed: Mapping[str, str]) -> str:
    what, hole = typed["what"].strip() or typed["kind"].replace("-", " "), typed["hole"].strip()
    where = f" on hole {hole}" if hole else ""
    return f"{what[:1].upper()}{what[1:]} laid down{where}."


def take_entry_up(desk: Desk, posted: Posted) -> Page:
    """Take a point or a ring up."""
    address = posted.address(known=KNOWN)
    try:
        name = address.first("day")
        kept = kept_text(desk.folder, Holding.DAY, name)
        number = posted.first("number")
        changed = take_up(kept.text, posted.first("table"), int(number) if number.isdecimal() else 0, where=f"{name}.toml")
        change_text(desk.folder, Holding.DAY, name, changed, was=posted.first("was"), told=f"{posted.first('told')[:120]} taken up.")
    except MarramError as problem:
        return today_page(desk, address, problem)
    return Page(goes_to=address.link("/ground/today"))


def day_back(desk: Desk, posted: Posted) -> Page:
    """Take the last change of the day back."""
    address = posted.address(known=KNOWN)
    name = address.first("day")
    try:
        step = take_back(desk.folder, Holding.DAY, name, was=posted.first("was"))
    except MarramError as problem:
        return today_page(desk, address, problem)
    return Page(goes_to=(address if step.former else address.put(day="")).link("/ground/today"))
