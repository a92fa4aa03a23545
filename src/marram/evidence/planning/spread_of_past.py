"""What an earlier season tells for a plan: how much two days differ, how much values of one day are alike, and how sure that is.

A spread from few days is itself unsure. So each comes with an upper limit that holds in 80 of 100 cases (common practice): a plan that
still finds what matters there is safe.

Source: Browne, On the use of a pilot sample for sample size determination (1995), for planning at a one-sided limit of the variance (from
memory); Searle, Linear Models (1971), for the limit of the correlation in equal clusters (from memory).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import log, sqrt
from statistics import fmean, stdev

from marram.core.errors import StudyError
from marram.evidence.sizes import sd_of_paired_days
from marram.evidence.weighing.by_pairs import value_of
from marram.records.outcomes import Outcome, Weighing
from marram.records.rows import Arm, TrialDay, TrialRecords

UPPER_PART = 0.80
"""How often an upper limit holds, one-sided (common practice)."""


class TakenFrom(StrEnum):
    """What the spread of the difference of two days was taken from."""

    PAIRS = "pairs of days"
    ADJACENT = "days of one course that follow each other"


@dataclass(frozen=True, slots=True, kw_only=True)
class VarianceComponents:
    """What makes values differ that come in clusters, such as the days of a season.

    Attributes:
        between: Variance between clusters; 0 where the clusters differ less than their values alone would make them.
        within: Variance within clusters.
        clusters: How many clusters.
        values: How many values.
        size: Size of equal clusters that would tell as much.
    """

    between: float
    within: float
    clusters: int
    values: int
    size: float

    @property
    def correlation(self) -> float:
        """Correlation of two values of one cluster: the part of all variance that lies between clusters."""
        total = self.between + self.within
        return self.between / total if total > 0 else 0.0

    @property
    def correlation_upper(self) -> float:
        """Its upper limit."""
        from scipy.stats import f

        if self.within <= 0:
            return 1.0
        ratio = 1 + self.size * self.between / self.within
        least = float(f.ppf(1 - UPPER_PART, self.clusters - 1, self.values - self.clusters))
        return max((ratio / least - 1) / (ratio / least - 1 + self.size), 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpreadOfPast:
    """How much an outcome spread in an earlier season.

    Attributes:
        outcome: The outcome.
        taken_from: What the standard deviation was taken from.
        sd: Standard deviation of the difference of two days, in the unit of the outcome.
        freedom: Its degrees of freedom.
        sd_upper: Its upper limit.
        components: What makes values of a day alike; None where days have one value each.
        values_a_day: Values that a day brought, on average.
        rate: How often it was counted for each value; None for what is not counted.
        dispersion: By how much that varied within a day beyond chance: variance = mean + dispersion mean^2; None as above.
        shares: Shares of the steps of an answer, the lowest first; None for what is no answer in steps.
    """

    outcome: Outcome
    taken_from: TakenFrom
    sd: float
    freedom: int
    sd_upper: float
    components: VarianceComponents | None
    values_a_day: float
    rate: float | None = None
    dispersion: float | None = None
    shares: tuple[float, ...] | None = None

    @property
    def sd_unpaired(self) -> float | None:
        """What the standard deviation would be of two days of the season that nothing pairs; None where days have one value each."""
        parts = self.components
        if parts is None or self.outcome.kind is Weighing.LOG_MEAN:
            return None
        within, groups = sqrt(parts.within), max(round(parts.size), 1)
        return sd_of_paired_days(between_days=sqrt(parts.between), between_groups=within, groups=groups, lag_correlation=0.0)


def variance_components(clusters: Sequence[Sequence[float]]) -> VarianceComponents:
    """What makes values differ: their clusters, or what differs within each.

    Args:
        clusters: The values of each cluster.

    Raises:
        StudyError: There are fewer than two clusters, or none holds more than one value.

    Source: one-way analysis of variance by the method of moments; Davies and Goldsmith, Statistical Methods in Research and Production
    (1972).
    """
    lots = [list(lot) for lot in clusters if lot]
    count, sizes = len(lots), [len(lot) for lot in lots]
    total = sum(sizes)
    if count < 2 or total == count:
        raise StudyError("The values show no correlation.", hint="Give two or more clusters, such as days, with several values each.")
    mean = fmean(value for lot in lots for value in lot)
    within = sum((value - fmean(lot)) ** 2 for lot in lots for value in lot) / (total - count)
    among = sum(len(lot) * (fmean(lot) - mean) ** 2 for lot in lots) / (count - 1)
    size = (total - sum(each**2 for each in sizes) / total) / (count - 1)
    return VarianceComponents(between=max((among - within) / size, 0.0), within=within, clusters=count, values=total, size=size)


def sd_upper_limit(sd: float, freedom: int) -> float:
    """The upper limit of a standard deviation, from the law of chi-square.

    Args:
        sd: The standard deviation that was seen.
        freedom: Its degrees of freedom.

    Raises:
        StudyError: There is no degree of freedom.
    """
    from scipy.stats import chi2

    if freedom < 1:
        raise StudyError("One difference shows no spread.", hint="Give at least two pairs of days.")
    return sd * sqrt(freedom / float(chi2.ppf(1 - UPPER_PART, freedom)))


def spread_of_past(outcome: Outcome, records: TrialRecords) -> SpreadOfPast | None:
    """How much an outcome spread in an earlier season; None where fewer than two differences of days can be taken, or none differs.

    Args:
        outcome: The outcome.
        records: What was recorded in that season.
    """
    by_day: dict[str, list[float]] = defaultdict(list)
    for entry in records.observations:
        if entry.outcome == outcome.key:
            by_day[entry.day].append(entry.value)
    days = [day for day in records.days if day.day in by_day]
    lots = [(TakenFrom.PAIRS, _pairs_of(days)), (TakenFrom.ADJACENT, _adjacent_of(days))]
    taken_from, pairs = next(((name, pairs) for name, pairs in lots if len(pairs) > 1), (TakenFrom.PAIRS, []))
    worth = {name: value_of(outcome, values) for name, values in by_day.items()}
    differences = [worth[second.day] - worth[first.day] for first, second in pairs]
    if len(differences) < 2 or not (sd := stdev(differences)) > 0:
        return None
    return SpreadOfPast(
        outcome=outcome,
        taken_from=taken_from,
        sd=sd,
        freedom=len(differences) - 1,
        sd_upper=sd_upper_limit(sd, len(differences) - 1),
        components=(components := _components(outcome, list(by_day.values()))),
        values_a_day=fmean(map(len, by_day.values())),
        rate=(rate := _rate(outcome, by_day.values())),
        dispersion=None if rate is None else _dispersion(rate, components),
        shares=_shares(outcome, by_day.values()),
    )


def times_met(change: int, outcome: Outcome, records: TrialRecords) -> float | None:
    """How often a change came up in a round of a player; None where nobody recorded it.

    Args:
        change: Number of the change.
        outcome: What counts it.
        records: What was recorded: a value of zero is a round in which it did not come up.
    """
    values = [entry.value for entry in records.observations if entry.outcome == outcome.key and entry.change == change]
    return fmean(values) if values else None


def _pairs_of(days: Sequence[TrialDay]) -> list[tuple[TrialDay, TrialDay]]:
    """Days that the table pairs; trial rules second where they differ, so that what a change did is in every difference alike."""
    found: dict[str, list[TrialDay]] = defaultdict(list)
    for day in days:
        if day.pair:
            found[day.pair].append(day)
    whole = [sorted(pair, key=lambda day: (day.arm is Arm.TRIAL, day.dated)) for pair in found.values() if len(pair) == 2]
    return [(first, second) for first, second in whole]


def _adjacent_of(days: Sequence[TrialDay]) -> list[tuple[TrialDay, TrialDay]]:
    """Each day of a course with the one that follows under the same rules, no day twice."""
    found: dict[tuple[str, Arm | None], list[TrialDay]] = defaultdict(list)
    for day in sorted(days, key=lambda day: day.dated):
        found[day.course, day.arm].append(day)
    return [pair for own in found.values() for pair in zip(own[::2], own[1::2], strict=False)]


def _rate(outcome: Outcome, days: Collection[Sequence[float]]) -> float | None:
    return fmean(value for lot in days for value in lot) if outcome.kind is Weighing.RATE else None


def _dispersion(rate: float, components: VarianceComponents | None) -> float:
    return 0.0 if components is None or rate <= 0 else max((components.within - rate) / rate**2, 0.0)


def _shares(outcome: Outcome, days: Collection[Sequence[float]]) -> tuple[float, ...] | None:
    if outcome.kind is not Weighing.STEPS:
        return None
    answers = [round(value) for lot in days for value in lot]
    return tuple(answers.count(step) / len(answers) for step in range(int(outcome.least), int(outcome.most) + 1))


def _components(outcome: Outcome, clusters: Sequence[Sequence[float]]) -> VarianceComponents | None:
    """Those of the values; of the logarithms for times that run long now and then."""
    if sum(len(lot) > 0 for lot in clusters) < 2 or all(len(lot) < 2 for lot in clusters):
        return None
    logs = outcome.kind is Weighing.LOG_MEAN and all(value > 0 for lot in clusters for value in lot)
    return variance_components([[log(value) for value in lot] if logs else lot for lot in clusters])
