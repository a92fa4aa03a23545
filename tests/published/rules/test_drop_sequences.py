"""Drops from beginning to end, each under the editions that it is told of: every transition collected, the worked examples, the traps.

Source: the row ``drop-machine`` of drop_procedure.yaml beside this file; each example names where it comes from.
"""

from __future__ import annotations

import re

import pytest

from marram.core.errors import RulingError
from marram.core.units import LengthUnit, Size
from marram.rulings.drop.dropping import DropAnswer, guide_drop, read_events
from marram.rulings.drop.states import Stage
from tests.support.drop_facts import CELLS, Fact, held
from tests.support.editions import WRITTEN_FOR
from tests.support.relief_words import BOOKS


def guided(edition: str, events: str, procedure: str = "") -> DropAnswer:
    return guide_drop(BOOKS[edition], procedure, read_events(events))


OUT = "right-way,first-touch-inside,rests-outside"
TWICE_OUT = f"{OUT},{OUT}"
FALLEN = "right-way,first-touch-inside"
MACHINE: dict[tuple[str, str], tuple[str, ...]] = {
    ("to-drop", "let go by player, erect, shoulder height, arm's length"): ("right-way",),
    ("to-drop", "wrong person or manner"): ("wrong-way", "dropped-by-another"),
    ("falling", "first strike outside the required part"): ("right-way,first-touch-outside",),
    ("falling", "touches any person or any player's equipment before rest"): (
        "right-way,touched-person-before-ground",
        f"{FALLEN},touched-person-after-ground",
    ),
    ("falling", "comes to rest in none of the nine cases"): (f"{FALLEN},rests-inside",),
    ("falling", "comes to rest in one of the nine cases, first time"): (OUT,),
    ("to-redrop", "let go again"): (f"{OUT},right-way",),
    ("falling", "comes to rest in one of the nine cases, second time"): (TWICE_OUT,),
    ("to-place", "placed where re-drop first struck"): (f"{TWICE_OUT},placed-stays",),
    ("to-place", "will not stay twice"): (f"{TWICE_OUT},placed-moves,placed-moves,placed-stays",),
    ("to-drop", "let go from any height and in any manner (also tossed), clear of everything"): ("right-way",),
    ("to-drop", "set down or placed, not falling through the air"): ("wrong-way", "placed-instead"),
    ("falling", "first touch outside the relief area"): ("right-way,first-touch-outside",),
    ("falling", "touches person or object by accident, rests inside"): (
        "right-way,touched-person-before-ground,first-touch-inside,rests-inside",
        f"{FALLEN},touched-person-after-ground,rests-inside",
    ),
    ("falling", "rests inside the relief area"): (f"{FALLEN},rests-inside",),
    ("falling", "rests outside, another drop can succeed"): (OUT, TWICE_OUT),
    ("falling", "rests outside, no drop can succeed"): (f"{OUT},none-will-stay",),
    ("to-place", "placed inside the area on a spot where it rests"): (f"{OUT},none-will-stay,placed-stays",),
    ("to-drop", "let go by player, knee height, straight down, touches nobody, first touch inside the relief area"): ("right-way",),
    ("to-drop", "as 2019; for back-on-line first touch on the line"): ("right-way",),
    ("to-drop", "any of those fails"): (
        "wrong-way",
        "dropped-by-another",
        "right-way,touched-person-before-ground",
        "right-way,first-touch-outside",
    ),
    ("falling", "back-on-line: first touch sets the relief area (disc of one club-length)"): (FALLEN,),
    (
        "falling",
        "deliberately deflected or stopped by anyone while it had a reasonable chance of resting in the relief area",
    ): (f"{FALLEN},stopped-on-purpose", f"{FALLEN},stopped-by-another"),
    ("falling", "deliberately deflected or stopped with no reasonable chance, first right-way drop"): (f"{FALLEN},stopped-without-chance",),
    ("falling", "deliberately deflected or stopped with no reasonable chance, second right-way drop"): (
        f"{OUT},{FALLEN},stopped-without-chance",
    ),
    ("falling", "rests inside the relief area (even after touching a person)"): (
        f"{FALLEN},rests-inside",
        f"{FALLEN},touched-person-after-ground,rests-inside",
    ),
    ("falling", "rests inside the relief area (even after touching a person by accident)"): (
        f"{FALLEN},rests-inside",
        f"{FALLEN},touched-person-after-ground,rests-inside",
    ),
    ("falling", "rests outside, first right-way drop"): (OUT,),
    ("falling", "rests outside, second right-way drop"): (TWICE_OUT,),
    ("to-place", "stays where second drop first touched"): (f"{TWICE_OUT},placed-stays",),
    ("to-place", "does not stay"): (f"{TWICE_OUT},placed-moves",),
    ("to-place-again", "stays"): (f"{TWICE_OUT},placed-moves,placed-stays",),
    ("to-place-again", "does not stay"): (f"{TWICE_OUT},placed-moves,placed-moves,placed-stays",),
    ("in-play", "nature moves it to another area or out of bounds"): (f"{FALLEN},rests-inside,moved-by-nature-to-another-area,replaced",),
}
"""The events that make up a transition."""
LIES_WRONG = {Stage.WRONG_WAY, Stage.WRONG_PLACE, Stage.PLACED_INSTEAD}
"""Stages of a ball on the ground that is to be dropped again: the facts call them to-drop."""
STAGES = {"to-redrop": {Stage.TO_DROP}, "to-drop": {Stage.TO_DROP, *LIES_WRONG}, "falling": {Stage.FALLING, Stage.ROLLING}}


