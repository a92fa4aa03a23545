"""One state of the code that rules on places when it is told to: started with that state's `src` in PYTHONPATH, asked line by line.

A question is a line of JSON, ``{"places": [0, 4], "books": 5}``; the answer is one as well, with the processor seconds of each place and
a digest of each answer. Courses and books are opened and warmed up before the first question; each place itself is ruled on once.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib
import json
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import shapely

from marram.core.errors import MarramError
from marram.core.terms import Area, Club, FeatureKind, Form, Hand
from marram.course.features import Feature
from marram.course.frame import Position
from marram.rulebook.book import Book
from marram.rulings import Incident, Player, PreviousStroke, rule_on

LONGEST_IN = 45.0


def named(*places: str) -> Any:  # noqa: ANN401 - what it finds has another name in another state
    """The first of some `module:name` that this state of the code has; None where it has none."""
    for place in places:
        module, name = place.split(":")
        with contextlib.suppress(ImportError, AttributeError):
            return getattr(importlib.import_module(module), name)
    return None


READ_COURSE = named("marram.interchange.courses.course_geojson:read_course", "marram.interchange.course_geojson:read_course")
READ_BOOKS = named("marram.interchange.books.book_files:read_books", "marram.interchange.book_files:read_books")
TO_OBJECT = named("marram.answers.ruling_answer:ruling_object", "marram.interchange.answers:ruling_object")
RULE_UNDER = named("marram.rulings.rule_on:rule_under")
"""The call that rules under several books at once, where there is one."""


def incident_of(place: dict[str, Any]) -> Incident:
    """The incident of a place."""
    x, y = place["previous"]
    met = place.get("met")
    thing = (
        []
        if met is None
        else [Feature(id="met", kind=FeatureKind(met["kind"]), geometry=shapely.from_wkt(met["outline"]), is_surveyed=False)]
    )
    return Incident(
        hole=place["hole"],
        situation=place["situation"],
        form=Form.STROKE_PLAY,
        ball=Position(x_m=place["ball"][0], y_m=place["ball"][1]),
        player=Player(hand=Hand(place["hand"]), longest_club_in=LONGEST_IN, club=Club(place["club"])),
        facts=place["facts"],
        crossed_at=Position(x_m=place["crossed"][0], y_m=place["crossed"][1]) if "crossed" in place else None,
        previous_stroke=PreviousStroke(at=Position(x_m=x, y_m=y), area=Area.GENERAL_AREA),
        conditions=tuple(thing),
    )


class Worker:
    """Courses and books, open and warm."""

    def __init__(self, folder: Path, names: list[str]) -> None:
        self.places = json.loads((folder / "places.json").read_text(encoding="utf-8"))
        self.courses = {file.stem: READ_COURSE(file) for file in folder.glob("*.geojson")}
        self.books = READ_BOOKS(names)
        for place in json.loads((folder / "warming.json").read_text(encoding="utf-8")):
            self.rule(place, self.books)

    def rule(self, place: dict[str, Any], books: Sequence[Book]) -> tuple[float, str]:
        """Processor seconds of ruling on a place, and a digest of what was ruled."""
        course, incident = self.courses[place["course"]], incident_of(place)
        start_s = time.process_time()
        try:
            rulings = RULE_UNDER(incident, course, books) if RULE_UNDER else tuple(rule_on(incident, course, book) for book in books)
        except MarramError as refusal:
            return time.process_time() - start_s, digest(str(refusal))
        taken_s = time.process_time() - start_s
        return taken_s, digest([TO_OBJECT(ruling, course.frame) for ruling in rulings])

    def answer(self, asked: dict[str, Any]) -> list[tuple[float, str]]:
        """What a line asks for; under one book the newest counts."""
        books = self.books if asked["books"] > 1 else self.books[-2:-1]
        return [self.rule(self.places[number], books) for number in asked["places"]]


def digest(told: object) -> str:
    """A short name of an answer that only the same answer has."""
    return hashlib.sha256(json.dumps(told, sort_keys=True, default=repr).encode()).hexdigest()[:16]


def main(read: Callable[[], str] = sys.stdin.readline) -> None:
    """Answer until there are no more questions."""
    worker = Worker(Path(sys.argv[1]), sys.argv[2:])
    print("ready", flush=True)
    while line := read():
        print(json.dumps(worker.answer(json.loads(line))), flush=True)


if __name__ == "__main__":
    main()
