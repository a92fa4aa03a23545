"""Comparisons by rank: which of two lots answers better, and whether players rate several changes alike."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from marram.core.errors import StudyError
from marram.records.outcomes import Outcome
from marram.records.rows import Arm, TrialRecords

FEWEST_RATED = 3
"""Changes that must be rated to be put in order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Better:
    """How one lot stands against another.

    Attributes:
        chance: Chance that one drawn from the first lot answers higher than one from the second; ties count half.
        p: Two-sided p of no difference; exact in small lots without ties.
        p_higher: One-sided p that the first is higher.
    """

    chance: float
    p: float
    p_higher: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RankedChanges:
    """Whether the same players rate several changes alike.

    Attributes:
        mean_ranks: Mean rank of each change, 1 the lowest.
        chi2: Friedman's statistic, with ties taken into account.
        degrees_of_freedom: Changes less one.
        p: p of all being rated alike.
    """

    mean_ranks: tuple[float, ...]
    chi2: float
    degrees_of_freedom: int
    p: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RatedAlike:
    """How the same players rate the changes of a trial.

    Attributes:
        changes: Numbers of the changes, in order.
        players: How many rated every one of them.
        ranked: What their ratings say.
    """

    changes: tuple[int, ...]
    players: int
    ranked: RankedChanges


def rated_by_all(outcome: Outcome, records: TrialRecords) -> RatedAlike | None:
    """How players who answered the same of every change on trial days put them in order; None where too few did, or none differs.

    Args:
        outcome: The answer.
        records: What was recorded.
    """
    arm_of = records.arm_finder()
    given: dict[str, dict[int, list[float]]] = defaultdict(lambda: defaultdict(list))
    for entry in records.observations:
        if entry.outcome == outcome.key and entry.player and entry.change is not None and arm_of(entry) is Arm.TRIAL:
            given[entry.player][entry.change].append(entry.value)
    changes = tuple(sorted({change for own in given.values() for change in own}))
    ratings = [[fmean(own[change]) for change in changes] for own in given.values() if len(own) == len(changes)]
    if len(changes) < FEWEST_RATED or len(ratings) < 2 or all(len(set(row)) == 1 for row in ratings):
        return None
    return RatedAlike(changes=changes, players=len(ratings), ranked=rank_changes(ratings))


def compare_ranks(first: Sequence[float], second: Sequence[float]) -> Better:
    """How likely one lot answers higher than another, for answers in steps or values that are far from even.

    Raises:
        StudyError: A lot is empty.

    Source: Mann and Whitney, On a test of whether one of two random variables is stochastically larger than the other (1947).
    """
    from scipy.stats import mannwhitneyu

    if not first or not second:
        raise StudyError("A lot holds nobody.", hint="Give at least one answer in each.")
    higher = mannwhitneyu(list(first), list(second), alternative="greater")
    return Better(
        chance=float(higher.statistic) / (len(first) * len(second)),
        p=float(mannwhitneyu(list(first), list(second)).pvalue),
        p_higher=float(higher.pvalue),
    )


def rank_changes(ratings: Sequence[Sequence[float]]) -> RankedChanges:
    """Whether players who rated the same changes put them in some order.

    Args:
        ratings: For each player one rating of each change, in the same order of changes.

    Raises:
        StudyError: There are fewer than three changes or two players, or a player did not rate them all.

    Source: Friedman, The use of ranks to avoid the assumption of normality implicit in the analysis of variance (1937).
    """
    from scipy.stats import friedmanchisquare, rankdata

    changes = {len(row) for row in ratings}
    if len(ratings) < 2 or len(changes) != 1 or min(changes) < FEWEST_RATED:
        raise StudyError("The ratings cannot be ranked.", hint="Give ratings of the same three or more changes by two or more players.")
    if all(len(set(row)) == 1 for row in ratings):
        raise StudyError("Every player rates all changes alike.", hint="There is no order to be tested.")
    found = friedmanchisquare(*zip(*ratings, strict=True))
    ranks = [[float(rank) for rank in rankdata(list(row))] for row in ratings]
    means = tuple(sum(column) / len(ratings) for column in zip(*ranks, strict=True))
    return RankedChanges(mean_ranks=means, chi2=float(found.statistic), degrees_of_freedom=changes.pop() - 1, p=float(found.pvalue))
