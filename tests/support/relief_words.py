"""What the words of the collected facts on relief are in the rule data, and the facts themselves.

The facts speak in sentences and the rule data in closed lists of words; how one maps to the other stands here, once.
"""

from __future__ import annotations

from pathlib import Path
from typing import TypeAlias

from marram.rulebook import open_book, packaged_catalogue
from marram.rulebook.catalogue import EditionRow
from tests.support.editions import WRITTEN_FOR
from tests.support.yaml_text import read_yaml

Fact: TypeAlias = "str | bool | float | list[str] | dict[str, str | float | bool | list[str]]"
Cell: TypeAlias = "dict[str, Fact]"

CATALOGUE = packaged_catalogue()
BOOKS = {edition: open_book(edition, [], CATALOGUE) for edition in WRITTEN_FOR}
_FILE = Path(__file__).resolve().parents[1] / "published" / "rules" / "relief_procedures.yaml"
_FACTS = read_yaml(_FILE.read_text(encoding="utf-8"))["relief_procedures"]
CELLS: dict[tuple[str, str], Cell] = {(row["id"], edition): row[edition] for row in _FACTS for edition in BOOKS if edition in row}
"""What each edition says of each procedure."""
CHECKED: dict[tuple[str, str], str] = {(row["id"], edition): text for row in _FACTS for edition, text in row["checked"].items()}
"""Where that was seen."""


def row_id(row: str) -> str:
    """The row of the rule data: all stand under relief but the one on where a previous stroke was made."""
    return row if row == "stroke-and-distance-spot" else f"relief.{row}"


def held(row: str, edition: str) -> EditionRow:
    """What the rule data says."""
    return CATALOGUE.rows[row_id(row)].editions[edition]


def word(row: str, edition: str, part: str) -> str:
    """A word of the rule data; empty where the edition has none."""
    value = held(row, edition).values.get(part, "")
    assert isinstance(value, str)
    return value


def words(row: str, edition: str, part: str) -> frozenset[str]:
    """A list of words of the rule data."""
    value = held(row, edition).values.get(part, ())
    assert isinstance(value, tuple)
    return frozenset(word for word in value if isinstance(word, str))


def says(row: str, edition: str, part: str) -> bool:
    """A yes or no of the rule data."""
    return bool(held(row, edition).values.get(part, False))


def longest(table: dict[str, str], text: str) -> str:
    """The entry of the longest beginning that fits a text."""
    return table[max((start for start in table if text.startswith(start)), key=len)]


REFERENCES = {
    "nearest point of relief": "nearest-point-of-complete-relief",
    "nearest point of complete relief": "nearest-point-of-complete-relief",
    "nearest point not nearer hole that avoids intervention": "nearest-point-of-complete-relief",
    "spot of ball": "ball-spot",
    "spot where ball lay": "ball-spot",
    "spot directly under": "ball-spot",
    "estimated point right under where ball lay": "ball-spot",
    "estimated point right under where it first came to rest": "ball-spot",
    "point right under": "ball-spot",
    "any place in the teeing area": "ball-spot",
    "point right behind the embedded ball": "spot-behind-ball",
    "spot right behind the embedded ball": "spot-behind-ball",
    "spot of previous stroke": "previous-stroke",
    "estimated crossing point": "crossing-point",
    "point where ball last crossed the margin": "crossing-point",
    "point on opposite margin": "opposite-edge",
    "estimated point on the opposite edge": "opposite-edge",
    "spot directly under where ball last crossed": "stated-crossing",
    "estimated point right under where ball last crossed": "stated-crossing",
    "as above": "stated-crossing",
    "line from hole through": "point-on-line",
    "chosen point on the line": "point-on-line",
    "spot on the line where dropped ball first touches": "point-on-line",
    "spot where the ball first touched the ground": "point-on-line",
    "estimated spot where the ball would have come to rest": "estimated-spot",
    "ball reference point": "estimated-spot",
}
"""First words of a reference point; the longest that fits counts."""

SHAPES = {
    "disc": "disc",
    "disc in any direction": "disc",
    "strip about the line": "strip",
    "line": "line",
    "spot": "spot",
    "as near as possible": "near-spot",
    "as near as possible to the spot": "near-spot",
    "as near as possible to the spot (tee, place on green)": "previous-spot",
    "as near as possible to the spot (tee again anywhere on teeing ground; place on green)": "previous-spot",
}
BY_REFERENCE = {
    "chosen point on the line": "disc-at-chosen-point",
    "spot on the line where dropped ball first touches": "disc-at-first-touch",
    "spot where the ball first touched the ground": "disc-at-first-touch",
    "spot of previous stroke": "previous-spot",
    "any place in the teeing area": "teeing-area",
    "ball reference point": "band-to-fairway",
}
"""Shapes that the facts call after another shape and that the reference point tells apart."""

