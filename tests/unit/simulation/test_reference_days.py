"""Whole days on reference courses against 48,000 days worked out apart (derived; se 0.03 to 0.04), and against exact first groups.

Tolerance: three standard errors of this run and of those days together.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.support.reference_courses import PARS, in_chunks, reference_days

DAYS = 1000
GROUPS = (0, 9, 17, 35, 53)


def within(found: np.ndarray, wanted: float) -> bool:
    return bool(abs(found.mean() - wanted) < 3 * np.hypot(found.std(ddof=1) / np.sqrt(found.size), 0.04))


@pytest.mark.parametrize(
    ("interval", "waves_up", "lost", "means", "day_mean", "sd_last"),
    [
        (9, False, 0, (253.79, 277.29, 287.72, 306.90, 324.03), 296.34, 7.08),
        (10, False, 0, (253.79, 269.58, 272.96, 276.22, 277.55), 273.18, 5.46),
        (11, False, 0, (253.79, 263.83, 264.11, 264.18, 264.13), 263.59, 4.43),
        (9, True, 0, (253.90, 279.98, 289.60, 298.86, 301.86), 291.01, 5.38),
        (10, False, 5, (260.77, 286.66, 294.27, 302.85, 307.11), 296.05, 8.48),
        (10, False, 3, (257.98, 277.53, 282.24, 286.91, 288.89), 282.73, 6.19),
    ],
)
def test_days_of_the_reference_courses(
    interval: float, waves_up: bool, lost: float, means: tuple[float, ...], day_mean: float, sd_last: float
) -> None:
    rounds = in_chunks(lambda days: reference_days(interval, days, waves_up=waves_up, lost_min=lost), DAYS)
    for group, wanted in zip(GROUPS, means, strict=True):
        assert within(rounds[group], wanted), (group, rounds[group].mean())
    assert within(rounds.mean(axis=0), day_mean)
    assert rounds[-1].std(ddof=1) == pytest.approx(sd_last, rel=3 / np.sqrt(2 * (DAYS - 1)) + 0.02)


def test_a_lone_group_takes_the_sum_of_its_means() -> None:
    """10 x 13 + 4 x 17 + 4 x 9.7 + 17 = 253.8 with variance 10 x 2.4583 + 4 x 2.7917 + 4 x 1.3904 = 41.31, sd 6.428."""
    alone = in_chunks(lambda days: reference_days(10, days, groups=1), DAYS)[0]
    assert alone.mean() == pytest.approx(253.8, abs=3 * 6.428 / np.sqrt(DAYS))
    assert alone.std(ddof=1) == pytest.approx(6.428, rel=3 / np.sqrt(2 * (DAYS - 1)))


def test_most_waiting_is_on_the_tees_of_par_3s() -> None:
    """Mean waiting on tees by par at 9 minutes: 32.6, 5.8 and 0.45; at 10: 12.3, 3.6 and 0.41 (tolerance 0.5)."""
    for interval, wanted in ((9, (32.6, 5.8, 0.45)), (10, (12.3, 3.6, 0.41))):
        waited = reference_days(interval, range(300)).waited_on_tee_min.mean(axis=(1, 2))
        found = [sum(one for par, one in zip(PARS, waited, strict=True) if par == each) for each in (3, 4, 5)]
        assert found == pytest.approx(wanted, abs=0.5)


def test_too_short_an_interval_makes_rounds_grow_by_what_it_lacks() -> None:
    """Par-3 cycle 9.7 less 9 minutes, and more where holes hold each other up: close to 0.95 minutes a group between groups 36 and 54."""
    rounds = reference_days(9, range(300)).round_min
    assert (rounds[53] - rounds[35]).mean() / 18 == pytest.approx(0.95, abs=0.08)
