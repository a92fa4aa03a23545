"""The points and rings of a day as a list to look at and change: each entry of the day's file, where it lies, and what is wrong with it."""

from __future__ import annotations

import datetime
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from shapely.geometry import Point

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.core.toml_entries import toml_value, with_entry, without_entry
from marram.core.toml_text import read_toml
from marram.course.along_hole import AlongHole, tell_along
from marram.course.course import Course
from marram.course.day import Day
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.hole_locations import LocationOnGreen, edge_distance_m, tell_location
from marram.interchange.field.day_file import parse_day
from marram.office.at_desk.lies_here import nearest_hole

CONDITIONS, LOCATIONS = "conditions", "hole_locations"
_HEAD = ("date", "sigma_m", "pace_m")
_HINT = "See docs/formats/day.md."


@dataclass(frozen=True, slots=True, kw_only=True)
class DayEntry:
    """A point or a ring of a day.

    Attributes:
        table: The array of the day's file in which it stands.
        number: Its place there, from 1.
        kind: What it is.
        what: What it is called besides; empty where nothing is said.
        hole: The hole that it serves, or that passes it nearest; None where it cannot be placed.
        at: Where it lies; None where it cannot be placed.
        along: The same along the hole; None where that cannot be told.
        radius_m: Radius, where it is a disc.
        area_m2: How much ground it takes; None for a point.
        on_green: The same from the front and the edges of the green, for a hole location; None where that cannot be told.
        in_m: How far a hole location lies from the edge of its green.
        fault: Why it cannot be placed on this course; empty where it can.
    """

    table: str
    number: int
    kind: str
    what: str
    hole: int | None = None
    at: Position | None = None
    along: AlongHole | None = None
    radius_m: float | None = None
    area_m2: float | None = None
    on_green: LocationOnGreen | None = None
    in_m: float | None = None
    fault: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayOnGround:
    """A day's file on a course.

    Attributes:
        date: The day.
        entries: Its points and rings, the hole locations first, in order of their holes.
        fault: Why the day as a whole cannot be used on this course; empty where it can.
    """

    date: datetime.date
    entries: tuple[DayEntry, ...]
    fault: str = ""


def new_day(date: datetime.date) -> str:
    """The file of a day on which nothing is stated yet.

    Args:
        date: The day.
    """
    return f"date = {date.isoformat()}\n{CONDITIONS} = []\n"


def look_at_day(text: str, survey: Course, *, where: str) -> DayOnGround:
    """Read a day's file entry by entry, so that one that does not fit the course can be seen and taken out.

    Args:
        text: The file.
        survey: The course as it was surveyed.
        where: Name of the file, for errors.

    Raises:
        SurveyError: The file is no TOML, or states no date.
    """
    whole = read_toml(text, where=where, hint=_HINT, error=SurveyError)
    date = whole.get("date")
    if not isinstance(date, datetime.date) or isinstance(date, datetime.datetime):
        raise SurveyError("The file states no date.", where=where, hint=_HINT)
    entries = [entry for table in (LOCATIONS, CONDITIONS) for entry in _entries(whole, table, survey, where)]
    entries.sort(key=lambda entry: (entry.table != LOCATIONS, entry.hole or 0, entry.number))
    return DayOnGround(date=date, entries=tuple(entries), fault=_fault_of(text, survey, where))


def _fault_of(text: str, survey: Course, where: str) -> str:
    try:
        parse_day(text, survey, where=where)
    except SurveyError as problem:
        return problem.message
    return ""


def _entries(whole: Mapping[str, object], table: str, survey: Course, where: str) -> Iterator[DayEntry]:
    found = whole.get(table, [])
    for number, members in enumerate(found if isinstance(found, list) else [], start=1):
        told = members if isinstance(members, Mapping) else {}
        kind = FeatureKind.HOLE_LOCATION.value if table == LOCATIONS else str(told.get("kind", ""))
        bare = DayEntry(table=table, number=number, kind=str(told.get("named", "")) or kind, what=str(told.get("what", "")))
        try:
            day = _alone(whole, table, told, survey, where)
        except SurveyError as problem:
            yield _with_fault(bare, " ".join(problem.message.split()), told.get("hole"))
            continue
        yield _placed(bare, (day.locations or day.features)[0], survey)


