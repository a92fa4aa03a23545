"""The ground of the demo: its survey, its marking, and the balls that are ruled on."""

from __future__ import annotations

import json
import tomllib
from html import escape
from itertools import groupby
from pathlib import Path
from typing import Any

from demo import running
from demo.page import Section, bullets, link, picture, typed
from demo.running import ROOT, marram
from demo.told import COURSE, LENGTHS, away, book, nth, thing
from demo.trial_part import Step
from marram.office.courses.draw_ground import draw_ground
from marram.office.drawing_asked import ask_drawing
from marram.office.play.give_ruling import draw_ruling, give_rulings
from marram.office.workroom import Workroom

BOOKS = ("2016", "draft-2017", "2019", "2023", f"2023+{LENGTHS}")
OWN_BOOKS = {"lost-in-trees-4": ("2023+alternative-to-stroke-and-distance", "2016")}  # the ball is about a local rule
_PHONE_PX, _SIDE_PX = 390, 386
_ROOM = Workroom()


def ground() -> Step:
    """What the check of the survey finds."""
    found = json.loads(marram(["course", "check", COURSE, "--json"], (0, 1)))
    return f"{len(found['holes'])} holes of Thimble Moor, {len(found['faults'])} faults of the survey: {COURSE}", None


def plan_of_the_course() -> str:
    """The whole ground without words, for the side of the page."""
    course = _ROOM.course(ROOT / COURSE).course
    small = draw_ground(course, rendering=ask_drawing(has_words=False, width_px=_SIDE_PX))
    for path, svg in (("course.svg", draw_ground(course, names_all=True)), ("course-small.svg", small)):
        (running.out / path).write_text(svg, encoding="utf-8")
    shown = picture("course-small.svg", "The whole course", opens="course.svg")
    return f"<figure class='ground'>{shown}<figcaption>Thimble Moor, invented, as it was surveyed</figcaption></figure>"


def marking() -> Step:
    """The check of the marking, before any ball is played."""
    command = ["course", "marking", COURSE, "--draw", "demo/out/marking"]
    answer = json.loads(marram([*command, "--json"], (0, 1)))
    places = [place for place in answer["books"][0]["places"] if place["serious"]]
    drawn = sorted(path.name for path in (running.out / "marking").glob("place-*.svg"))
    rows = (_flaw(place, f"marking/{file}") for place, file in zip(places, drawn, strict=True))
    section = Section(
        name="marking",
        group="Rulings",
        title="Before the event: where the marking leaves nowhere good to drop",
        short="Where the marking leaves no drop",
        note=f"{len(places)} places",
        body="<p>Every place on every edge that gives lateral relief was tried, for every hole played over it. Five flaws were built into "
        "the course; a flaw may be seen from two holes or two banks.</p>"
        f"<div class='shown'>{picture('marking/course.svg', 'The course with the places numbered')}{bullets(rows, is_numbered=True)}</div>"
        f"{typed(command)}",
    )
    return f"{len(places)} places with nowhere good to drop, drawn: demo/out/marking/", section


def _flaw(place: dict[str, Any], drawn: str) -> str:
    """A place with nowhere good to drop: where it is, how bad it is, and what mends it."""
    where = link(drawn, f"The {thing(place['feature'])} at the {nth(place['hole'])}")
    away_from = away(place["before_green_m"], place["right_m"])
    return f"{where}: {place['area_m2']:.2f} m² at worst, {away_from}.<br>{escape(place['remedy'])}"


def rulings() -> Step:
    """Every ball of the examples, ruled on and drawn."""
    incidents = sorted((ROOT / "examples" / "incidents").glob("*.toml"))
    balls = "".join(_ball(number, incident) for number, incident in enumerate(incidents, start=1))
    section = Section(
        name="rulings",
        group="Rulings",
        title="Balls, ruled on and drawn to scale",
        note=f"{len(incidents)} balls",
        body=f"<p>Each under four editions, and under an invented trial of fixed lengths.</p><div>{balls}</div>",
    )
    return f"{len(incidents)} balls under {len(BOOKS)} rule books, each drawn to scale: demo/out/*.svg", section


def _ball(number: int, incident: Path) -> str:
    title = tomllib.loads(incident.read_text(encoding="utf-8"))["title"]
    books = OWN_BOOKS.get(incident.stem, BOOKS)
    command = ["rule", incident.relative_to(ROOT).as_posix(), "--course", COURSE, *(word for name in books for word in ("--book", name))]
    drawing = f"{incident.stem}.svg"
    answer = json.loads(marram([*command, "--json", "--draw", f"demo/out/{drawing}"]))
    paper, phone = _other_drawings(incident, books)
    shown = picture(drawing, f"{title}, drawn to scale", narrow=phone)
    rows = "".join(_told(list(alike)) for _, alike in groupby(answer["books"], key=_said))
    return (
        f"<details class='ball'{' open' if number == 1 else ''}><summary><b>{number}</b><span>{escape(title)}</span></summary>"
        f"<div class='shown'><div>{shown}"
        f"<p>{link(paper, 'The same for black and white paper')}</p></div><dl class='books'>{rows}</dl></div>"
        f"{typed(command)}</details>"
    )


def _other_drawings(incident: Path, books: tuple[str, ...]) -> tuple[str, str]:
    """The ruling drawn for paper, and for the width of a phone without words: what they say stands below it there."""
    opened, course = [_ROOM.book(_in_place(name)) for name in books], _ROOM.course(ROOT / COURSE)
    given = give_rulings(_ROOM.incident(incident, course.course, opened), course, opened)
    drawn = {
        f"{incident.stem}-paper.svg": draw_ruling(given, is_paper=True),
        f"{incident.stem}-phone.svg": draw_ruling(given, rendering=ask_drawing(has_words=False, width_px=_PHONE_PX)),
    }
    for path, svg in drawn.items():
        (running.out / path).write_text(svg, encoding="utf-8")
    paper, phone = drawn
    return paper, phone


def _in_place(name: str) -> str:
    """A book whose overlay is found from any folder."""
    edition, plus, overlay = name.partition("+")
    return f"{edition}+{ROOT / overlay}" if overlay.endswith(".toml") else f"{edition}{plus}{overlay}"


def _said(found: dict[str, Any]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What a book gives, and what it does not."""
    closed = [f"{entry['title']}: {entry['because']}" for entry in found["not_available"]]
    closed += [f"To be asked: {entry['question']}" for entry in found["facts_needed"]]
    return tuple(_option(option) for option in found["options"]), tuple(closed)


def _told(alike: list[dict[str, Any]]) -> str:
    """One row for books that say the same."""
    options, closed = _said(alike[0])
    names = ", ".join(book(str(found["book"])) for found in alike)
    given = "".join(f"<dd>{option}</dd>" for option in options) or "<dd>Nothing yet.</dd>"
    more = "".join(f"<p>{escape(line)}</p>" for line in closed)
    folded = f"<dd><details><summary>Not available, or to be asked: {len(closed)}</summary>{more}</details></dd>" if closed else ""
    return f"<div><dt>{escape(names)}</dt>{given}{folded}</div>"


def _option(option: dict[str, Any]) -> str:
    area, strokes = option["relief_area"], option["penalty_strokes"]
    size = f", {area['area_m2']:.2f}\u00a0m²" if area else ""
    charged = "no penalty" if strokes == 0 else f"{strokes}\u00a0penalty stroke{'' if strokes == 1 else 's'}"
    return f"{escape(option['title'])} <span>{charged}{size}</span>"
