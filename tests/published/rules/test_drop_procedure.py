"""Everything collected on dropping against the rule data, statement by statement, in all four editions.

Source: drop_procedure.yaml beside this file, in which each edition of each row names the published title that its values were seen in,
or says that they are from memory. ``SAYS`` gives, for each statement, what the rule data holds for it; a statement that no value answers
stands in ``EXPLAINED`` with the reason, and a value that no statement speaks of in ``OWN``.
"""

from __future__ import annotations

import json
import re
from typing import TypeAlias

import pytest

from marram.core.units import LengthUnit, Size
from marram.rulebook.catalogue import EditionRow
from marram.rulebook.consequence_words import BallIs, HoleIs
from marram.rulebook.consequences import Consequence
from marram.rulebook.values import PartType, Value
from tests.support.drop_facts import CELLS, CHECKED, Fact, held
from tests.support.relief_words import BOOKS, CATALOGUE

GENERAL = (Consequence(strokes=2, hole=HoleIs.LOST),)
ONE = (Consequence(strokes=1, match_strokes=1),)
NAMES = {"drop-deliberately-stopped": "drop-stopped-on-purpose", "drop-rest-where": "dropped-ball-roll-limit"}
"""Rows that are called otherwise in the rule data."""
TWO_CLUBS = Size(amount=2, unit=LengthUnit.CLUB_LENGTHS)