def _alone(whole: Mapping[str, object], table: str, members: Mapping[str, object], survey: Course, where: str) -> Day:
    """The day with one entry and no other."""
    head = "\n".join(f"{name} = {toml_value(whole[name])}" for name in _HEAD if name in whole)
    return parse_day(with_entry(head, table, members), survey, where=where)


def _with_fault(bare: DayEntry, fault: str, hole: object) -> DayEntry:
    number = hole if isinstance(hole, int) else None
    return DayEntry(table=bare.table, number=bare.number, kind=bare.kind, what=bare.what, hole=number, fault=fault)


def _placed(bare: DayEntry, feature: Feature, survey: Course) -> DayEntry:
    middle = feature.geometry.centroid
    at = Position(x_m=float(middle.x), y_m=float(middle.y))
    is_point = isinstance(feature.geometry, Point)
    hole = feature.holes[0] if feature.holes else _nearest(survey, at)
    ground = None if hole is None else survey.hole(hole)
    return DayEntry(
        table=bare.table,
        number=bare.number,
        kind=bare.kind,
        what=bare.what,
        hole=hole,
        at=at,
        along=None if ground is None else tell_along(ground, at),
        radius_m=None if is_point else _radius_m(feature),
        area_m2=None if is_point else float(feature.geometry.area),
        on_green=tell_location(ground, at) if is_point and ground is not None else None,
        in_m=edge_distance_m(ground, at) if is_point and ground is not None and ground.green is not None else None,
    )


def _nearest(survey: Course, at: Position) -> int | None:
    try:
        return nearest_hole(survey, at)
    except SurveyError:
        return None


def _radius_m(feature: Feature) -> float | None:
    """Radius of a disc; None for what is none."""
    least_x, least_y, most_x, most_y = feature.geometry.bounds
    across_m = most_x - least_x
    is_round = abs((most_y - least_y) - across_m) < 0.01 and abs(feature.geometry.area - 3.1416 * across_m**2 / 4) < 0.01 * across_m**2
    return across_m / 2 if is_round else None


def put_down(text: str, table: str, members: Mapping[str, object], survey: Course, *, where: str) -> str:
    """The day's file with one more point or ring; a hole location takes the place of the one that its hole had.

    Args:
        text: The file.
        table: The array in which it goes.
        members: What is stated of it, as the file has it.
        survey: The course as it was surveyed.
        where: Name of the file, for errors.

    Raises:
        SurveyError: It cannot lie there.
    """
    whole = read_toml(text, where=where, hint=_HINT, error=SurveyError)
    _alone(whole, table, members, survey, where)
    before = _fault_of(text, survey, where)
    changed = with_entry(_without_location(text, members.get("hole")) if table == LOCATIONS else text, table, members)
    if not before:
        parse_day(changed, survey, where=where)  # two things of one name, which neither is alone
    return changed


def _without_location(text: str, hole: object) -> str:
    stated = tomllib.loads(text).get(LOCATIONS, [])
    numbers = [number for number, entry in enumerate(stated, start=1) if isinstance(entry, Mapping) and entry.get("hole") == hole]
    for number in reversed(numbers):
        text = without_entry(text, LOCATIONS, number)
    return text


def take_up(text: str, table: str, number: int, *, where: str) -> str:
    """The day's file without one of its points and rings.

    Args:
        text: The file.
        table: The array in which it stands.
        number: Its place there, from 1.
        where: Name of the file, for errors.

    Raises:
        SurveyError: There is no such entry.
    """
    stated = read_toml(text, where=where, hint=_HINT, error=SurveyError).get(table, [])
    if table not in {CONDITIONS, LOCATIONS} or not isinstance(stated, list) or not 1 <= number <= len(stated):
        raise SurveyError("There is no such point or ring in the day.", where=where, hint="Open the page anew.")
    changed = without_entry(text, table, number)
    return changed if _is_a_day(changed) else f"{changed.rstrip()}\n{CONDITIONS} = []\n"


def _is_a_day(text: str) -> bool:
    """Whether the file still shows what it is: a folder tells a day by its tables."""
    return not {CONDITIONS, LOCATIONS}.isdisjoint(tomllib.loads(text))
