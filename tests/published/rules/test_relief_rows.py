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
    ALL,
    BARRED_BY,
    BODY,
    BOOKS,
    BY_REFERENCE,
    CATALOGUE,
    CELLS,
    CLEAR_OF,
    FOLLOWED,
    IN_AREAS,
    INTERFERENCE,
    KEEPS_TO,
    LEAVES,
    MOST_RELIEF,
    NO_NEARER,
    ON_THE_LINE,
    OPTIONS,
    PROVISIONAL_UNTIL,
    PUT,
    REFERENCES,
    SHAPES,
    TESTS,
    WHICH,
    Cell,
    held,
    longest,
    row_id,
    says,
    word,
    words,
)

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
    return frozenset({"known_in_penalty_area"}), frozenset(asked) & words(row, edition, "needs_not")


def before(cell: Cell, row: str, edition: str) -> Pair:
    until = PROVISIONAL_UNTIL[str(cell["before"])]
    return True, until in words(row, edition, "barred_by")


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
    return frozenset({"two club-lengths", "near green", "line-of-play"}), frozenset(
        lengths | marks | (words(row, edition, "clear_of") - BODY)
    )


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


def stroke_from_green(cell: Cell, row: str, edition: str) -> Pair:
    """After a stroke from the green the stroke is made again instead."""
    return cell["stroke_from_green"] == "replay", "stroke_from_green" in words(row, edition, "barred_by")


def penalty_area(cell: Cell, row: str, edition: str) -> Pair:
    """Free inside the same penalty area, one club-length; a row of its own."""
    inside = "dangerous-animal-in-penalty-area"
    strokes, kept = held(inside, edition).values["penalty_strokes"], word(inside, edition, "keeps_to")
    length = BOOKS[edition].size(f"{row_id(inside)}.size").value.words
    return "0 strokes, same-penalty-area, one club-length", f"{strokes} strokes, {kept}, {length}"


def local_rule(cell: Cell, row: str, edition: str) -> Pair:
    """What a local rule would give is compared as if the edition gave it."""
    stated = cell["local_rule"]
    assert isinstance(stated, dict)
    nested: Cell = {name: value for name, value in stated.items()}  # noqa: C416 - a copy under the wider type
    pairs = [compare(nested, row, edition) for name, compare in COMPARED.items() if name in nested]
    pairs += [compare(nested, row, edition) for name, compare in ALWAYS.items() if name != "must_rest_in_area_first_touched"]
    differing = [f"{expected}, not {found}" for expected, found in pairs if expected != found]
    return frozenset[str](), frozenset(differing)


COMPARED: dict[str, Compare] = {
    compare.__name__: compare
    for compare in (
        allowed, penalty_strokes, size, reference_point, shape, not_nearer_hole_than, ball_is, ball_to_use, complete_relief_from,
        interference, interference_extra, line_of_play_counts, maximum_available_relief, not_allowed_when, mandatory, use_rows, applies_to,
        in_bunker, outside_options, relief_options_for_the_provisional, outside_area, needs, before, only_after, not_in, anywhere, where,
        used_in, may_be_in, may_be_off_green, may_be_nearer_hole, stance_only, stance_includes, condition, embedded_when, not_embedded_when,
        ball_need_be_found, ball_moves, wheeled_device_penalty_strokes, steps, stroke_from_green, penalty_area, local_rule,
    )
}  # fmt: skip
"""Values compared wherever the facts state them."""
COMPARED |= {name: followed_in_area(name) for name in ("general", "bunker", "putting_green")}
ALWAYS: dict[str, Compare] = {
    compare.__name__: compare
    for compare in (ground, keeps_to, leaves, off_greens, off_fairway_height, lies_on, must_rest_in_area_first_touched)
}
"""Limits compared also where the facts state none, of every procedure with a reference point: no limit may come from nowhere."""

IN_LIMITS = {"must_be_in", "must_not_be_in", "must_rest_in_area_first_touched", "ball_must_lie_on", "placed_spot_must_not_be_in"}
"""Words of the facts that the limits read."""