Held: TypeAlias = "dict[str, Value | None]"
SAYS: dict[tuple[str, str, str], Held] = {
    ("drop-by-whom", "who", '["player"]'): {"drop-by-whom.who": ("player",)},
    ("drop-by-whom", "note", "no caddie or other person; one stroke if not corrected"): {
        "drop-by-whom.by_another": "wrong-way",
        "drop-wrong-way.played_inside": ONE,
    },
    ("drop-by-whom", "partner_events", "either partner may drop for the side"): {"drop-by-whom.partner_may": True},
    ("drop-by-whom", "players_with_disabilities", "any person authorised, where the Committee adopts the Modified Rules"): {
        "drop-by-other-person-disability.allowed": True,
        "drop-by-other-person-disability.by_local_rule": True,
        "drop-by-other-person-disability.adopted": False,
    },
    (
        "drop-by-whom",
        "players_with_disabilities",
        "any person the player authorises, generally if wished (25.2h, 25.3c, 25.4b)",
    ): {
        "drop-by-other-person-disability.allowed": True,
        "drop-by-other-person-disability.by_local_rule": False,
        "drop-by-other-person-disability.adopted": True,
        "drop-by-other-person-disability.general_authorisation": True,
    },
    ("drop-way", "posture", "erect"): {"drop-height.standing_erect": True},
    ("drop-way", "height", "shoulder"): {"drop-height.height": "shoulder"},
    ("drop-way", "height", "knee"): {"drop-height.height": "knee-as-when-standing"},
    ("drop-way", "height", "any, falling through the air, clear of ground, growing things and objects at release"): {
        "drop-height.height": "any-above-ground-and-growth",
        "drop-way.straight_down": False,
        "drop-way.free_of_person_before_ground": False,
    },
    ("drop-way", "arm", "arm's length"): {"drop-height.at_arms_length": True},
    ("drop-way", "no_spin_or_throw", "true"): {"drop-way.may_be_tossed": False},
    ("drop-way", "not_thrown_spun_rolled", "true"): {"drop-way.may_be_tossed": False},
    ("drop-way", "manner", "any, also tossed"): {"drop-way.may_be_tossed": True},
    ("drop-way", "straight_down", "true"): {"drop-way.straight_down": True},
    ("drop-way", "must_not_touch_player_or_equipment_before_ground", "true"): {"drop-way.free_of_person_before_ground": True},
    ("drop-wrong-way", "before_stroke", "may be lifted and dropped again, no penalty (20-6)"): {
        "drop-wrong-way.drop_again": "may",
        "correct-before-playing.strokes": 0,
    },
    ("drop-wrong-way", "before_stroke", "drop again, no penalty"): {
        "drop-wrong-way.drop_again": "must",
        "drop-wrong-way.counts": False,
        "correct-before-playing.strokes": 0,
    },
    ("drop-wrong-way", "before_stroke", "must drop again in right way, no limit of times, no penalty"): {
        "drop-wrong-way.drop_again": "must",
        "drop-wrong-way.times_limited": False,
        "correct-before-playing.strokes": 0,
    },
    ("drop-wrong-way", "if_played", '{"place": "right place", "strokes": 1}'): {"drop-wrong-way.played_inside": ONE},
    ("drop-wrong-way", "if_played", '{"strokes": 1}'): {
        "drop-wrong-way.played_inside": ONE,
        "drop-wrong-way.played_outside": None,
    },
    (
        "drop-wrong-way",
        "if_played",
        '{"inside_relief_area_strokes": 1, "outside_relief_area": "general penalty (14.7a)", '
        '"placed_instead_of_dropped": "general penalty wherever it was"}',
    ): {
        "drop-wrong-way.played_inside": ONE,
        "drop-wrong-way.played_outside": GENERAL,
        "act.placed-when-drop-required.cases": (Consequence(strokes=2, hole=HoleIs.LOST, ball=BallIs.AS_IT_LIES),),
    },
    ("drop-wrong-way", "does_it_count_as_a_drop", "false"): {"drop-wrong-way.counts": False},
    ("drop-first-touch", "first_touch", "a part of the course where the Rule requires it"): {"drop-first-touch.where": "required-ground"},
    ("drop-first-touch", "first_touch", "inside the relief area"): {"drop-first-touch.where": "relief-area"},
    ("drop-first-touch", "first_touch", "inside the relief area; for back-on-the-line on the line itself"): {
        "drop-first-touch.where": "relief-area",
        "back-on-line-drop.first_touch": "line",
    },
    ("drop-first-touch", "else", "dropped in a wrong place: correct before playing, does not count"): {
        "drop-first-touch.otherwise": "wrong-place",
        "drop-first-touch.counts_otherwise": False,
        "correct-before-playing.until": "before-the-stroke",
    },
    ("drop-first-touch", "else", "wrong way: drop again, not counted"): {
        "drop-first-touch.otherwise": "wrong-way",
        "drop-first-touch.counts_otherwise": False,
    },
    ("drop-hits-person-before-ground", "then", "re-drop, no limit"): {
        "drop-hits-person-before-ground.outcome": "drop-again-not-counted",
        "drop-hits-person-before-ground.times_limited": False,
    },
    ("drop-hits-person-before-ground", "then", "no re-drop; judged by where it rests"): {
        "drop-hits-person-before-ground.outcome": "judged-by-rest"
    },
    ("drop-hits-person-before-ground", "then", "wrong way, drop again"): {"drop-hits-person-before-ground.outcome": "wrong-way"},
    ("drop-hits-person-after-ground", "then", "re-drop, no limit"): {
        "drop-hits-person-after-ground.outcome": "drop-again-not-counted",
        "drop-hits-person-after-ground.times_limited": False,
    },
    ("drop-hits-person-after-ground", "then", "no re-drop, judged by where it rests"): {
        "drop-hits-person-after-ground.outcome": "judged-by-rest"
    },
    (
        "drop-hits-person-after-ground",
        "then",
        "no re-drop; if it rests in the relief area it is in play, even against the person or equipment",
    ): {
        "drop-hits-person-after-ground.outcome": "judged-by-rest",
        "drop-hits-person-after-ground.in_play_against_it": True,
        "drop-hits-person-after-ground.whom": "person-or-equipment",
    },
    ("drop-hits-person-after-ground", "persons", "any person or the equipment of any player"): {
        "drop-hits-person-after-ground.whom": "any-person-or-any-players-equipment"
    },
    ("drop-deliberately-stopped", "then", "general penalty under 1-2"): {
        "drop-stopped-on-purpose.outcome": "ball-lies-where-stopped",
        "drop-stopped-on-purpose.for_player": GENERAL,
    },
    ("drop-deliberately-stopped", "strokes", "2"): {"drop-stopped-on-purpose.for_player": GENERAL},
    ("drop-deliberately-stopped", "match_play", "loss-of-hole"): {"drop-stopped-on-purpose.for_player": GENERAL},
    (
        "drop-deliberately-stopped",
        "exception",
        "no penalty when it had already rolled to where it would certainly have to be re-dropped; then re-drop",
    ): {"drop-stopped-on-purpose.without_chance": "drop-again-not-counted"},
    ("drop-deliberately-stopped", "then", "drop again"): {
        "drop-stopped-on-purpose.outcome": "drop-again-not-counted",
        "drop-stopped-on-purpose.for_player": None,
        "drop-stopped-on-purpose.without_chance": None,
    },
    (
        "drop-deliberately-stopped",
        "then",
        "reasonable chance of resting in the relief area: drop again, the drop does not count",
    ): {"drop-stopped-on-purpose.outcome": "drop-again-not-counted"},
    (
        "drop-deliberately-stopped",
        "by_player_or_caddie",
        "general penalty for a player who (or whose caddie) did it, only where there was a reasonable chance",
    ): {"drop-stopped-on-purpose.for_player": GENERAL},
    (
        "drop-deliberately-stopped",
        "no_reasonable_chance",
        "no penalty to anyone; treated as having come to rest outside the relief area; counts as one of the two drops",
    ): {"drop-stopped-on-purpose.without_chance": "as-if-it-rested-outside"},
    ("drop-rest-where", "rest", "anywhere not listed as a re-drop case"): {"dropped-ball-roll-limit.must_rest_in_area": False},
    ("drop-rest-where", "rest", "inside the relief area"): {"dropped-ball-roll-limit.must_rest_in_area": True},
    ("after-second-drop", "then", "place as near as possible to where it first struck the course when re-dropped"): {
        "after-second-drop.place": "where-last-drop-first-touched",
        "drops-before-placing.drops": 2,
    },
    (
        "after-second-drop",
        "then",
        "no count of two: drop again, lower or at another place in the area, until it rests inside; if it will not stay however dropped, "
        "place it in the area on a spot where it rests",
    ): {"after-second-drop.place": "where-it-stays-in-relief-area", "drops-before-placing.drops": None},
    ("after-second-drop", "then", "place where the second drop first touched the ground"): {
        "after-second-drop.place": "where-last-drop-first-touched",
        "drops-before-placing.drops": 2,
    },
    ("third-drop-played", "before_stroke", "may be corrected by placing"): {
        "third-drop-played.put_right": "lift-and-place",
        "correct-before-playing.strokes": 0,
    },
    ("third-drop-played", "if_played", "general penalty"): {
        "third-drop-played.played_on_spot": GENERAL,
        "third-drop-played.played_elsewhere": GENERAL,
    },
    (
        "third-drop-played",
        "if_played",
        "from the required spot: 1 stroke for setting down in a wrong way (14.2b(2)); from elsewhere: wrong place, general penalty",
    ): {"third-drop-played.played_on_spot": ONE, "third-drop-played.played_elsewhere": GENERAL},
    (
        "place-after-drops-not-staying",
        "then",
        "place again, then nearest spot not nearer hole and not in hazard (or in hazard if so)",
    ): {
        "place-after-drops-not-staying.tries_on_spot": 2,
        "place-after-drops-not-staying.then": "nearest-spot-where-it-stays",
        "place-after-drops-not-staying.spot_limits": ("not-nearer-hole", "no-hazard-unless-it-lay-in-one"),
    },
    ("place-after-drops-not-staying", "then", "place in the relief area on a spot where it will rest"): {
        "place-after-drops-not-staying.tries_on_spot": 1,
        "place-after-drops-not-staying.then": "another-spot-in-relief-area",
        "place-after-drops-not-staying.spot_limits": ("in-relief-area",),
    },
    (
        "place-after-drops-not-staying",
        "then",
        "try a second time on the spot, then nearest spot where it rests under 14.2e limits",
    ): {
        "place-after-drops-not-staying.tries_on_spot": 2,
        "place-after-drops-not-staying.then": "nearest-spot-where-it-stays",
        "place-after-drops-not-staying.spot_limits": ("not-nearer-hole", "same-area"),
    },
    ("ball-moves-after-rest", "then", "play as it lies unless another Rule applies"): {
        "ball-moves-after-rest.within_area": "as-it-lies",
        "ball-moves-after-rest.to_another_area": "as-it-lies",
    },
    ("ball-moves-after-rest", "then", "as it lies (natural forces)"): {
        "ball-moves-after-rest.within_area": "as-it-lies",
        "ball-moves-after-rest.to_another_area": "as-it-lies",
    },
    ("ball-moves-after-rest", "then", "as 9.3"): {
        "ball-moves-after-rest.within_area": "as-it-lies",
        "ball-moves-after-rest.to_another_area": "as-it-lies",
    },
    (
        "ball-moves-after-rest",
        "then",
        "as it lies in the same area; replace if nature moves it to another area or out of bounds",
    ): {"ball-moves-after-rest.within_area": "as-it-lies", "ball-moves-after-rest.to_another_area": "replaced"},
    ("correct-before-playing", "penalty", "0"): {
        "correct-before-playing.strokes": 0,
        "correct-before-playing.until": "before-the-stroke",
    },
    ("change-option-on-redrop", "dropped_right_place_must_redrop", "same option"): {
        "change-option-on-redrop.right_place": "same-option",
        "change-option-on-redrop.wrong_rule": None,
    },
    ("change-option-on-redrop", "dropped_wrong_place", "may use another option of the Rule"): {
        "change-option-on-redrop.wrong_place": "any-option-of-the-rule"
    },
    ("change-option-on-redrop", "right_place_but_must_drop_again", "same Rule and same option"): {
        "change-option-on-redrop.right_place": "same-option"
    },
    ("change-option-on-redrop", "wrong_place", "same Rule, any option"): {"change-option-on-redrop.wrong_place": "any-option-of-the-rule"},
    ("change-option-on-redrop", "wrong_rule", "any Rule that applies"): {"change-option-on-redrop.wrong_rule": "any-rule-that-applies"},
    ("change-option-on-redrop", "back_on_line_second_drop", "same option, but spot and area of the course may change"): {
        "change-option-on-redrop.right_place": "same-option",
        "back-on-line-drop.second_spot_may_change": True,
    },
    ("substitute-on-drop", "free_relief", "original"): {"substitute-on-drop.free_relief": "original"},
    ("substitute-on-drop", "free_relief", "any"): {"substitute-on-drop.free_relief": "any"},
    ("substitute-on-drop", "penalty_relief", "any"): {"substitute-on-drop.penalty_relief": "any"},
    ("substitute-on-drop", "re_drop_not_recoverable", "another"): {"substitute-on-drop.another_if_out_of_reach": True},
    ("substitute-on-drop", "second_drop", "may change ball"): {"substitute-on-drop.second_drop_may_change": True},
    ("mark-spot-before-relief", "required", "false"): {"mark-spot-before-relief.required": False},
    ("back-on-line-drop", "drop_on", "the line"): {"back-on-line-drop.first_touch": "line"},
    (
        "back-on-line-drop",
        "roll",
        "any direction up to two club-lengths, also nearer the hole than first strike, not nearer than ball spot or margin crossing",
    ): {
        "back-on-line-drop.forward_of_first_touch": True,
        "dropped-ball-roll-limit.roll_limit": TWO_CLUBS,
        "relief.penalty-area-back-on-line.no_nearer_than": "crossing-point",
        "relief.unplayable-back-on-line.no_nearer_than": "ball-spot",
    },
    ("back-on-line-drop", "drop_in", "strip within 20 inches of the line"): {
        "back-on-line-drop.first_touch": "strip-about-line",
        "back-on-line-drop.forward_of_first_touch": None,
        "relief.small.size": Size(amount=20, unit=LengthUnit.INCHES),
    },
    (
        "back-on-line-drop",
        "drop_in",
        "disc of one club-length about a reference point chosen on the line, not nearer the hole than that point",
    ): {
        "back-on-line-drop.first_touch": "disc-at-chosen-point",
        "relief.penalty-area-back-on-line.shape": "disc-at-chosen-point",
        "relief.penalty-area-back-on-line.no_nearer_than": "reference-point",
    },
    ("back-on-line-drop", "if_no_point_chosen", "point on the line at the same distance from the hole as the first touch"): {
        "back-on-line-drop.if_no_point_chosen": "level-with-first-touch"
    },
    ("back-on-line-drop", "roll_forward_past_reference_point", "outside the area, drop again"): {
        "back-on-line-drop.forward_of_reference": False,
        "redrop-cases.cases": ("outside-relief-area",),
    },
    (
        "back-on-line-drop",
        "area",
        "one club-length in any direction from first touch, not nearer than ball spot or crossing point, same area of the course as "
        "first touched",
    ): {
        "dropped-ball-roll-limit.line_rest_size": Size(amount=1, unit=LengthUnit.CLUB_LENGTHS),
        "relief.penalty-area-back-on-line.shape": "disc-at-first-touch",
        "relief.penalty-area-back-on-line.no_nearer_than": "crossing-point",
        "relief.penalty-area-back-on-line.rests_in_area_first_touched": True,
        "relief.unplayable-back-on-line.no_nearer_than": "ball-spot",
    },
    ("back-on-line-drop", "roll_forward", "allowed within the area"): {"back-on-line-drop.forward_of_first_touch": True},
    ("back-on-line-drop", "second_drop", "may choose another spot on the line, area moves with it"): {
        "back-on-line-drop.second_spot_may_change": True
    },
    ("drop-beside-line", "is", "wrong place, correct before stroke"): {"drop-beside-line.outcome": "wrong-place"},
    ("drop-beside-line", "is", "fine inside the strip"): {"drop-beside-line.outcome": "good", "drop-beside-line.played": None},
    ("drop-beside-line", "is", "fine inside the club-length disc"): {
        "drop-beside-line.outcome": "good",
        "drop-beside-line.played": None,
    },
    ("drop-beside-line", "is", "wrong way, drop again"): {"drop-beside-line.outcome": "wrong-way"},
    ("drop-beside-line", "if_played", "general penalty"): {"drop-beside-line.played": GENERAL, "drop-beside-line.perhaps": None},
    ("drop-beside-line", "if_played", "general penalty (no relief area is made by a ball that misses the line)"): {
        "drop-beside-line.played": GENERAL
    },
    (
        "drop-beside-line",
        "if_played_doubt",
        "a later clarification giving 1 stroke when the ball lies within one club-length is from memory and was not found; leave the "
        "choice to the official",
    ): {"drop-beside-line.perhaps": ONE},
    ("drop-by-other-person-disability", "allowed", "true"): {"drop-by-other-person-disability.allowed": True},
    ("drop-by-other-person-disability", "note", "only where the Committee adopts the Modified Rules"): {
        "drop-by-other-person-disability.by_local_rule": True,
        "drop-by-other-person-disability.adopted": False,
    },
    ("drop-by-other-person-disability", "for", '["blind", "amputee", "assistive mobility device"]'): {
        "drop-by-other-person-disability.players": ("blind", "amputee", "assistive-mobility-device")
    },
    ("drop-by-other-person-disability", "authorisation", "general authorisation is enough"): {
        "drop-by-other-person-disability.general_authorisation": True
    },
    ("replace-with-equipment-disability", "allowed", "true"): {"replace-with-equipment-disability.allowed": True},
    ("replace-with-equipment-disability", "for", '["amputee", "assistive mobility device"]'): {
        "replace-with-equipment-disability.players": ("amputee", "assistive-mobility-device")
    },
    ("drop-hits-person-before-ground", "counts", "false"): {"drop-wrong-way.counts": False},
}
EXPLAINED = {
    ("drop-hits-person-before-ground", "counts", "true"): "it is not dropped again, so nothing is counted or left out",
    ("drop-hits-person-after-ground", "counts", "false"): "the outcome drop-again-not-counted says it",
    ("back-on-line-drop", "redrop_if", '["any 20-2c case"]'): "the row of re-drop cases speaks for every drop",
    (
        "back-on-line-drop",
        "clarified",
        "December 2018 and April 2019; Local Rule E-12 from April 2019",
    ): "the Local Rule is an overlay of its own, back-on-the-line-relaxed",
}
"""Statements that no value of a row answers."""
OWN: dict[tuple[str, str], tuple[Value, str]] = {
    ("drop-by-whom.by_another", "draft-2017"): ("wrong-way", "inferred from the other editions"),
    ("drop-by-whom.by_another", "2019"): ("wrong-way", "from memory: a right way is one by the player"),
    ("drop-by-whom.by_another", "2023"): ("wrong-way", "from memory: a right way is one by the player"),
    ("drop-way.free_of_person_before_ground", "2016"): (True, "the row on a touch before the ground says it"),
    ("drop-first-touch.otherwise", "draft-2017"): ("wrong-way", "inferred: the machine of the facts counts nothing and tells no penalty"),
    ("drop-first-touch.counts_otherwise", "draft-2017"): (False, "stated by the machine of the facts"),
    ("drop-wrong-way.played_outside", "2016"): (GENERAL, "a wrong place, stated by the machine of the facts"),
    ("substitute-on-drop.another_if_out_of_reach", "draft-2017"): (True, "follows from any ball"),
    ("substitute-on-drop.another_if_out_of_reach", "2019"): (True, "follows from any ball"),
    ("substitute-on-drop.another_if_out_of_reach", "2023"): (True, "follows from any ball"),
}
"""Values of which no statement of the facts speaks, and why they are what they are."""


