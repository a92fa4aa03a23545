"""A point or a ring of a day as it is typed or touched on a form, as the members that the day's file has for it."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.frame import Position
from marram.office.at_desk.day_entries import CONDITIONS, LOCATIONS

POINT = FeatureKind.HOLE_LOCATION.value
FIRST_KINDS = (
    POINT,
    FeatureKind.TEMPORARY_WATER.value,
    FeatureKind.GROUND_UNDER_REPAIR.value,
    FeatureKind.NO_PLAY_ZONE.value,
    FeatureKind.DROPPING_ZONE.value,
)
"""What is laid down most mornings; hole locations first."""
FIELDS = ("kind", "hole", "x", "y", "before", "right", "on", "side", "from_edge", "unit", "radius", "ring", "what", "serves", "sigma")
"""Names of the fields of the form."""
UNITS, SIDES = ("m", "paces"), ("left", "right")
_CORNERS = re.compile(r"[\n;|]+")


def kinds_of_day() -> tuple[str, ...]:
    """What may be laid down, what is laid down most mornings first."""
    from marram.interchange.field.stated_ground import CONDITIONS as KNOWN

    return (*FIRST_KINDS, *(kind for kind in KNOWN if kind not in FIRST_KINDS))


def typed_entry(typed: Mapping[str, str], survey: Course) -> tuple[str, dict[str, object]]:
    """What a form states of a point or a ring.

    Args:
        typed: What stands in its fields; numbers with a point or a comma, corners of a ring as x and y, a line each.
        survey: The course as it was surveyed.

    Returns:
        The array of the day's file in which it goes, and its members.

    Raises:
        SurveyError: A field holds no number, or the place is stated in no way or in two.
    """
    told = {name: typed.get(name, "").strip() for name in FIELDS}
    if told["kind"] not in kinds_of_day():
        raise SurveyError(f"{told['kind'][:60]!r} is nothing that is laid down.", where="kind", hint=f"One of {', '.join(kinds_of_day())}.")
    sigma = {} if not told["sigma"] else {"sigma_m": _number(told, "sigma")}
    if told["kind"] == POINT:
        return LOCATIONS, {"hole": _whole(told, "hole"), **_on_green(told), **sigma}
    words = {name: told[name] for name in ("what", "serves") if told[name]}
    holes = {"holes": [_whole(told, "hole")]} if told["kind"] == FeatureKind.DROPPING_ZONE and told["hole"] else {}
    return CONDITIONS, {"kind": told["kind"], **words, **_ground(told, survey), **holes, **sigma}


def _on_green(told: Mapping[str, str]) -> dict[str, object]:
    """Where a hole is cut: on from the front and in from an edge, or touched."""
    if not told["on"] and not told["from_edge"]:
        return _touched(told, "Touch the green, or type how far on from its front and how far in from its left or right edge.")
    if told["x"] or told["y"]:
        raise SurveyError("The place is stated twice: touched and typed.", where="place", hint="Empty one of the two.")
    if told["unit"] not in UNITS or told["side"] not in SIDES:
        raise SurveyError("Say the unit and the side.", where="on", hint=f"Units: {', '.join(UNITS)}; sides: {', '.join(SIDES)}.")
    return {f"on_{told['unit']}": _number(told, "on"), f"{told['side']}_{told['unit']}": _number(told, "from_edge")}


def _ground(told: Mapping[str, str], survey: Course) -> dict[str, object]:
    """A ring by its corners, or a disc about a place."""
    if told["ring"]:
        return {"ring": [list(_degrees(corner, survey)) for corner in _CORNERS.split(told["ring"].strip()) if corner.strip()]}
    hint = "Touch the drawing, or type the hole, how far before its green and how far right of its line."
    if told["before"]:
        if told["x"] or told["y"]:
            raise SurveyError("The place is stated twice: touched and typed.", where="place", hint="Empty one of the two.")
        place: dict[str, object] = {"hole": _whole(told, "hole"), "before_green_m": _number(told, "before")}
        place |= {"right_m": _number(told, "right")} if told["right"] else {}
    else:
        place = _touched(told, hint)
    return {**place, "radius_m": _number(told, "radius")}


def _touched(told: Mapping[str, str], hint: str) -> dict[str, object]:
    if not told["x"] or not told["y"]:
        raise SurveyError("The place is not stated.", where="place", hint=hint)
    return {"x_m": _number(told, "x"), "y_m": _number(told, "y")}


def _degrees(corner: str, survey: Course) -> Sequence[float]:
    """A corner in metres of the course, as longitude and latitude."""
    numbers = [_as_number(text, "ring") for text in corner.split()]
    if len(numbers) != 2:
        hint = "Give the corners as metres east and north, east before north, a line each."
        raise SurveyError(f"{corner.strip()[:60]!r} is no corner.", where="ring", hint=hint)
    lon_deg, lat_deg = survey.frame.to_lonlat(Position(x_m=numbers[0], y_m=numbers[1]))
    return round(float(lon_deg), 9), round(float(lat_deg), 9)


def _number(told: Mapping[str, str], field: str) -> float:
    if not told[field]:
        raise SurveyError("A number is missing.", where=field, hint="Give metres, such as 4.5.")
    return _as_number(told[field], field)


def _as_number(text: str, field: str) -> float:
    try:
        number = float(text.replace(",", ".") if "." not in text else text)
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise SurveyError(f"{text[:60]!r} is no number.", where=field, hint="Give a number such as 4.5.")
    return number


def _whole(told: Mapping[str, str], field: str) -> int:
    if not told[field].isdecimal() or not 1 <= int(told[field][:4]) <= 99:
        raise SurveyError(f"{told[field][:60]!r} is no hole.", where=field, hint="Give its number, from 1.")
    return int(told[field])
