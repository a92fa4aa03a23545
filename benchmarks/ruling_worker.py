"""One state of the code that rules on places when it is told to: started with that state's `src` in PYTHONPATH, asked line by line.

A question is a line of JSON, ``{"places": [0, 4], "books": 5}``. So is the answer: for each place the processor seconds until it is ruled,
those until all is told besides that a ruling tells on request, and a digest of it all. Courses and books are opened and used before the
first question, the courses once for each number of books: nothing is known yet of a place that is asked about.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib
import json
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import shapely

from marram.core.errors import MarramError
from marram.core.terms import Area, Club, FeatureKind, Form, Hand
from marram.course.features import Feature
from marram.course.frame import Position
from marram.rulings import Incident, Player, PreviousStroke, rule_on
from tests.support.whole_ruling import plain

LONGEST_IN = 45.0
Answer = tuple[float, float, str]


def named(*places: str) -> Any:  # noqa: ANN401 - what it finds has another name in another state
    """The first of some `module:name` that this state of the code has; None where it has none."""
    for place in places:
        module, name = place.split(":")
        with contextlib.suppress(ImportError, AttributeError):
            return getattr(importlib.import_module(module), name)
    return None


READ_COURSE = named("marram.interchange.courses.course_geojson:read_course", "marram.interchange.course_geojson:read_course")
READ_BOOKS = named("marram.interchange.books.book_files:read_books", "marram.interchange.book_files:read_books")


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
        self.folder = folder
        self.places = json.loads((folder / "places.json").read_text(encoding="utf-8"))
        self.warming = json.loads((folder / "warming.json").read_text(encoding="utf-8"))
        self.every_book = READ_BOOKS(names)
        self.open(1)

    def open(self, count: int) -> None:
        """Open courses and a number of books, and use them; of one book alone the newest edition is used."""
        self.books = self.every_book if count > 1 else self.every_book[-2:-1]
        self.courses = {file.stem: READ_COURSE(file) for file in self.folder.glob("*.geojson")}
        for place in self.warming:
            self.rule(place)

    def rule(self, place: dict[str, Any]) -> Answer:
        """Processor seconds of ruling on a place, and of ruling and telling, and a digest of what was told."""
        course, incident = self.courses[place["course"]], incident_of(place)
        start_s = time.process_time()
        try:
            rulings = tuple(rule_on(incident, course, book) for book in self.books)
        except MarramError as refusal:
            taken_s = time.process_time() - start_s
            return taken_s, taken_s, digest(str(refusal))
        ruled_s = time.process_time() - start_s
        for ruling in rulings:
            assert ruling.lines  # reasons name the range over the clubs
        told_s = time.process_time() - start_s
        return ruled_s, told_s, digest(plain([replace(ruling, stamp="") for ruling in rulings]))

    def answer(self, asked: dict[str, Any]) -> list[Answer]:
        """What a line asks for."""
        if asked["books"] != len(self.books):
            self.open(asked["books"])
        return [self.rule(self.places[number]) for number in asked["places"]]


def digest(told: object) -> str:
    """A short name of an answer that only the same answer has."""
    return hashlib.sha256(json.dumps(told).encode()).hexdigest()[:16]


def main(read: Callable[[], str] = sys.stdin.readline) -> None:
    """Answer until there are no more questions."""
    worker = Worker(Path(sys.argv[1]), sys.argv[2:])
    print("ready", flush=True)
    while line := read():
        print(json.dumps(worker.answer(json.loads(line))), flush=True)


if __name__ == "__main__":
    main()
