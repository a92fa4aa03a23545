"""Two hundred seeded places on three courses, each with the rulings that a drawing of it shows, made once a process.

Every situation, every book and every number of books laid beside each other takes its turn. Whoever checks a drawing takes places
from here, so that each place is ruled on once however many checks look at it.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from marram.core.errors import MarramError
from marram.course.course import Course
from marram.interchange.books.book_files import read_book
from marram.interchange.courses.course_geojson import parse_course, read_course
from marram.rulebook.book import Book
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings import Incident, rule_on
from marram.rulings.case.facts_of_situation import known_facts
from marram.rulings.case.ruling import Ruling
from marram.rulings.rule_on import situations
from marram.sheets.ruled.ruling_drawing import draw_rulings
from marram.sheets.ruled.ruling_sheets import draw_ruling_sheets
from tests.support.odd_courses import odd_course
from tests.support.random_incidents import random_incident

PLACES = 200
"""Half of them lie on the demo course, a quarter on the invented links, a quarter on an odd course of three holes."""
_OFTEN = ("penalty-area", "out-of-bounds", "lost", "unplayable", "immovable-obstruction", "ground-under-repair", "wrong-green") * 3
"""What relief is measured for comes up more often than the rest."""
_DRAWN: dict[str, str] = {}
_SHEETS: dict[str, tuple[str, ...]] = {}
_ROOT = Path(__file__).resolve().parents[2]
_TRIAL = f"2023+{_ROOT / 'examples' / 'trials' / 'four-changes.toml'}"
_FIXED = f"2023+{_ROOT / 'examples' / 'trials' / 'fixed-lengths.toml'}"
BOOKS_BESIDE = (
    ("2023",),
    ("2019", "2023"),
    ("draft-2017",),
    ("2016", "2023"),
    (_TRIAL, "2023"),
    ("2016", "draft-2017", "2023"),
    (_FIXED,),
    ("2016", "draft-2017", "2019", "2023", _TRIAL),
    ("2023", "2019", _FIXED),
    ("2016", "draft-2017", "2019", "2023", _TRIAL, _FIXED, "2023+alternative-to-stroke-and-distance", "2019+opposite-side-relief"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPlace:
    """A ball somewhere on a course, with its rulings.

    Attributes:
        name: What a failing check says of it.
        incident: What happened.
        course: The course with the day's conditions.
        given: Books with their rulings, as a drawing takes them.
    """

    name: str
    incident: Incident
    course: Course
    given: tuple[tuple[Book, Ruling], ...]

    @property
    def seed(self) -> int:
        """Its number among the places."""
        return int(self.name.split()[0])


@cache
def drawn_places(count: int = PLACES) -> tuple[DrawnPlace, ...]:
    """The places, in the order of their seeds; those that no book can rule on are left out for the next seed."""
    return tuple(_places(count))


def few_places(count: int) -> tuple[DrawnPlace, ...]:
    """So many of the places, evenly from all of them, for a check that costs more."""
    places = drawn_places()
    return places[:: max(1, len(places) // count)][:count]


def drawing_of(place: DrawnPlace, *, is_paper: bool) -> str:
    """The drawing of a place, for the screen or for paper."""
    if is_paper:
        return sheets_of(place)[0]
    if place.name not in _DRAWN:
        _DRAWN[place.name] = draw_rulings(place.incident, place.course, place.given, is_paper=False)
    return _DRAWN[place.name]


def sheets_of(place: DrawnPlace) -> tuple[str, ...]:
    """The sheets of a place; the first is its drawing for paper."""
    if place.name not in _SHEETS:
        _SHEETS[place.name] = draw_ruling_sheets(place.incident, place.course, place.given)
    return _SHEETS[place.name]


@cache
def courses() -> tuple[Course, Course, Course]:
    """The three courses."""
    demo = read_course(_ROOT / "examples" / "courses" / "thimble-moor.geojson")
    links = read_course(_ROOT / "tests" / "data" / "invented" / "gull-bank.geojson")
    return demo, links, parse_course(json.dumps(odd_course(3)), where="odd course 3")


def _places(count: int) -> Iterator[DrawnPlace]:
    facts = sorted(known_facts(packaged_catalogue()))
    names = (*situations(read_book("2023")), *_OFTEN)
    made, seed = 0, 0
    while made < count:
        place = _place(made, seed, names[seed % len(names)], facts)
        seed += 1
        if place is not None:
            made += 1
            yield place


def _place(number: int, seed: int, situation: str, facts: list[str]) -> DrawnPlace | None:
    course = (courses()[0], courses()[1], courses()[0], courses()[2])[number % 4]
    beside = BOOKS_BESIDE[(number // 4) % len(BOOKS_BESIDE)]
    books = [_book(name) for name in beside]
    try:
        incident = random_incident(course, situation, facts, np.random.default_rng(88_000 + seed))
        given = tuple((book, rule_on(incident, course, book)) for book in books)
    except MarramError:
        return None
    if not any(ruling.options for _, ruling in given):
        return None
    name = f"{number} (seed {seed}): {situation}, {course.name}, hole {incident.hole}, {' / '.join(book.name for book in books)}"
    return DrawnPlace(name=name, incident=incident, course=course.with_conditions(incident.conditions), given=given)


@cache
def _book(name: str) -> Book:
    return read_book(name)