def as_text(fact: Fact) -> str:
    return fact if isinstance(fact, str) else json.dumps(fact, sort_keys=True)


LISTED = {("redrop-cases", name) for name in ("cases", "count", "numbered_clauses")}
STATEMENTS = [
    (row, edition, member, as_text(fact))
    for (row, edition), cell in CELLS.items()
    if row != "drop-machine"
    for member, fact in cell.items()
    if member != "rule" and (row, member) not in LISTED
]


@pytest.mark.parametrize(("row", "edition", "member", "fact"), STATEMENTS)
def test_statement(row: str, edition: str, member: str, fact: str) -> None:
    if (row, member, fact) in EXPLAINED:
        assert (row, member, fact) not in SAYS
        return
    for key, value in SAYS[row, member, fact].items():
        assert held(key, edition) == value, key


def test_every_entry_is_of_a_statement() -> None:
    stated = {(row, member, fact) for row, _, member, fact in STATEMENTS}
    assert (SAYS.keys() | EXPLAINED.keys()) - stated == set()


@pytest.mark.parametrize("edition", list(BOOKS))
def test_redrop_cases(edition: str) -> None:
    cell = CELLS["redrop-cases", edition]
    cases = cell["cases"]
    assert isinstance(cases, list)
    assert len(cases) == cell["count"]
    roll = {"more-than-two-club-lengths": "beyond-roll-limit"}
    names = tuple(roll.get(name, name) for name in (str(case["case"]) for case in cases if isinstance(case, dict)))
    assert held("redrop-cases.cases", edition) == names
    if "numbered_clauses" in cell:
        assert cell["numbered_clauses"] == 7
        assert cell["rule"] == "20-2c(i)-(vii)"
        assert held("dropped-ball-roll-limit.roll_limit", edition) == TWO_CLUBS


