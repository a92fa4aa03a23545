"""What an earlier season tells for a plan: spread of the difference of two days, correlation within a day, and their upper limits."""

from __future__ import annotations

from dataclasses import replace
from math import log, sqrt
from statistics import stdev

import numpy as np
import pytest

from marram.core.errors import StudyError
from marram.evidence.planning.spread_of_past import (
    TakenFrom,
    sd_upper_limit,
    spread_of_past,
    times_met,
    variance_components,
)
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from tests.support.seasons import days_of

ROUND = outcomes()["round_min"]


def season(days: tuple[TrialDay, ...], worth: dict[str, list[float]], outcome: str = "round_min") -> TrialRecords:
    placed = [(day, place, value) for day, lot in worth.items() for place, value in enumerate(lot)]
    rows = [Observation(day=day, outcome=outcome, value=value, group=f"g{place}") for day, place, value in placed]
    return TrialRecords(days=days, observations=tuple(rows))


def alone(days: tuple[TrialDay, ...]) -> tuple[TrialDay, ...]:
    return tuple(replace(day, pair="", arm=Arm.ORDINARY) for day in days)


def test_components_of_a_balanced_table_by_hand() -> None:
    """Two clusters of two: 1, 3 and 7, 9. Within 2; among 2 (3^2 + 3^2) = 36; between (36 - 2) / 2 = 17; correlation 17/19."""
    found = variance_components([[1, 3], [7, 9]])
    assert (found.between, found.within, found.size) == pytest.approx((17, 2, 2))
    assert found.correlation == pytest.approx(17 / 19)
    assert (found.clusters, found.values) == (2, 4)


def test_clusters_of_unequal_size_count_by_the_size_that_tells_as_much() -> None:
    """Sizes 1, 2 and 3: (6 - 14/6) / 2 = 11/6."""
    assert variance_components([[1], [2, 3], [4, 6, 5]]).size == pytest.approx(11 / 6)


def test_clusters_that_differ_less_than_chance_have_no_correlation() -> None:
    found = variance_components([[1, 9], [2, 8], [5, 5]])
    assert (found.between, found.correlation) == (0.0, 0.0)
    assert found.correlation_upper >= 0
    assert variance_components([[1, 1], [2, 2]]).correlation_upper == 1.0


def test_the_upper_limit_of_the_correlation_holds_in_eighty_of_a_hundred() -> None:
    """Days with a variance of 1 between and 3 within: a correlation of 0.25."""
    chance = np.random.default_rng(2)
    drawn = [chance.normal(size=(12, 1)) + sqrt(3) * chance.normal(size=(12, 10)) for _ in range(1500)]
    held = [variance_components(lot.tolist()).correlation_upper >= 0.25 for lot in drawn]
    assert np.mean(held) == pytest.approx(0.80, abs=3 * sqrt(0.16 / 1500))


def test_the_upper_limit_of_a_spread_by_the_table_of_chi_square() -> None:
    """The lower fifth of chi-square with 9 degrees of freedom is 5.380 (tables): sqrt(9 / 5.380) = 1.2934."""
    assert sd_upper_limit(10, 9) == pytest.approx(12.934, abs=2e-3)
    assert sd_upper_limit(1, 200) < 1.06
    with pytest.raises(StudyError, match="no spread"):
        sd_upper_limit(1, 0)


@pytest.mark.parametrize("clusters", [[], [[1.0, 2.0]], [[1.0], [2.0]], [[1.0, 2.0], []]])
def test_what_shows_no_correlation_is_refused(clusters: list[list[float]]) -> None:
    with pytest.raises(StudyError, match="no correlation"):
        variance_components(clusters)


def test_the_spread_is_that_of_the_differences_of_pairs() -> None:
    """Trial less ordinary: -4, 2, -1; an effect of the past trial is in each alike and drops out."""
    days = days_of(3)
    worth = {
        "trial0": [240.0, 232.0],
        "ordinary0": [240.0],
        "trial1": [242.0],
        "ordinary1": [240.0],
        "trial2": [239.0],
        "ordinary2": [240.0],
    }
    found = spread_of_past(ROUND, season(days, worth))
    assert found is not None
    assert found.taken_from is TakenFrom.PAIRS
    assert found.freedom == 2
    assert found.sd == pytest.approx(stdev([-4, 2, -1]))
    assert found.sd_upper == pytest.approx(sd_upper_limit(3, 2))
    assert found.components is not None
    assert found.components.values == 7


def test_pairs_of_ordinary_days_are_pairs_too() -> None:
    days = tuple(replace(day, arm=Arm.ORDINARY) for day in days_of(3))
    worth = {day.day: [240.0 + float(place * place)] for place, day in enumerate(days)}
    found = spread_of_past(ROUND, season(days, worth))
    assert found is not None
    assert found.taken_from is TakenFrom.PAIRS
    assert found.sd == pytest.approx(stdev([1, 5, 9]))
    assert found.components is None


