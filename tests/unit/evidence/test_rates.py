"""Rates of trial days against ordinary days."""

from math import exp, inf, log

import pytest

from marram.core.errors import StudyError
from marram.evidence.effects import Interval
from marram.evidence.rates import PairedCounts, pooled_ratio, rate_ratio


def counts(pair: str, trial: int, ordinary: int, *, trial_rounds: float = 20.0, ordinary_rounds: float = 20.0) -> PairedCounts:
    return PairedCounts(
        pair=pair, trial_count=trial, trial_exposure=trial_rounds, ordinary_count=ordinary, ordinary_exposure=ordinary_rounds
    )


def test_the_ratio_is_paired_by_day_and_weighs_the_exposure() -> None:
    found = rate_ratio([counts("a", 10, 20), counts("b", 12, 12, trial_rounds=30.0), counts("c", 9, 6, ordinary_rounds=10.0)])
    each = [0.5, 12 / 30 / (12 / 20), 9 / 20 / (6 / 10)]
    assert found.ratio.estimate == pytest.approx(exp(sum(map(log, each)) / 3))
    assert found.half_added_to == ()
    assert not found.is_rare


def test_absolute_rates_are_for_a_hundred() -> None:
    found = rate_ratio([counts("a", 10, 20), counts("b", 5, 10, ordinary_rounds=40.0)])
    assert found.trial_per_100 == pytest.approx(100 * 15 / 40)
    assert found.ordinary_per_100 == pytest.approx(100 * 30 / 60)
    assert found.per_100.estimate == pytest.approx(((50 - 100) + (25 - 25)) / 2)


def test_half_an_event_is_added_only_where_a_day_had_none_and_it_is_told() -> None:
    found = rate_ratio([counts("a", 4, 8), counts("b", 0, 3), counts("c", 0, 0)])
    assert found.half_added_to == ("b", "c")
    assert dict(found.ratio.log.differences) == pytest.approx({"a": log(0.5), "b": log(0.5 / 3.5), "c": 0.0})
    assert dict(found.per_100.differences)["b"] == pytest.approx(-15)  # nothing is added to what is told per 100


def test_the_exact_limits_of_no_event_follow_from_the_chance_of_none() -> None:
    # 0 of 10: the upper limit of the share p solves (1 - p)^10 = 0.025
    share = 1 - 0.025 ** (1 / 10)
    found = pooled_ratio(0, 200.0, 10, 100.0)
    assert (found.estimate, found.interval95.low) == (0.0, 0.0)
    assert found.interval95.high == pytest.approx(share / (1 - share) * 100 / 200)


def test_the_exact_p_is_that_of_a_fair_coin_where_exposures_are_equal() -> None:
    assert pooled_ratio(1, 50.0, 7, 50.0).p == pytest.approx(2 * (1 + 8) / 2**8)


def test_exact_limits_without_an_event_on_ordinary_days_have_no_upper_end() -> None:
    found = pooled_ratio(5, 100.0, 0, 100.0)
    assert found.estimate is None
    assert found.interval95.high == inf
    assert found.interval95.low == pytest.approx(0.025 ** (1 / 5) / (1 - 0.025 ** (1 / 5)))


def test_no_event_at_all_bounds_no_ratio() -> None:
    found = rate_ratio([counts("a", 0, 0), counts("b", 0, 0)])
    assert (found.pooled.estimate, found.pooled.interval95, found.pooled.p) == (None, Interval(low=0, high=inf), 1.0)
    assert found.ratio.interval95 == Interval(low=0, high=inf)
    assert found.is_rare


def test_arms_exchanged_turn_the_ratio_over() -> None:
    there, back = pooled_ratio(7, 120.0, 15, 90.0), pooled_ratio(15, 90.0, 7, 120.0)
    assert there.interval90.low == pytest.approx(1 / back.interval90.high)
    assert there.p == pytest.approx(back.p)


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        ([], "no whole pair"),
        ([counts("a", 1, 2), counts("a", 1, 2)], "named twice"),
        ([counts("a", -1, 2)], "below zero"),
        ([counts("a", 1, 2, trial_rounds=0.0)], "not above zero"),
    ],
)
def test_what_cannot_be_counted_is_refused(pairs: list[PairedCounts], words: str) -> None:
    with pytest.raises(StudyError, match=words):
        rate_ratio(pairs)
