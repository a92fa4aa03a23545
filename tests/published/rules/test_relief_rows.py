"""Every relief procedure of the rule data against the collected facts, value by value, in all four editions.

Source: relief_procedures.yaml beside this file, in which each edition of each row names the published title that its values were seen in,
or says that they are from memory. How its words map to those of the rule data stands in tests/support/relief_words.py. Where the two
differ on purpose, ``EXPLAINED`` says why, and an explanation that explains nothing fails; what cannot be compared stands in
``NOT_COMPARED``.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TypeAlias

import pytest

from marram.core.units import INCH_M, LengthUnit, Size
from tests.support.relief_words import (
    ALL, BARRED_BY, BODY, BOOKS, BY_REFERENCE, CATALOGUE, CELLS, CLEAR_OF, FOLLOWED, IN_AREAS, INTERFERENCE, KEEPS_TO, LEAVES, MOST_RELIEF,
    NO_NEARER, ON_THE_LINE, OPTIONS, PROVISIONAL_UNTIL, PUT, REFERENCES, SHAPES, TESTS, WHICH, Cell, held, longest, row_id, says, word, words,
)  # fmt: skip

Value: TypeAlias = "str | bool | int | Size | frozenset[str] | None"
Pair: TypeAlias = "tuple[Value, Value]"
Compare: TypeAlias = "Callable[[Cell, str, str], tuple[Value, Value]]"
_ON_LINE = ("line from hole", "chosen point on the line", "spot on the line", "spot where the ball first touched")


def measured_by(row: str, edition: str) -> str:
    """The row that measures: a procedure that follows others is compared by the one for most of the course."""
    return next((name for name in sorted(words(row, edition, "follow")) if name.endswith("general-area")), row)


def listed(cell: Cell, name: str) -> list[str]:
    value = cell.get(name, [])
    return value if isinstance(value, list) else [str(value)]


def is_on_line(cell: Cell) -> bool:
    return cell.get("shape") == "line" or str(cell.get("reference_point", "")).startswith(_ON_LINE)


# Each comparison gives what the facts say and what the rule data says, in the words of the rule data --------------------------------


def allowed(cell: Cell, row: str, edition: str) -> Pair:
    return bool(cell["allowed"]), says(row, edition, "allowed")


def penalty_strokes(cell: Cell, row: str, edition: str) -> Pair:
    stated, strokes = cell["penalty_strokes"], held(row, edition).values.get("penalty_strokes")
    assert strokes is None or isinstance(strokes, int)
    return (None if stated == "that of the Rule used" else str(stated)), (None if strokes is None else str(strokes))


def size(cell: Cell, row: str, edition: str) -> Pair:
    stated, key = cell["size"], f"{row_id(measured_by(row, edition))}.size"
    found = BOOKS[edition].size(key).value if BOOKS[edition].has(key) else None
    if not isinstance(stated, dict):
        return (None if stated == "unlimited back" else str(stated)), found
    if "exact_spot" in stated:
        return None, found
    unit = LengthUnit.CLUB_LENGTHS if "club_lengths" in stated else LengthUnit.INCHES
    amount = stated[unit.value]
    assert isinstance(amount, int)
    if "mm" in stated:
        assert stated["mm"] == pytest.approx(amount * INCH_M * 1000)
    return Size(amount=float(amount), unit=unit), found


def reference_point(cell: Cell, row: str, edition: str) -> Pair:
    expected = "point-on-line" if is_on_line(cell) else longest(REFERENCES, str(cell["reference_point"]))
    return expected, word(measured_by(row, edition), edition, "reference")


def line_from(cell: Cell, row: str, edition: str) -> Pair:
    """Which point the line from the hole runs through."""
    text = f"{cell.get('reference_point', '')} {cell.get('not_nearer_hole_than', '')}"
    through = "crossing-point" if "cross" in text else "ball-spot"
    return ("crossing-or-ball" if "cross" in text and "spot of ball" in text else through), word(row, edition, "line_from")


def shape(cell: Cell, row: str, edition: str) -> Pair:
    by_reference = [start for start in BY_REFERENCE if str(cell.get("reference_point", "")).startswith(start)]
    expected = BY_REFERENCE[by_reference[0]] if by_reference else SHAPES[str(cell["shape"])]
    return expected, word(measured_by(row, edition), edition, "shape")


def not_nearer_hole_than(cell: Cell, row: str, edition: str) -> Pair:
    expected, found = NO_NEARER[str(cell["not_nearer_hole_than"])], word(row, edition, "no_nearer_than")
    if word(row, edition, "shape") in {"spot", "line"}:
        return expected, expected if found in {expected, "reference-point"} else found  # the ball lies on the point or the line itself
    if expected == "ball-spot" and word(row, edition, "reference") == "ball-spot" and found == "reference-point":
        return expected, expected  # the reference point is the ball's spot
    return expected, found


def ball_is(cell: Cell, row: str, edition: str) -> Pair:
    on_green = ", on the green on the spot"
    expected = PUT[str(cell["ball_is"])] + (on_green if "would_rest_on_green" in cell else "")
    return expected, word(row, edition, "put") + (on_green if says(row, edition, "spot_on_green") else "")


def ball_to_use(cell: Cell, row: str, edition: str) -> Pair:
    return WHICH[str(cell["ball_to_use"])], word(row, edition, "which")


def ground(cell: Cell, row: str, edition: str) -> Pair:
    """The areas of the course in which the ball may be dropped."""
    stated = [IN_AREAS[text] for text in listed(cell, "must_be_in") if text in IN_AREAS]
    expected = frozenset().union(*stated) if stated else ALL
    barred = listed(cell, "must_not_be_in")
    if "hazard" in barred:
        expected -= {"bunker", "penalty-area"}
    if any(text.startswith("putting green") for text in barred):
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
    return any(text.startswith("putting green") for text in listed(cell, "must_not_be_in")), says(row, edition, "off_greens")


def off_fairway_height(cell: Cell, row: str, edition: str) -> Pair:
    return any(text.startswith("fairway height") for text in listed(cell, "must_not_be_in")), says(row, edition, "off_fairway_height")


def lies_on(cell: Cell, row: str, edition: str) -> Pair:
    text = f"{cell.get('must_be_in', '')} {cell.get('ball_must_lie_on', '')} {cell.get('applies_when', '')}"
    return ("fairway-height" if "fairway height or less" in text else "anywhere"), word(row, edition, "lies_on")


def must_rest_in_area_first_touched(cell: Cell, row: str, edition: str) -> Pair:
    return bool(cell.get("must_rest_in_area_first_touched", False)), says(row, edition, "rests_in_area_first_touched")


def complete_relief_from(cell: Cell, row: str, edition: str) -> Pair:
    return CLEAR_OF[str(cell["complete_relief_from"])], words(row, edition, "clear_of")


def interference(cell: Cell, row: str, edition: str) -> Pair:
    return INTERFERENCE[str(cell["interference"])], words(row, edition, "clear_of")


def interference_extra(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset({ON_THE_LINE[str(cell["interference_extra"])]}), words(row, edition, "clear_of") - BODY


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
    return bool(cell["mandatory"]), says(row, edition, "mandatory")


def use_rows(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset(listed(cell, "use_rows")), words(row, edition, "follow")


def applies_to(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset(listed(cell, "applies_to")), words(row, edition, "follow") - {"wheeled-device-lateral"}


def in_bunker(cell: Cell, row: str, edition: str) -> Pair:
    """A ball in a bunker comes to this row only through the one that keeps it in the bunker."""
    leader = "unplayable-in-bunker-normal"
    kept = word(leader, edition, "keeps_to") if row in words(leader, edition, "follow") else "nowhere"
    return "same-bunker", kept if "bunker" not in words(row, edition, "ball_in") else "nowhere"


def followed_in_area(name: str) -> Compare:
    def compare(cell: Cell, row: str, edition: str) -> Pair:
        expected = frozenset(FOLLOWED[str(cell[name])])
        return expected, words(row, edition, "follow") & expected

    return compare


def outside_options(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset(longest(OPTIONS, text) for text in listed(cell, "outside_options")), words(row, edition, "follow")


def relief_options_for_the_provisional(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset(longest(OPTIONS, text) for text in listed(cell, "relief_options_for_the_provisional")), words(row, edition, "follow")


def outside_area(cell: Cell, row: str, edition: str) -> Pair:
    return int(str(cell["outside_area"])[0]), held(row, edition).values["penalty_strokes"] == 2 and 2


def needs(cell: Cell, row: str, edition: str) -> Pair:
    """Failing knowledge there is stroke and distance alone; the other options need the knowledge."""
    options = ("penalty-area-stroke-and-distance", "penalty-area-back-on-line", "penalty-area-lateral-red")
    asked = {fact for name in options for fact in words(name, edition, "needs_if_not_found")}
    return frozenset({"known_in_penalty_area"}), frozenset(asked) & words(row, edition, "barred_by")


def before(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset({PROVISIONAL_UNTIL[str(cell["before"])]}), words(row, edition, "barred_by")


def only_after(cell: Cell, row: str, edition: str) -> Pair:
    return True, "stroke_from_green" in words(row, edition, "barred_by")


def not_in(cell: Cell, row: str, edition: str) -> Pair:
    barred = {"bunker", "penalty-area"} if listed(cell, "not_in") else set()
    return ALL - barred, words(row, edition, "ball_in")


def anywhere(cell: Cell, row: str, edition: str) -> Pair:
    return ALL | {"out-of-bounds"}, words(row, edition, "ball_in")


def where(cell: Cell, row: str, edition: str) -> Pair:
    return ALL - {"penalty-area"}, words(row, edition, "ball_in") - {"not-found"}


def used_in(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset(text.replace(" ", "-") for text in listed(cell, "used_in")), words(row, edition, "ball_in")


def may_be_in(cell: Cell, row: str, edition: str) -> Pair:
    return ALL, words(row, edition, "in_areas")


def may_be_off_green(cell: Cell, row: str, edition: str) -> Pair:
    return bool(cell["may_be_off_green"]), "general-area" in words(row, edition, "in_areas")


def may_be_nearer_hole(cell: Cell, row: str, edition: str) -> Pair:
    return "nothing", word(row, edition, "no_nearer_than")


def stance_only(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset({"lie"}), words(row, edition, "clear_of")


def stance_includes(cell: Cell, row: str, edition: str) -> Pair:
    return True, says(row, edition, "stance_includes_device")


def condition(cell: Cell, row: str, edition: str) -> Pair:
    """Both distances are two club-lengths, of an object on the line of play."""
    assert str(cell["condition"]).count("within 2 club-lengths of") == 2
    book = BOOKS[edition]
    lengths = {book.size(f"near-green.{part}").value.words for part in ("from_green", "from_ball")}
    marks = {"near green"} if says(row, edition, "object_near_green") else set()
    return frozenset({"2 club-lengths", "near green", "line-of-play"}), frozenset(lengths | marks | (words(row, edition, "clear_of") - BODY))


def embedded_when(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset(longest(TESTS, text) for text in listed(cell, "embedded_when")), words(row, edition, "all_of")


def not_embedded_when(cell: Cell, row: str, edition: str) -> Pair:
    return frozenset(longest(TESTS, text) for text in listed(cell, "not_embedded_when")), words(row, edition, "none_of")


def ball_need_be_found(cell: Cell, row: str, edition: str) -> Pair:
    return bool(cell["ball_need_be_found"]), "not-found" not in words(row, edition, "ball_in")


def ball_moves(cell: Cell, row: str, edition: str) -> Pair:
    """The strokes where the ball moves off the green, then on the green."""
    stated = cell["ball_moves"]
    texts = [str(text) for text in stated.values()] if isinstance(stated, dict) else [str(stated)] * 2
    values = held(row, edition).values
    return f"{texts[0][0]}, {texts[1][0]}", f"{values['strokes_if_moved']}, {values['strokes_if_moved_on_green']}"


def wheeled_device_penalty_strokes(cell: Cell, row: str, edition: str) -> Pair:
    return cell["wheeled_device_penalty_strokes"] == 1, held("wheeled-device-bunker", edition).values["penalty_strokes"] == 1


def steps(cell: Cell, row: str, edition: str) -> Pair:
    """Twice on its spot, then the nearest spot."""
    assert len(listed(cell, "steps")) == 2
    return "2", str(held(row, edition).values["tries"])


COMPARED: dict[str, Compare] = {
    compare.__name__: compare
    for compare in (
        allowed, penalty_strokes, size, reference_point, shape, not_nearer_hole_than, ball_is, ball_to_use, complete_relief_from,
        interference, interference_extra, line_of_play_counts, maximum_available_relief, not_allowed_when, mandatory, use_rows, applies_to,
        in_bunker, outside_options, relief_options_for_the_provisional, outside_area, needs, before, only_after, not_in, anywhere, where,
        used_in, may_be_in, may_be_off_green, may_be_nearer_hole, stance_only, stance_includes, condition, embedded_when, not_embedded_when,
        ball_need_be_found, ball_moves, wheeled_device_penalty_strokes, steps,
    )
} | {"stroke_from_green": only_after, "penalty_area": lambda cell, row, edition: (True, held("dangerous-animal-in-penalty-area", edition).values["penalty_strokes"] == 0)}  # fmt: skip
"""Values compared wherever the facts state them."""
