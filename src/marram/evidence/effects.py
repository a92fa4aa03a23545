"""Effects of a change, worked out from pairs of days: differences, and ratios of typical times.

The day is what the coin drew, so the day is what is counted: each pair of days gives one difference, however many groups and rulings stand
behind it. Where pairs bound nothing (one pair alone, or pairs that all differ by the same amount) the interval has no bounds.

Source: Student, The probable error of a mean (1908), for the interval; Fisher, The Design of Experiments (1935), for the exact test.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import exp, inf, isfinite, sqrt
from statistics import fmean, stdev
from typing import Protocol

from marram.core.errors import StudyError

EXACT_UP_TO_PAIRS = 16
"""With so many pairs or fewer, every way in which the coins could have fallen is gone through."""

_DRAWS = 99_999
_NO_SPREAD = 1e-10  # of the largest value: equal differences are left unequal by rounding in binary


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """The range in which an effect lies, at the level that its name says; an end may be infinite."""

    low: float
    high: float

    @property
    def is_bounded(self) -> bool:
        """Whether both ends are numbers that can be written down."""
        return isfinite(self.low) and isfinite(self.high)

    def turned(self) -> Interval:
        """The same interval for an effect counted the other way round."""
        return Interval(low=-self.high, high=-self.low)


UNBOUNDED = Interval(low=-inf, high=inf)
"""Where nothing bounds an effect."""
NO_RATIO = Interval(low=0.0, high=inf)
"""Where nothing bounds a ratio."""


class Effect(Protocol):
    """What the values of an outcome say of a change, whatever was drawn: trial rules less ordinary rules, in the unit of the values."""

    @property
    def estimate(self) -> float:
        """The difference."""

    @property
    def sd(self) -> float:
        """The standard deviation of what one unit tells of the difference; 0 where there is no spread to be measured."""

    @property
    def interval95(self) -> Interval:
        """Its 95 % interval."""

    @property
    def interval90(self) -> Interval:
        """Its 90 % interval."""

    @property
    def p_t(self) -> float:
        """Two-sided p of the t test; 1 where there is no spread."""

    @property
    def p_sign_flip(self) -> float | None:
        """Two-sided p of the test that turns the coins; None where it is not made."""

    @property
    def trial_mean(self) -> float:
        """Mean under trial rules."""

    @property
    def ordinary_mean(self) -> float:
        """Mean under ordinary rules."""

    @property
    def units(self) -> int:
        """How many of what was drawn it rests on."""

    @property
    def has_spread(self) -> bool:
        """Whether units differ among themselves, so that an interval can be worked out."""

    def limits(self, level: float) -> Interval:
        """The interval at a level, such as 0.986."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PairedDifference:
    """What pairs of days say: trial day less ordinary day, in the unit of the values.

    Attributes:
        estimate: Mean of the differences.
        sd: Standard deviation of the differences; 0 where there is no spread to be measured.
        interval95: 95 % interval of Student's t on the differences.
        interval90: 90 % interval, for guards and for "makes no difference that matters".
        p_t: Two-sided p of the t test; 1 where there is no spread.
        is_exact: Whether every way was gone through; otherwise some were drawn from a fixed seed.
        differences: Each pair by name with its difference, in the order given.
        trial_mean: Mean over the trial days.
        ordinary_mean: Mean over the ordinary days.
        seed: Start of the draws where not every way is gone through.
    """

    estimate: float
    sd: float
    interval95: Interval
    interval90: Interval
    p_t: float
    is_exact: bool
    differences: tuple[tuple[str, float], ...]
    trial_mean: float
    ordinary_mean: float
    seed: int = 1

    @property
    def p_sign_flip(self) -> float:
        """Two-sided p of turning the coins: the share of all ways they could have fallen with a difference at least as far from nothing.

        It costs more than all the rest, so that it is worked out when somebody asks for it.
        """
        return _sign_flip_p(tuple(difference for _, difference in self.differences), self.seed)

    @property
    def pairs(self) -> int:
        """Number of pairs of days."""
        return len(self.differences)

    @property
    def units(self) -> int:
        """How many of what was drawn it rests on: pairs of days."""
        return self.pairs

    @property
    def has_spread(self) -> bool:
        """Whether the pairs differ among themselves, so that an interval can be worked out."""
        return self.sd > 0

    def limits(self, level: float) -> Interval:
        """The interval at a level, such as 0.986."""
        from scipy.stats import ttest_1samp

        if not self.has_spread:
            return UNBOUNDED
        found = ttest_1samp([value for _, value in self.differences], 0.0).confidence_interval(level)
        return Interval(low=float(found.low), high=float(found.high))


