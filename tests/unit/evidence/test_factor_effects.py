"""Effects of several changes over days, against a published trial in blocks and against sums done by hand."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest

from marram.core.errors import StudyError
from marram.evidence.fitting.factor_effects import PlayedDay, factor_effects
from marram.evidence.planning.fractions_of_days import usual_fraction

PEAS = """
1 011 49.5  1 110 62.8  1 000 46.8  1 101 57.0
2 100 59.8  2 111 58.5  2 001 55.5  2 010 56.0
3 010 62.8  3 111 55.8  3 100 69.5  3 001 55.0
4 100 62.0  4 111 48.8  4 001 45.5  4 010 44.2
5 110 52.0  5 000 51.5  5 101 49.8  5 011 48.8
6 101 57.2  6 110 59.0  6 011 53.2  6 000 56.0
"""
"""Block, nitrogen, phosphate and potash, and yield: Yates, The Design and Analysis of Factorial Experiments (1937)."""


def peas() -> list[PlayedDay]:
    words = PEAS.split()
    rows = zip(words[::3], words[1::3], words[2::3], strict=True)
    return [
        PlayedDay(day=str(place), block=block, on=tuple(sign == "1" for sign in signs), value=float(value))
        for place, (block, signs, value) in enumerate(rows)
    ]


def test_the_published_trial_of_three_factors_in_blocks_of_four() -> None:
    """Venables and Ripley, Modern Applied Statistics with S (2002), p. 165: table of variance and effects."""
    found = factor_effects(peas())
    assert found.freedom == 12
    assert found.blocks_f == pytest.approx(4.4467, abs=5e-5)
    told = {"A": 12.2587, "B": 0.5441, "C": 6.1657, "AB": 1.3783, "AC": 2.1460, "BC": 0.0312}
    assert {effect: found.of[effect].f for effect in told} == pytest.approx(told, abs=5e-5)
    assert found.of["A"].p_t == pytest.approx(0.004372, abs=5e-7)
    assert [found.of[letter].estimate for letter in "ABC"] == pytest.approx([5.617, -1.183, -3.983], abs=5e-4)


def days_of(plan_days: tuple[tuple[bool, ...], ...], times: int, value: object) -> list[PlayedDay]:
    return [
        PlayedDay(day=f"{time}.{place}", block=str(time), on=on, value=value(on, time, place))  # type: ignore[operator]
        for time in range(times)
        for place, on in enumerate(plan_days)
    ]


def test_two_changes_by_hand() -> None:
    """Off-off 10 and 12, on-off 14 and 14, off-on 11 and 11, on-on 13 and 15, in one block.

    Means 11, 14, 11, 14: the first change makes (14 + 14 - 11 - 11) / 2 = 3, the second 0, the pair 0. Squares within days that are alike:
    2 + 0 + 0 + 2 = 4 with 4 degrees of freedom, so variance 1; an effect of 8 days has standard error 2 sqrt(1 / 8) = 0.7071, and with
    t(0.975, 4) = 2.7764 the limits are 3 +- 1.9632.
    """
    values = {(0, 0): (10, 12), (1, 0): (14, 14), (0, 1): (11, 11), (1, 1): (13, 15)}
    days = [
        PlayedDay(day=f"{on}{value}", block="b", on=(bool(on[0]), bool(on[1])), value=float(value))
        for on, both in values.items()
        for value in both
    ]
    found = factor_effects(days)
    assert found.freedom == 4
    assert found.residual_variance == pytest.approx(1.0)
    assert [found.of[effect].estimate for effect in ("A", "B", "AB")] == pytest.approx([3.0, 0.0, 0.0], abs=1e-12)
    assert found.of["A"].standard_error == pytest.approx(0.70711, abs=5e-6)
    ends = found.of["A"].interval95
    assert (ends.low, ends.high) == pytest.approx((3 - 1.9632, 3 + 1.9632), abs=5e-5)
    narrow = found.of["A"].interval90
    assert narrow.high == pytest.approx(3 + 2.1318 * 0.70711, abs=1e-4)  # t(0.95, 4) = 2.1318
    assert found.blocks_f is None


def test_five_degrees_of_freedom_are_the_fewest_for_a_word() -> None:
    """Two changes and their pair take four of the days: nine leave five degrees of freedom, eight leave four."""
    kinds = list(product((False, True), repeat=2))
    days = [PlayedDay(day=str(place), block="b", on=kinds[place % 4], value=float(place * 7 % 5)) for place in range(9)]
    assert factor_effects(days).of["A"].freedom == 5
    assert factor_effects(days).of["A"].has_spread
    assert not factor_effects(days[:8]).of["A"].has_spread
    assert factor_effects(days[:8]).of["A"].interval95.is_bounded


def test_an_effect_without_days_alike_has_no_limits_and_stands_out_as_a_hint_alone() -> None:
    """Effects 10, 1, -1, 1 of 7: half-normal margin by Lenth's rule. Sizes 10, 1, 1, 1, 0, 0, 0: median 1, first 1.5; those under 3.75 have
    the median (0+1)/2 = 0.5, pseudo standard error 0.75; t(0.975, 7/3) = 3.764.
    """
    plan = usual_fraction(7, 8)
    days = days_of(plan.days, 1, lambda on, _time, _place: 5.0 * (1 if on[0] else -1) + 0.5 * sum((1 if on[k] else -1) for k in (1, 2, 3)))
    found = factor_effects(days)
    assert found.freedom == 0
    assert found.of["A"].estimate == pytest.approx(10.0)
    assert not found.of["A"].interval95.is_bounded
    assert found.of["A"].p_t == 1.0
    assert found.stands_out_from == pytest.approx(0.75 * 3.764, abs=0.005)


def test_a_pair_that_goes_with_a_change_is_never_told_by_itself() -> None:
    """Five changes on eight days, twice: A goes with BD and CE (I = ABD = ACE = BCDE), so seven effects are told and no more."""
    days = days_of(usual_fraction(5, 8).days, 2, lambda on, time, place: 3.0 * on[0] + (place * 7 + time * 3) % 5)
    found = factor_effects(days)
    assert set(found.of) == {"A", "B", "C", "D", "E", "BC", "BE"}  # BC = DE and BE = CD are the two that go with no change
    assert found.freedom == 7  # 16 days less mean, one block and seven effects


def test_a_block_that_differs_moves_no_effect() -> None:
    plan = usual_fraction(3, 8)
    level = factor_effects(days_of(plan.days, 2, lambda on, time, place: 2.0 * on[1] + (place * 5 + time * 3) % 7))
    moved = factor_effects(days_of(plan.days, 2, lambda on, time, place: 2.0 * on[1] + (place * 5 + time * 3) % 7 + 100 * time))
    assert moved.of["B"].estimate == pytest.approx(level.of["B"].estimate)
    assert moved.of["B"].standard_error == pytest.approx(level.of["B"].standard_error)


def test_a_change_that_was_on_whole_blocks_alone_is_not_told() -> None:
    days = [
        PlayedDay(day=f"{a}{b}{time}", block=f"with {a}", on=(a, b), value=float(time + a + 2 * b))
        for a, b in product((False, True), repeat=2)
        for time in range(3)
    ]
    found = factor_effects(days)
    assert found.untold == ("A",)
    assert "B" in found.of


def test_a_lost_day_leaves_the_effect_near_what_it_is() -> None:
    chance = Random(3)
    days = days_of(usual_fraction(3, 8).days, 3, lambda on, time, _place: 4.0 * on[2] + time + chance.gauss(0, 0.1))[1:]
    assert factor_effects(days).of["C"].estimate == pytest.approx(4.0, abs=0.3)


@pytest.mark.parametrize(
    "on", [[()], [(True,), (True, False)], [(True,) * 8], []], ids=["no change", "unlike days", "too many changes", "no day"]
)
def test_days_that_do_not_speak_of_the_same_changes_are_refused(on: list[tuple[bool, ...]]) -> None:
    with pytest.raises((StudyError, ValueError)):
        factor_effects([PlayedDay(day=str(place), block="b", on=each, value=1.0) for place, each in enumerate(on)])