ADVICE = "told as advice or asked as a question; it changes no number"
NOT_COMPARED: dict[str, str] = {
    "rule": "test_relief_sources.py compares it",
    "note": "a remark in the facts as in the rule data",
    "what": "a remark",
    "local_rule_may_deny": "an overlay of its own",
    "local_rule_may_limit_to": "an overlay of its own",
    "local_rule_exceptions": "only with the overlay for relief through the green",
    "may_be_extended_to": "a choice of the Committee within the local rule",
    "from": "the day from which a local rule was published",
    "extra": "the words equal-arc-point and line-of-play of the row; test_every_situation.py measures it",
    "choice": "the situation opens both ways",
    "in_hazard": "rows of their own; test_stands_and_tents.py measures them",
    "as": "the row follows other rows; test_every_situation.py takes it through them",
    "ball_in_penalty_area": "the situation opens the rows of penalty areas",
    "ball_in_zone": "the row bars it, and the situation opens the rows of penalty areas",
    "ball_outside_zone_but_stance_or_swing_in": "what the row itself says; test_every_situation.py measures it",
    "must": "the row follows the rows of conditions and is mandatory, which is compared",
    "equally_likely_in_penalty_area_or_abnormal_condition": "the question known_in_condition asks it",
    "options": "the options of the situation and of this row together; test_worked_examples.py rules on them",
    "in_area": "the procedure lost-or-out-of-bounds, one stroke",
    "crossing_point_for_area_options": "an official states the crossing point that counts",
    "unplayable_outside_also": "the situation unplayable opens both",
    "if_drops_in_hazard_under_stroke_and_distance_then_goes_outside": "needs what has been done already, which an incident does not state",
    "if_drops_in_area_under_stroke_and_distance_then_goes_outside": "needs what has been done already, which an incident does not state",
    "drop_in_hazard_first": "nothing to be done",
    "water_hazard": "dangerous-animal-in-penalty-area, a row of its own",
    "green": "spot_on_green of the row where the facts say place; test_where_a_previous_stroke_was_made compares the other",
    "teeing": "test_where_a_previous_stroke_was_made",
    "general_or_hazard": "test_where_a_previous_stroke_was_made",
    "general_bunker_penalty": "test_where_a_previous_stroke_was_made",
    "penalty": "for another person than the player, and no relief",
    "who": "no ruling asks who decides",
    "name": "a display word",
    "when": ADVICE,
    "announce": ADVICE,
    "becomes_in_play": ADVICE,
    "if_provisional_and_original_cannot_be_told_apart": ADVICE,
    "after_it": ADVICE,
    "original_found_in_penalty_area_in_time": ADVICE,
    "original_not_found": ADVICE,
    "not_needed_when": ADVICE,
    "after_penalty_relief": ADVICE,
    "not_for": ADVICE,
    "fairway_means": "what counts as fairway is surveyed",
    "exceptions": ADVICE,
    "must_first_strike": "asked as not_through_the_green_first",
    "may_roll_forward": "the limit of the 2023 area, which is compared",
    "may_be_nearer_than_chosen_reference_point": "the limit of the area, which is compared",
    "may_rest": "no ruling speaks of where a ball dropped in a zone may rest but by a step",
    "line_marking_zone_is_inside": "how zones are surveyed",
    "player_may_stand_outside": ADVICE,
    "ball_on_green": "the row names the ball on the green and places there; compared as ball_is",
    "ball_may_be_cleaned": ADVICE,
    "must_mark_before_lifting": ADVICE,
    "moves_after_placing": ADVICE,
    "once_only": ADVICE,
    "applies_when": "the ground on which the ball lies is compared as lies_on",
    "place_by": ADVICE,
    "simpler_way": "what the row says",
    "after_stroke_on_green": "barred by stroke_from_green, which is compared",
    "would_rest_on_green": "compared with ball_is",
    "would_be_out_of_bounds": "the situation opens stroke and distance",
    "would_rest_in_penalty_area": "the situation opens the rows of penalty areas",
    "no_such_spot_in_bunker": ADVICE,
    "doubt_whose_pitch_mark": ADVICE,
    "must_touch_soil": "no fact of the test asks for it",
    "criteria": "geometry, measured in tests/properties/test_maximum_relief.py",
    "compare": "geometry, measured in tests/properties/test_maximum_relief.py",
}
"""Values of the facts that no typed value of ours answers, with the reason."""

INFERRED_LIMIT = "the rule data infers the limit from 2019 and says so in seen_of"
EXPLAINED: dict[tuple[str, str, str], str] = {
    ("ball-lost-in-condition", "2016", "not_allowed_when"): "the row follows no procedure for a penalty area, so that it is closed there",
    ("ball-moves-after-drop-by-nature", "2016", "ball_is"): "no relief: the ball is played as it lies, and nothing is put anywhere",
    ("ball-moves-after-drop-by-nature", "draft-2017", "ball_is"): "no relief: the ball is played as it lies, and nothing is put anywhere",
    ("ball-moves-after-drop-by-nature", "2019", "ball_is"): "no relief: the ball is played as it lies, and nothing is put anywhere",
    ("green-edge-obstruction-local-rule", "2016", "shape"): "off the green the ball is dropped at that spot, as near to it as may be",
    ("no-play-zone-in-penalty-area", "2016", "penalty_strokes"): "the row is the free relief; the situation opens those for one stroke",
    ("preferred-lies", "2016", "ball_to_use"): "the specimen, as club sheets of 2009 to 2017 print it, names no other ball",
    ("preferred-lies", "2016", "size"): "the Committee sets it: a club-length from memory, with an overlay for six inches",
    ("preferred-lies", "2019", "size"): "the Committee sets it: a club-length from memory, with an overlay for six inches",
    ("preferred-lies", "2023", "size"): "the Committee sets it: a club-length from memory, with an overlay for six inches",
    ("wrong-green-relief", "draft-2017", "keeps_to"): "the whole row is inferred from 2019, and says so",
    ("unplayable-stroke-and-distance", "draft-2017", "keeps_to"): INFERRED_LIMIT,
    ("lost-or-out-of-bounds", "draft-2017", "keeps_to"): INFERRED_LIMIT,
}
"""Where the rule data differ from the facts, and are right."""


