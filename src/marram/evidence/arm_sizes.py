"""How many groups, players or answers each arm needs where they are drawn singly: station exercises, answers, counts.

None of these sizes holds for pace. Where units come in clusters, multiply by `design_effect`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, log, sqrt

from marram.core.errors import StudyError
from marram.evidence.sizes import ALPHA, USUAL_POWER

_MOST_UNITS = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswersNeeded:
    """How many answers tell a shift of all steps apart.

    Attributes:
        answers: Answers of both arms together, half in each.
        other_shares: Shares of the steps in the arm that is shifted.
    """

    answers: int
    other_shares: tuple[float, ...]


def design_effect(size: float, correlation: float, *, spread: float = 0.0) -> float:
    """By how much a trial grows because people come in clusters: groups of players, or the field of a day.

    Args:
        size: Mean number in a cluster.
        correlation: Correlation of two of one cluster.
        spread: Standard deviation of the cluster size, as a part of the mean size.

    Source: Sedgwick, Cluster randomised controlled trials: sample size calculations (2013); with unequal sizes from memory.
    """
    return 1 + ((1 + spread**2) * size - 1) * correlation


def units_per_arm(effect: float, sd: float, *, power: float = USUAL_POWER) -> int:
    """How many groups or players each arm needs where they are drawn singly, at 5 % two-sided.

    Args:
        effect: The difference of means to be found.
        sd: Standard deviation between units of one arm.
        power: Chance wanted of finding it.

    Raises:
        StudyError: A number is not above zero.

    Source: Cohen, Statistical Power Analysis for the Behavioral Sciences (1988); solved with the noncentral t.
    """
    from statsmodels.stats.power import TTestIndPower

    _check(effect > 0 and sd > 0, f"An effect of {effect} with a standard deviation of {sd}", "Give two numbers above zero.")
    return ceil(float(TTestIndPower().solve_power(effect_size=effect / sd, alpha=ALPHA, power=power)))


def players_per_arm(share: float, other_share: float, *, power: float = USUAL_POWER) -> int:
    """How many players each arm needs to tell two shares apart, at 5 % two-sided, before the design effect.

    Args:
        share: Share in one arm.
        other_share: Share in the other.
        power: Chance wanted of finding the difference.

    Raises:
        StudyError: The shares are equal, or one lies outside 0 to 1.

    Source: two-proportion size with pooled null variance, as used by Sedgwick (2013).
    """
    from scipy.stats import norm

    is_fit = 0 <= share <= 1 and 0 <= other_share <= 1 and share != other_share
    _check(is_fit, f"Shares of {share} and {other_share}", "Give two different parts of 1.")
    mean = (share + other_share) / 2
    below_null = float(norm.ppf(1 - ALPHA / 2)) * sqrt(2 * mean * (1 - mean))
    below_effect = float(norm.ppf(power)) * sqrt(share * (1 - share) + other_share * (1 - other_share))
    return ceil(((below_null + below_effect) / (share - other_share)) ** 2)


def answers_needed(shares: Sequence[float], odds_ratio: float, *, power: float = USUAL_POWER) -> AnswersNeeded:
    """How many answers in steps tell two arms apart, when the odds of a better answer differ alike at every step.

    Args:
        shares: Shares of the steps in one arm; they add up to 1.
        odds_ratio: How many times the odds of the other arm, of lying above any step.
        power: Chance wanted of finding it.

    Raises:
        StudyError: The shares do not add up to 1, or the odds ratio is 1 or not above zero.

    Source: Whitehead, Sample size calculations for ordered categorical data (1993).
    """
    from scipy.stats import norm

    if abs(sum(shares) - 1) > 1e-6 or min(shares) < 0:
        raise StudyError(f"{list(shares)} are no shares of one whole.", hint="Give one share for each step; together they are 1.")
    _check(odds_ratio > 0 and odds_ratio != 1, f"An odds ratio of {odds_ratio}", "Give a number above zero that is not 1.")
    up_to = [sum(shares[: place + 1]) for place in range(len(shares))]
    shifted = [total * odds_ratio / (1 - total + total * odds_ratio) for total in up_to]
    other = [high - low for low, high in zip([0.0, *shifted], shifted, strict=False)]
    cubes = sum(((one + two) / 2) ** 3 for one, two in zip(shares, other, strict=True))
    z = float(norm.ppf(1 - ALPHA / 2) + norm.ppf(power))
    return AnswersNeeded(answers=_up(12 * z**2 / (log(odds_ratio) ** 2 * (1 - cubes))), other_shares=tuple(other))


def rounds_per_arm(rate: float, ratio: float, dispersion: float, *, power: float = USUAL_POWER) -> int | None:
    """How many group-rounds each arm needs to find a ratio of two rates, at 5 % two-sided, before the design effect of the day.

    Args:
        rate: Events in a group-round under ordinary rules.
        ratio: The ratio to be found.
        dispersion: By how much rates vary beyond chance: variance = mean + dispersion mean^2.
        power: Chance wanted of finding it.

    Returns:
        The number; None where more than a million would be needed.

    Raises:
        StudyError: A rate or ratio is not above zero, the ratio is 1, or the dispersion is below zero.

    Source: Zhu and Lakkis, Sample size calculation for comparing two negative binomial rates (2014).
    """
    from statsmodels.stats.rates import power_negbin_ratio_2indep

    _check(rate > 0 and ratio > 0 and ratio != 1 and dispersion >= 0, f"Rate {rate}, ratio {ratio}, dispersion {dispersion}", _RATES)

    def power_with(rounds: int) -> float:
        return float(power_negbin_ratio_2indep(rate * ratio, rate, rounds, dispersion=dispersion, alpha=ALPHA, return_results=False))

    return _fewest(lambda rounds: power_with(rounds) >= power)


def power_of_equal_rates(
    rate: float, rounds: int, margin_ratio: float, *, dispersion: float, exposure: float = 1.0, alpha: float = ALPHA
) -> float:
    """The chance of showing that two equal rates differ by less than a factor, either way.

    Args:
        rate: Events for one of the exposure, in both arms.
        rounds: Group-rounds in each arm.
        margin_ratio: The factor, above 1.
        dispersion: As for `rounds_per_arm`.
        exposure: Exposure of one group-round.
        alpha: False alarms let pass, for each of the two tests.

    Raises:
        StudyError: A number cannot be planned with.

    Source: Zhu, Sample size calculation for comparing two Poisson or negative binomial rates in non-inferiority and equivalence
    trials (2017).
    """
    from statsmodels.stats.rates import power_equivalence_neginb_2indep

    _check(rate > 0 and rounds > 0 and margin_ratio > 1 and dispersion >= 0, f"Rate {rate}, {rounds} rounds, factor {margin_ratio}", _RATES)
    # "ftotal": the variance under each bound with the total held fixed, as in the source's example
    found = power_equivalence_neginb_2indep(
        rate,
        rate,
        rounds,
        1 / margin_ratio,
        margin_ratio,
        exposure=exposure,
        dispersion=dispersion,
        alpha=alpha,
        method_var="ftotal",
    )
    return float(found)


def players_for_equal_means(sd: float, margin: float, *, power: float = USUAL_POWER) -> int:
    """How many players each arm needs to show that two equal means differ by less than a margin, either way.

    Args:
        sd: Standard deviation between players of one arm.
        margin: The margin, in the same unit.
        power: Chance wanted of showing it.

    Returns:
        2 sd^2 (z.95 + z.(1 + power) / 2)^2 / margin^2, rounded up.

    Raises:
        StudyError: A number is not above zero.

    Source: Schuirmann (1987) for the two one-sided tests; the size for a true difference of nothing from memory.
    """
    from scipy.stats import norm

    _check(sd > 0 and margin > 0, f"A standard deviation of {sd} with a margin of {margin}", "Give two numbers above zero.")
    return _up(2 * sd**2 * float(norm.ppf(1 - ALPHA) + norm.ppf((1 + power) / 2)) ** 2 / margin**2)


_RATES = "Rates and exposures are above zero, a ratio is not 1, a dispersion is 0 or more."


def _check(is_fit: bool, what: str, hint: str) -> None:
    if not is_fit:
        raise StudyError(f"{what} cannot be planned with.", hint=hint)


def _up(size: float) -> int:
    return ceil(size - 1e-9)


def _fewest(is_enough: Callable[[int], bool]) -> int | None:
    low, high = 1, _MOST_UNITS
    if not is_enough(high):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if is_enough(middle) else (middle, high)
    return high
