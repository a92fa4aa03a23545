"""A small competition of the demo: one set of cards under several books, what decided each place, and what each charge costs where."""

from __future__ import annotations

import json
from html import escape
from typing import Any

from demo.page import Section, link, typed
from demo.running import marram
from demo.told import book as named
from demo.told import nth
from demo.trial_part import Step

CARDS, TERMS = "examples/cards/cards.csv", "examples/cards/stableford.toml"
BOOKS = ("2016", "2019", "2023")


def competition() -> Step:
    """A line and a section on the results: places, what decided each, and every charge."""
    command = ["score", CARDS, "--terms", TERMS, *(word for book in BOOKS for word in ("--book", book)), "-o", "demo/out/places.csv"]
    books = json.loads(marram([*command, "--json"]))["books"]
    latest, earlier = books[-1], books[:-1]
    places = latest["places"]
    rows = "".join(_row(place, places, earlier) for place in places)
    first = [place["player"] for place in places if place["place"] == 1]
    section = Section(
        name="results",
        group="Scores",
        title="A small competition: places, and what decided each",
        short="A small competition",
        note=f"{len(places)} cards",
        body="<p>Invented cards, played for points under 2023; ties are decided by the last nine, six and three holes and the last. What a "
        "late start, too many clubs and delay cost is on the hole in one edition and off the round in another: where a place or a score "
        f"comes out differently under 2016 or 2019, the last column says so. {link('places.csv', 'The places as a table')}.</p>"
        "<div class='results'><table><thead><tr><th class='n'>Place<th>Player<th class='n'>Points<th>What decided it"
        f"<th>Under the earlier editions</tr></thead><tbody>{rows}</tbody></table></div>{typed(command)}",
    )
    return f"{len(places)} cards under {len(books)} books, {' and '.join(first)} first: demo/out/places.csv", section


def _row(place: dict[str, Any], places: list[dict[str, Any]], earlier: list[dict[str, Any]]) -> str:
    level = [other for other in places if place["place"] and other["score_says"] == place["score_says"]]
    tied = " class='tied'" if len(level) > 1 else ""
    charged = "".join(f"<small>{escape(_lead(penalty['says']))}</small>" for penalty in place["penalties"])
    score = place["score_says"].removesuffix(" points") if place["place"] else ""
    return (
        f"<tr><td class='n'>{place['place'] or ''}{'=' if place['joint'] else ''}</td><td{tied}>{escape(place['player'])}</td>"
        f"<td class='n'><b>{escape(score)}</b></td><td class='wide'>{_decided(place, level)}{charged}</td>"
        f"<td class='wide'>{_otherwise(place, earlier)}</td></tr>"
    )


def _decided(place: dict[str, Any], level: list[dict[str, Any]]) -> str:
    """What decided a place, in words: the score alone, or the figure of the step at which those who were level came apart."""
    if not place["place"]:
        return escape(_lead(place["score_says"]))
    if len(level) < 2:
        return "Alone on this score"
    steps = {step["step"]: step["value"] for step in place["compared"]}
    step = place["decided_by"]
    others = [f"{found['value']} of {other['player']}" for other in level if other is not place for found in _at(other, step)]
    mine = steps.get(step, "")
    return f"{escape(_lead(step))}: <b class='word'>{escape(mine)}</b>, against {escape(' and '.join(others))}" if mine else escape(step)


def _at(place: dict[str, Any], step: str) -> list[dict[str, Any]]:
    return [found for found in place["compared"] if found["step"] == step]


def _otherwise(place: dict[str, Any], earlier: list[dict[str, Any]]) -> str:
    """The place and the score under each earlier book where one of them is another."""
    found = []
    for book in earlier:
        then = next(other for other in book["places"] if other["player"] == place["player"])
        if (then["place"], then["score_says"]) != (place["place"], place["score_says"]):
            found.append(f"{named(book['book'])}: {nth(then['place'])}, {then['score_says']}")
    return escape("; ".join(found))


def _lead(words: str) -> str:
    return words[:1].upper() + words[1:]
