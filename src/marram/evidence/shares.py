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
class ShareDifference:
    """Share of one lot of players less the share of another.

    Attributes:
        estimate: The difference, from -1 to 1.
        interval95: Its 95 % interval.
        interval90: Its 90 % interval.
        p_exact: Two-sided exact p of equal shares, for rare things.
        p_exact_more: One-sided exact p that the first is the larger.
    """

    estimate: float
    interval95: Interval
    interval90: Interval
    p_exact: float
    p_exact_more: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangedAnswers:
    """What the same players answered with yes or no to two things.

    Attributes:
        difference: Share of yes to the second less share of yes to the first.
        chi2: The statistic of those who changed their answer.
        chi2_corrected: The same with the correction for counts.
        p_exact: Two-sided exact p that as many changed one way as the other.
    """

    difference: float
    chi2: float
    chi2_corrected: float
    p_exact: float


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


def share_difference(successes: int, of: int, other_successes: int, other_of: int) -> ShareDifference:
    """How far the shares of two different lots of players, or rounds, lie apart.

    Args:
        successes: How many of the first lot were so.
        of: Size of the first lot.
        other_successes: How many of the second lot were so.
        other_of: Size of the second lot.

    Raises:
        StudyError: As for `share`.

    Source: Newcombe, Interval estimation for the difference between independent proportions (1998), method 10, for the intervals; Fisher,
    The Design of Experiments (1935), for the exact p.
    """
    from scipy.stats import fisher_exact
    from statsmodels.stats.proportion import confint_proportions_2indep

    first, second = share(successes, of), share(other_successes, other_of)
    table = [[successes, of - successes], [other_successes, other_of - other_successes]]

    def limits(level: float) -> Interval:
        low, high = confint_proportions_2indep(successes, of, other_successes, other_of, method="newcomb", alpha=1 - level)
        return Interval(low=float(low), high=float(high))

    return ShareDifference(
        estimate=first.estimate - second.estimate,
        interval95=limits(0.95),
        interval90=limits(0.90),
        p_exact=float(fisher_exact(table).pvalue),
        p_exact_more=float(fisher_exact(table, alternative="greater").pvalue),
    )


def changed_answers(*, both_yes: int, only_first: int, only_second: int, both_no: int) -> ChangedAnswers:
    """What the same players say of two rule sets: only those who answer differently tell them apart.

    Args:
        both_yes: Yes to both.
        only_first: Yes to the first alone.
        only_second: Yes to the second alone.
        both_no: No to both.

    Raises:
        StudyError: A count is below zero, or nobody answered.

    Source: McNemar, Note on the sampling error of the difference between correlated proportions (1947).
    """
    from statsmodels.stats.contingency_tables import mcnemar

    counts = (both_yes, only_first, only_second, both_no)
    if min(counts) < 0 or not sum(counts):
        raise StudyError(f"{list(counts)} are no counts of answers.", hint="Give four counts of 0 or more.")
    if not only_first + only_second:
        return ChangedAnswers(difference=0.0, chi2=0.0, chi2_corrected=0.0, p_exact=1.0)
    table = [[both_yes, only_first], [only_second, both_no]]
    return ChangedAnswers(
        difference=(only_second - only_first) / sum(counts),
        chi2=float(mcnemar(table, exact=False, correction=False).statistic),
        chi2_corrected=float(mcnemar(table, exact=False, correction=True).statistic),
        p_exact=float(mcnemar(table, exact=True).pvalue),
    )


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
