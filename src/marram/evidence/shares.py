"""Shares and answers: how many of so many, and what five-step answers say, each with its interval."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from marram.core.errors import StudyError
from marram.evidence.effects import Interval

STEPS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """How many of so many, with the 95 % and the 90 % interval of Wilson; all as parts of 1."""

    count: int
    of: int
    estimate: float
    interval95: Interval
    interval90: Interval


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """What five-step answers say.

    Attributes:
        counts: How many gave each step, from 1 to 5.
        top_two: Share of the two best steps.
        net: Share above the middle less share below it, from -1 to 1.
        net_interval95: Its 95 % interval.
        net_interval90: Its 90 % interval.
    """

    counts: tuple[int, ...]
    top_two: Share
    net: float
    net_interval95: Interval
    net_interval90: Interval

    @property
    def answers(self) -> int:
        """How many answered."""
        return sum(self.counts)


def share(successes: int, of: int) -> Share:
    """The share of a count, with its interval.

    Args:
        successes: How many were so.
        of: How many there were.

    Raises:
        StudyError: There were none, or more were so than there were.

    Source: Wilson, Probable inference, the law of succession, and statistical inference (1927): the score interval without correction.
    """
    from statsmodels.stats.proportion import proportion_confint

    if not 0 <= successes <= of or of < 1:
        raise StudyError(f"{successes} of {of} is no share.", hint="At least one must be counted, and no more can be so than there are.")

    def limits(level: float) -> Interval:
        low, high = proportion_confint(successes, of, alpha=1 - level, method="wilson")
        return Interval(low=max(0.0, float(low)), high=min(1.0, float(high)))

    return Share(count=successes, of=of, estimate=successes / of, interval95=limits(0.95), interval90=limits(0.90))


def steps(counts: Sequence[int]) -> Steps:
    """What answers in five steps say: the share of the two best, and how far those above the middle outweigh those below.

    Args:
        counts: How many gave step 1, 2, 3, 4 and 5.

    Raises:
        StudyError: There are not five counts, one is below zero, or nobody answered.

    Source: the variance of a difference of two shares of one count, [(a + b) - (a - b)^2] / n (multinomial). Where all answers lie on one
    side that variance is nothing, and the limits are those that Wilson's interval of the one share leaves room for (common practice).
    """
    if len(counts) != STEPS or min(counts) < 0 or not sum(counts):
        raise StudyError(f"{list(counts)} are no answers in five steps.", hint="Give five counts of 0 or more, from step 1 to step 5.")
    n, below, above = sum(counts), counts[0] + counts[1], counts[3] + counts[4]
    return Steps(
        counts=tuple(counts),
        top_two=share(above, n),
        net=(above - below) / n,
        net_interval95=_net_limits(below, above, n, 0.95),
        net_interval90=_net_limits(below, above, n, 0.90),
    )


def _net_limits(below: int, above: int, n: int, level: float) -> Interval:
    from scipy.stats import norm

    net = (above - below) / n
    variance = ((above + below) / n - net**2) / n
    if max(below, above, n - below - above) == n:
        room = 1 - _least_share(n, level)
        return Interval(low=max(-1.0, net - room * (1 + abs(net))), high=min(1.0, net + room * (1 + abs(net))))
    half = float(norm.ppf((1 + level) / 2)) * sqrt(variance)
    return Interval(low=max(-1.0, net - half), high=min(1.0, net + half))


def _least_share(n: int, level: float) -> float:
    found = share(n, n)
    return {0.95: found.interval95, 0.90: found.interval90}[level].low