def test_every_value_on_dropping_is_stated_or_own() -> None:
    stated = {(key, edition) for row, edition, member, fact in STATEMENTS for key in SAYS.get((row, member, fact), {})}
    stated |= {("redrop-cases.cases", edition) for edition in BOOKS}
    values = {
        (f"{row.id}.{part}", edition)
        for row in CATALOGUE.rows.values()
        if row.situation == "dropping"
        for edition, cell in row.editions.items()
        if edition in BOOKS
        for part in cell.values
        if row.parts[part].type is not PartType.TERM
    }
    assert values - stated == OWN.keys()


@pytest.mark.parametrize(("key", "edition"), list(OWN))
def test_own_value(key: str, edition: str) -> None:
    assert held(key, edition) == OWN[key, edition][0]


def row_of(row: str, edition: str) -> EditionRow:
    return CATALOGUE.rows[NAMES.get(row, row)].editions[edition]


@pytest.mark.parametrize("row", sorted({row for row, _ in CELLS} - {"drop-machine"}))
@pytest.mark.parametrize("edition", list(BOOKS))
def test_a_row_is_absent_where_the_facts_state_nothing(row: str, edition: str) -> None:
    says_something = bool(CELLS.get((row, edition), {}).keys() - {"rule"})
    is_kept = row_of(row, edition).absent == ""
    is_empty = is_kept and not row_of(row, edition).values
    assert says_something is (is_kept and not is_empty)