def statements() -> list[tuple[str, str, str]]:
    """Row, edition and value of everything that is compared."""
    found = []
    for (row, edition), cell in CELLS.items():
        names = [name for name in cell if name in COMPARED and row != "stroke-and-distance-spot"]
        names = [name for name in names if name not in {"general", "bunker"} or row == "dangerous-animal"]
        names = [name for name in names if name != "local_rule" or isinstance(cell[name], dict)]
        if row == "deliberate-deflection-place" or "reference_point" in cell:
            names += ALWAYS
        names += ["line_from"] if is_on_line(cell) else []
        found += [(row, edition, name) for name in dict.fromkeys(names)]
    return found


def pair_of(row: str, edition: str, name: str) -> Pair:
    compare = line_from if name == "line_from" else COMPARED.get(name) or ALWAYS[name]
    try:
        return compare(CELLS[row, edition], row, edition)
    except (KeyError, ValueError):
        return "words of the facts that have no counterpart", None


@pytest.mark.parametrize(("row", "edition", "name"), statements())
def test_value(row: str, edition: str, name: str) -> None:
    expected, found = pair_of(row, edition, name)
    assert (expected == found) is ((row, edition, name) not in EXPLAINED), f"facts: {expected}; rule data: {found}"


def test_every_explanation_is_of_a_comparison() -> None:
    assert EXPLAINED.keys() <= set(statements())


def test_every_value_of_the_facts_is_compared_or_listed() -> None:
    names = {name for cell in CELLS.values() for name in cell}
    compared = {name for _, _, name in statements()} | IN_LIMITS
    assert names - compared - NOT_COMPARED.keys() == set()
    assert NOT_COMPARED.keys() & {name for _, _, name in statements()} == set()


def test_the_facts_name_every_procedure() -> None:
    """Rows of our own split one of the facts' rows in two, or hold a size that many rows share."""
    own = {
        "relief.small",
        "relief.lateral",
        "relief.wheeled-device-lateral",
        "relief.dangerous-animal-in-penalty-area",
        "relief.ground-condition-teeing-area",
        "relief.young-trees-in-penalty-area",
        "relief.temporary-obstruction-in-hazard",
        "relief.temporary-obstruction-outside-hazard",
        "relief.condition-ball-not-found",
        "relief.object-ball-not-found",
    }
    named = {row_id(row) for row, _ in CELLS}
    assert {name for name in CATALOGUE.rows if name.startswith("relief.")} - named == own
    assert named <= CATALOGUE.rows.keys()
    assert len(named) == 63


@pytest.mark.parametrize("edition", list(BOOKS))
def test_a_row_is_absent_where_the_facts_state_none(edition: str) -> None:
    absent = {row for row, _ in CELLS if held(row, edition).absent}
    assert absent == {row for row, _ in CELLS if (row, edition) not in CELLS}


@pytest.mark.parametrize("edition", list(BOOKS))
def test_where_a_previous_stroke_was_made(edition: str) -> None:
    row = "stroke-and-distance-spot"
    cell = CELLS[row, edition]
    assert str(cell["teeing"]).startswith("anywhere within teeing")
    assert str(cell["green"]).startswith("place")
    elsewhere = str(cell.get("general_or_hazard") or cell["general_bunker_penalty"])
    has_area = re.search(r"within (.*) of spot", elsewhere)
    assert word(row, edition, "from_teeing_area") == "anywhere-in-teeing-area"
    assert word(row, edition, "from_putting_green") == "place-on-spot"
    assert word(row, edition, "elsewhere") == ("drop-in-relief-area" if has_area else "drop-near-spot")
    if has_area:
        assert has_area[1].replace("1 ", "one ") == BOOKS[edition].size("relief.lost-or-out-of-bounds.size").value.words