def transitions() -> list[tuple[str, dict[str, Fact]]]:
    found = []
    for edition in WRITTEN_FOR:
        moves = CELLS["drop-machine", edition]["transitions"]
        assert isinstance(moves, list)
        found += [(edition, move) for move in moves if isinstance(move, dict)]
    return found


@pytest.mark.parametrize(("edition", "move"), transitions(), ids=lambda value: value if isinstance(value, str) else str(value["event"]))
def test_transition(edition: str, move: dict[str, Fact]) -> None:
    for events in MACHINE[str(move["from"]), str(move["event"])]:
        drop = guided(edition, events).drop
        assert drop.stage in STAGES.get(str(move["to"]), {str(move["to"])})
        if "counts" in move:
            assert drop.counted == (len(re.findall("rests-outside|without-chance", events)) if move["counts"] else 0)
    if "player_or_caddie" in move:
        assert guided(edition, f"{FALLEN},stopped-on-purpose").drop.loses_hole
        assert guided(edition, f"{FALLEN},stopped-by-another").drop.penalty_strokes == 0
    for name, rest in PLAYED.items():
        if name in move:
            strokes = 2 if move[name] == "general penalty" else move[name]
            for events in MACHINE[str(move["from"]), str(move["event"])]:
                played = guided(edition, f"{events},{rest},stroke").drop
                assert (played.penalty_strokes, played.loses_hole) == (strokes, strokes == 2)


PLAYED = {
    "if_played": "rests-inside",
    "if_played_strokes": "rests-inside",
    "if_played_inside_strokes": "rests-inside",
    "if_played_outside": "rests-outside",
}


def test_every_transition_is_of_the_facts() -> None:
    assert MACHINE.keys() == {(str(move["from"]), str(move["event"])) for _, move in transitions()}


# Worked examples and traps, as drops -------------------------------------------------------------------------------------------------


def played(edition: str, events: str, procedure: str = "") -> tuple[int, bool]:
    """Penalty strokes, and whether the hole is lost in match play."""
    drop = guided(edition, events, procedure).drop
    assert drop.stage is Stage.PLAYED
    return drop.penalty_strokes, drop.loses_hole


def test_a_third_drop_made_instead_of_placing() -> None:
    """Example 14. Decisions on the Rules of Golf 2016, Decision 20-2c/2: lifted and placed free before the stroke; played, general."""
    third = f"{TWICE_OUT},third-drop"
    assert guided("2016", third).drop.penalty_strokes == 0
    assert "lift it without penalty and place it" in guided("2016", third).instruction
    assert played("2016", f"{third},corrected,placed-stays,stroke") == (0, False)
    assert played("2016", f"{third},stroke") == (2, True)
    assert played("2016", f"{third},first-touch-inside,rests-inside,stroke") == (2, True)


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_a_third_drop_since_then(edition: str) -> None:
    """Rules of Golf (January 2019), Rules 14.2b(2), 14.3c(2), 14.7a, from memory: it depends on whether it is the very spot."""
    third = f"{TWICE_OUT},third-drop"
    assert played(edition, f"{third},rests-on-required-spot,stroke") == (1, False)
    assert played(edition, f"{third},rests-inside,stroke") == (2, True)
    assert played(edition, f"{third},corrected,placed-stays,stroke") == (0, False)


