"""How large a trial has to be: pairs of days for an effect, the smallest effect that a number of pairs finds.

Days are what is drawn, so days are what is counted: more groups on a day help little, since groups behind each other share its delays.
"""

from __future__ import annotations

from math import ceil, sqrt

from marram.core.errors import StudyError

ALPHA = 0.05
"""False alarms let pass, two-sided (common practice)."""

USUAL_POWER = 0.80
"""Chance wanted of finding an effect that is there (common practice)."""

_MOST_PAIRS = 10_000


def effective_groups(groups: int, lag_correlation: float) -> float:
    """How many independent groups the groups of one day are worth, when each is held up by the one ahead.

    Args:
        groups: Groups on the day.
        lag_correlation: Correlation of the times of groups that follow each other, from 0 up to, not including, 1.

    Raises:
        StudyError: There is no group, or the correlation lies outside.

    Source: effective sample size of a first-order autoregressive series, m (1 - phi) / (1 + phi) (from memory).
    """
    if groups < 1 or not 0 <= lag_correlation < 1:
        raise StudyError(
            f"{groups} groups with a correlation of {lag_correlation} cannot be planned with.",
            hint="Give at least one group, and a correlation from 0 up to 0.99.",
        )
    return groups * (1 - lag_correlation) / (1 + lag_correlation)


def sd_of_paired_days(*, between_days: float, between_groups: float, groups: int, lag_correlation: float) -> float:
    """Standard deviation of the difference of the two day means of a pair, from what makes days and groups differ.

    Args:
        between_days: Standard deviation between the days of a pair, in the unit of the outcome.
        between_groups: Standard deviation between the groups of a day.
        groups: Groups on a day.
        lag_correlation: As for `effective_groups`.

    Returns:
        sqrt(2 (between_days^2 + between_groups^2 / effective groups)).
    """
    return sqrt(2 * (between_days**2 + between_groups**2 / effective_groups(groups, lag_correlation)))


def least_effect(pairs: int, sd_of_difference: float, *, power: float = USUAL_POWER, alpha: float = ALPHA) -> float:
    """The smallest effect that so many pairs of days find, with the usual chance, at 5 % two-sided.

    Args:
        pairs: Pairs of days, at least two.
        sd_of_difference: Standard deviation of the difference of the two days of a pair.
        power: Chance wanted of finding it.
        alpha: False alarms let pass, two-sided; less than usual at the last of several looks.

    Returns:
        (t.975 + t.power) sd / sqrt(pairs), with pairs - 1 degrees of freedom, in the unit of the outcome.

    Raises:
        StudyError: There are fewer than two pairs, or the standard deviation or the power cannot be planned with.
    """
    from scipy.stats import t

    if pairs < 2:
        raise StudyError(
            f"{pairs} pair of days has no spread that could be planned with.", hint="Two are the least, six the fewest that help."
        )
    if not sd_of_difference > 0:
        raise StudyError(f"A standard deviation of {sd_of_difference} cannot be planned with.", hint="Give a number above zero.")
    if not 0.5 <= power < 1:
        raise StudyError(f"A power of {power} cannot be planned with.", hint="Give a chance from 0.5 up to 0.99.")
    return float(t.ppf(1 - alpha / 2, pairs - 1) + t.ppf(power, pairs - 1)) * sd_of_difference / sqrt(pairs)


def pairs_needed(effect: float, sd_of_difference: float, *, power: float = USUAL_POWER, alpha: float = ALPHA) -> int | None:
    """The fewest pairs of days that find an effect.

    Args:
        effect: The effect to be found, in the unit of the outcome.
        sd_of_difference: Standard deviation of the difference of the two days of a pair.
        power: Chance wanted of finding it.
        alpha: As for `least_effect`.

    Returns:
        The number of pairs; None where more than 10,000 would be needed.

    Raises:
        StudyError: The effect is not above zero, or as for `least_effect`.
    """
    if not effect > 0:
        raise StudyError(f"An effect of {effect} cannot be planned for.", hint="Give the smallest effect that matters, above zero.")
    low, high = 1, _MOST_PAIRS
    if least_effect(high, sd_of_difference, power=power, alpha=alpha) > effect:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if least_effect(middle, sd_of_difference, power=power, alpha=alpha) <= effect else (middle, high)
    return high


def with_loss(pairs: int, lost_share: float) -> int:
    """How many pairs to plan so that enough are left when some are lost to weather.

    Raises:
        StudyError: The share is not from 0 up to, not including, 1.
    """
    if not 0 <= lost_share < 1:
        raise StudyError(f"A loss of {lost_share} cannot be planned with.", hint="Give a part from 0 up to 0.99.")
    return ceil(pairs / (1 - lost_share))
