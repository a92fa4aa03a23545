"""Which green, tee, line of play and hole location belong to which hole, on a map that says little of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import shapely
from shapely.geometry import LineString, Point
from shapely.ops import substring

from marram.core.terms import FeatureKind
from marram.interchange.map_building import Raw

TO_GREEN_M, TO_TEE_M, FIRST_M = 15.0, 30.0, 60.0
"""A line of play ends this near its green; a tee lies this near the first metres of its line (common practice)."""
_INSIDE_M = 3.0
_NUMBER = re.compile(r"(?:hole|h|no\.?|#)?\s*(\d{1,2})(?:st|nd|rd|th)?", re.IGNORECASE)
_MOST = 36


@dataclass
class Numbered:
    """What was found out about holes.

    Attributes:
        holes: Hole numbers of each thing, by its place in the list.
        par: Par of each line of play.
        stroke_index: Stroke index of each line of play.
        locations: Hole locations that were assumed: number of the hole, and the place.
        remarks: What the official should know.
    """

    holes: dict[int, tuple[int, ...]] = field(default_factory=dict)
    par: dict[int, int] = field(default_factory=dict)
    stroke_index: dict[int, int] = field(default_factory=dict)
    locations: list[tuple[int, Point, str]] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def number_holes(raws: Sequence[Raw]) -> Numbered:
    """Find the holes of a map. Lines that run from green to tee are turned round in place."""
    found = Numbered()
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


def _number_lines(raws: Sequence[Raw], found: Numbered) -> None:
    taken: dict[int, str] = {}
    for place, raw in _of_kind(raws, FeatureKind.LINE_OF_PLAY):
        number = _stated(raw, "ref", "golf:hole", "name")
        if number is None:
            found.remarks.append(f"{raw.source}: a line of play without a hole number.")
            continue
        if number in taken:
            found.remarks.append(f"{raw.source}: a second line of play for hole {number}; {taken[number]} was kept.")
            continue
        taken[number] = raw.source
        found.holes[place] = (number,)
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
        number = found.holes.get(place)
        ends = [Point(raw.geometry.coords[-1]), Point(raw.geometry.coords[0])]
        near = [(raws[green].geometry.distance(end), turn, green) for green, _ in greens for turn, end in enumerate(ends)]
        best = min((entry for entry in near if entry[0] <= TO_GREEN_M), key=lambda entry: (entry[0] > 0, entry[1], entry[0]), default=None)
        if number is not None and best is not None:
            served.setdefault(best[2], []).append(number[0])
    for place, raw in greens:
        numbers = served.get(place) or [number for number in (_stated(raw, "ref", "golf:hole", "name"),) if number is not None]
        found.holes[place] = tuple(sorted(set(numbers)))


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
    lines = [(found.holes[place][0], raw.geometry) for place, raw in _of_kind(raws, FeatureKind.LINE_OF_PLAY) if place in found.holes]
    starts = [(number, substring(line, 0.0, FIRST_M)) for number, line in lines if isinstance(line, LineString)]
    for place, raw in _of_kind(raws, FeatureKind.TEEING_AREA):
        stated = _stated(raw, "ref", "golf:hole", "hole")
        near = min(((start.distance(raw.geometry), number) for number, start in starts), default=(TO_TEE_M + 1.0, 0))
        found.holes[place] = (stated,) if stated is not None else (near[1],) if near[0] <= TO_TEE_M else ()


def _number_locations(raws: Sequence[Raw], found: Numbered) -> None:
    for place, raw in _of_kind(raws, FeatureKind.HOLE_LOCATION):
        stated = _stated(raw, "ref", "golf:hole", "name")
        greens = [other for other, green in _of_kind(raws, FeatureKind.PUTTING_GREEN) if green.geometry.intersects(raw.geometry)]
        numbers = [number for green in greens for number in found.holes.get(green, ())]
        ends = [
            found.holes[line][0]
            for line, other in _of_kind(raws, FeatureKind.LINE_OF_PLAY)
            if line in found.holes and Point(other.geometry.coords[-1]).distance(raw.geometry) <= TO_GREEN_M
        ]
        chosen = [stated] if stated is not None else numbers[:1] or ends[:1]
        found.holes[place] = tuple(chosen)


def _assume_locations(raws: Sequence[Raw], found: Numbered) -> None:
    """Where nobody mapped the hole, the middle of the green stands for it, and says so."""
    known = {number for place, _ in _of_kind(raws, FeatureKind.HOLE_LOCATION) for number in found.holes[place]}
    ends = {
        found.holes[place][0]: Point(raw.geometry.coords[-1])
        for place, raw in _of_kind(raws, FeatureKind.LINE_OF_PLAY)
        if place in found.holes
    }
    for place, raw in _of_kind(raws, FeatureKind.PUTTING_GREEN):
        for number in found.holes[place]:
            if number in known:
                continue
            end = ends.get(number)
            inner = raw.geometry.buffer(-_INSIDE_M)
            if end is not None and inner.intersects(end):
                found.locations.append((number, end, "where the line of play ends on the green"))
            else:
                found.locations.append((number, middle_of(raw), "the middle of the green"))


def middle_of(raw: Raw) -> Point:
    """The place of a green that is farthest from its edge."""
    largest = max(shapely.get_parts(raw.geometry), key=lambda part: part.area)
    return Point(shapely.maximum_inscribed_circle(largest, tolerance=0.1).coords[0])