@pytest.mark.parametrize(
    ("edition", "stage"), [("2016", "beside-line"), ("draft-2017", "rolling"), ("2019", "rolling"), ("2023", "beside-line")]
)
@pytest.mark.parametrize("procedure", ["penalty-area-back-on-line", "unplayable-back-on-line"])
def test_dropped_to_the_side_of_the_line(edition: str, stage: str, procedure: str) -> None:
    """Example 16. Rules of Golf (January 2016), Rules 26-1b and 20-7; draft and 2019: good; 2023: drop again, Rule 14.3b(3)."""
    beside = "right-way,first-touch-beside-line"
    assert guided(edition, beside, procedure).drop.stage == stage
    if stage == "rolling":
        assert played(edition, f"{beside},rests-inside,stroke", procedure) == (0, False)
        return
    assert played(edition, f"{beside},stroke", procedure) == (2, True)
    assert played(edition, f"{beside},right-way,first-touch-inside,rests-inside,stroke", procedure) == (0, False)
    answer = guided(edition, beside, procedure)
    assert ("choice is the official's" in answer.instruction) is (edition == "2023")
    assert ("other-option" in answer.can_follow) is (edition == "2016")


def test_there_is_no_side_of_the_line_in_lateral_relief() -> None:
    with pytest.raises(RulingError, match="first-touch-beside-line cannot follow"):
        guided("2023", "right-way,first-touch-beside-line", "penalty-area-lateral-red")


@pytest.mark.parametrize(("edition", "stage"), [("2016", "moved-away"), ("2019", "moved-away"), ("2023", "to-replace")])
def test_a_ball_at_rest_that_rolls_into_the_water(edition: str, stage: str) -> None:
    """Example 18. State association article on the exception of January 2023: replaced without penalty; before, a new relief."""
    rolled = f"{FALLEN},rests-inside,moved-by-nature-to-another-area"
    answer = guided(edition, rolled)
    assert (answer.drop.stage, answer.drop.penalty_strokes) == (stage, 0)
    assert ("costs what it always costs" in answer.instruction) is (edition != "2023")
    if edition == "2023":
        assert played(edition, f"{rolled},replaced,stroke") == (0, False)
        assert played(edition, f"{rolled},replaced-with-equipment,stroke") == (0, False)
        assert played(edition, f"{rolled},stroke") == (2, True)


@pytest.mark.parametrize("edition", list(BOOKS))
def test_a_ball_at_rest_that_rolls_within_its_area(edition: str) -> None:
    """Example 18, fairway to rough: as it lies. Rules of Golf (January 2023), Rule 9.3."""
    assert played(edition, f"{FALLEN},rests-inside,moved-by-nature-within-area,stroke") == (0, False)


def test_a_ball_that_rolls_but_stays_within_its_limit_is_in_play() -> None:
    """Examples 12 and 13. Decisions on the Rules of Golf 2016, Decision 20/1: within two of the club used; three or four in all."""
    book = BOOKS["2016"]
    limit = book.size("dropped-ball-roll-limit.roll_limit").value
    assert limit == Size(amount=2, unit=LengthUnit.CLUB_LENGTHS)
    farthest = [limit.amount + book.size(f"relief.{name}.size").value.amount for name in ("small", "lateral")]
    assert farthest == [3, 4]
    assert guided("2016", f"{FALLEN},rests-inside", "penalty-area-lateral-red").drop.stage is Stage.IN_PLAY


@pytest.mark.parametrize("edition", list(BOOKS))
def test_the_act_of_nature_and_the_drop_agree(edition: str) -> None:
    case = BOOKS[edition].cases("act.nature-moves-dropped-ball-other-area.cases").value[-1]
    assert (case.ball == "replaced") is (held("ball-moves-after-rest.to_another_area", edition) == "replaced")