NO_NEARER = {
    "reference-point": "reference-point",
    "spot of ball": "ball-spot",
    "spot of ball (bunker, unplayable) or crossing point (penalty area)": "ball-spot",
    "crossing point": "crossing-point",
    "point where ball last crossed the margin": "crossing-point",
    "ball reference point": "reference-point",
    "-": "nothing",
}
PUT = {
    "drop": "drop",
    "drop on the line": "drop",
    "drop; place on the green": "drop, on the green on the spot",
    "drop; place on green": "drop, on the green on the spot",
    "drop; place on the spot on the green": "drop, on the green on the spot",
    "drop (place if on green)": "drop, on the green on the spot",
    "drop as near as possible to the spot (through the green, hazard); place on green": "drop, on the green on the spot",
    "drop in and rest in the zone (the zone is the relief area)": "drop",
    "drop, must first strike the zone": "drop",
    "place": "place",
    "place or tee anywhere in it, or play as it lies": "play",
    "replace": "replace",
    "replace on estimated spot": "replace",
    "replace on estimated spot, on under or against attached objects as it was": "replace",
}
WHICH = {
    "any ball": "any",
    "another ball allowed": "any",
    "original": "original",
    "original, another only if it cannot be recovered at once": "original-if-recoverable",
    "original; another allowed if it cannot be recovered with reasonable effort in a few seconds, is cut or cracked, play was stopped, "
    "or another player played it as a wrong ball": "original-if-recoverable",
}
ALL = frozenset({"general-area", "bunker", "penalty-area", "putting-green", "teeing-area"})
IN_AREAS = {
    "general area": frozenset({"general-area"}),
    "through the green": frozenset({"general-area"}),
    "through the green, closely-mown area only (fairway height or less); whole through the green by Local Rule": frozenset(
        {"general-area"}
    ),
    "putting green": frozenset({"putting-green"}),
    "same bunker": frozenset({"bunker"}),
    "same bunker, drop and rest": frozenset({"bunker"}),
}
KEEPS_TO = {
    "same bunker": "same-bunker",
    "same bunker, drop and rest": "same-bunker",
    "same area as reference point": "area-of-reference",
    "same area": "area-of-reference",
    "same area where ball lay": "area-of-ball",
    "same area of the course": "area-of-ball",
}
LEAVES = {"same hazard": "same-penalty-area", "same penalty area": "same-penalty-area", "same bunker": "same-bunker"}
BODY = frozenset({"lie", "stance", "swing"})
CLEAR_OF = {
    "obstruction": BODY,
    "obstruction at the spot of first landing; redrop if it rolls back into interference": BODY,
    "obstruction, and line of putt if object is on green": BODY | {"line-of-play-on-green"},
    "condition at first landing": BODY,
    "lie, stance, swing": BODY,
    "lie, stance and swing": BODY,
    "lie, stance and swing, everywhere in the relief area": BODY,
    "lie, stance, swing (or as much as available)": BODY,
    "lie, stance, swing, line of play": BODY | {"line-of-play"},
}
INTERFERENCE = {
    "ball on it only; stance or swing is not interference": frozenset({"lie"}),
    "ball, stance or swing": BODY,
    "ball touching it, intended stance or intended swing": BODY,
}
ON_THE_LINE = {
    "on the green only, condition on the green crossing the line of putt also interferes": "line-of-play-on-green",
    "on the green only, condition on or off the green crossing the line of play also interferes": "line-of-play",
}
MOST_RELIEF = {
    "False": "nothing",
    "True": "most-relief-with-area",
    "gives a reference point with a full club-length area": "most-relief-with-area",
    "drop as near as possible to the spot of ball at the place giving most relief: exact spot, no club-length": "most-relief-on-spot",
}
BARRED_BY = {
    "stroke clearly": "another_reason_makes_stroke_unreasonable",
    "interference only through": "interference_only_by_unreasonable_stroke",
    "embedded in sand": "embedded_in_sand",
    "in sand in general area": "embedded_in_sand",
    "ball known or virtually certain in a penalty area": "known_in_penalty_area",
    "another ball already played provisionally": "provisional_played",
}
"""First words of a reason that takes the relief away."""

FOLLOWED = {
    "as 16.1b": {"ground-condition-general-area"},
    "as 16.1c": {"ground-condition-bunker-free", "ground-condition-bunker-outside"},
    "as 16.1d": {"ground-condition-putting-green"},
    "free, 1 club-length of nearest safe spot": {"ground-condition-general-area"},
    "free, 20 inches of nearest point of complete relief": {"ground-condition-general-area"},
    "free in bunker, or outside for 1 stroke back on line": {"ground-condition-bunker-free", "ground-condition-bunker-outside"},
}
"""Procedures that a sentence about one area of the course means."""
OPTIONS = {
    "stroke-and-distance": "penalty-area-stroke-and-distance",
    "back-on-line": "penalty-area-back-on-line",
    "back-on-line from the last crossing point": "penalty-area-back-on-line",
    "lateral": "penalty-area-lateral-red",
    "last stroke made outside": "played-from-penalty-area-into-same",
    "dropping zone": "dropping-zone",
}
TESTS = {
    "in its own pitch-mark": "in_own_pitch_mark",
    "part of it below the level": "below_ground_level",
    "trodden in": "trodden_in",
    "driven in without being airborne": "never_airborne",
    "result of a drop": "embedded_by_drop",
}
PROVISIONAL_UNTIL = {"player or partner goes forward to search": "gone_forward_to_search", "search time ends": "search_time_ended"}
