"""The demo: the whole job, from the draft of a trial to its verdicts, in twelve lines and one readable page."""

from __future__ import annotations

import json
import sys
import tomllib
from collections.abc import Callable
from html import escape
from pathlib import Path

from demo.exercise_part import exercises
from demo.running import OUT, ROOT, marram
from demo.score_part import competition
from demo.trial_part import TRIAL, answers, draft, plan, records, verdicts

COURSE = "examples/courses/thimble-moor.geojson"
LENGTHS = "examples/trials/fixed-lengths.toml"
BOOKS = ("2016", "draft-2017", "2019", "2023", f"2023+{LENGTHS}")
OWN_BOOKS = {"lost-in-trees-4": ("2023+alternative-to-stroke-and-distance", "2016")}  # the ball is about a local rule
HEAD = """<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">
<title>Marram: a trial, from draft to verdict</title><style>
body{margin:0 auto;max-width:920px;padding:16px;background:#efe8d9;color:#221d17;
font:17px/1.42 Charter,'Bitstream Charter','Iowan Old Style','Libertinus Serif','Liberation Serif',serif}
h1{font-size:34px;font-weight:400;border-bottom:3px solid;margin:16px 0 4px}h2{font-size:24px;font-weight:400;margin:40px 0 8px;border-bottom:1px solid}
img{width:100%;height:auto;display:block;border:1px solid #7d705e}pre{white-space:pre-wrap;overflow-wrap:anywhere;font-size:13px}
.wide{overflow-x:auto}table{border-collapse:collapse;width:100%;font-size:15px;background:#faf7ef}td,th{text-align:left;vertical-align:top;
padding:6px 8px;border-top:1px solid #c9bda5}a{color:inherit;text-decoration-color:#5a2a82}figure{margin:16px 0}figcaption{font-size:15px}figure svg{width:100%;max-width:560px}</style>
"""


def main() -> int:
    """Do the job from the draft to the verdict, one numbered line for each step, and write the page."""
    OUT.mkdir(parents=True, exist_ok=True)
    steps: tuple[tuple[str, Callable[[], tuple[str, str]]], ...] = (
        ("the draft", draft),
        ("the ground", _ground),
        ("the marking", _marking),
        ("the guide", _guide),
        ("the rulings", _rulings),
        ("the plan", plan),
        ("the records", records),
        ("the answers", answers),
        ("the verdicts", verdicts),
        ("exercises", exercises),
        ("a competition", competition),
        ("not done yet", lambda: (NOT_YET, f"<h2>Not done yet</h2><p>{escape(NOT_YET)}</p>")),
    )
    sections = []
    for number, (step, carry_out) in enumerate(steps, start=1):
        came_out, section = carry_out()
        print(f"{number:>2}  {step:<13} {came_out}", flush=True)
        sections.append(section)
    lead = (
        "<h1>A trial, from draft to verdict</h1><p>An invented union tries four changes on two invented clubs. The course, the balls, the "
        "trial and the season are invented; every answer is computed from the survey, the rules as data and the records. <strong>Advice to "
        "the official; the published Rules and the Committee decide.</strong></p>"
    )
    (OUT / "index.html").write_text(HEAD + lead + "".join(sections) + "</html>\n", encoding="utf-8")
    print("\nOpen demo/out/index.html in a browser. The command line is `.venv/bin/marram --help`.")
    return 0


NOT_YET = "The web desk, events with entries, draw and starting times, and the simulation of a trial beforehand."


def _ground() -> tuple[str, str]:
    """What the check of the survey finds."""
    found = json.loads(marram(["course", "check", COURSE, "--json"], (0, 1)))
    return f"{len(found['holes'])} holes of Thimble Moor, {len(found['faults'])} faults of the survey: {COURSE}", ""


def _rulings() -> tuple[str, str]:
    """Every ball of the examples, ruled on and drawn."""
    incidents = sorted((ROOT / "examples" / "incidents").glob("*.toml"))
    balls = "".join(_section(number, incident) for number, incident in enumerate(incidents, start=1))
    told = f"{len(incidents)} balls under {len(BOOKS)} rule books, each drawn to scale: demo/out/*.svg"
    return told, f"<h2>Rulings</h2><p>Each ball under four editions and under an invented trial of fixed lengths.</p>{balls}"