OTHER_NUMBERS = {
    ("drop-wrong-way", "2016"): "20-2a, 20-6, 20-7",
    ("drop-wrong-way", "2019"): "14.3b, 14.7a",
    ("drop-wrong-way", "2023"): "14.3b, 14.7a",
    ("mark-spot-before-relief", "2016"): "20-1",
}
"""Where the rule data names the rule of the penalty for other ground besides, or leaves out a remark."""
ANOTHER_PART = {("drop-rest-where", "2023"): {"Referees' association list of 2023 changes"}}
"""Titles that are about something else which the row holds besides."""
_MEMORY = re.compile(r"\b(memory|common practice)\b")


@pytest.mark.parametrize(("row", "edition"), [key for key in CHECKED if key[0] != "drop-machine"])
def test_where_it_was_seen(row: str, edition: str) -> None:
    """What the facts have from memory is not told as read, and every title told is one of the facts'."""
    checked, cell = CHECKED[row, edition], row_of(row, edition)
    assert cell.citation is not None
    told = {part.strip() for text in (cell.citation.seen, *cell.seen_of.values()) for part in text.split(";")}
    titles = {text for text in told if text != "inferred" and not _MEMORY.search(text)}
    if checked.startswith("common practice"):
        assert cell.citation.seen == checked
    elif checked.startswith("memory"):
        assert titles == set()
        assert cell.citation.is_unsure is checked.startswith("memory, unsure")
    else:
        assert titles
        for title in titles - ANOTHER_PART.get((row, edition), set()):
            assert title in checked


@pytest.mark.parametrize(("row", "edition"), [key for key in CELLS if key[0] not in {"drop-machine", *NAMES}])
def test_rule_number(row: str, edition: str) -> None:
    citation = row_of(row, edition).citation
    assert citation is not None
    stated = ("~" if citation.is_number_inferred else "") + citation.rule
    number = str(CELLS[row, edition]["rule"])
    assert (stated == number) is ((row, edition) not in OTHER_NUMBERS)
    assert stated == OTHER_NUMBERS.get((row, edition), number)
