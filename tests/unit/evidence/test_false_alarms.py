"""Simulated trials: false alarms where there is no effect, and an effect that is there is found again.

Each trial is played out in groups: days differ, groups of a day differ, and only then is the day mean taken. The checks use the Monte Carlo
error of the run itself: two of them either way for the one statement that each run is made for, three for what is read off it besides,
since one of twenty such checks would miss two by chance.
"""

from math import sqrt

import numpy as np
import pytest

from marram.evidence.effects import PairedDifference, paired_days
from marram.evidence.rates import PairedCounts, RateRatio, rate_ratio

PAIRS, GROUPS = 8, 20
LEVEL = 0.05


def play_trials(trials: int, *, effect_min: float, seed: int) -> list[PairedDifference]:
    random = np.random.default_rng(seed)
    pair_min = random.normal(255.0, 12.0, size=(trials, PAIRS, 1))
    day_min = pair_min + random.normal(0.0, 6.0, size=(trials, PAIRS, 2))
    group_min = day_min[..., None] + random.normal(0.0, 10.0, size=(trials, PAIRS, 2, GROUPS))
    means = group_min.mean(axis=-1) + np.array([effect_min, 0.0])
    return [paired_days([(str(pair), float(a), float(b)) for pair, (a, b) in enumerate(trial)]) for trial in means]


def count_trials(trials: int, *, rate: float, ratio: float, day_spread: float, seed: int) -> list[RateRatio]:
    """Trials in which events are counted; pairs differ in how often they happen, and the days of a pair by `day_spread` of that."""
    random = np.random.default_rng(seed)
    pair_rate = rate * random.gamma(4, 1 / 4, size=(trials, PAIRS, 1))
    day_rate = pair_rate * random.gamma(1 / day_spread**2, day_spread**2, size=(trials, PAIRS, 2)) * np.array([ratio, 1.0])
    counts = random.poisson(day_rate * GROUPS)
    named = [[(str(pair), int(a), int(b)) for pair, (a, b) in enumerate(trial)] for trial in counts]
    return [
        rate_ratio(
            [
                PairedCounts(pair=pair, trial_count=a, trial_exposure=GROUPS, ordinary_count=b, ordinary_exposure=GROUPS)
                for pair, a, b in trial
            ]
        )
        for trial in named
    ]


def assert_share(count: int, of: int, expected: float, *, errors: int = 2) -> None:
    assert abs(count / of - expected) <= errors * sqrt(expected * (1 - expected) / of)


def check_false_alarms(trials: int) -> None:
    found = play_trials(trials, effect_min=0.0, seed=1)
    assert_share(sum(trial.p_t < LEVEL for trial in found), trials, LEVEL)
    # 2/256 steps: the largest level not above 5 % that turning 8 coins can have is 12/256
    assert_share(sum(trial.p_sign_flip < LEVEL for trial in found), trials, 12 / 256, errors=3)
    assert_share(sum(not trial.interval90.low < 0 < trial.interval90.high for trial in found), trials, 0.10, errors=3)


def check_coverage(trials: int) -> None:
    effect = -7.0
    found = play_trials(trials, effect_min=effect, seed=2)
    assert_share(sum(trial.interval95.low <= effect <= trial.interval95.high for trial in found), trials, 0.95)
    spread = sqrt(2 * (6.0**2 + 10.0**2 / GROUPS) / PAIRS)
    assert abs(np.mean([trial.estimate for trial in found]) - effect) <= 3 * spread / sqrt(trials)


def test_trials_without_an_effect_give_few_false_alarms() -> None:
    check_false_alarms(1_000)


def test_an_effect_that_is_there_lies_in_the_interval() -> None:
    check_coverage(1_000)


@pytest.mark.long
def test_ten_thousand_trials_without_an_effect() -> None:
    check_false_alarms(10_000)


@pytest.mark.long
def test_ten_thousand_trials_with_an_effect() -> None:
    check_coverage(10_000)


@pytest.mark.long
@pytest.mark.parametrize("ratio", [1.0, 0.6])
def test_rates_of_common_events_lie_in_the_interval_paired_by_day(ratio: float) -> None:
    found = count_trials(2_000, rate=0.8, ratio=ratio, day_spread=0.3, seed=3)
    assert not any(trial.is_rare for trial in found)
    inside = [trial.ratio.interval95.low <= ratio <= trial.ratio.interval95.high for trial in found]
    assert_share(sum(inside), len(inside), 0.95)


@pytest.mark.long
@pytest.mark.parametrize("ratio", [1.0, 0.5])
def test_rates_of_rare_events_lie_in_the_exact_limits_at_least_as_often_as_they_say(ratio: float) -> None:
    found = [trial for trial in count_trials(2_000, rate=0.03, ratio=ratio, day_spread=0.3, seed=4) if trial.is_rare]
    inside = [trial.pooled.interval95.low <= ratio <= trial.pooled.interval95.high for trial in found]
    assert len(inside) > 1_500
    assert sum(inside) / len(inside) >= 0.95 - 2 * sqrt(0.95 * 0.05 / len(inside))
