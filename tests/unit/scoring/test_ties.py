"""Ties: the last nine, six, three and one, fractions of a handicap, several rounds, further steps, joint places.

Source: Rules of Golf 2016, Appendix I Part C 10; Committee Procedures 5A(6) of 2019 and 2023 (from memory). Sums are worked by hand.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from marram.core.terms import Form
from marram.scoring.cards.card import Card
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import COUNTBACK, Fractions, OverHoles, Step, Ties
from marram.scoring.ties.countback import holes_of_step, share_of_handicap
from tests.support.scored_cards import PAR, STROKE_INDEX, card, places, results

LEVEL = list(PAR)


def changed(**holes: int) -> list[int]:
    """Level par but for some holes, such as ``h10=1`` for one over on hole 10."""
    return [par + holes.get(f"h{hole}", 0) for hole, par in enumerate(PAR, start=1)]


def decided(cards: list[Card], ties: Ties, form: Form = Form.STROKE_PLAY, **more: object) -> list[tuple[int, str, str]]:
    found = results("2023", form, cards, ties=ties, **more)
    return [(one.placed.place, one.name, one.placed.decided_by) for one in found.ranked if one.placed is not None]


@pytest.mark.parametrize(
    ("first", "second", "by"),
    [
        (changed(h1=1), changed(h10=1), "last 9"),
        (changed(h10=1), changed(h13=1), "last 6"),
        (changed(h13=1), changed(h16=1), "last 3"),
        (changed(h16=1), changed(h18=1), "last hole"),
    ],
)
def test_the_step_that_decides(first: list[int], second: list[int], by: str) -> None:
    assert decided([card("B", first), card("A", second)], Ties()) == [(1, "B", by), (2, "A", by)]


def test_nothing_decides() -> None:
    same = [card("B", changed(h16=1)), card("A", changed(h17=1)), card("C", LEVEL)]
    assert decided(same, Ties()) == [(1, "C", "score"), (2, "A", "joint"), (2, "B", "joint")]
    assert decided(same, Ties(steps=())) == [(1, "C", "score"), (2, "A", "joint"), (2, "B", "joint")]


def test_the_place_after_a_joint_one_is_left_out() -> None:
    cards = [card("A", LEVEL), card("B", LEVEL), card("C", changed(h1=1))]
    assert decided(cards, Ties()) == [(1, "A", "joint"), (1, "B", "joint"), (3, "C", "score")]


def test_three_are_parted_one_after_the_other() -> None:
    cards = [card("A", changed(h16=1)), card("B", changed(h1=1)), card("C", changed(h13=1))]
    assert decided(cards, Ties()) == [(1, "B", "last 9"), (2, "C", "last 3"), (3, "A", "last 3")]


@pytest.mark.parametrize(
    ("step", "first"),
    [
        (Step.FIRST_9, "B"),  # 37 - 1 = 36 against 36 - 1/2 = 35 1/2
        (Step.LOWER_HANDICAP, "B"),
        (Step.HIGHER_HANDICAP, "A"),
        (Step.HOLE_BY_HOLE_BACK, "A"),  # on hole 18: 4 - 2/18 against 4 - 1/18
    ],
)
def test_further_steps(step: Step, first: str) -> None:
    """Both are net 71: A 73 - 2 with its stroke over on hole 5, B 72 - 1 with one over on hole 11 and one under on hole 10."""
    cards = [card("A", changed(h5=1), handicap=2), card("B", changed(h11=1, h10=-1), handicap=1)]
    assert decided(cards, Ties(steps=(step,)), is_net=True)[0][1] == first


def test_a_lot_or_a_play_off_decides_only_where_it_was_held() -> None:
    cards = [card("A", LEVEL), card("B", LEVEL)]
    assert decided(cards, Ties(steps=(Step.LOT,), drawn=("B", "A"))) == [(1, "B", "lot"), (2, "A", "lot")]
    assert decided(cards, Ties(steps=(Step.PLAY_OFF,), drawn=("B",)))[0][2] == "joint"


def test_shares_of_a_handicap() -> None:
    assert [share_of_handicap(15, over, 18, is_rounded=False) for over in (9, 6, 3, 1)] == [
        Fraction(15, 2), Fraction(5), Fraction(5, 2), Fraction(5, 6),
    ]  # fmt: skip
    assert [share_of_handicap(15, over, 18, is_rounded=True) for over in (9, 6, 3, 1)] == [8, 5, 3, 1]
    assert [share_of_handicap(-3, over, 18, is_rounded=True) for over in (9, 6, 3, 1)] == [-1, -1, 0, 0]  # -1.5, -1, -0.5, -1/6 go up
    assert share_of_handicap(7, 6, 9, is_rounded=False) == Fraction(14, 3)


def test_fractions_kept_and_rounded_can_part_players_differently() -> None:
    """Handicaps 15 and 14 over the last nine: 7 1/2 and 7; rounded 8 and 7."""
    cards = [card("A", changed(h10=1, h1=1), handicap=15), card("B", changed(h1=1), handicap=14)]
    assert decided(cards, Ties(), is_net=True)[0][1:] == ("B", "last 9")  # 37 - 7.5 = 29.5 against 36 - 7 = 29
    # rounded: 37 - 8 = 29 and 36 - 7 = 29; 24 - 5 and 24 - 5 (14/3 is 4.67); 12 - 3 = 9 against 12 - 2 = 10 (14/6 is 2.33)
    assert decided(cards, Ties(fractions=Fractions.ROUNDED), is_net=True)[0][1:] == ("A", "last 3")


@pytest.mark.parametrize("form", [Form.STABLEFORD, Form.PAR_BOGEY])
def test_points_count_as_strokes_fall(form: Form) -> None:
    """One stroke, on hole 14 (index 2 after 5): both make one under there or on hole 1, so only where strokes fall can decide."""
    cards = [card("A", changed(h14=1), handicap=2), card("B", changed(h5=1), handicap=2)]
    found = decided(cards, Ties(), form, is_net=True)
    assert found == [(1, "B", "last 9"), (2, "A", "last 9")]


def test_net_strokes_can_be_counted_as_they_fall() -> None:
    cards = [card("A", changed(h5=1), handicap=1), card("B", LEVEL, handicap=0)]  # the stroke falls on hole 5
    assert decided(cards, Ties(), is_net=True)[0][1:] == ("A", "last 9")  # 36 - 1/2
    assert decided(cards, Ties(counted=OverHoles.STROKES_AS_THEY_FALL), is_net=True)[0][2] == "joint"


def test_the_last_holes_are_those_of_the_course() -> None:
    assert [holes_of_step(step, 18) for step in COUNTBACK] == [
        tuple(range(10, 19)), tuple(range(13, 19)), tuple(range(16, 19)), (18,),
    ]  # fmt: skip
    cards = [card("A", changed(h3=1), start=10), card("B", changed(h12=1), start=1)]
    assert decided(cards, Ties())[0][1] == "A"


def test_several_rounds() -> None:
    rounds = [
        card("A", changed(h1=1), round=1), card("A", changed(h2=1, h3=1), round=2),
        card("B", changed(h1=1, h2=1), round=1), card("B", changed(h12=1), round=2),
    ]  # fmt: skip
    by_last_round = decided(rounds, Ties(steps=(Step.LAST_ROUND, *COUNTBACK)), rounds=2)
    assert by_last_round == [(1, "B", "last round"), (2, "A", "last round")]
    assert decided(rounds, Ties(), rounds=2) == [(1, "A", "last 9"), (2, "B", "last 9")]
    found = results("2023", Form.STROKE_PLAY, rounds[:3], rounds=2)
    assert places(found) == [(1, "A", 147), (None, "B", None)]
    assert found.ranked[1].words == "no card for round 2"


def test_nine_holes_are_counted_back_by_six_three_and_one() -> None:
    assert holes_of_step(Step.LAST_6, 9) == (4, 5, 6, 7, 8, 9)


def test_a_step_that_looks_at_the_whole_round_is_no_step() -> None:
    nine = Tee(name="white", par=PAR[:9], stroke_index=STROKE_INDEX[:9])
    cards = [card("A", [5, *LEVEL[1:9]]), card("B", [*LEVEL[:3], 6, *LEVEL[4:9]])]
    found = results("2023", Form.STROKE_PLAY, cards, tees={"white": nine}, ties=Ties()).ranked
    assert [[one.step for one in ranked.placed.compared] for ranked in found if ranked.placed is not None] == [["last 6"], ["last 6"]]


AS_PLAYED = """
title = "Trial of the last holes as they were played"
dated = 2024-01-01
on = ["2023"]
[[change]]
key = "deciding-ties.after_other_start"
was = "holes-of-the-course"
now = "holes-as-played"
because = "The last holes are those that a player remembers."
[[change]]
key = "deciding-ties.net_strokes"
was = "share-of-handicap"
now = "strokes-as-they-fall"
because = "Nobody need work out shares."
"""


def test_a_trial_may_change_how_ties_are_decided(tmp_path: Path) -> None:
    """A began on hole 10 and lost a stroke on hole 3, the twelfth it played, B on hole 12, its twelfth too.

    By the course A is better over the last nine. As played both have 37, 25 and 12 over the last nine, six and three, and then A ends on
    hole 9 of par 5 and B on hole 18 of par 4.
    """
    trial = tmp_path / "as-played.toml"
    trial.write_text(AS_PLAYED, encoding="utf-8")
    cards = [card("A", changed(h3=1), start=10), card("B", changed(h12=1), start=1)]
    assert decided(cards, Ties()) == [(1, "A", "last 9"), (2, "B", "last 9")]
    placed = [one.placed for one in results(f"2023+{trial}", Form.STROKE_PLAY, cards, ties=Ties()).ranked]
    assert [(one.name, one.decided_by) for one in placed if one is not None] == [("B", "last hole"), ("A", "last hole")]
    net = [card("A", changed(h5=1), handicap=1), card("B", LEVEL, handicap=0)]
    found = results(f"2023+{trial}", Form.STROKE_PLAY, net, ties=Ties(), is_net=True)
    assert [one.placed.decided_by for one in found.ranked if one.placed is not None] == ["joint", "joint"]
    assert any(citation.overlay for citation in found.tie_citations)
