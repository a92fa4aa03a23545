"""Comparisons of groups or players drawn singly: a station exercise, two lots, the same players under both rules in turn.

Never for pace: groups inside one day wait for each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean, stdev, variance

from marram.core.errors import StudyError
from marram.evidence.effects import Interval


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """What is known of one lot: how many, their mean, and the standard deviation between them."""

    n: int
    mean: float
    sd: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MeanDifference:
    """A difference of means, in the unit of the values.

    Attributes:
        estimate: The difference.
        standard_error: Its standard error.
        degrees_of_freedom: Degrees of freedom of the t test.
        interval95: 95 % interval.
        interval90: 90 % interval.
        p: Two-sided p.
    """

    estimate: float
    standard_error: float
    degrees_of_freedom: int
    interval95: Interval
    interval90: Interval
    p: float


def sample_of(values: Sequence[float]) -> Sample:
    """How many values there are, their mean and their spread; one value alone has none.

    Raises:
        StudyError: There is none.
    """
    if not values:
        raise StudyError("No values have no mean.", hint="Give at least one.")
    return Sample(n=len(values), mean=fmean(values), sd=stdev(values) if len(values) > 1 else 0.0)


def compare_lots(days: Sequence[tuple[Sample, Sample]]) -> MeanDifference:
    """The mean of one lot less that of another, where players or groups were drawn singly and spread alike, each day by itself.

    Args:
        days: For each day, or other block in which was drawn, its two lots.

    Raises:
        StudyError: No lot holds two, a lot is empty, or there is no spread.

    Source: Student, The probable error of a mean (1908), with the pooled standard deviation; Fisher, The Design of Experiments (1935), for
    days as blocks.
    """
    freedom = sum(first.n + second.n - 2 for first, second in days)
    if freedom < 1 or min(min(first.n, second.n) for first, second in days) < 1:
        raise StudyError("A lot of one or none shows no spread.", hint="Give at least two in each.")
    squares = sum((lot.n - 1) * lot.sd**2 for both in days for lot in both)
    weights = [first.n * second.n / (first.n + second.n) for first, second in days]
    told = sum(weight * (first.mean - second.mean) for weight, (first, second) in zip(weights, days, strict=True))
    return _with_t(told / sum(weights), sqrt(squares / freedom / sum(weights)), freedom)


def compare_in_turn(trial_first: Sequence[tuple[float, float]], ordinary_first: Sequence[tuple[float, float]]) -> MeanDifference:
    """Trial rules less ordinary rules, from players who played both in turn, with what time alone changes taken out.

    Args:
        trial_first: First and second value of each who played under trial rules first.
        ordinary_first: First and second value of each who played under ordinary rules first.

    Raises:
        StudyError: An order was played by fewer than two, or there is no spread.

    Source: Senn, Cross-over Trials in Clinical Research (1993), example 3.1 for the working.
    """
    orders = [[before - after for before, after in order] for order in (trial_first, ordinary_first)]
    if min(map(len, orders)) < 2:
        raise StudyError("An order was played by one or none.", hint="At least two must play in each order.")
    (n, m), freedom = map(len, orders), len(trial_first) + len(ordinary_first) - 2
    pooled = ((n - 1) * variance(orders[0]) + (m - 1) * variance(orders[1])) / freedom
    return _with_t((fmean(orders[0]) - fmean(orders[1])) / 2, sqrt(pooled * (1 / n + 1 / m)) / 2, freedom)


def _with_t(estimate: float, standard_error: float, freedom: int) -> MeanDifference:
    from scipy.stats import t

    if not standard_error > 0:
        raise StudyError("The values show no spread, so nothing can be said of how sure their difference is.")
    wide, narrow = (float(t.ppf(part, freedom)) * standard_error for part in (0.975, 0.95))
    return MeanDifference(
        estimate=estimate,
        standard_error=standard_error,
        degrees_of_freedom=freedom,
        interval95=Interval(low=estimate - wide, high=estimate + wide),
        interval90=Interval(low=estimate - narrow, high=estimate + narrow),
        p=float(2 * t.sf(abs(estimate) / standard_error, freedom)),
    )
