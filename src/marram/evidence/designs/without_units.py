"""The effect without one unit, for each of them: worked out of sums, so that thousands of groups take no longer than their table."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import sqrt

from marram.evidence.designs.drawn_units import Unit
from marram.evidence.designs.unit_effects import NO_SPREAD, Values
from marram.evidence.effects import UnitsDifference
from marram.records.rows import Arm

_ROUNDING = 1e-12


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """Some values: how many, their mean, and the sum of the squares of their distances from it."""

    n: int
    mean: float
    squares: float

    def without(self, value: float) -> Lot:
        """The same values less one of them."""
        if self.n == 1:
            return Lot(n=0, mean=0.0, squares=0.0)
        mean = (self.n * self.mean - value) / (self.n - 1)
        return Lot(n=self.n - 1, mean=mean, squares=_left(self.squares - (value - self.mean) * (value - mean), self.squares))


def _left(squares: float, of_all: float) -> float:
    """What is left of a sum of squares; what rounding alone leaves is nothing."""
    return squares if squares > _ROUNDING * of_all else 0.0


def lot_of(values: Sequence[float]) -> Lot:
    """The lot of some values."""
    mean = sum(values) / len(values) if values else 0.0
    return Lot(n=len(values), mean=mean, squares=sum((value - mean) ** 2 for value in values))


def days_without_each(values: Values) -> Iterator[tuple[Unit, UnitsDifference]]:
    """Of groups of days, the effect without each of them that leaves an effect.

    Args:
        values: One value for each group.
    """
    held: dict[str, dict[Arm, list[float]]] = defaultdict(lambda: {arm: [] for arm in Arm})
    for (unit, arm), value in values.items():
        held[unit.block][arm].append(value)
    days = {block: (lot_of(by_arm[Arm.TRIAL]), lot_of(by_arm[Arm.ORDINARY])) for block, by_arm in held.items()}
    parts = {block: _part(*lots) for block, lots in days.items()}
    total = [sum(part[place] for part in parts.values()) for place in range(6)]
    largest = max(map(abs, values.values()), default=0.0)
    for (unit, arm), value in values.items():
        trial, ordinary = days[unit.block]
        left = _part(trial.without(value), ordinary) if arm is Arm.TRIAL else _part(trial, ordinary.without(value))
        weight, of_trial, of_ordinary, squares, freedom, units = (
            whole - before + after for whole, before, after in zip(total, parts[unit.block], left, strict=True)
        )
        if weight > 0 and freedom >= 1:
            error = sqrt(_left(squares, total[3]) / freedom / weight)
            yield unit, _told(of_trial / weight, of_ordinary / weight, error, round(freedom), round(units), largest)


def _part(trial: Lot, ordinary: Lot) -> tuple[float, float, float, float, float, float]:
    """What a day adds: its weight, the weighted means, the squares, the degrees of freedom and the units; nothing without both sides."""
    if not (trial.n and ordinary.n):
        return (0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    weight, units = trial.n * ordinary.n / (trial.n + ordinary.n), trial.n + ordinary.n
    return (weight, weight * trial.mean, weight * ordinary.mean, trial.squares + ordinary.squares, units - 2, units)


def turns_without_each(values: Values, first: Mapping[Unit, Arm]) -> Iterator[tuple[Unit, UnitsDifference]]:
    """Of units that play both sets of rules in turn, the effect without each of them that leaves an effect.

    Args:
        values: Two values for each unit.
        first: Under which rules each plays first.
    """
    units = list(dict.fromkeys(unit for unit, _ in values))
    told = {unit: (values[unit, Arm.TRIAL], values[unit, Arm.ORDINARY]) for unit in units}
    orders = {arm: [unit for unit in units if first[unit] is arm] for arm in Arm}
    # of each order the trial values, the ordinary ones, and their differences
    lots = {arm: [lot_of([_three(told[unit])[place] for unit in own]) for place in range(3)] for arm, own in orders.items()}
    largest = max(map(abs, values.values()), default=0.0)
    for unit in units:
        own = [lot.without(value) for lot, value in zip(lots[first[unit]], _three(told[unit]), strict=True)]
        sides = [own if arm is first[unit] else lots[arm] for arm in Arm]
        counts = [side[2].n for side in sides]
        freedom = sum(counts) - 2
        if min(counts) < 2:
            continue
        error = sqrt(sum(side[2].squares for side in sides) / freedom * sum(1 / count for count in counts)) / 2
        trial, ordinary = (sum(side[place].mean for side in sides) / 2 for place in (0, 1))
        yield unit, _told(trial, ordinary, error, freedom, sum(counts), largest)


def _three(both: tuple[float, float]) -> tuple[float, float, float]:
    return (*both, both[0] - both[1])


def _told(trial: float, ordinary: float, error: float, freedom: int, units: int, largest: float) -> UnitsDifference:
    return UnitsDifference(
        estimate=trial - ordinary,
        standard_error=0.0 if error <= NO_SPREAD * largest else error,
        freedom=freedom,
        units=units,
        trial_mean=trial,
        ordinary_mean=ordinary,
    )