def _marking() -> tuple[str, str]:
    """The check of the marking, before any ball is played."""
    command = ["course", "marking", COURSE, "--draw", "demo/out/marking"]
    answer = json.loads(marram([*command, "--json"], (0, 1)))
    places = [place for place in answer["books"][0]["places"] if place["serious"]]
    pictures = sorted(path.name for path in (OUT / "marking").glob("place-*.svg"))
    links = "".join(
        f"<li><a href='marking/{picture}'>Hole {place['hole']}, {escape(place['feature'])}</a>: {place['area_m2']:.2f} m² at worst. "
        f"{escape(place['remedy'])}"
        for place, picture in zip(places, pictures, strict=True)
    )
    return f"{len(places)} places with nowhere good to drop, drawn: demo/out/marking/", (
        "<h2>Before the event: where the marking leaves nowhere good to drop</h2><p>Every place on every edge that gives lateral relief "
        "was tried for every hole played over it. Five flaws were built into the course; a flaw may be seen from two holes or two banks.</p>"
        f"<img src='marking/course.svg' alt='The course with the places numbered'><ol>{links}</ol><pre>marram {escape(' '.join(command))}</pre>"
    )


def _guide() -> tuple[str, str]:
    """The trial as players are shown it, at real places of the course."""
    command = ["trial", "guide", TRIAL, "--course", COURSE, "-o", "demo/out/guide"]
    made = json.loads(marram([*command, "--json"]))["guide"]
    relief, strip = (
        ["sheet", "relief", "--book", "2023", "-o", "demo/out/relief-2023.pdf"],
        ["sheet", "strip", "--length", "2m", "-o", "demo/out/strip.pdf"],
    )
    for words in (relief, strip):
        marram(words)
    pages = "".join(f"<li>{escape(page['title'])}: {escape(page['place'])}" for page in made["pages"])
    files = (
        ("guide/guide.pdf", "A4"),
        ("guide/guide-pocket.pdf", "one sheet for each, to fold twice"),
        ("guide/guide.html", "for the phone"),
        ("guide/guide-screen.html", "for a big screen"),
        ("relief-2023.pdf", "every relief procedure of the 2023 edition"),
        ("strip.pdf", "a strip of 2 m, at true size"),
    )
    links = "".join(f"<li><a href='{path}'>{escape(what)}</a>" for path, what in files)
    shown = "\n".join(f"marram {' '.join(words)}" for words in (command, relief, strip))
    return "before, now, what stays forbidden: demo/out/guide/guide.pdf", (
        "<h2>The guide for players</h2><p>Before, now, what stays forbidden, and the steps drawn frame by frame at the best places that the "
        f"course has:</p><ol>{pages}</ol><ul>{links}</ul><pre>{escape(shown)}</pre>"
    )


def _section(number: int, incident: Path) -> str:
    title = tomllib.loads(incident.read_text(encoding="utf-8"))["title"]
    file = incident.relative_to(ROOT).as_posix()
    books = [word for book in OWN_BOOKS.get(incident.stem, BOOKS) for word in ("--book", book)]
    command = ["rule", file, "--course", COURSE, *books]
    answer = json.loads(marram([*command, "--json", "--draw", f"demo/out/{incident.stem}.svg"]))
    marram([*command, "--paper", "--draw", f"demo/out/{incident.stem}-paper.svg"])
    rows = "".join(_row(book) for book in answer["books"])
    return (
        f"<h2>{number}. {escape(title)}</h2><img src='{incident.stem}.svg' alt='{escape(title)}, drawn to scale'>"
        f"<p><a href='{incident.stem}-paper.svg'>The same for black and white paper</a></p>"
        f"<div class='wide'><table><tr><th>book<th>what the player may do<th>not available, or to be asked</tr>{rows}</table></div>"
        f"<pre>marram {escape(' '.join(command))}</pre>"
    )


def _row(book: dict[str, list[dict[str, object]]]) -> str:
    options = "<br>".join(_option(option) for option in book["options"])
    closed = [f"{entry['title']}: {entry['because']}" for entry in book["not_available"]]
    closed += [f"To be asked: {entry['question']}" for entry in book["facts_needed"]]
    told = "<br>".join(escape(line) for line in closed)
    return f"<tr><td>{escape(str(book['book']))}<td>{options}<td>{told}</tr>"


def _option(option: dict[str, object]) -> str:
    area = option["relief_area"]
    size = f", {area['area_m2']:.2f} m²" if isinstance(area, dict) else ""
    strokes = option["penalty_strokes"]
    return escape(f"{option['title']}: {strokes} penalty stroke{'' if strokes == 1 else 's'}{size}")


if __name__ == "__main__":
    sys.exit(main())
