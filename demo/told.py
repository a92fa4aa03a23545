"""Keys, books and places as an official says them."""

from __future__ import annotations

import json
import re
from functools import lru_cache

from demo.running import ROOT
from marram.office.workroom import Workroom
from marram.records.outcomes import outcomes
from marram.rulebook.differences.told_change import tell_change

COURSE = "examples/courses/thimble-moor.geojson"
TRIAL = "examples/trials/four-changes.toml"
LENGTHS = "examples/trials/fixed-lengths.toml"
_BOOKS = {
    "draft-2017": "Draft of 2017",
    "2023+fixed-lengths": "2023 with fixed lengths",
    "2023+alternative-to-stroke-and-distance": "2023 with the local rule",
}


@lru_cache
def changes() -> dict[int, str]:
    """Each change of the trial in a sentence, by its number."""
    room = Workroom()
    base = room.book("2023")
    return {change.number: tell_change(base, change).sentence for change in room.trial(ROOT / TRIAL).changes}


def book(name: str) -> str:
    """A book by the name that is spoken."""
    return _BOOKS.get(name, name)


def wanted(outcome: str, direction: str, amount: float) -> str:
    """What a change has to do at least, such as *A search takes 15 s less*."""
    one = outcomes()[outcome]
    return (one.says_up if direction == "up" else one.says_down).format(number=f"{amount:g}")


@lru_cache
def _features() -> dict[str, dict[str, str]]:
    raw = json.loads((ROOT / COURSE).read_text(encoding="utf-8"))
    return {feature["properties"]["id"]: feature["properties"] for feature in raw["features"]}


def thing(feature: str) -> str:
    """What a thing of the course is, such as *pond*."""
    found = _features()[feature]
    return found.get("what") or found["kind"].replace("-", " ")


def nth(number: int) -> str:
    """A hole or a place by its number, such as *9th*."""
    last = number % 10 if number // 10 != 1 else 0
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(last, 'th') }"


def away(before_green_m: float, right_m: float) -> str:
    """A place along the line of play."""
    along = f"{abs(before_green_m):.0f} m {'before' if before_green_m >= 0 else 'past'} the front of the green"
    return f"{along}, {abs(right_m):.0f} m {'right' if right_m >= 0 else 'left'} of the line of play"


def place(words: str) -> str:
    """A place that names a thing by what it is, where the command names it by its id and what it is."""
    return re.sub(r"[\w-]+ \((\w[\w ]*)\)", r"the \1", words)
