"""Days on which some changes are played: who gets which letter, blocks, the order of the draw, and the list of aliases."""

from __future__ import annotations

from collections import Counter
from itertools import combinations
from math import sqrt

import pytest

from marram.core.errors import StudyError
from marram.evidence.fitting.factor_effects import PlayedDay, factor_effects
from marram.evidence.planning.days_of_changes import aliases_told, draw_days, freedom_of, give_letters, precision_of_changes, tangled_pairs
from marram.evidence.planning.fractions_of_days import Fraction, folded, has_usual_fraction, usual_fraction

PLANS = [(2, 4), (3, 8), (4, 8), (4, 16), (5, 8), (5, 16), (6, 16), (7, 8)]


def letters(plan: Fraction) -> dict[str, int]:
    return {letter: number for number, letter in enumerate("ABCDEFG"[: plan.changes], start=1)}


def test_changes_that_touch_the_same_go_with_no_change_where_that_can_be_had() -> None:
    """Five changes on eight days: AB, AC, AD, AE, BD and CE go with a change, so 1 and 2 must be given BC, BE, CD or DE."""
    plan = usual_fraction(5, 8)
    meeting = {frozenset({1, 2})}
    given = give_letters([1, 2, 3, 4, 5], plan, meeting)
    own = "".join(sorted(letter for letter, change in given.items() if change in {1, 2}))
    assert own in {"BC", "BE", "CD", "DE"}
    assert all(not alias.meeting for alias in aliases_told(plan, given, meeting))
    assert sorted(given.values()) == [1, 2, 3, 4, 5]


def test_where_it_cannot_be_had_the_alias_says_so() -> None:
    plan = usual_fraction(3, 8)
    assert [alias.pairs for alias in aliases_told(plan, letters(plan), ())] == [(), (), ()]
    saturated = usual_fraction(7, 8)
    told = aliases_told(saturated, letters(saturated), {frozenset({1, 2})})
    assert [len(alias.pairs) for alias in told] == [3] * 7  # each change with three pairs
    assert [(alias.change, alias.meeting) for alias in told if alias.meeting] == [(4, ((1, 2),))]  # D = AB


def test_the_list_of_four_changes_on_eight_days_by_hand() -> None:
    """D = ABC: each change goes with the other three together, and AB = CD, AC = BD, AD = BC."""
    plan = usual_fraction(4, 8)
    assert [(alias.pairs, alias.larger) for alias in aliases_told(plan, letters(plan))] == [((), 1)] * 4
    assert tangled_pairs(plan, letters(plan)) == (((1, 2), (3, 4)), ((1, 3), (2, 4)), ((1, 4), (2, 3)))


def test_played_again_turned_round_no_change_goes_with_a_pair() -> None:
    for changes, generators in ((7, 8), (5, 8), (6, 8)):
        plan = folded(usual_fraction(changes, generators))
        assert len(set(plan.days)) == len(plan.days) == 16
        assert plan.resolution == 4
        assert all(not alias.pairs for alias in aliases_told(plan, letters(plan)))
    for whole in (usual_fraction(3, 8), usual_fraction(4, 8)):
        with pytest.raises(StudyError, match="the same again"):
            folded(whole)


@pytest.mark.parametrize(("changes", "days"), PLANS)
@pytest.mark.parametrize("times", [1, 2])
def test_every_block_holds_each_change_on_half_of_its_days(changes: int, days: int, times: int) -> None:
    plan = usual_fraction(changes, days)
    drawn = draw_days(plan, letters(plan), times=times, seed="a seed")
    assert len(drawn) == days * times
    assert [day.day for day in drawn] == [f"d{number:02d}" for number in range(1, len(drawn) + 1)]
    for block in {day.block for day in drawn}:
        own = [day for day in drawn if day.block == block]
        assert [day.day for day in own] == sorted(day.day for day in own)
        for change in range(1, changes + 1):
            assert sum(change in day.on for day in own) * 2 == len(own)
        for one, other in combinations(range(1, changes + 1), 2):
            assert sum(one in day.on and other in day.on for day in own) * 4 == len(own)


def test_three_changes_are_played_in_blocks_of_four() -> None:
    plan = usual_fraction(3, 8)
    drawn = draw_days(plan, letters(plan), times=2, seed="a seed")
    assert Counter(day.block for day in drawn) == {"b01": 4, "b02": 4, "b03": 4, "b04": 4}
    for block in ("b01", "b02", "b03", "b04"):
        odd = {len(day.on) % 2 for day in drawn if day.block == block}
        assert len(odd) == 1  # what is given up is what all three do together


def test_the_order_hangs_on_the_seed_alone() -> None:
    plan = usual_fraction(4, 8)
    orders = {tuple(day.on for day in draw_days(plan, letters(plan), times=1, seed=f"seed {number}")) for number in range(20)}
    assert len(orders) > 15
    assert draw_days(plan, letters(plan), times=2, seed="s") == draw_days(plan, letters(plan), times=2, seed="s")
    firsts = Counter(draw_days(plan, letters(plan), times=1, seed=f"seed {number}")[0].on for number in range(400))
    assert len(firsts) == 8
    assert max(firsts.values()) < 85  # 50 expected, standard deviation 6.6


@pytest.mark.parametrize(("changes", "days"), PLANS)
@pytest.mark.parametrize("times", [1, 2, 3])
def test_the_freedom_promised_is_that_of_the_fit(changes: int, days: int, times: int) -> None:
    plan = usual_fraction(changes, days)
    drawn = draw_days(plan, letters(plan), times=times, seed="a seed")
    played = [
        PlayedDay(
            day=day.day, block=day.block, on=tuple(change in day.on for change in range(1, changes + 1)), value=float(number * 7 % 11)
        )
        for number, day in enumerate(drawn)
    ]
    found = factor_effects(played)
    assert found.freedom == freedom_of(plan, times)
    assert found.untold == ()


def test_sixteen_days_tell_an_effect_by_half_of_what_a_day_spreads() -> None:
    """Eight days less eight days: 2 s / sqrt(16) = s / 2 for days that spread by s, of which a difference of two spreads by s sqrt(2)."""
    found = precision_of_changes(usual_fraction(3, 8), 2)
    assert found.error * sqrt(2) == pytest.approx(0.5)
    assert (found.units, found.fewest, found.freedom) == (16, 8, 6)


def test_a_draw_without_seed_or_days_is_refused() -> None:
    plan = usual_fraction(3, 8)
    with pytest.raises(StudyError, match="no seed"):
        draw_days(plan, letters(plan), times=1, seed=" ")
    with pytest.raises(StudyError, match="0 times"):
        draw_days(plan, letters(plan), times=0, seed="s")
    with pytest.raises(StudyError, match="for 3 changes"):
        give_letters([1, 2], plan)
    assert has_usual_fraction(3, 8)
    assert not has_usual_fraction(3, 16)
