"""The same days reckoned otherwise: each trimmed, each pair left out in turn, what is missing filled in, each event by itself."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, fsum, log, sqrt
from statistics import fmean, stdev

from marram.evidence.effects import UNBOUNDED, Interval, UnitsDifference
from marram.evidence.guards import equivalence_of_groups_p
from marram.evidence.models.imputed import FILLINGS, fill, pool
from marram.evidence.ranks import compare_ranks
from marram.evidence.rates import score_of_rates
from marram.evidence.sensitivity.sensitivity_line import Scale, SensitivityLine, Way
from marram.evidence.verdicts import MOST_MISSING
from marram.evidence.weighing.account import Missing
from marram.evidence.weighing.by_pairs import value_of
from marram.records.outcomes import Outcome, Weighing

TRIMMED = 0.10
"""Part of the values of a day that is left out at either end (common practice)."""
LEAST_MISSING = 0.05
"""With less missing, filling it in says nothing new (common practice)."""
_SEED = 1

Days = Sequence[tuple[str, tuple[str, Sequence[float]], tuple[str, Sequence[float]]]]
"""Each pair by name, with name and values of its trial day and of its ordinary day."""


def trimmed_line(outcome: Outcome, days: Days) -> SensitivityLine | None:
    """The effect with the outermost values of each day left out; None for what is counted or answered, and where nothing is left out.

    Args:
        outcome: The outcome.
        days: Its values by day.
    """
    if outcome.kind not in {Weighing.MEAN, Weighing.LOG_MEAN}:
        return None
    if not any(int(TRIMMED * len(values)) for _, *both in days for _, values in both):
        return None
    found = _difference([(value_of(outcome, _trimmed(trial)), value_of(outcome, _trimmed(other))) for _, (_, trial), (_, other) in days])
    return _told(Way.TRIMMED, outcome, days, found.estimate, found.interval95, f"{TRIMMED:.0%} of each day left out at either end")


def ranks_line(outcome: Outcome, days: Days) -> SensitivityLine | None:
    """How likely a trial day lies above an ordinary day, whatever its pair, by ranks alone; None for what is counted or answered.

    Args:
        outcome: The outcome.
        days: Its values by day.
    """
    if outcome.kind not in {Weighing.MEAN, Weighing.LOG_MEAN}:
        return None
    sides = [[value_of(outcome, both[side][1]) for _, *both in days] for side in (0, 1)]
    found = compare_ranks(sides[0], sides[1])
    return SensitivityLine(
        way=Way.RANKS,
        outcome=outcome.key,
        scale=Scale.CHANCE,
        estimate=found.chance,
        interval95=None,
        rows=sum(len(values) for _, *both in days for _, values in both),
        model="days by their ranks alone, whatever their pair",
        p=min(found.p_higher, 1 - found.p_higher),
    )


def two_lots_line(outcome: Outcome, days: Days, margin: float) -> SensitivityLine | None:
    """Whether trial days and ordinary days lie within a margin of each other either way, as two lots whatever their pair.

    Args:
        outcome: The outcome.
        days: Its values by day.
        margin: By how much they may differ either way.
    """
    sides = [[value_of(outcome, both[side][1]) for _, *both in days] for side in (0, 1)]
    if len(days) < 2 or all(len(set(side)) == 1 for side in sides):
        return None
    return SensitivityLine(
        way=Way.TWO_LOTS,
        outcome=outcome.key,
        scale=Scale.DIFFERENCE,
        estimate=fmean(sides[0]) - fmean(sides[1]),
        interval95=None,
        rows=sum(len(values) for _, *both in days for _, values in both),
        model="days as two lots, whatever their pair",
        p=equivalence_of_groups_p(sides[0], sides[1], margin),
    )


def without_one_line(outcome: Outcome, days: Days) -> SensitivityLine:
    """The effect with the pair left out that matters least, and between which ends it lies over all pairs.

    Args:
        outcome: The outcome.
        days: Its values by day, of two pairs or more.
    """
    differences = [value_of(outcome, trial) - value_of(outcome, other) for _, (_, trial), (_, other) in days]
    whole, count = fsum(differences), len(differences)
    left = [(whole - one) / (count - 1) for one in differences]
    return _told(Way.WITHOUT_ONE, outcome, days, whole / count, Interval(low=min(left), high=max(left)), "each pair left out in turn")


def filled_line(outcome: Outcome, days: Days, missing: Missing) -> SensitivityLine | None:
    """The effect with missing values drawn from those of their own day, many times over; None where little or too much is missing.

    Args:
        outcome: The outcome.
        days: Its values by day.
        missing: What is missing.
    """
    import numpy as np

    if not LEAST_MISSING <= missing.worst[1] <= MOST_MISSING or len(days) < 2:
        return None
    chance = np.random.default_rng(_SEED)
    found = []
    for _ in range(FILLINGS):
        whole = [[fill(values, round(missing.by_day.get(day, 0.0)), chance) for day, values in both] for _, *both in days]
        found.append(_difference([(value_of(outcome, trial), value_of(outcome, other)) for trial, other in whole]))
    if not all(one.has_spread for one in found):
        return None
    pooled = pool([one.estimate for one in found], [one.standard_error**2 for one in found], whole_freedom=len(days) - 1)
    model = f"what is missing drawn {FILLINGS} times from the values of its own day"
    return _told(Way.FILLED, outcome, days, pooled.estimate, pooled.interval(0.95), model)


def events_line(outcome: Outcome, days: Days) -> SensitivityLine | None:
    """Every event taken for independent of every other; None for what is not counted.

    Args:
        outcome: The outcome.
        days: Its values by day.
    """
    if outcome.kind is not Weighing.RATE:
        return None
    trial = [value for _, (_, values), _ in days for value in values]
    other = [value for _, _, (_, values) in days for value in values]
    counts = [round(fsum(values)) for values in (trial, other)]
    found = score_of_rates(counts[0], len(trial), counts[1], len(other))
    return SensitivityLine(
        way=Way.EVENTS,
        outcome=outcome.key,
        scale=Scale.RATES_RATIO,
        estimate=found.ratio,
        interval95=_ratio_limits(counts, (len(trial), len(other))),
        rows=len(trial) + len(other),
        model=f"{counts[0]} on trial days against {counts[1]}, each event by itself",
        p=min(found.p_more, found.p_fewer),
        why_none="" if found.ratio is not None else "no event on ordinary days leaves no ratio",
    )


def _ratio_limits(counts: Sequence[int], against: Sequence[float]) -> Interval | None:
    """Limits of a ratio by the logarithm; None where a count is nothing."""
    if 0 in counts:
        return None
    middle = log(counts[0] / against[0] * against[1] / counts[1])
    half = 1.959964 * sqrt(1 / counts[0] + 1 / counts[1])
    return Interval(low=exp(middle - half), high=exp(middle + half))


def _trimmed(values: Sequence[float]) -> list[float]:
    """Values without so many of the outermost at either end."""
    out = int(TRIMMED * len(values))
    return sorted(values)[out : len(values) - out]


def _difference(both: Sequence[tuple[float, float]]) -> UnitsDifference:
    """The mean difference of pairs of days."""
    differences = [trial - other for trial, other in both]
    return UnitsDifference(
        estimate=fmean(differences),
        standard_error=stdev(differences) / sqrt(len(both)) if len(both) > 1 else 0.0,
        freedom=max(len(both) - 1, 1),
        units=len(both),
        trial_mean=fmean(trial for trial, _ in both),
        ordinary_mean=fmean(other for _, other in both),
    )


def _told(way: Way, outcome: Outcome, days: Days, estimate: float, ends: Interval, model: str) -> SensitivityLine:
    return SensitivityLine(
        way=way,
        outcome=outcome.key,
        scale=Scale.DIFFERENCE,
        estimate=estimate,
        interval95=None if ends == UNBOUNDED else ends,
        rows=sum(len(values) for _, *both in days for _, values in both),
        model=model,
    )