@dataclass(frozen=True, slots=True, kw_only=True)
class Ratio:
    """How many times as much on trial days as on ordinary days.

    Attributes:
        estimate: The ratio; 1 is no difference.
        interval95: Its 95 % interval.
        interval90: Its 90 % interval.
        log: The paired differences of the logarithms from which it was worked out.
    """

    estimate: float
    interval95: Interval
    interval90: Interval
    log: PairedDifference


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitsDifference:
    """What units that were drawn singly say: trial rules less ordinary rules, in the unit of the values.

    Attributes:
        estimate: The difference.
        standard_error: Its standard error; 0 where there is no spread to be measured.
        freedom: Degrees of freedom of Student's t.
        units: How many units were drawn.
        trial_mean: Mean under trial rules.
        ordinary_mean: Mean under ordinary rules.
    """

    estimate: float
    standard_error: float
    freedom: int
    units: int
    trial_mean: float
    ordinary_mean: float

    @property
    def sd(self) -> float:
        """The standard deviation of what one unit tells of the difference."""
        return self.standard_error * sqrt(self.units)

    @property
    def has_spread(self) -> bool:
        """Whether units differ among themselves, so that an interval can be worked out."""
        return self.standard_error > 0

    @property
    def interval95(self) -> Interval:
        """Its 95 % interval."""
        return self.limits(0.95)

    @property
    def interval90(self) -> Interval:
        """Its 90 % interval."""
        return self.limits(0.90)

    @property
    def p_t(self) -> float:
        """Two-sided p of the t test; 1 where there is no spread."""
        from scipy.special import stdtr

        return float(2 * stdtr(self.freedom, -abs(self.estimate) / self.standard_error)) if self.has_spread else 1.0

    @property
    def p_sign_flip(self) -> float | None:
        """No coins are turned: units drawn singly have none of their own."""
        return None

    def limits(self, level: float) -> Interval:
        """The interval at a level, such as 0.986."""
        from scipy.special import stdtrit

        if not self.has_spread:
            return UNBOUNDED
        half = float(stdtrit(self.freedom, (1 + level) / 2)) * self.standard_error
        return Interval(low=self.estimate - half, high=self.estimate + half)


def paired_days(pairs: Sequence[tuple[str, float, float]], *, seed: int = 1) -> PairedDifference:
    """What pairs of days say of a change: the mean difference of trial day less ordinary day, and how sure it is.

    Args:
        pairs: For each pair its name, the value of the trial day and the value of the ordinary day, both in the unit of the outcome.
        seed: Start of the draws of the sign-flip test where there are too many pairs to go through every way.

    Returns:
        Estimate, intervals and p values, in the unit of the outcome.

    Raises:
        StudyError: There is no pair, a name comes twice, or a value is no finite number.

    Source: Student (1908); Fisher (1935).
    """
    _check(pairs)
    differences = tuple((name, trial - ordinary) for name, trial, ordinary in pairs)
    values = [difference for _, difference in differences]
    largest = max(max(abs(trial), abs(ordinary)) for _, trial, ordinary in pairs)
    sd = stdev(values) if len(values) > 1 else 0.0
    sd = 0.0 if sd <= _NO_SPREAD * largest else sd
    interval95, interval90, p_t = student(values) if sd else (UNBOUNDED, UNBOUNDED, 1.0)
    return PairedDifference(
        estimate=fmean(values),
        sd=sd,
        interval95=interval95,
        interval90=interval90,
        p_t=p_t,
        is_exact=len(values) <= EXACT_UP_TO_PAIRS,
        differences=differences,
        trial_mean=fmean(trial for _, trial, _ in pairs),
        ordinary_mean=fmean(ordinary for _, _, ordinary in pairs),
        seed=seed,
    )


def ratio_of(logs: Sequence[tuple[str, float, float]], *, seed: int) -> Ratio:
    """The ratio that paired differences of logarithms stand for.

    Args:
        logs: For each pair its name, the logarithm for the trial day and the logarithm for the ordinary day.
        seed: As for `paired_days`.

    Raises:
        StudyError: As for `paired_days`.
    """
    of_logs = paired_days(logs, seed=seed)
    interval95, interval90 = (
        Interval(low=exp(limits.low), high=exp(limits.high)) if limits.is_bounded else NO_RATIO
        for limits in (of_logs.interval95, of_logs.interval90)
    )
    return Ratio(estimate=exp(of_logs.estimate), interval95=interval95, interval90=interval90, log=of_logs)


def student(values: Sequence[float]) -> tuple[Interval, Interval, float]:
    """The 95 % and the 90 % interval of a mean of differences, and the two-sided p of no difference.

    Args:
        values: The differences, at least two that are not all alike.
    """
    from scipy.stats import ttest_1samp

    test = ttest_1samp(values, 0.0)
    limits = [test.confidence_interval(level) for level in (0.95, 0.90)]
    wide, narrow = (Interval(low=float(limit.low), high=float(limit.high)) for limit in limits)
    return wide, narrow, float(test.pvalue)


@lru_cache(maxsize=64)
def _sign_flip_p(values: tuple[float, ...], seed: int) -> float:
    import numpy as np
    from scipy.stats import permutation_test

    if len(values) == 1:  # either way of the one coin gives a difference as far from nothing
        return 1.0
    draws = np.inf if len(values) <= EXACT_UP_TO_PAIRS else _DRAWS
    options = {"permutation_type": "samples", "vectorized": True, "n_resamples": draws, "batch": 4096}
    return float(permutation_test((list(values),), lambda sample, axis: np.mean(sample, axis=axis), rng=seed, **options).pvalue)


def _check(pairs: Sequence[tuple[str, float, float]]) -> None:
    if not pairs:
        raise StudyError("There is no whole pair of days.", hint="A pair needs a trial day and an ordinary day, both with values.")
    _check_names([name for name, _, _ in pairs])
    for name, trial, ordinary in pairs:
        if not (isfinite(trial) and isfinite(ordinary)):
            raise StudyError(f"{trial} against {ordinary} cannot be weighed.", where=f"pair {name}", hint="Give two finite numbers.")


def _check_names(names: Sequence[str]) -> None:
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise StudyError("A pair is named twice.", where=f"pair {twice[0]}", hint="Give each pair of days its own name.")