@pytest.mark.parametrize("edition", ["2016", "2019", "2023"])
def test_a_wrong_drop_and_a_ball_placed_where_it_had_to_be_dropped(edition: str) -> None:
    """Trap: a wrong drop is one stroke inside and general outside; a ball placed is general anywhere."""
    assert played(edition, "wrong-way,rests-inside,stroke") == (1, False)
    assert played(edition, "dropped-by-another,rests-inside,stroke") == (1, False)
    assert played(edition, "wrong-way,rests-outside,stroke") == (2, True)
    assert played(edition, "placed-instead,rests-inside,stroke") == (2, True)
    assert played(edition, "placed-instead,rests-outside,stroke") == (2, True)
    assert played(edition, "placed-instead,corrected,right-way,rests-inside,stroke") == (0, False)


def test_first_touch_of_other_ground() -> None:
    """Rules of Golf (January 2016), Rule 20-2b: a wrong place, wherever it rests; (January 2019), Rule 14.3b(3): a wrong way."""
    outside = "right-way,first-touch-outside,rests-inside"
    assert [played(edition, f"{outside},stroke")[0] for edition in ("2016", "2019", "2023")] == [2, 1, 1]


def test_touches_of_a_person_have_no_limit() -> None:
    """Trap: 2016 again without limit, before or after the ground; since 2019 before the ground a wrong way, after it it counts."""
    before, after = "right-way,touched-person-before-ground", f"{FALLEN},touched-person-after-ground"
    for edition in ("2016", "2019", "2023"):
        drop = guided(edition, ",".join([before] * 5)).drop
        assert (drop.stage, drop.counted) == (Stage.TO_DROP, 0)
    assert guided("2016", ",".join([after] * 5)).drop.counted == 0
    assert guided("draft-2017", f"{before},rests-inside").drop.stage is Stage.IN_PLAY
    assert guided("2019", f"{after},rests-inside").drop.stage is Stage.IN_PLAY


def test_change_of_option_when_dropping_again() -> None:
    """Rules of Golf (January 2016), Rule 20-6; (January 2019), Rule 14.5b: the same option, but after a wrong place any of the Rule."""
    for edition in ("2016", "2019", "2023"):
        assert "other-option" not in guided(edition, OUT).can_follow
        assert "Stay with the same option" in guided(edition, OUT).instruction
        assert guided(edition, "wrong-way,rests-outside,other-option").drop.stage is Stage.TO_DROP
        assert "other-option" not in guided(edition, "wrong-way,rests-inside").can_follow
    assert "Stay with" not in guided("draft-2017", OUT).instruction


def test_another_spot_on_the_line_for_the_second_drop() -> None:
    """Rules of Golf (January 2023), printed page 232. Of the other editions no source seen says it."""
    line, lateral = "penalty-area-back-on-line", "penalty-area-lateral-red"
    assert guided("2023", f"{OUT},other-spot-on-line", line).drop.counted == 1
    for edition, procedure in (("2016", line), ("draft-2017", line), ("2019", line), ("2023", lateral)):
        assert "other-spot-on-line" not in guided(edition, OUT, procedure).can_follow


@pytest.mark.parametrize(("edition", "is_wrong"), [("2016", True), ("draft-2017", False), ("2019", False), ("2023", False)])
def test_another_ball_in_free_relief(edition: str, is_wrong: bool) -> None:  # noqa: FBT001
    """2017 draft explanation paper 23, Substitution of Ball Always Allowed When Taking Relief; 2016: Rule 15-2."""
    free, penalty = "immovable-obstruction-general-area", "penalty-area-lateral-red"
    assert guided(edition, "other-ball", free).drop.has_wrong_ball is is_wrong
    assert not guided(edition, "other-ball", penalty).drop.has_wrong_ball
    assert not guided(edition, f"{OUT},other-ball-out-of-reach", free).drop.has_wrong_ball
    assert played(edition, "other-ball,right-way,rests-inside,stroke", free) == ((2, True) if is_wrong else (0, False))


def test_who_may_drop() -> None:
    """Rules of Golf (January 2019), Rule 14.3b(1); Modified Rules of Golf 2019, 3.1; Rules of Golf (January 2023), Rule 25."""
    for edition, authorised in (("2016", False), ("draft-2017", False), ("2019", False), ("2023", True)):
        expected = Stage.FALLING if authorised else Stage.WRONG_WAY
        assert guided(edition, "dropped-by-authorised").drop.stage is expected
        assert guided(edition, "dropped-by-another").drop.stage is Stage.WRONG_WAY
    for edition in ("2019", "2023"):
        assert guided(edition, "dropped-by-partner").drop.stage is Stage.FALLING
