"""Why groups drawn within one day cannot show pace: a day of groups that queue, simulated.

A quick group waits for the slow one ahead, and a slow one delays all behind. So a change that saves time moves the whole field at once, and
hardly shows between groups of one day. Everything here is simulated and says nothing of any course; the times of a hole are placeholders.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import StudyError

if TYPE_CHECKING:
    from numpy import float64
    from numpy.random import Generator
    from numpy.typing import NDArray

USUAL_INTERVAL_MIN = 10.0
"""Time between two starts (common practice)."""
HOLES, _GROUPS, _DAYS = 18, 30, 1000
_HOLE_MIN, _BETWEEN_HOLES_MIN, _BETWEEN_GROUPS_MIN = 13.3, 2.2, 0.5
"""Mean time of a hole without waiting, and its spread from hole to hole and from group to group (placeholders, ours)."""
_FREE_AFTER = 0.62
"""The next group may start a hole when such a part of the time of the group ahead has passed there (placeholder, ours)."""


MOST_SAVED_MIN = HOLES * _HOLE_MIN / 2
"""More than half of a round cannot be saved (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class QueueShown:
    """What simulated days of groups that queue show of a change that saves time; times are minutes for a round.

    Attributes:
        ordinary_min: Mean round with all groups under ordinary rules.
        trial_min: Mean round with all groups under trial rules.
        within_day_min: Difference of the two kinds of group where half of each day's groups were drawn to play under trial rules.
        within_day_net_min: The same with the time spent waiting taken off.
        lag_correlation: How much the rounds of one group and the next of an ordinary day hang together.
        sd_of_day_mean_min: How much the mean round differs from one ordinary day to another.
        all_field_error_min: Standard error of the simulation of the difference of the two means.
        within_day_error_min: The same of the difference within days.
        within_day_net_error_min: The same with the time spent waiting taken off.
        lag_correlation_error: The same of the correlation.
        days: Days simulated for each figure.
    """

    ordinary_min: float
    trial_min: float
    within_day_min: float
    within_day_net_min: float
    lag_correlation: float
    sd_of_day_mean_min: float
    all_field_error_min: float
    within_day_error_min: float
    within_day_net_error_min: float
    lag_correlation_error: float
    days: int

    @property
    def all_field_min(self) -> float:
        """What the change does where the whole field plays under it."""
        return self.trial_min - self.ordinary_min

    @property
    def part_shown(self) -> float:
        """Which part of that shows between groups drawn within a day."""
        return self.within_day_min / self.all_field_min


def queue_shown(saved_min: float, *, interval_min: float = USUAL_INTERVAL_MIN, days: int = _DAYS, seed: int = 1) -> QueueShown:
    """What days of groups that queue show of a change that saves time.

    Args:
        saved_min: Minutes that a group would save in the round if it never waited.
        interval_min: Time between two starts, minutes.
        days: Days to simulate for each figure.
        seed: Start of the draws.

    Raises:
        StudyError: Nothing is saved or more than half of the round, the interval is not above zero, or there are fewer than two days.
    """
    import numpy as np

    if not 0 < saved_min <= MOST_SAVED_MIN or not interval_min > 0 or days < 2:
        hint = "Give minutes saved in the round and minutes between starts, both above zero, and two days or more."
        raise StudyError(f"A saving of {saved_min:g} min with starts every {interval_min:g} min cannot be simulated.", hint=hint)
    chance, saved = np.random.default_rng(seed), saved_min / HOLES
    none, whole = np.zeros((days, _GROUPS)), np.ones((days, _GROUPS))
    half = chance.permuted(np.tile([0.0, 1.0], (days, _GROUPS // 2)), axis=1)
    (ordinary, _), (trial, _), (mixed, free) = (_rounds(on_trial, saved, interval_min, chance) for on_trial in (none, whole, half))
    within, net = (_between(times, half) for times in (mixed, free))
    ordinary_days, trial_days, lags = ordinary.mean(axis=1), trial.mean(axis=1), _lag_correlations(ordinary)
    return QueueShown(
        ordinary_min=float(ordinary.mean()),
        trial_min=float(trial.mean()),
        within_day_min=float(within.mean()),
        within_day_net_min=float(net.mean()),
        lag_correlation=float(lags.mean()),
        sd_of_day_mean_min=float(ordinary_days.std(ddof=1)),
        all_field_error_min=float(np.sqrt((ordinary_days.var(ddof=1) + trial_days.var(ddof=1)) / days)),
        within_day_error_min=float(within.std(ddof=1) / np.sqrt(days)),
        within_day_net_error_min=float(net.std(ddof=1) / np.sqrt(days)),
        lag_correlation_error=float(lags.std(ddof=1) / np.sqrt(days)),
        days=days,
    )


def _rounds(
    on_trial: NDArray[float64], saved_a_hole: float, interval_min: float, chance: Generator
) -> tuple[NDArray[float64], NDArray[float64]]:
    """Time of each group for its round from its start, by day and group, and the same without waiting."""
    import numpy as np

    days, groups = on_trial.shape
    pace = chance.normal(_HOLE_MIN, _BETWEEN_GROUPS_MIN, (days, groups)) - saved_a_hole * on_trial
    times = pace[:, :, None] + chance.normal(0.0, _BETWEEN_HOLES_MIN, (days, groups, HOLES))
    free_from = np.zeros((days, HOLES))
    rounds = np.empty((days, groups))
    for group in range(groups):
        clock = np.maximum(group * interval_min, free_from[:, 0])
        started = clock
        for hole in range(HOLES):
            begins = np.maximum(clock, free_from[:, hole])
            free_from[:, hole] = begins + _FREE_AFTER * times[:, group, hole]
            clock = begins + times[:, group, hole]
        rounds[:, group] = clock - started
    return rounds, times.sum(axis=2)


def _between(times: NDArray[float64], on_trial: NDArray[float64]) -> NDArray[float64]:
    """By day, the mean of the groups under trial rules less that of the others."""
    found: NDArray[float64] = (times * on_trial).sum(axis=1) / on_trial.sum(axis=1) - (times * (1 - on_trial)).sum(axis=1) / (
        1 - on_trial
    ).sum(axis=1)
    return found


def _lag_correlations(times: NDArray[float64]) -> NDArray[float64]:
    """By day, how much one group and the next hang together."""
    ahead, behind = times[:, :-1], times[:, 1:]
    ahead, behind = ahead - ahead.mean(axis=1, keepdims=True), behind - behind.mean(axis=1, keepdims=True)
    found: NDArray[float64] = (ahead * behind).sum(axis=1) / ((ahead**2).sum(axis=1) * (behind**2).sum(axis=1)) ** 0.5
    return found
