"""The sheets of the demo: the guide for players, and every file that was written, to open or to print."""

from __future__ import annotations

import json
from html import escape

from demo import running
from demo.page import Section, bullets, link, typed
from demo.running import marram
from demo.told import COURSE, TRIAL, place
from demo.trial_part import Step

_FILES = (
    ("To print", "report.pdf", "The report of the trial"),
    ("To print", "papers.pdf", "The papers of the trial: calendar, sheets to record on, form for players"),
    ("To print", "guide/guide.pdf", "The guide for players, two pages for each change"),
    ("To print", "guide/guide-pocket.pdf", "The guide to fold twice, for the pocket"),
    ("To print", "trial.pdf", "The whole trial: each change, why, and what it touches"),
    ("To print", "differences.pdf", "Every difference between the editions of 2019 and 2023"),
    ("To print", "relief-2023.pdf", "Every relief procedure of the edition of 2023"),
    ("To print", "strip.pdf", "A strip of 2 m to measure with, at true size"),
    ("To print", "course.pdf", "The course on A3, at a stated scale"),
    ("To print", "clarity/sheets.pdf", "The officials’ sheets of the exercise"),
    ("To print", "stations/sheets.pdf", "The players’ sheets of the stations"),
    ("On a screen", "report.html", "The report of the trial"),
    ("On a screen", "guide/guide.html", "The guide for a phone"),
    ("On a screen", "guide/guide-screen.html", "The guide for a big screen"),
    ("On a screen", "differences.html", "Every difference between the editions of 2019 and 2023"),
    ("As a table", "rules.xlsx", "All rules, to write a change on"),
    ("As a table", "places.csv", "The places of the competition"),
    ("As a table", "clarity/table.csv", "What the officials answer, to fill in"),
    ("As a table", "stations/table.csv", "What is measured at the stations, to fill in"),
    ("As a table", "plan.json", "The frozen plan"),
)
"""Under which heading, which file, what it is."""


def guide() -> Step:
    """The trial as players are shown it, at real places of the course."""
    command = ["trial", "guide", TRIAL, "--course", COURSE, "-o", "demo/out/guide"]
    made = json.loads(marram([*command, "--json"]))["guide"]
    pages = (f"<b>{escape(page['title'])}</b><br>{escape(_lead(place(page['place'])))}" for page in made["pages"])
    section = Section(
        name="guide",
        group="Trial",
        title="The guide for players",
        note=f"{len(made['pages'])} procedures shown",
        body="<p>Before, now, what stays forbidden, and the steps drawn frame by frame, at the best places that the course has: "
        f"{link('guide/guide.pdf', 'on A4')}, {link('guide/guide-pocket.pdf', 'folded for the pocket')}, "
        f"{link('guide/guide.html', 'for the phone')}, {link('guide/guide-screen.html', 'for a big screen')}.</p>"
        f"{bullets(pages, is_numbered=True)}{typed(command)}",
    )
    return "before, now, what stays forbidden: demo/out/guide/guide.pdf", section


def _lead(words: str) -> str:
    return words[:1].upper() + words[1:]


def sheets() -> Step:
    """Every sheet that was written, with those that nothing else of the demo needs."""
    commands = (
        ["sheet", "trial", TRIAL, "-o", "demo/out/trial.pdf"],
        ["sheet", "relief", "--book", "2023", "-o", "demo/out/relief-2023.pdf"],
        ["sheet", "strip", "--length", "2m", "-o", "demo/out/strip.pdf"],
        ["course", "draw", COURSE, "--paper", "a3", "-o", "demo/out/course.pdf"],
        ["book", "compare", "2019", "2023", "--form", "pdf", "-o", "demo/out/differences.pdf"],
        ["book", "compare", "2019", "2023", "--form", "html", "-o", "demo/out/differences.html"],
    )
    for words in commands:
        marram(words)
    columns = "".join(
        f"<div><h3>{heading}</h3>{bullets(link(path, words) for under, path, words in _FILES if under == heading)}</div>"
        for heading in dict.fromkeys(under for under, _, _ in _FILES)
    )
    section = Section(
        name="sheets",
        group="Sheets",
        title="Every sheet",
        note=f"{len(_FILES)} files",
        body=f"<div class='three'>{columns}</div>{typed(*commands)}",
    )
    missing = [path for _, path, _ in _FILES if not (running.out / path).is_file()]
    assert not missing, missing
    return f"{len(_FILES)} files to open or print, all linked on the page", section
