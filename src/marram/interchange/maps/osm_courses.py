"""Which golf courses an OpenStreetMap file holds, and which of them is meant."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from pathlib import Path

from marram.core.errors import SurveyError
from marram.core.words import on_one_line
from marram.core.work import Work
from marram.interchange.maps.osm_things import Corner, Relation, read_ways, relation_of, unwrapped

_COURSE = ("leisure", "golf_course")
_MOST_LISTED = 12
_M_PER_DEG = 111_320
"""Metres in a degree of latitude, near enough to say how large a course is."""


@dataclass(slots=True, kw_only=True)
class Index:
    """What a first look over a file found.

    Attributes:
        courses: The ways that outline each course, by its name in the map, such as ``way/1``.
        titles: What a course is called, by its name in the map, where a tag says it.
        golf: Ways of everything mapped as golf.
        relations: Areas made of several ways.
    """

    courses: dict[str, tuple[int, ...]] = field(default_factory=dict)
    titles: dict[str, str] = field(default_factory=dict)
    golf: list[int] = field(default_factory=list)
    relations: list[Relation] = field(default_factory=list)


def look_over(path: Path, work: Work) -> Index:
    """Courses, ways of golf, and areas made of several ways, without any places."""
    import osmium

    work.tell("looking for courses")
    index = Index()
    things = osmium.FileProcessor(str(path), osmium.osm.WAY | osmium.osm.RELATION)
    for thing in things.with_filter(osmium.filter.KeyFilter("golf", _COURSE[0], "type")):
        is_course = thing.tags.get(_COURSE[0]) == _COURSE[1]
        if isinstance(thing, osmium.osm.Relation):
            relation = relation_of(thing)
            index.relations += [relation] if is_course or relation.tags.get("type") == "multipolygon" else []
            name, ways = f"relation/{thing.id}", tuple(number for number, _ in relation.members)
        else:
            name, ways = f"way/{thing.id}", (thing.id,)
        if is_course:
            index.courses[name] = ways
            index.titles[name] = on_one_line(thing.tags.get("name") or "")
        elif "golf" in thing.tags:
            index.golf += ways
    return index


def choose_course(path: Path, index: Index, wanted: str) -> tuple[str, tuple[int, ...]]:
    """The course that is meant: its name in the map, and the ways that say where it lies.

    Args:
        path: The file.
        index: What it holds.
        wanted: A name in the map, such as ``way/1``, or what the course is called; empty where there is only one.

    Raises:
        SurveyError: There is none, or there are several and it is not said which.
    """
    if wanted:
        same = [name for name in index.courses if wanted == name or wanted.casefold() == index.titles[name].casefold()]
        if len(same) != 1:
            said = f"The file has {len(same) or 'no'} golf course{'s' * (len(same) > 1)} {wanted!r}."
            raise SurveyError(said, where=path.name, hint=f"It has: {_listed(path, index, same, wanted)}.")
        return same[0], index.courses[same[0]]
    if len(index.courses) > 1:
        hint = f"Name one in `outline`: {_listed(path, index, (), '')}."
        raise SurveyError(f"The file has {len(index.courses)} golf courses.", where=path.name, hint=hint)
    if index.courses:
        return next(iter(index.courses.items()))
    if not index.golf:
        hint = "A course has leisure=golf_course or golf=… in the map."
        raise SurveyError("Nothing in the file is mapped as golf.", where=path.name, hint=hint)
    return "", tuple(index.golf)


def _listed(path: Path, index: Index, same: Sequence[str], wanted: str) -> str:
    """Courses with what tells them apart: what they are called, how large they are and where; the likeliest first."""
    names = list(same) or sorted(index.courses, key=lambda name: (-_likeness(wanted, name, index.titles[name]), name))
    shown = names[:_MOST_LISTED]
    placed: dict[int, tuple[Corner, ...]] = {}
    if shown:
        placed = {way.number: way.corners for way in read_ways(path, {number for name in shown for number in index.courses[name]})}
    told = []
    for name in shown:
        corners = [corner for number in index.courses[name] for corner in placed.get(number, ())]
        words = [word for word in (index.titles[name], _size(corners)) if word]
        told.append(f"{name} ({', '.join(words)})" if words else name)
    more = [f"… and {len(names) - len(shown)} more"] * (len(names) > len(shown))
    return "; ".join([*told, *more]) or "none"


def _likeness(wanted: str, name: str, title: str) -> float:
    if not wanted:
        return 0.0
    return max(SequenceMatcher(a=wanted.casefold(), b=text.casefold()).ratio() for text in (name, title))


def _size(corners: Sequence[Corner]) -> str:
    """How large the box about a course is, and where its middle lies."""
    if not corners:
        return ""
    lons, lats = unwrapped([corner[1] for corner in corners]), [corner[2] for corner in corners]
    lon, lat = (min(lons) + max(lons)) / 2, (min(lats) + max(lats)) / 2
    east_km = (max(lons) - min(lons)) * math.cos(math.radians(lat)) * _M_PER_DEG / 1000
    north_km = (max(lats) - min(lats)) * _M_PER_DEG / 1000
    return f"{east_km:.1f} × {north_km:.1f} km at {lat:.3f}, {(lon + 180) % 360 - 180:.3f}"
