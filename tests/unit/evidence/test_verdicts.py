"""Verdicts: the table of words, the line over a change, how many pairs would settle it, Holm."""

from math import inf

import pytest

from marram.core.errors import StudyError
from marram.evidence.effects import Interval, paired_days
from marram.evidence.guards import GuardWord
from marram.evidence.verdicts import Overall, Verdict, Wanted, as_wanted, holm, overall_of, pairs_to_settle, verdict_of


def wanted(estimate: float, low95: float, high95: float, low90: float, high90: float) -> Wanted:
    return Wanted(estimate=estimate, interval95=Interval(low=low95, high=high95), interval90=Interval(low=low90, high=high90))


@pytest.mark.parametrize(
    ("effect", "word"),
    [
        (wanted(9, 6, 12, 6.5, 11.5), Verdict.DOES_IT),
        (wanted(6, 2, 10, 2.5, 9.5), Verdict.DOES_IT_SIZE_OPEN),
        (wanted(5, 2, 8, 2.5, 7.5), Verdict.DOES_IT_SIZE_OPEN),  # just what was asked for
        (wanted(6, 5, 7, 5.1, 6.9), Verdict.DOES_IT_SIZE_OPEN),  # an end on what matters is not beyond it
        (wanted(4, 1, 7, 1.5, 6.5), Verdict.WORKS_LESS),
        (wanted(2, 1, 3, 1.2, 2.8), Verdict.WORKS_LESS),  # inside what matters too, but shown to work
        (wanted(0, -4, 4, -3, 3), Verdict.NO_DIFFERENCE),
        (wanted(0.5, -5.2, 6.2, -4.4, 4.9), Verdict.NO_DIFFERENCE),  # the 90 % interval decides
        (wanted(-2, -3, -1, -2.8, -1.2), Verdict.NO_DIFFERENCE),
        (wanted(-9, -12, -6, -11.5, -6.5), Verdict.OPPOSITE),
        (wanted(-9, -17, -1, -16, -2), Verdict.OPPOSITE_SLIGHT),
        (wanted(-9, -13, -5, -12, -6), Verdict.OPPOSITE_SLIGHT),
        (wanted(1, -7, 9, -6, 8), Verdict.NOT_SHOWN),
        (wanted(6, 0, 12, 1, 11), Verdict.NOT_SHOWN),
        (wanted(1, -inf, inf, -inf, inf), Verdict.NOT_SHOWN),
    ],
)
def test_the_first_condition_that_fits_gives_the_word(effect: Wanted, word: Verdict) -> None:
    assert verdict_of(effect, matters=5, pairs=8) is word


@pytest.mark.parametrize(("pairs", "missing"), [(5, 0.0), (0, 0.0), (40, 0.21)])
def test_too_little_to_judge_comes_first(pairs: int, missing: float) -> None:
    assert verdict_of(wanted(9, 6, 12, 6.5, 11.5), matters=5, pairs=pairs, missing_share=missing) is Verdict.TOO_LITTLE


def test_six_pairs_and_a_fifth_missing_are_judged() -> None:
    assert verdict_of(wanted(9, 6, 12, 6.5, 11.5), matters=5, pairs=6, missing_share=0.2) is Verdict.DOES_IT


@pytest.mark.parametrize("matters", [0, -1, float("nan")])
def test_what_matters_is_above_zero(matters: float) -> None:
    with pytest.raises(StudyError, match="cannot be what matters"):
        verdict_of(wanted(9, 6, 12, 6.5, 11.5), matters=matters, pairs=8)


def test_an_effect_is_turned_where_less_is_wanted() -> None:
    effect = (-9.0, Interval(low=-12, high=-6), Interval(low=-11.5, high=-6.5))
    assert as_wanted(*effect, is_less_wanted=True) == wanted(9, 6, 12, 6.5, 11.5)
    assert as_wanted(*effect, is_less_wanted=False).estimate == -9.0


KEPT, HARMED, OPEN = GuardWord


@pytest.mark.parametrize("intent", Verdict)
@pytest.mark.parametrize("guards", [(), (KEPT,), (KEPT, KEPT), (KEPT, HARMED), (OPEN,), (HARMED, OPEN)])
def test_the_line_over_a_change(intent: Verdict, guards: tuple[GuardWord, ...]) -> None:
    is_met = intent.value.startswith("does it")
    has_failed = intent.value.startswith(("does the opposite", "makes no difference"))
    met = Overall.DID if set(guards) <= {KEPT} else Overall.MIXED
    assert overall_of(intent, guards) is (met if is_met else Overall.DID_NOT if has_failed else Overall.OPEN)


def spread_out(estimate: float, sd: float, pairs: int) -> list[tuple[str, float, float]]:
    """Differences with just this mean and standard deviation: half above, half below, one in the middle where the number is odd."""
    away = sd * ((pairs - 1) / (pairs - pairs % 2)) ** 0.5
    values = [estimate + away * (1 if number % 2 else -1) for number in range(pairs - pairs % 2)] + [estimate] * (pairs % 2)
    return [(str(number), value, 0.0) for number, value in enumerate(values)]


@pytest.mark.parametrize(("estimate", "sd"), [(3.0, 10.0), (0.0, 10.0), (-4.0, 9.0), (6.0, 14.0)])
def test_the_fewest_pairs_that_settle_it_do_and_one_fewer_do_not(estimate: float, sd: float) -> None:
    needed = pairs_to_settle(estimate, sd, matters=5, pairs=8)
    assert needed is not None

    def word(pairs: int) -> Verdict:
        found = paired_days(spread_out(estimate, sd, pairs))
        return verdict_of(Wanted(estimate=found.estimate, interval95=found.interval95, interval90=found.interval90), matters=5, pairs=pairs)

    assert word(needed) is not Verdict.NOT_SHOWN
    assert word(needed - 1) is Verdict.NOT_SHOWN


def test_pairs_without_spread_tell_nothing_of_how_many_are_needed() -> None:
    assert pairs_to_settle(3, 0, matters=5, pairs=8) is None


def test_more_than_ten_thousand_pairs_are_not_named() -> None:
    assert pairs_to_settle(0.001, 1000, matters=0.01, pairs=8) is None


def test_holm_by_hand() -> None:
    # sorted 0.005, 0.02, 0.03: 3 x 0.005 = 0.015; 2 x 0.02 = 0.04; 1 x 0.03 = 0.03, raised to the 0.04 before it
    assert holm([0.02, 0.005, 0.03]) == pytest.approx((0.04, 0.015, 0.04))
    assert holm([0.7, 0.9]) == pytest.approx((1.0, 1.0))
    assert holm([]) == ()


def test_holm_takes_p_values_only() -> None:
    with pytest.raises(StudyError, match="not all p values"):
        holm([0.2, 1.2])
