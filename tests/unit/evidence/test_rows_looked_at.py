"""Values far out, fillings of what is missing, observers of one thing, and two rates: each against arithmetic done by hand."""

from math import inf, sqrt

import numpy as np
import pytest

from marram.core.errors import StudyError
from marram.evidence.clarity.observers import observers_agree
from marram.evidence.models.far_out import farthest_by_chance, farthest_out
from marram.evidence.models.imputed import degrees_of_freedom, fill, pool
from marram.evidence.rates import score_of_rates


def test_the_farthest_value_is_found_on_either_side() -> None:
    found = farthest_out([10.0, 11.0, 9.0, 1.0, 10.0])
    assert found is not None
    assert found.place == 3
    assert found.distance == pytest.approx(7.2 / sqrt(66.8 / 4))  # mean 8.2; squares 3.24, 7.84, 0.64, 51.84, 3.24
    assert farthest_out([4.0, 4.0, 4.0]) is None
    assert farthest_out([4.0]) is None


@pytest.mark.parametrize(
    ("count", "both_ways", "critical"),
    [(8, False, 2.032), (10, False, 2.176), (10, True, 2.290), (20, True, 2.709)],  # Grubbs and Beck (1972), tables; from memory
)
def test_how_far_chance_reaches(count: int, both_ways: bool, critical: float) -> None:
    assert farthest_by_chance(count, both_ways=both_ways) == pytest.approx(critical, abs=0.0011)


def test_fillings_say_together_what_rubin_has_them_say() -> None:
    """Variance within 1, between 1: in all 1 + 4/3, an increase of 4/3, freedom 2 (1 + 3/4) squared."""
    found = pool([1.0, 2.0, 3.0], [1.0, 1.0, 1.0])
    assert found.estimate == 2.0
    assert found.standard_error == pytest.approx(sqrt(7 / 3))
    assert found.increase == pytest.approx(4 / 3)
    assert found.freedom == pytest.approx(6.125)
    few = pool([1.0, 2.0, 3.0], [1.0, 1.0, 1.0], whole_freedom=5)
    assert few.freedom == pytest.approx(1 / (1 / 6.125 + 1 / (6 / 8 * 5 * 3 / 7)))
    ends = few.interval(0.95)
    assert ends.high - 2.0 == pytest.approx(2.0 - ends.low)
    assert ends.high > found.interval(0.95).high > 2 + 1.96 * sqrt(7 / 3)


def test_fillings_that_all_say_the_same_cost_no_freedom() -> None:
    found = pool([2.0, 2.0], [4.0, 4.0])
    assert (found.standard_error, found.freedom, found.increase) == (2.0, inf, 0.0)
    assert found.interval(0.95).high == pytest.approx(2 + 1.959964 * 2)
    assert degrees_of_freedom(20, 0.0, whole_freedom=9) == pytest.approx(10 / 12 * 9)


@pytest.mark.parametrize(("estimates", "variances"), [([1.0], [1.0]), ([1.0, 2.0], [1.0]), ([1.0, 2.0], [1.0, 0.0])])
def test_what_says_nothing_together_is_told(estimates: list[float], variances: list[float]) -> None:
    with pytest.raises(StudyError, match="say nothing together"):
        pool(estimates, variances)


def test_a_filled_day_keeps_what_was_seen_and_adds_what_was_seen() -> None:
    filled = fill([1.0, 2.0, 7.0], 4, np.random.default_rng(1))
    assert filled[:3] == [1.0, 2.0, 7.0]
    assert len(filled) == 7
    assert set(filled[3:]) <= {1.0, 2.0, 7.0}


def test_fillings_differ_by_more_than_the_draw_alone() -> None:
    """A resample before the draw: the mean of many added values has the variance of a mean of what was seen, and not nearly none."""
    seen, chance = [0.0, 1.0] * 5, np.random.default_rng(7)
    means = [np.mean(fill(seen, 400, chance)[10:]) for _ in range(2000)]
    assert np.var(means) == pytest.approx(0.25 / 10 + 0.25 * 0.9 / 400, rel=0.15)


def test_an_observer_who_reads_one_higher_counts_against_any_but_not_these() -> None:
    """Between things 2, between observers 1.5, nothing left over; within things 0.5."""
    found = observers_agree([[1.0, 2.0], [2.0, 3.0], [3.0, 4.0]])
    assert found.these_observers == pytest.approx(1.0)
    assert found.any_observer == pytest.approx(2 / (2 + 2 * 1.5 / 3))
    assert found.drawn_anew == pytest.approx(1.5 / 2.5)
    assert found.drawn_anew_mean == pytest.approx(1.5 / 2)
    assert found.any_observer_mean == pytest.approx(2 / 2.5)
    assert found.these_observers_mean == pytest.approx(1.0)
    assert (found.things, found.observers) == (3, 2)


def test_observers_who_contradict_each_other_agree_in_nothing() -> None:
    found = observers_agree([[0.0, 1.0], [1.0, 0.0]])
    assert found.drawn_anew == pytest.approx(-1.0)
    assert found.any_observer_mean == 0.0


@pytest.mark.parametrize("readings", [[], [[1.0, 2.0]], [[1.0], [2.0]], [[1.0, 2.0], [1.0]], [[1.0, 1.0], [1.0, 1.0]]])
def test_what_cannot_be_compared_is_told(readings: list[list[float]]) -> None:
    with pytest.raises(StudyError, match=r"compared|alike"):
        observers_agree(readings)


def test_two_rates_are_held_against_the_spread_that_equal_ones_have() -> None:
    found = score_of_rates(9, 10, 1, 10)
    assert found.z == pytest.approx(0.8 / sqrt(0.5 * 0.2))
    assert found.ratio == pytest.approx(9.0)
    assert found.p_more == pytest.approx(0.005706, abs=1e-6)  # beyond 2.5298 of the normal distribution
    assert found.p_more + found.p_fewer == pytest.approx(1.0)
    assert score_of_rates(9, 10, 2, 20).z == pytest.approx(0.8 / sqrt(11 / 30 * (1 / 10 + 1 / 20)))
    turned = score_of_rates(1, 10, 9, 10)
    assert turned.p_fewer == pytest.approx(found.p_more)
    assert score_of_rates(4, 20, 0, 20).ratio is None
    none = score_of_rates(0, 5, 0, 6)
    assert (none.ratio, none.p_more, none.p_fewer) == (None, 0.5, 0.5)
    with pytest.raises(StudyError, match="no rate"):
        score_of_rates(1, 0, 1, 1)
