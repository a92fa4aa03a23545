"""Every relief procedure of the rule data against the collected facts, value by value, in all four editions.

Source: relief_procedures.yaml beside this file, in which each edition of each row names the published title that its values were seen in,
or says that they are from memory. The facts speak in sentences and the rule data in closed lists of words; how one maps to the other
stands once, in the tables below. Where the two cannot be compared, or differ on purpose, ``EXPLAINED`` says why, and an explanation that
explains nothing fails.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

import pytest
import yaml

from marram.core.units import INCH_M, LengthUnit, Size
from marram.rulebook import open_book, packaged_catalogue
from marram.rulebook.catalogue import EditionRow

Fact: TypeAlias = "str | bool | int | list[str] | dict[str, str | float | bool]"
Cell: TypeAlias = "dict[str, Fact]"
Value: TypeAlias = "str | bool | int | Size | frozenset[str] | None"

CATALOGUE = packaged_catalogue()
BOOKS = {edition: open_book(edition, [], CATALOGUE) for edition in CATALOGUE.editions}
_FACTS = yaml.safe_load(Path(__file__).with_name("relief_procedures.yaml").read_text(encoding="utf-8"))["relief_procedures"]
CELLS: dict[tuple[str, str], Cell] = {(row["id"], edition): row[edition] for row in _FACTS for edition in BOOKS if edition in row}
CHECKED: dict[tuple[str, str], str] = {(row["id"], edition): text for row in _FACTS for edition, text in row["checked"].items()}
FAMILY = {"stroke-and-distance-spot": "", "embedded-ball-test": "relief."}
"""Rows that stand under another family of names in the rule data; all others are relief.<id>."""


def row_id(row: str) -> str:
    return FAMILY.get(row, "relief.") + row


def ours(row: str, edition: str) -> EditionRow:
    return CATALOGUE.rows[row_id(row)].editions[edition]


def word(row: str, edition: str, part: str) -> str:
    value = ours(row, edition).values.get(part, "")
    assert isinstance(value, str)
    return value


def words(row: str, edition: str, part: str) -> frozenset[str]:
    value = ours(row, edition).values.get(part, ())
    assert isinstance(value, tuple)
    return frozenset(value)


# What the facts' words are in the rule data ------------------------------------------------------------------------------------------

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

# How a value of the facts and ours are set side by side: what is expected, and what the rule data says -------------------------------

Pair: TypeAlias = "tuple[Value, Value]"


def longest(table: dict[str, str], text: str) -> str:
    return table[max((start for start in table if text.startswith(start)), key=len)]


def allowed(cell: Cell, row: str, edition: str) -> Pair:
    return bool(cell["allowed"]), bool(ours(row, edition).values["allowed"])


def penalty_strokes(cell: Cell, row: str, edition: str) -> Pair:
    strokes = ours(row, edition).values.get("penalty_strokes")
    assert strokes is None or isinstance(strokes, int)
    return cell["penalty_strokes"] if isinstance(cell["penalty_strokes"], int) else None, strokes


def size(cell: Cell, row: str, edition: str) -> Pair:
    stated, key = cell["size"], f"{row_id(row)}.size"
    held = BOOKS[edition].size(key).value if BOOKS[edition].has(key) else None
    if not isinstance(stated, dict):
        return (None if stated == "unlimited back" else str(stated)), held
    if "exact_spot" in stated:
        return None, held
    unit = LengthUnit.CLUB_LENGTHS if "club_lengths" in stated else LengthUnit.INCHES
    if "mm" in stated:
        assert float(stated["mm"]) == pytest.approx(float(stated["inches"]) * INCH_M * 1000)
    return Size(amount=float(stated[unit.value]), unit=unit), held


def reference_point(cell: Cell, row: str, edition: str) -> Pair:
    return longest(REFERENCES, str(cell["reference_point"])), word(row, edition, "reference")


def line_from(cell: Cell, row: str, edition: str) -> Pair:
    """Which point the line from the hole runs through, where the facts name it."""
    text = f"{cell.get('reference_point', '')} {cell.get('not_nearer_hole_than', '')}"
    through = "crossing-point" if "cross" in text else "ball-spot"
    return ("crossing-or-ball" if "cross" in text and "spot of ball" in text else through), word(row, edition, "line_from")


def shape(cell: Cell, row: str, edition: str) -> Pair:
    by_reference = [start for start in BY_REFERENCE if str(cell.get("reference_point", "")).startswith(start)]
    expected = BY_REFERENCE[by_reference[0]] if by_reference else SHAPES[str(cell["shape"])]
    return expected, word(row, edition, "shape")


def not_nearer_hole_than(cell: Cell, row: str, edition: str) -> Pair:
    expected, held = NO_NEARER[str(cell["not_nearer_hole_than"])], word(row, edition, "no_nearer_than")
    if word(row, edition, "shape") in {"spot", "line"}:
        return expected, expected if held in {expected, "reference-point"} else held  # the ball lies on the point or the line itself
    if expected == "ball-spot" and word(row, edition, "reference") == "ball-spot" and held == "reference-point":
        return expected, expected  # the reference point is the ball's spot
    return expected, held


def ball_is(cell: Cell, row: str, edition: str) -> Pair:
    on_green = ", on the green on the spot" if ours(row, edition).values.get("spot_on_green") else ""
    return PUT[str(cell["ball_is"])], word(row, edition, "put") + on_green


def ball_to_use(cell: Cell, row: str, edition: str) -> Pair:
    return WHICH[str(cell["ball_to_use"])], word(row, edition, "which")


def listed(cell: Cell, name: str) -> list[str]:
    value = cell.get(name, [])
    assert isinstance(value, list)
    return value


def ground(cell: Cell, row: str, edition: str) -> Pair:
    """The areas of the course in which the ball may be dropped, as far as the facts name them."""
    stated = [IN_AREAS[text] for text in listed(cell, "must_be_in") if text in IN_AREAS]
    expected = frozenset().union(*stated) if stated else ALL
    barred = " ".join(listed(cell, "must_not_be_in"))
    if re.search(r"(^| )hazard", barred) and "same hazard" not in barred:
        expected -= {"bunker", "penalty-area"}
    if "putting green" in barred:
        expected -= {"putting-green"}
    return expected, words(row, edition, "in_areas")


def keeps_to(cell: Cell, row: str, edition: str) -> Pair:
    stated = [KEEPS_TO[text] for text in listed(cell, "must_be_in") if text in KEEPS_TO]
    return (stated[0] if stated else "anywhere"), word(row, edition, "keeps_to")


def leaves(cell: Cell, row: str, edition: str) -> Pair:
    stated = [LEAVES[text] for text in listed(cell, "must_not_be_in") if text in LEAVES]
    return (stated[0] if stated else "nothing"), word(row, edition, "leaves")


def off_greens(cell: Cell, row: str, edition: str) -> Pair:
    """Greens of other holes are general area, so that a bar on greens must be said besides."""
    barred = any(text.startswith("putting green") for text in listed(cell, "must_not_be_in"))
    return barred, bool(ours(row, edition).values["off_greens"])


def off_fairway_height(cell: Cell, row: str, edition: str) -> Pair:
    barred = any(text.startswith("fairway height") for text in listed(cell, "must_not_be_in"))
    return barred, bool(ours(row, edition).values["off_fairway_height"])


def lies_on(cell: Cell, row: str, edition: str) -> Pair:
    text = f"{cell.get('must_be_in', '')} {cell.get('ball_must_lie_on', '')} {cell.get('applies_when', '')}"
    return ("fairway-height" if "fairway height or less" in text else "anywhere"), word(row, edition, "lies_on")


def must_rest_in_area_first_touched(cell: Cell, row: str, edition: str) -> Pair:
    stated = bool(cell.get("must_rest_in_area_first_touched", False))
    return stated, bool(ours(row, edition).values["rests_in_area_first_touched"])


def complete_relief_from(cell: Cell, row: str, edition: str) -> Pair:
    return CLEAR_OF[str(cell["complete_relief_from"])], words(row, edition, "clear_of")


def interference(cell: Cell, row: str, edition: str) -> Pair:
    return INTERFERENCE[str(cell["interference"])], words(row, edition, "clear_of")


def interference_extra(cell: Cell, row: str, edition: str) -> Pair:
    on_line = words(row, edition, "clear_of") - BODY
    return frozenset({ON_THE_LINE[str(cell["interference_extra"])]}), on_line


def line_of_play_counts(cell: Cell, row: str, edition: str) -> Pair:
    return bool(cell["line_of_play_counts"]), bool(words(row, edition, "clear_of") - BODY)


def maximum_available_relief(cell: Cell, row: str, edition: str) -> Pair:
    """On the green the ball is placed on the point; in a bunker the edition says whether there is an area about it."""
    expected = MOST_RELIEF[str(cell["maximum_available_relief"])]
    if word(row, edition, "shape") == "spot" and expected != "nothing":
        expected = "most-relief-on-spot"
    return expected, word(row, edition, "failing_that")


def not_allowed_when(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset(longest(BARRED_BY, text) for text in listed(cell, "not_allowed_when")), words(row, edition, "barred_by")


def mandatory(cell: Cell, row: str, edition: str) -> Pair:
    return bool(cell["mandatory"]), bool(ours(row, edition).values["mandatory"])


def use_rows(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset(listed(cell, "use_rows")), words(row, edition, "follow")


def applies_to(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset(listed(cell, "applies_to")), words(row, edition, "follow") - {"wheeled-device-lateral"}


def ball_need_be_found(cell: Cell, row: str, edition: str) -> Pair:
    return bool(cell["ball_need_be_found"]), "not-found" not in words(row, edition, "ball_in")


def ball_moves(cell: Cell, row: str, edition: str) -> Pair:
    """The strokes where the ball moves off the green, on the green."""
    stated = cell["ball_moves"]
    texts = [str(text) for text in stated.values()] if isinstance(stated, dict) else [str(stated)] * 2
    values = ours(row, edition).values
    return f"{texts[0][0]}, {texts[1][0]}", f"{values['strokes_if_moved']}, {values['strokes_if_moved_on_green']}"


Compare: TypeAlias = "Callable[[Cell, str, str], tuple[Value, Value]]"
COMPARED: dict[str, Compare] = {
    compare.__name__: compare
    for compare in (
        allowed, penalty_strokes, size, reference_point, shape, not_nearer_hole_than, ball_is, ball_to_use, complete_relief_from,
        interference, interference_extra, line_of_play_counts, maximum_available_relief, not_allowed_when, mandatory, use_rows, applies_to,
        ball_need_be_found, ball_moves,
    )
}  # fmt: skip
"""Values compared wherever the facts state them."""
ALWAYS: dict[str, Compare] = {
    compare.__name__: compare
    for compare in (ground, keeps_to, leaves, off_greens, off_fairway_height, lies_on, must_rest_in_area_first_touched)
}
"""Limits compared also where the facts state none, of every procedure with a reference point: no limit may come from nowhere."""


def statements() -> list[tuple[str, str, str]]:
    found = []
    for (row, edition), cell in CELLS.items():
        found += [(row, edition, name) for name in COMPARED if name in cell]
        if "reference_point" in cell:
            found += [(row, edition, name) for name in ALWAYS]
            found += [(row, edition, "line_from")] if "line" in str(cell["reference_point"]).split() else []
    return found


EXPLAINED: dict[tuple[str, str, str], str] = {}


def explained(row: str, edition: str, name: str) -> str:
    return EXPLAINED.get((row, edition, name)) or EXPLAINED.get((row, "*", name), "")


def pair(row: str, edition: str, name: str) -> Pair:
    compare = COMPARED.get(name) or ALWAYS.get(name) or line_from
    return compare(CELLS[row, edition], row, edition)


@pytest.mark.parametrize(("row", "edition", "name"), statements())
def test_value(row: str, edition: str, name: str) -> None:
    expected, held = pair(row, edition, name)
    assert (expected == held) is not bool(explained(row, edition, name)), f"facts: {expected}; rule data: {held}"
