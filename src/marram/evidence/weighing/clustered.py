"""Shares and means of answers that are not independent: the same players on several days, many players on each day.

An answer tells less than one when its player has answered before, or when all players of a day had the same wind. So the variance is that
of players and that of days together, less what both count twice; limits are Wilson's with the number of independent answers that this
variance stands for, and Student's quantile for as many degrees of freedom as players and days leave.

Source: Cameron, Gelbach and Miller, Robust inference with multiway clustering (2011), for the variance; Korn and Graubard, Confidence
intervals for proportions with small expected number of positive counts (1998), for the number of independent answers.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from math import fsum, sqrt

from marram.core.errors import StudyError
from marram.evidence.effects import Interval


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """One answer.

    Attributes:
        value: What was answered, as a number; of yes and no, 1 and 0.
        player: Who answered; None where that is not known, and then the answer stands for itself.
        day: On which day.
    """

    value: float
    player: Hashable | None
    day: Hashable


@dataclass(frozen=True, slots=True, kw_only=True)
class ClusteredShare:
    """A share of answers that hang together.

    Attributes:
        estimate: The share, as a part of 1.
        interval95: Its 95 % interval.
        interval90: Its 90 % interval.
        of: How many answers there are.
        players: How many players gave them.
        days: On how many days.
        independent: How many independent answers they are worth.
    """

    estimate: float
    interval95: Interval
    interval90: Interval
    of: int
    players: int
    days: int
    independent: float


def clustered_share(answers: Sequence[Answered]) -> ClusteredShare:
    """The share of answers that are yes, with limits that hold although players and days come again.

    Args:
        answers: The answers, each 1 or 0.

    Raises:
        StudyError: There are none, or one is neither 1 nor 0.
    """
    if not answers or any(entry.value not in {0.0, 1.0} for entry in answers):
        raise StudyError("This is no lot of answers of yes and no.", hint="Give at least one answer, each 1 or 0.")
    count, share = len(answers), fsum(entry.value for entry in answers) / len(answers)
    players, days = _players(answers), {entry.day for entry in answers}
    variance, freedom = _variance([entry.value - share for entry in answers], answers)
    # Where all answer alike no spread is seen at all; then no more is counted on than there are days.
    independent = min(float(count), share * (1 - share) / variance) if variance > 0 else float(min(count, len(days)))
    limits = [wilson_limits(share, independent, freedom, level) for level in (0.95, 0.90)]
    return ClusteredShare(
        estimate=share,
        interval95=limits[0],
        interval90=limits[1],
        of=count,
        players=len(players),
        days=len(days),
        independent=independent,
    )


def _players(answers: Sequence[Answered]) -> list[Hashable]:
    """Each player once; an answer of nobody in particular is a player of its own."""
    named = {entry.player for entry in answers if entry.player is not None}
    return [*named, *(number for number, entry in enumerate(answers) if entry.player is None)]


def _variance(residuals: Sequence[float], answers: Sequence[Answered]) -> tuple[float, float]:
    """The variance of the mean and its degrees of freedom.

    It is that of players and that of days, less that of players within days, and never less than the larger of the two. Its degrees of
    freedom are those of both together, by how much each brings in (Satterthwaite, An approximate distribution of estimates of variance
    components, 1946).
    """
    count = len(residuals)
    own = [entry.player if entry.player is not None else ("alone", number) for number, entry in enumerate(answers)]
    days = [entry.day for entry in answers]
    both = list(zip(own, days, strict=True))
    of_players, of_days, of_both = (_of_clusters(residuals, names) / count**2 for names in (own, days, both))
    variance = max(of_players + of_days - of_both, of_players, of_days)
    parts = [(found, len(set(names)) - 1) for found, names in ((of_players, own), (of_days, days)) if len(set(names)) > 1]
    spent = fsum(found**2 / freedom for found, freedom in parts)
    return variance, variance**2 / spent if spent > 0 else float(min(len(set(own)), len(set(days))) - 1)


def _of_clusters(residuals: Sequence[float], names: Sequence[Hashable]) -> float:
    sums: dict[Hashable, float] = defaultdict(float)
    for residual, name in zip(residuals, names, strict=True):
        sums[name] += residual
    clusters = len(sums)
    if clusters < 2:
        return 0.0
    return fsum(found**2 for found in sums.values()) * clusters / (clusters - 1)


def wilson_limits(share: float, independent: float, freedom: float, level: float) -> Interval:
    """Wilson's limits for so many independent answers.

    Args:
        share: The share.
        independent: How many independent answers it rests on.
        freedom: Degrees of freedom of that number; below one nothing is known.
        level: Part of such limits that hold the true share.
    """
    from scipy.stats import t

    if freedom < 1:
        return Interval(low=0.0, high=1.0)
    quantile = float(t.ppf((1 + level) / 2, freedom))
    weight = quantile**2 / independent
    centre = (share + weight / 2) / (1 + weight)
    half = quantile / (1 + weight) * sqrt(share * (1 - share) / independent + quantile**2 / (4 * independent**2))
    return Interval(low=max(0.0, centre - half), high=min(1.0, centre + half))
