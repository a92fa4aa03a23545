"""Effects of a change from days under two sets of rules: with the error of chance, and kept apart from it the range of the assumptions."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from marram.simulation.campaign.arm_played import ArmPlayed, SumOfDays

_NEARLY_ALL = 1.959963984540054
"""Normal quantile of 97.5 %."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """What a change does to an outcome.

    Attributes:
        present: The outcome under the present rules.
        proposed: The same under the proposed ones.
        monte_carlo_error: How far the difference may be off because so few days were played, as a standard deviation.
    """

    present: float
    proposed: float
    monte_carlo_error: float

    @property
    def estimate(self) -> float:
        """The difference: proposed less present."""
        return self.proposed - self.present

    @property
    def interval(self) -> tuple[float, float]:
        """What the difference lies between for 95 of 100 seeds, all assumptions held."""
        return (self.estimate - _NEARLY_ALL * self.monte_carlo_error, self.estimate + _NEARLY_ALL * self.monte_carlo_error)


def effect_of(present: ArmPlayed, proposed: ArmPlayed, outcome: str) -> Effect:
    """The effect on an outcome; days are what is drawn, so the error is that of days.

    Args:
        present: Days under the present rules.
        proposed: The same days, or others, under the proposed rules.
        outcome: The outcome.
    """
    before, after = present.sums[outcome], proposed.sums[outcome]
    apart = _deviations(after) - _deviations(before)
    error = float(apart.std(ddof=1)) / sqrt(apart.size) if apart.size > 1 else float("inf")
    return Effect(present=before.mean, proposed=after.mean, monte_carlo_error=error)


def spread_of_days(arm: ArmPlayed, outcome: str) -> float:
    """Standard deviation of the outcome between days that differ by chance alone, as independent days do on an equal course."""
    apart = _deviations(arm.sums[outcome])
    return float(apart.std(ddof=1)) if apart.size > 1 else float("inf")


def _deviations(days: SumOfDays) -> NDArray[np.float64]:
    """By how much each day moves the outcome of all days (a ratio of sums, by its first-order expansion)."""
    mean_count = float(days.count.mean())
    if not mean_count:
        return np.zeros(days.total.size)
    return np.asarray((days.total - days.mean * days.count) / mean_count, dtype=np.float64)
