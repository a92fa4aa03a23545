"""How often something happens: rates of trial days against ordinary days, paired by day, and with exact limits where it is rare.

Which of the two to read is a matter of how many events there were. With many, days differ beyond chance and only the paired interval allows
for that: the exact limits are then too narrow. With few, the halves added to empty days draw the paired ratio towards 1, and the exact
limits are the ones that hold.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite, log, sqrt

from marram.core.errors import StudyError
from marram.evidence.effects import NO_RATIO, Interval, PairedDifference, Ratio, paired_days, ratio_of

RARE_BELOW_EVENTS = 20
"""Below so many events in all, the exact limits of the pooled ratio are the ones to read (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PairedCounts:
    """What was counted on the two days of a pair.

    Attributes:
        pair: Name of the pair.
        trial_count: Events on the trial day.
        trial_exposure: What they are counted against on that day: group-rounds, player-rounds or holes played.
        ordinary_count: Events on the ordinary day.
        ordinary_exposure: The same for the ordinary day.
    """

    pair: str
    trial_count: int
    trial_exposure: float
    ordinary_count: int
    ordinary_exposure: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PooledRatio:
    """All days of an arm thrown together, with exact limits; it takes every event for independent of every other.

    Attributes:
        estimate: Ratio of the rates; None where no event on ordinary days leaves it without a value.
        interval95: Exact 95 % limits; the upper may be infinite.
        interval90: Exact 90 % limits.
        p: Two-sided exact p of equal rates.
    """

    estimate: float | None
    interval95: Interval
    interval90: Interval
    p: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RatesCompared:
    """Two rates held against each other.

    Attributes:
        ratio: The first as a multiple of the other; None where the other is nothing.
        z: How many standard errors they lie apart, were both the same rate.
        p_more: One-sided p that the first is the higher.
        p_fewer: One-sided p that the first is the lower.
    """

    ratio: float | None
    z: float
    p_more: float
    p_fewer: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RateRatio:
    """How often something happened on trial days against ordinary days.

    Attributes:
        ratio: The primary answer: rates paired by day.
        per_100: Difference of the day rates, events per 100 of the exposure, paired by day and without any added half.
        pooled: All days of an arm together, for rare events.
        half_added_to: Names of the pairs in which a day without any event made half an event be added to both days.
        trial_count: Events on all trial days.
        ordinary_count: Events on all ordinary days.
        trial_per_100: Rate on all trial days together, events per 100 of the exposure.
        ordinary_per_100: The same for the ordinary days.
    """

    ratio: Ratio
    per_100: PairedDifference
    pooled: PooledRatio
    half_added_to: tuple[str, ...]
    trial_count: int
    ordinary_count: int
    trial_per_100: float
    ordinary_per_100: float

    @property
    def is_rare(self) -> bool:
        """Whether so few events were seen that the exact limits of the pooled ratio are the ones to read."""
        return self.trial_count + self.ordinary_count < RARE_BELOW_EVENTS


def rate_ratio(pairs: Sequence[PairedCounts], *, seed: int = 1) -> RateRatio:
    """How many times as often something happens under trial rules, and how many more or fewer in 100 rounds.

    Half an event is added to both days of a pair only where one of them had none, and the pairs are named: a rate of nothing has no
    logarithm. Adding it to both keeps a pair without any event at no difference.

    Args:
        pairs: What was counted on the days of each pair.
        seed: As for `paired_days`.

    Raises:
        StudyError: There is no pair, a name comes twice, a count is below zero or an exposure is not above zero.
    """
    _check_counts(pairs)
    empty = tuple(pair.pair for pair in pairs if 0 in {pair.trial_count, pair.ordinary_count})
    halves = {pair.pair: 0.5 if pair.pair in empty else 0.0 for pair in pairs}
    logs = [
        (
            pair.pair,
            log((pair.trial_count + halves[pair.pair]) / pair.trial_exposure),
            log((pair.ordinary_count + halves[pair.pair]) / pair.ordinary_exposure),
        )
        for pair in pairs
    ]
    rates = [
        (pair.pair, 100 * pair.trial_count / pair.trial_exposure, 100 * pair.ordinary_count / pair.ordinary_exposure) for pair in pairs
    ]
    trial, ordinary = sum(pair.trial_count for pair in pairs), sum(pair.ordinary_count for pair in pairs)
    trial_exposure, ordinary_exposure = sum(pair.trial_exposure for pair in pairs), sum(pair.ordinary_exposure for pair in pairs)
    return RateRatio(
        ratio=ratio_of(logs, seed=seed),
        per_100=paired_days(rates, seed=seed),
        pooled=pooled_ratio(trial, trial_exposure, ordinary, ordinary_exposure),
        half_added_to=empty,
        trial_count=trial,
        ordinary_count=ordinary,
        trial_per_100=100 * trial / trial_exposure,
        ordinary_per_100=100 * ordinary / ordinary_exposure,
    )


def pooled_ratio(trial_count: int, trial_exposure: float, ordinary_count: int, ordinary_exposure: float) -> PooledRatio:
    """Ratio of two rates with exact limits, for events too rare to be paired by day.

    Given how many events there were in all, the number on trial days is a count of successes; its exact limits are turned into limits of
    the ratio, and its exact test is that of equal rates.

    Source: Clopper and Pearson, The use of confidence or fiducial limits (1934), for the limits of a share.
    """
    from scipy.stats import binomtest

    both = trial_count + ordinary_count
    if both == 0:
        return PooledRatio(estimate=None, interval95=NO_RATIO, interval90=NO_RATIO, p=1.0)
    test = binomtest(trial_count, both, p=trial_exposure / (trial_exposure + ordinary_exposure))
    against = ordinary_exposure / trial_exposure

    def limits(level: float) -> Interval:
        share = test.proportion_ci(confidence_level=level, method="exact")
        return Interval(low=_odds(float(share.low)) * against, high=_odds(float(share.high)) * against)

    return PooledRatio(
        estimate=trial_count / ordinary_count * against if ordinary_count else None,
        interval95=limits(0.95),
        interval90=limits(0.90),
        p=min(1.0, float(test.pvalue)),
    )


def score_of_rates(count: int, exposure: float, other_count: int, other_exposure: float) -> RatesCompared:
    """Two rates held against each other, each event taken for independent of every other.

    Args:
        count: Events of the first lot.
        exposure: What they are counted against.
        other_count: Events of the other lot.
        other_exposure: What those are counted against.

    Raises:
        StudyError: A count is below zero, or an exposure is not above zero.

    Source: Gu, Ng, Tang and Schucany, Testing the ratio of two Poisson rates (2008): the score test, with the variance that equal rates
    have.
    """
    from scipy.stats import norm

    if min(count, other_count) < 0 or not min(exposure, other_exposure) > 0:
        raise StudyError("These counts have no rate.", hint="Give counts of 0 or more against what is above zero.")
    if not count + other_count:
        return RatesCompared(ratio=None, z=0.0, p_more=0.5, p_fewer=0.5)
    both = (count + other_count) / (exposure + other_exposure)
    z = (count / exposure - other_count / other_exposure) / sqrt(both * (1 / exposure + 1 / other_exposure))
    ratio = count / exposure * other_exposure / other_count if other_count else None
    return RatesCompared(ratio=ratio, z=z, p_more=float(norm.sf(z)), p_fewer=float(norm.cdf(z)))


def _odds(share: float) -> float:
    return share / (1 - share) if share < 1 else inf


def _check_counts(pairs: Sequence[PairedCounts]) -> None:
    for pair in pairs:
        if min(pair.trial_count, pair.ordinary_count) < 0:
            raise StudyError("A count is below zero.", where=f"pair {pair.pair}", hint="Counts are 0 or more.")
        exposures = (pair.trial_exposure, pair.ordinary_exposure)
        if not all(isfinite(exposure) and exposure > 0 for exposure in exposures):
            hint = "Write how many rounds or holes were played; a day without any is left out with its pair."
            raise StudyError("An exposure is not above zero.", where=f"pair {pair.pair}", hint=hint)
