"""Which green, tee, line of play and hole location belong to which hole, on a map that says little of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from shapely.geometry import LineString, Point
from shapely.ops import substring

from marram.core.terms import FeatureKind
from marram.course.numbering.matching import FIRST_M, TO_GREEN_M, TO_TEE_M
from marram.course.numbering.numbers import STRAIGHT, assumed_location, straight_line, told_lines
from marram.interchange.maps.building import Raw

_WORD = r"(?:hole|h|no\.?|#)?\s*(\d{1,2})(?:st|nd|rd|th)?"
_NUMBER = re.compile(_WORD, re.IGNORECASE)
_IN_NAME = re.compile(rf"(?<!\w){_WORD}(?!\w)", re.IGNORECASE)
_PAR = re.compile(r"\bpar\W*\d+|\d+\s*(?:m|yds?|yards?|metres?|meters?)\b", re.IGNORECASE)
_MOST = 36


@dataclass
class Numbered:
    """What was found out about holes.

    Attributes:
        stated: Hole numbers that the official states.
        holes: Hole numbers of each thing, by its place in the list.
        par: Par of each line of play.
        stroke_index: Stroke index of each line of play.
        locations: Hole locations that were assumed: number of the hole, and the place.
        remarks: What the official should know.
    """

    stated: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    holes: dict[int, tuple[int, ...]] = field(default_factory=dict)
    par: dict[int, int] = field(default_factory=dict)
    stroke_index: dict[int, int] = field(default_factory=dict)
    locations: list[tuple[int, Point, str]] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def number_holes(raws: Sequence[Raw], stated: Mapping[int, tuple[int, ...]]) -> Numbered:
    """Find the holes of a map. Lines that run from green to tee are turned round in place.

    Args:
        raws: The things of the map.
        stated: Hole numbers that the official states, by the thing's place in the list; they go before the map's own.
    """
    found = Numbered(stated=stated)
    _number_lines(raws, found)
    _number_greens(raws, found)
    _turn_lines(raws, found)
    _number_tees(raws, found)
    _number_locations(raws, found)
    _assume_locations(raws, found)
    return found


def _of_kind(raws: Sequence[Raw], kind: FeatureKind) -> Iterator[tuple[int, Raw]]:
    return ((place, raw) for place, raw in enumerate(raws) if raw.kind is kind)


def _stated(raw: Raw, *keys: str) -> int | None:
    """A number that a tag states, alone or in a word such as ``hole 7``."""
    for key in keys:
        match = _NUMBER.fullmatch(raw.tags.get(key, "").strip())
        if match and 1 <= int(match[1]) <= _MOST:
            return int(match[1])
    return None


def _holes_of(raw: Raw, place: int, found: Numbered, *keys: str) -> tuple[int, ...]:
    """The holes that a thing serves: as the official states, else by its tags; ``1;10`` on a course that is played twice round."""
    if place in found.stated:
        return found.stated[place]
    for key in (key for key in keys if key in raw.tags):
        parts = [_NUMBER.fullmatch(part.strip()) for part in re.split(r"[;/,&+]", raw.tags[key])]
        numbers = [int(part[1]) for part in parts if part is not None]
        if len(numbers) == len(parts) and all(1 <= number <= _MOST for number in numbers):
            return tuple(sorted(set(numbers)))
    named = {int(hit[1]) for hit in _IN_NAME.finditer(_PAR.sub(" ", raw.tags.get("name", "")))}
    return tuple(named) if len(named) == 1 and 1 <= min(named) <= _MOST else ()


def _number_lines(raws: Sequence[Raw], found: Numbered) -> None:
    taken: dict[int, str] = {}
    # What the official states is looked at first, so that no line of the map takes its number.
    for place, raw in sorted(_of_kind(raws, FeatureKind.LINE_OF_PLAY), key=lambda entry: (entry[0] not in found.stated, entry[0])):
        numbers = _holes_of(raw, place, found, "ref", "golf:hole")
        if not numbers:
            found.remarks.append(f"{raw.source}: a line of play without a hole number.")
            continue
        for number in numbers:
            if number in taken:
                found.remarks.append(f"{raw.source}: a second line of play for hole {number}; {taken[number]} was kept.")
        free = tuple(number for number in numbers if number not in taken)
        taken |= dict.fromkeys(free, raw.source)
        if not free:
            continue
        found.holes[place] = free
        for name, keys, most, into in (
            ("par", ("par",), 9, found.par),
            ("stroke index", ("handicap", "stroke_index", "si"), _MOST, found.stroke_index),
        ):
            value = _stated(raw, *keys)
            said = next((raw.tags[key] for key in keys if key in raw.tags), None)
            if value is not None and value <= most:
                into[place] = value
            elif said is not None:
                found.remarks.append(f"{raw.source}: {name} {said!r} cannot be read.")


def _number_greens(raws: Sequence[Raw], found: Numbered) -> None:
    """A green serves the holes whose line begins or ends on it; a line's own end decides before its start."""
    greens = list(_of_kind(raws, FeatureKind.PUTTING_GREEN))
    served: dict[int, list[int]] = {}
    for place, raw in _of_kind(raws, FeatureKind.LINE_OF_PLAY):
        numbers = found.holes.get(place, ())
        ends = [Point(raw.geometry.coords[-1]), Point(raw.geometry.coords[0])]
        near = [(raws[green].geometry.distance(end), turn, green) for green, _ in greens for turn, end in enumerate(ends)]
        best = min((entry for entry in near if entry[0] <= TO_GREEN_M), key=lambda entry: (entry[0] > 0, entry[1], entry[0]), default=None)
        if best is not None:
            served.setdefault(best[2], []).extend(numbers)
    claimed = {number for place, _ in greens for number in found.stated.get(place, ())}
    for place, raw in greens:
        tagged = _holes_of(raw, place, found, "ref", "golf:hole")
        found.holes[place] = tagged if place in found.stated else tuple(sorted(set(served.get(place, tagged)) - claimed))


