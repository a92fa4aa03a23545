"""A hole on which a group always waits: exact means and variances of the interval between groups that clear the green.

Exact integrals of the stage models (derived); e.g. par 4 with exponential stages of means 4, 2, 4: E max(S1, S3) + E S2 = 6 + 2,
Var = 1.25 x 16 + 4 = 24. Tolerance: three standard errors of the run (variances: those of a sample variance with correlated neighbours,
taken from the spread over days).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from numpy.random import Generator

from marram.simulation.pace.groups_on_a_hole import Times, queue_of
from marram.simulation.pace.hole_stages import PacedHole
from tests.support.reference_courses import green_clear_times

GROUPS, DAYS, FILLING = 420, 400, 20
Law = Callable[[Generator, tuple[int, int]], Times]


def exponential(*means: float) -> list[Law]:
    return [lambda rng, shape, mean=mean: rng.exponential(mean, shape) for mean in means]  # type: ignore[misc]


def triangle(*peaks: tuple[float, float]) -> list[Law]:
    """Symmetric triangles, each by its mean and half its width."""
    return [lambda rng, shape, m=m, a=a: rng.triangular(m - a, m, m + a, shape) for m, a in peaks]  # type: ignore[misc]


def even(*ranges: tuple[float, float]) -> list[Law]:
    return [lambda rng, shape, low=low, high=high: rng.uniform(low, high, shape) for low, high in ranges]  # type: ignore[misc]


def increments(par: int, waves_up: bool, laws: list[Law]) -> Times:
    rng = np.random.default_rng(11)
    stages = np.stack([law(rng, (GROUPS, DAYS)) for law in laws], axis=1)
    cleared = green_clear_times(PacedHole(number=1, par=par, walk_on_min=0, waves_up=waves_up), stages)
    return np.asarray(np.diff(cleared[FILLING:-1], axis=0), dtype=np.float64)


@pytest.mark.parametrize(
    ("par", "waves_up", "laws", "mean", "variance"),
    [
        (4, False, exponential(4, 2, 4), 8.0, 24.0),
        (4, False, exponential(5, 3, 5), 10.5, 40.25),
        (4, False, triangle((4, 2), (2, 1), (4, 2)), 6.466667, 0.615556),
        (4, False, triangle((5, 2), (3, 1), (5, 2)), 8.466667, 0.615556),
        (4, False, even((3, 7), (2, 4), (4, 6)), 8.541667, 0.873264),
        (4, False, triangle((5, 2.5), (3, 1.5), (5, 2.5)), 8.583333, None),
        (3, False, exponential(4, 2, 3), 9.0, 29.0),
        (3, True, exponential(4, 2, 3), 7.8, 24.68),
        (3, False, triangle((3, 1), (2, 0.5), (4, 2)), 9.0, 0.875),
        (3, True, triangle((3, 1), (2, 0.5), (4, 2)), 7.000260, 0.832422),
        (5, False, triangle((4, 2), (2, 1), (3, 1.5), (2, 1), (4, 2)), 7.18690, None),
        (5, False, triangle((5, 2.5), (2, 1), (3, 1.5), (2, 1), (5, 2.5)), 7.75042, None),
        (5, False, exponential(4, 2, 3, 2, 4), 9.5138, None),
    ],
)
def test_the_interval_of_a_full_hole_is_the_exact_one(
    par: int, waves_up: bool, laws: list[Law], mean: float, variance: float | None
) -> None:
    between = increments(par, waves_up, laws)
    of_days = between.mean(axis=0)
    assert of_days.mean() == pytest.approx(mean, abs=3 * of_days.std() / np.sqrt(DAYS) + 0.0015)
    if variance is not None:  # of X, which on a par 4 is the interval between second strokes: the green adds S3 of both groups
        spans = between.sum(axis=0)  # a telescoped sum: its variance grows with Var X for each group
        growth = spans.var(ddof=1) / between.shape[0]
        assert growth == pytest.approx(variance, rel=3 * np.sqrt(2 / (DAYS - 1)) + 0.01)


def in_series(holes: int, groups: int, days: int) -> Times:
    """When each of many groups, all waiting at time 0, clears the last of equal holes that one group plays at a time, mean 1."""
    rng = np.random.default_rng(5)
    came = [np.zeros(days)] * groups
    for _ in range(holes):
        queue = queue_of(PacedHole(number=1, par=3, walk_on_min=0))
        stages = [np.stack([rng.exponential(1.0, days), np.zeros(days), np.zeros(days)]) for _ in came]
        played = [queue.follow(at, one, np.empty(days), np.empty(days)) for at, one in zip(came, stages, strict=True)]
        came = [cleared for cleared in played if cleared is not None]
    return np.stack(came)


@pytest.mark.parametrize(
    ("holes", "group", "mean", "sd"),
    [(1, 1, 1, 1), (2, 2, 3.5, 1.8027756), (3, 3, 6.520833333, 2.3480747), (18, 1, 18, 4.2426407), (18, 5, 32.4509287, 4.5138731)],
)
def test_equal_holes_in_series_end_as_the_largest_eigenvalue(holes: int, group: int, mean: float, sd: float) -> None:
    """Last-passage times with exponential holes: *Shape fluctuations and random matrices*, 2000 (from memory); values exact (derived)."""
    ended = in_series(holes, group, 20_000)[-1]
    assert ended.mean() == pytest.approx(mean, abs=3 * sd / np.sqrt(ended.size))
    assert ended.std(ddof=1) == pytest.approx(sd, rel=0.03)


def test_waiting_grows_with_the_root_of_the_groups_where_a_hole_is_just_full() -> None:
    """Interval equal to the mean hole time, normal spread sigma: mean wait of group n + 1 is sigma (2 pi)^-1/2 sum k^-1/2 (Spitzer)."""
    rng = np.random.default_rng(9)
    queue, waits = queue_of(PacedHole(number=1, par=3, walk_on_min=0)), []
    for number in range(37):
        length = rng.normal(10.0, 0.5, 20_000)
        on_tee = np.empty(20_000)
        queue.follow(np.full(20_000, 10.0 * number), np.stack([length, np.zeros(20_000), np.zeros(20_000)]), on_tee, np.empty(20_000))
        waits.append(on_tee / 0.5)
    for group, wanted in {1: 0.398942, 10: 2.003088, 36: 4.237878}.items():
        assert waits[group].mean() == pytest.approx(wanted, abs=3 * waits[group].std() / np.sqrt(20_000))
