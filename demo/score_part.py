"""A small competition of the demo: one set of cards under several books, with what each charge costs where."""

from __future__ import annotations

import json
from html import escape

from demo.running import OUT, marram

CARDS, TERMS = "examples/cards/cards.csv", "examples/cards/stableford.toml"
BOOKS = ("2016", "2019", "2023")


def competition() -> tuple[str, str]:
    """A line and a section on the results: places, what decided them, and every charge with its rule."""
    command = ["score", CARDS, "--terms", TERMS, *(word for book in BOOKS for word in ("--book", book))]
    books = json.loads(marram([*command, "--json"]))["books"]
    marram([*command, "-o", str(OUT / "places.csv")])
    heading = "".join(f"<th>{escape(book['book'])}" for book in books)
    names = [place["player"] for place in books[-1]["places"]]
    rows = "".join(f"<tr><td>{escape(name)}{''.join(_cell(book, name) for book in books)}</tr>" for name in names)
    first = [place["player"] for place in books[-1]["places"] if place["place"] == 1]
    section = (
        "<h2>A small competition</h2><p>Invented cards, played for points: what late starts, too many clubs and delay cost is on the hole "
        "in one edition and off the round in another. <a href='places.csv'>The places as a table</a>.</p><div class='wide'><table>"
        f"<tr><th>player{heading}</tr>{rows}</table></div><pre>marram {escape(' '.join(command))}</pre>"
    )
    return f"{len(names)} cards under {len(books)} books, {' and '.join(first)} first: demo/out/places.csv", section


def _cell(book: dict[str, list[dict[str, object]]], name: str) -> str:
    """The place of a player under a book, with what was charged."""
    place = next(found for found in book["places"] if found["player"] == name)
    penalties = place["penalties"]
    assert isinstance(penalties, list)
    charged = "".join(f"<br><small>{escape(penalty['says'])}</small>" for penalty in penalties if not penalty["in_score"])
    at = f"{place['place']}{'=' if place['joint'] else ''}. " if place["place"] else ""
    decided = "" if place["decided_by"] in {"score", ""} else f", {place['decided_by']}"
    return f"<td>{at}{escape(str(place['score_says']))}{escape(decided)}{charged}"
