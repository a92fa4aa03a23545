"""Rounds of which not every hole counts, cancelled rounds, and players who missed the cut; sums are worked by hand.

Holes 1 to 9 and 10 to 18 have par 36 each. Of a handicap of 9 four strokes fall on the last nine, on 10, 12, 14 and 17.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.terms import Form
from marram.scoring.cards.card import CardStatus, Correction, Penalty
from marram.scoring.competition.counted_rounds import CountedRounds
from marram.scoring.competition.terms_of_competition import Maximum, SetAs, Sides
from tests.support.scored_cards import PAR, card, only, places, results
from tests.unit.scoring.test_ties import AS_PLAYED

LEVEL = list(PAR)
NONE: list[int | None] = [None] * 9
FIRST, LAST = CountedRounds(holes={1: tuple(range(1, 10))}), CountedRounds(holes={1: tuple(range(10, 19))})


@pytest.mark.parametrize(
    ("handicap", "more", "total"),
    [
        (9, {}, 31),  # half of 9 is 4.5, which counts as 5
        (9, {"as_they_fall": frozenset({1})}, 32),
        (10, {}, 31),
        (18, {}, 27),
        (-3, {}, 37),  # half of +3 is 1.5, of which the half goes up: one stroke is given
        (0, {}, 36),
    ],
)
def test_net_strokes_over_nine_of_eighteen_holes(handicap: int, more: dict[str, frozenset[int]], total: int) -> None:
    counted = CountedRounds(holes=LAST.holes, as_they_fall=more.get("as_they_fall", frozenset()))
    found = only("2023", Form.STROKE_PLAY, card("A", [*NONE, *PAR[9:]], handicap), is_net=True, counted=counted)
    assert (found.total, found.status) == (total, CardStatus.RETURNED)


@pytest.mark.parametrize(
    ("form", "total", "more"),
    [
        (Form.STABLEFORD, 22, {}),  # nine pars are 18 points, and four strokes make four of them birdies
        (Form.PAR_BOGEY, 4, {}),
        (Form.MAXIMUM_SCORE, 31, {"maximum": Maximum(set_as=SetAs.OVER_PAR, amount=2)}),
    ],
)
def test_other_forms_count_the_same_holes(form: Form, total: int, more: dict[str, object]) -> None:
    assert only("2023", form, card("A", [*NONE, *PAR[9:]], 9), is_net=True, counted=LAST, **more).total == total


def test_penalties_on_holes_that_do_not_count_fall_away_unless_they_disqualify() -> None:
    charged = [Penalty(hole=3, strokes=2), Penalty(hole=12, strokes=2)]
    assert only("2023", Form.STROKE_PLAY, card("A", LEVEL, penalties=charged), counted=FIRST).total == 38
    out = Penalty(hole=12, act="agree-to-waive-rules", facts=frozenset({"they_knew_the_rule"}))
    found = only("2023", Form.STROKE_PLAY, card("A", LEVEL, penalties=[out]), counted=FIRST)
    assert (found.total, found.status) == (None, CardStatus.DISQUALIFIED)


def test_strokes_for_a_card_that_is_not_certified_fall_on_the_last_hole_that_counts() -> None:
    unsigned = card("A", [*PAR[:9], *NONE], is_certified_by_marker=False)
    found = only("2023", Form.STROKE_PLAY, unsigned, has_certification_penalty=True, counted=FIRST)
    assert found.total == 38


def test_a_wrong_score_of_a_hole_that_does_not_count_is_free_where_the_form_spares_what_changes_nothing() -> None:
    wrong = (Correction(hole=12, actual=9),)
    found = only("2023", Form.PAR_BOGEY, card("A", LEVEL, corrections=wrong), counted=FIRST)
    assert (found.total, found.status) == (0, CardStatus.RETURNED)
    assert only("2023", Form.PAR_BOGEY, card("A", LEVEL, corrections=wrong)).status is CardStatus.DISQUALIFIED


def test_partners_need_a_score_on_the_holes_that_count_alone() -> None:
    cards = [card("A", [*PAR[:9], *NONE], side="AB"), card("B", [3, *PAR[1:9], *NONE], side="AB")]
    (found,) = results("2023", Form.STROKE_PLAY, cards, sides=Sides.FOUR_BALL, counted=FIRST).ranked
    assert (found.name, found.total) == ("AB", 35)
    # two sides with 37 each: one lost its stroke on hole 8, the other on hole 2
    late, early = [*PAR[:7], 5, PAR[8], *NONE], [4, 5, *PAR[2:9], *NONE]
    sides = [card(f"{name} {number}", gross, side=name) for name, gross in (("late", late), ("early", early)) for number in (1, 2)]
    ranked = results("2023", Form.STROKE_PLAY, sides, sides=Sides.FOUR_BALL, counted=FIRST).ranked
    assert [(one.name, one.placed.decided_by) for one in ranked if one.placed is not None] == [("early", "last 6"), ("late", "last 6")]


def test_against_par_the_par_of_the_holes_that_count_is_compared() -> None:
    found = only("2023", Form.STROKE_PLAY, card("A", [5, *PAR[1:9], *NONE]), is_told_against_par=True, counted=FIRST)
    assert (found.total, found.words) == (1, "1 over par")


def test_a_cancelled_round_counts_for_nothing_whatever_became_of_it() -> None:
    counted = CountedRounds(holes={2: ()})
    cards = [
        card("A", LEVEL),
        card("A", LEVEL, round=2, status=CardStatus.WITHDRAWN, why="withdrawn: hail"),
        card("B", [5, *PAR[1:]]),
        card("B", [1] * 18, round=2),
    ]
    assert places(results("2023", Form.STROKE_PLAY, cards, rounds=2, counted=counted)) == [(1, "A", 72), (2, "B", 73)]


def test_who_missed_the_cut_has_no_place_even_where_a_later_card_came_in() -> None:
    counted = CountedRounds(out_after={"B": 1})
    cards = [card(name, LEVEL, round=number) for name in "AB" for number in (1, 2)]
    found = results("2023", Form.STROKE_PLAY, cards, rounds=2, counted=counted)
    assert places(found) == [(1, "A", 144), (None, "B", None)]
    assert (found.ranked[1].status, found.ranked[1].words) == (CardStatus.MISSED_CUT, "missed the cut after round 1: gross 72")
    # after the first round nobody is out yet
    first = results("2023", Form.STROKE_PLAY, [one for one in cards if one.round == 1], rounds=1, counted=counted)
    assert places(first) == [(1, "A", 72), (1, "B", 72)]


def test_countback_over_a_round_cut_short_looks_at_the_holes_that_count() -> None:
    # equal with 37 over holes 1 to 9: A is one over on hole 2, B on hole 8; the last six are holes 4 to 9
    cards = [card("B", [*PAR[:7], 5, 5, *NONE]), card("A", [4, 5, *PAR[2:9], *NONE])]
    found = results("2023", Form.STROKE_PLAY, cards, counted=FIRST)
    assert [(one.name, one.placed.decided_by) for one in found.ranked if one.placed is not None] == [("A", "last 6"), ("B", "last 6")]


def test_the_last_holes_as_played_are_those_that_count_from_the_hole_of_the_start_on(tmp_path: Path) -> None:
    # holes 7 to 15 count and both lost a stroke on hole 8. A began on 10, so its last six are 13, 14, 15, 7, 8 and 9: par 25 and one over;
    # B's are 10 to 15: par 24
    trial = tmp_path / "as-played.toml"
    trial.write_text(AS_PLAYED, encoding="utf-8")
    lost = [*PAR[:7], 5, *PAR[8:]]
    cards = [card("A", lost, start=10), card("B", lost)]
    found = results(f"2023+{trial}", Form.STROKE_PLAY, cards, counted=CountedRounds(holes={1: tuple(range(7, 16))}))
    assert [(one.name, one.placed.decided_by) for one in found.ranked if one.placed is not None] == [("B", "last 6"), ("A", "last 6")]
