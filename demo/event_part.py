"""Two club days of the demo: an event under the trial from entries to results, and its like, in a store, with papers and records."""

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
PAIR = "p11"
"""The pair of the plan that the two days are."""
RECORDS = f"{_FOLDER}/records"
_TRIED, _ORDINARY = ["--event", "summer"], ["--event", "midsummer"]


def club_day() -> Step:
    """A line and a section on a day under the trial: the first places, a ruling that moved a score, and the papers."""
    folder = running.out / "event"
    folder.mkdir(parents=True, exist_ok=True)
    for left in folder.glob("day.sqlite*"):
        left.unlink()
    steps = (
        *_played(_EXAMPLES, f"2023+{TRIAL}", _TRIED),
        ["event", "log", "Beech", "--hole", "12", "--strokes", "2", "--says", "wrong-place", *_TRIED, *_SIGNED],
        *(["event", "print", paper, "-o", f"{_FOLDER}/{paper}.pdf", *_TRIED, *_KEPT] for paper in _PAPERS),
    )
    before = _places(steps[:6])
    after = _places(steps[6:])
    first = [f"<b>{escape(player)}</b>, {escape(says)}" for player, _, says in after[:_FIRST]]
    was = {player: (place, says) for player, place, says in before}["Beech"]
    now = {player: (place, says) for player, place, says in after}["Beech"]
    found = json.loads(marram(["event", "results", "--json", *_TRIED, *_KEPT]))
    for step in (like := (*_played(f"{_EXAMPLES}/ordinary", "2023", _ORDINARY), _records())):
        marram(step)
    papers = ", ".join(link(f"event/{paper}.pdf", words) for paper, words in _PAPERS.items())
    store = link("event/day.sqlite", "the store itself")
    section = Section(
        name="event",
        group="Scores",
        title="A club day under the trial, and its like",
        note=f"{found['entered']} players",
        body=f"<p>{escape(found['under']['says'])} Entries, draw, starting times and cards come in as tables and are kept, each row with "
        f"who wrote it, when and why ({store}). To print: {papers}.</p>{bullets(first, is_numbered=True)}"
        f"<p>A ruling that was logged later cost Beech two strokes: {nth(was[0])} with {escape(was[1])} before, {nth(now[0])} with "
        f"{escape(now[1])} now. {len(found['not_in'])} card is not in, {len(found['not_started'])} player did not start.</p>"
        f"<p>What was seen on the day, times of groups, searches, drops and rulings, came in as a table; so did the same day a week "
        f"later under the ordinary rules. Both leave the store without names as pair {PAIR} of the trial: "
        f"{link('event/records/days.csv', 'the days')}, {link('event/records/values.csv', 'the values')}.</p>"
        f"{typed(*steps, *like)}",
    )
    return f"{found['entered']} players under the trial, {after[0][0]} first: demo/out/event/results.pdf", section


def _played(folder: str, book: str, event: list[str]) -> tuple[list[str], ...]:
    """The commands of a day from its terms to its log."""
    return (
        ["event", "new", f"{folder}/terms.toml", "--book", book, *event, *_SIGNED],
        ["event", "enter", f"{_EXAMPLES}/entries.csv", *event, *_SIGNED],
        ["event", "draw", "--seed", "7", *event, *_SIGNED],
        ["event", "times", *event, *_SIGNED],
        ["event", "cards", f"{folder}/cards.csv", *event, *_SIGNED],
        ["event", "observed", f"{folder}/log.csv", *event, *_SIGNED],
    )


def _records() -> list[str]:
    return ["event", "records", "--trial", TRIAL, "--pair", f"{PAIR}=summer,midsummer", "-o", RECORDS, *_SIGNED]


def _places(steps: tuple[list[str], ...]) -> list[tuple[str, int, str]]:
    """The places after some steps: player, place, result."""
    for step in steps:
        marram(step)
    found = json.loads(marram(["event", "results", "--json", *_TRIED, *_KEPT]))
    return [(place["player"], place["place"], place["score_says"]) for place in found["places"] if place["place"]]