def test_where_there_are_no_pairs_days_of_one_course_that_follow_are_taken_and_none_twice() -> None:
    """Of the Moor 240, 244, 241, 238: 4 and -3; of the Bay one day, which has no other."""
    days = alone(days_of(3))[:5]
    days = (*days[:4], replace(days[4], course="Bay"))
    worth = dict(zip((day.day for day in days), ([240.0], [244.0], [241.0], [238.0], [999.0]), strict=True))
    found = spread_of_past(ROUND, season(days, worth))
    assert found is not None
    assert found.taken_from is TakenFrom.ADJACENT
    assert found.freedom == 1
    assert found.sd == pytest.approx(stdev([4, -3]))


def test_days_follow_by_date_and_not_by_their_place_in_the_table() -> None:
    days = alone(days_of(2))
    worth = dict(zip((day.day for day in days), ([1.0], [2.0], [10.0], [13.0]), strict=True))
    turned = season((days[2], days[0], days[3], days[1]), worth)
    found = spread_of_past(ROUND, turned)
    assert found is not None
    assert found.sd == pytest.approx(stdev([1, 3]))


def test_one_difference_or_differences_all_alike_tell_no_spread() -> None:
    days = days_of(2)
    assert spread_of_past(ROUND, season(days, {"trial0": [1.0], "ordinary0": [2.0]})) is None
    assert spread_of_past(ROUND, season(days, {name: [float(name.startswith("t"))] for name in (day.day for day in days)})) is None


def test_times_that_run_long_hang_together_by_their_logarithms() -> None:
    outcome = outcomes()["ruling_s"]
    days = days_of(2)
    worth = {day.day: [2.0, 8.0 * (place + 1)] for place, day in enumerate(days)}
    found = spread_of_past(outcome, season(days, worth, "ruling_s"))
    assert found is not None
    assert found.components is not None
    logs = variance_components([[log(value) for value in lot] for lot in worth.values()])
    assert found.components.within == pytest.approx(logs.within)
    # the days are worth 4, 5.657, 6.928, 8: their geometric means
    assert found.sd == pytest.approx(stdev([4 - sqrt(32), sqrt(48) - 8]))


def test_how_often_a_change_was_met_counts_rounds_in_which_it_was_not() -> None:
    rows = tuple(
        Observation(day="trial0", outcome="change_met", value=value, player=f"p{place}", change=change)
        for place, (value, change) in enumerate([(0, 1), (3, 1), (0, 1), (1, 1), (9, 2)])
    )
    records = TrialRecords(days=days_of(1), observations=rows)
    assert times_met(1, outcomes()["change_met"], records) == 1.0
    assert times_met(3, outcomes()["change_met"], records) is None


def test_days_of_another_course_or_under_other_rules_do_not_follow() -> None:
    """By date Moor 10, Bay 50, Moor 12, Bay 57, trial 90, trial 99, Moor 11, Moor 16: 2 and 5, 7 of the Bay, 9 of the trial."""
    days = alone(days_of(4))
    courses, arms = ("Moor", "Bay", "Moor", "Bay", "Moor", "Moor", "Moor", "Moor"), [Arm.ORDINARY] * 8
    arms[4] = arms[5] = Arm.TRIAL
    days = tuple(replace(day, course=course, arm=arm) for day, course, arm in zip(days, courses, arms, strict=True))
    worth = {day.day: [value] for day, value in zip(days, (10.0, 50.0, 12.0, 57.0, 90.0, 99.0, 11.0, 16.0), strict=True)}
    found = spread_of_past(ROUND, season(days, worth))
    assert found is not None
    assert found.sd == pytest.approx(stdev([2, 5, 7, 9]))


def test_rates_and_shares_of_a_season_by_hand() -> None:
    """Counts 0 4, 0 4, 1 5, 3 7: rate 3, variance within a day 8, so (8 - 3) / 3^2; answers 1 1 2 5: shares 1/2, 1/4, 0, 0, 1/4."""
    days = days_of(2)
    worth = dict(zip((day.day for day in days), ([0.0, 4.0], [0.0, 4.0], [1.0, 5.0], [3.0, 7.0]), strict=True))
    found = spread_of_past(outcomes()["rulings"], season(days, worth, "rulings"))
    assert found is not None
    assert found.rate == 3
    assert found.dispersion == pytest.approx(5 / 9)
    assert found.values_a_day == 2
    assert found.shares is None
    worth = dict(zip((day.day for day in days), ([1.0], [1.0], [2.0], [5.0]), strict=True))
    answered = spread_of_past(outcomes()["fair"], season(days, worth, "fair"))
    assert answered is not None
    assert answered.shares == (0.5, 0.25, 0, 0, 0.25)
    assert answered.rate is None


def test_what_nothing_pairs_spreads_by_days_and_groups() -> None:
    """Days 1, 3 and 7, 9: between 17, within 2, two of a day: sqrt(2 (17 + 2 / 2)) = 6."""
    days = days_of(2)
    worth = dict(zip((day.day for day in days), ([1.0, 3.0], [7.0, 9.0], [1.0, 3.0], [7.0, 9.5]), strict=True))
    found = spread_of_past(ROUND, season(days, worth))
    assert found is not None
    assert found.components is not None
    assert found.sd_unpaired == pytest.approx(sqrt(2 * (found.components.between + found.components.within / 2)))
