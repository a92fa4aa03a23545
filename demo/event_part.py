"""A club day of the demo: an event under the trial from its entries to its results, kept in a store, with its papers."""

from __future__ import annotations

import json
from html import escape

from demo import running
from demo.page import Section, bullets, link, typed
from demo.running import marram
from demo.told import TRIAL, nth
from demo.trial_part import Step

_EXAMPLES, _FOLDER = "examples/events", "demo/out/event"
_KEPT = ["--store", f"{_FOLDER}/day.sqlite"]
_SIGNED = [*_KEPT, "--who", "Rowan"]
_PAPERS = {
    "starting-list": "the starting times",
    "cards": "the cards with strokes",
    "results": "the results",
    "local-rules": "the local rules, with what comes before them",
}
_FIRST = 3


def club_day() -> Step:
    """A line and a section on a day under the trial: the first places, a ruling that moved a score, and the papers."""
    folder = running.out / "event"
    folder.mkdir(parents=True, exist_ok=True)
    for left in folder.glob("day.sqlite*"):
        left.unlink()
    steps = (
        ["event", "new", f"{_EXAMPLES}/terms.toml", "--book", f"2023+{TRIAL}", *_SIGNED],
        ["event", "enter", f"{_EXAMPLES}/entries.csv", *_SIGNED],
        ["event", "draw", "--seed", "three-firths", *_SIGNED],
        ["event", "times", *_SIGNED],
        ["event", "cards", f"{_EXAMPLES}/cards.csv", *_SIGNED],
        ["event", "log", "Beech", "--hole", "12", "--strokes", "2", "--says", "wrong-place", *_SIGNED],
        *(["event", "print", paper, "-o", f"{_FOLDER}/{paper}.pdf", *_KEPT] for paper in _PAPERS),
    )
    before = _places(steps[:5])
    after = _places(steps[5:])
    first = [f"<b>{escape(player)}</b>, {escape(says)}" for player, _, says in after[:_FIRST]]
    was = {player: (place, says) for player, place, says in before}["Beech"]
    now = {player: (place, says) for player, place, says in after}["Beech"]
    found = json.loads(marram(["event", "results", "--json", *_KEPT]))
    papers = ", ".join(link(f"event/{paper}.pdf", words) for paper, words in _PAPERS.items())
    store = link("event/day.sqlite", "the store itself")
    section = Section(
        name="event",
        group="Scores",
        title="A club day under the trial",
        note=f"{found['entered']} players",
        body=f"<p>{escape(found['under']['says'])} Entries, draw, starting times and cards come in as tables and are kept, each row with "
        f"who wrote it, when and why ({store}). To print: {papers}.</p>{bullets(first, is_numbered=True)}"
        f"<p>A ruling that was logged later cost Beech two strokes: {nth(was[0])} with {escape(was[1])} before, {nth(now[0])} with "
        f"{escape(now[1])} now. {len(found['not_in'])} card is not in, {len(found['not_started'])} player did not start.</p>"
        f"{typed(*steps)}",
    )
    return f"{found['entered']} players under the trial, {after[0][0]} first: demo/out/event/results.pdf", section


def _places(steps: tuple[list[str], ...]) -> list[tuple[str, int, str]]:
    """The places after some steps: player, place, result."""
    for step in steps:
        marram(step)
    found = json.loads(marram(["event", "results", "--json", *_KEPT]))
    return [(place["player"], place["place"], place["score_says"]) for place in found["places"] if place["place"]]
