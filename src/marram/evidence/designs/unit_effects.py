"""The effect that units tell: trial rules less ordinary rules, each day by itself, or each unit against itself with the round taken out."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from statistics import fmean

from marram.core.errors import StudyError
from marram.evidence.designs.drawn_units import Unit
from marram.evidence.effects import UnitsDifference
from marram.evidence.groups import MeanDifference, compare_in_turn, compare_lots, sample_of
from marram.records.rows import Arm

Values = Mapping[tuple[Unit, Arm], float]
"""One value for each unit and set of rules."""

NO_SPREAD = 1e-12
"""Below this part of the largest value a spread is one of rounding alone."""


def effect_in_days(values: Values) -> UnitsDifference | None:
    """Groups of a day against each other, days as blocks; None where no day has both sets of rules.

    Args:
        values: One value for each group.
    """
    days: dict[str, dict[Arm, list[float]]] = defaultdict(lambda: {arm: [] for arm in Arm})
    for (unit, arm), value in values.items():
        days[unit.block][arm].append(value)
    whole = [(sample_of(by_arm[Arm.TRIAL]), sample_of(by_arm[Arm.ORDINARY])) for by_arm in days.values() if all(by_arm.values())]
    if not whole:
        return None
    weights = [trial.n * ordinary.n / (trial.n + ordinary.n) for trial, ordinary in whole]
    means = [sum(weight * both[side].mean for weight, both in zip(weights, whole, strict=True)) / sum(weights) for side in (0, 1)]
    units = sum(trial.n + ordinary.n for trial, ordinary in whole)
    try:
        found: MeanDifference | None = compare_lots(whole)
    except StudyError:  # nothing spreads, or there is one group on each side
        found = None
    return _told(found, means[0], means[1], units, max(map(abs, values.values())))


def effect_in_turn(values: Values, first: Mapping[Unit, Arm]) -> UnitsDifference | None:
    """Units that play both sets of rules against themselves, with what the round alone changes taken out; None where an order is missing.

    Args:
        values: Two values for each unit.
        first: Under which rules each plays first.
    """
    orders: dict[Arm, list[tuple[float, float]]] = {arm: [] for arm in Arm}
    for unit in dict.fromkeys(unit for unit, _ in values):
        before = first[unit]
        after = Arm.ORDINARY if before is Arm.TRIAL else Arm.TRIAL
        orders[before].append((values[unit, before], values[unit, after]))
    if not all(orders.values()):
        return None
    trial_first, ordinary_first = orders[Arm.TRIAL], orders[Arm.ORDINARY]
    # each order counts alike, so that what the round alone changes is in both means the same
    trial = (fmean(one for one, _ in trial_first) + fmean(two for _, two in ordinary_first)) / 2
    ordinary = (fmean(two for _, two in trial_first) + fmean(one for one, _ in ordinary_first)) / 2
    try:
        found: MeanDifference | None = compare_in_turn(trial_first, ordinary_first)
    except StudyError:  # nothing spreads, or an order was played by one
        found = None
    return _told(found, trial, ordinary, len(trial_first) + len(ordinary_first), max(map(abs, values.values())))


def _told(found: MeanDifference | None, trial: float, ordinary: float, units: int, largest: float) -> UnitsDifference:
    error = 0.0 if found is None or found.standard_error <= NO_SPREAD * largest else found.standard_error
    return UnitsDifference(
        estimate=trial - ordinary if found is None else found.estimate,
        standard_error=error,
        freedom=1 if found is None else found.degrees_of_freedom,
        units=units,
        trial_mean=trial,
        ordinary_mean=ordinary,
    )