def _turn_lines(raws: Sequence[Raw], found: Numbered) -> None:
    for place, raw in _of_kind(raws, FeatureKind.LINE_OF_PLAY):
        green = _green_of(raws, found, place)
        if green is None:
            continue
        start, end = Point(raw.geometry.coords[0]), Point(raw.geometry.coords[-1])
        if green.geometry.distance(start) + 1.0 < green.geometry.distance(end):
            raw.geometry = LineString(raw.geometry.coords[::-1])
            found.remarks.append(f"{raw.source}: the line of play ran from green to tee and was turned round.")


def _green_of(raws: Sequence[Raw], found: Numbered, line: int) -> Raw | None:
    numbers = found.holes.get(line, ())
    for place, raw in _of_kind(raws, FeatureKind.PUTTING_GREEN):
        if set(numbers) & set(found.holes.get(place, ())):
            return raw
    return None


def _number_tees(raws: Sequence[Raw], found: Numbered) -> None:
    """A tee serves the hole that it names, else the one whose line begins nearest to it."""
    lines = [(found.holes[place], raw.geometry) for place, raw in _of_kind(raws, FeatureKind.LINE_OF_PLAY) if place in found.holes]
    starts = [(numbers, substring(line, 0.0, FIRST_M)) for numbers, line in lines if isinstance(line, LineString)]
    for place, raw in _of_kind(raws, FeatureKind.TEEING_AREA):
        near_m, nearest = min(((start.distance(raw.geometry), numbers) for numbers, start in starts), default=(TO_TEE_M + 1.0, ()))
        found.holes[place] = _holes_of(raw, place, found, "ref", "golf:hole", "hole") or (nearest if near_m <= TO_TEE_M else ())


def _number_locations(raws: Sequence[Raw], found: Numbered) -> None:
    for place, raw in _of_kind(raws, FeatureKind.HOLE_LOCATION):
        greens = [other for other, green in _of_kind(raws, FeatureKind.PUTTING_GREEN) if green.geometry.intersects(raw.geometry)]
        numbers = [number for green in greens for number in found.holes.get(green, ())]
        ends = [
            number
            for line, other in _of_kind(raws, FeatureKind.LINE_OF_PLAY)
            if Point(other.geometry.coords[-1]).distance(raw.geometry) <= TO_GREEN_M
            for number in found.holes.get(line, ())
        ]
        found.holes[place] = _holes_of(raw, place, found, "ref", "golf:hole") or tuple(numbers[:1] or ends[:1])


def _assume_locations(raws: Sequence[Raw], found: Numbered) -> None:
    """Where nobody mapped the hole, the middle of the green stands for it, and says so."""
    known = {number for place, _ in _of_kind(raws, FeatureKind.HOLE_LOCATION) for number in found.holes[place]}
    lines = {
        number: raw.geometry
        for place, raw in _of_kind(raws, FeatureKind.LINE_OF_PLAY)
        for number in found.holes.get(place, ())
        if isinstance(raw.geometry, LineString)
    }
    for place, raw in _of_kind(raws, FeatureKind.PUTTING_GREEN):
        for number in found.holes[place]:
            if number in known:
                continue
            found.locations.append((number, *assumed_location(raw.geometry, lines.get(number))))


def draw_lines(raws: list[Raw], found: Numbered) -> None:
    """Give each hole that has a tee and a green and no line of play a straight one, from its farthest tee; they are added at the end."""
    served = [(number, place) for place in sorted(found.holes) for number in found.holes[place]]
    has_line = {number for number, place in served if raws[place].kind is FeatureKind.LINE_OF_PLAY}
    drawn, lacking = [], []
    for number in sorted({number for number, _ in served} - has_line):
        mine = [raws[place] for other, place in served if other == number]
        green = next((raw for raw in mine if raw.kind is FeatureKind.PUTTING_GREEN), None)
        tees = [raw.geometry for raw in mine if raw.kind is FeatureKind.TEEING_AREA]
        if green is None or not tees:
            lacking.append(f"hole {number} ({'no green' if green is None else 'no tee'})")
            continue
        drawn.append(number)
        found.holes[len(raws)] = (number,)
        line = straight_line(tees, green.geometry)
        raws.append(Raw(source="", tags={}, kind=FeatureKind.LINE_OF_PLAY, what="", geometry=line, assumed={"line": STRAIGHT}))
    found.remarks.extend(told_lines(drawn, lacking, has_numbers=bool(served)))
