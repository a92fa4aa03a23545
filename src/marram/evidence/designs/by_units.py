"""Units compared that were drawn singly: groups of a day against each other, or groups and days of two rounds against themselves.

The rows of players, rulings and searches are gathered to the unit first, since units are what was drawn.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import fsum

from marram.evidence.design_words import DesignWords
from marram.evidence.designs.drawn_units import Drawing, Unit
from marram.evidence.designs.unit_effects import Values, effect_in_days, effect_in_turn
from marram.evidence.designs.units_missing import Cells, bounds_of_units, missing_of_units
from marram.evidence.designs.without_units import days_without_each, turns_without_each
from marram.evidence.effects import Effect, UnitsDifference
from marram.evidence.plan import is_pace
from marram.evidence.rates import PairedCounts, RateRatio, rate_ratio
from marram.evidence.weighing.account import Missing
from marram.evidence.weighing.by_pairs import value_of
from marram.records.outcomes import Outcome, Weighing
from marram.records.rows import Arm, Observation, TrialRecords

_WHY_NO_PACE = (
    "groups of one day share its pace, since each waits for the group ahead, whatever its rules; days under one set of rules each, such as "
    "paired days of the whole field, would judge it"
)


@dataclass(frozen=True)
class ComparedUnits:
    """The values of one outcome, compared by units.

    Attributes:
        outcome: The outcome.
        cells: Its values by unit and set of rules.
        first: Under which rules each unit played first, where it plays both in turn.
        comparing: The design.
    """

    outcome: Outcome
    cells: Cells
    first: Mapping[Unit, Arm]
    comparing: ByUnits

    @cached_property
    def values(self) -> Values:
        """One value for each unit and set of rules; of units in turn only of those that have both."""
        found = {(unit, arm): value_of(self.outcome, [entry.value for entry in rows]) for (unit, arm), rows in self.cells.items() if rows}
        if not self.comparing.drawing.is_in_turn:
            return found
        return {(unit, arm): value for (unit, arm), value in found.items() if all((unit, each) in found for each in Arm)}

    @cached_property
    def effect(self) -> UnitsDifference | None:
        """Trial rules less ordinary rules; None where one side has no values."""
        return self._effect(self.values)

    @property
    def fewest(self) -> int:
        """How many units were weighed, on the side that has fewer: of the two sets of rules, or of the two orders."""
        return min(len(self._side(arm)) for arm in Arm)

    @cached_property
    def missing(self) -> Missing:
        """How many values are missing, by set of rules."""
        counter = self.outcome.counted_by
        counted = [entry for entry in self.comparing.records.observations if entry.outcome == counter] if counter else []
        return missing_of_units(self.outcome, self.cells, self.comparing.cells_of(counted), self.comparing.players)

    @property
    def missing_units(self) -> float:
        """Part of the units that have no values, or not of both rounds; of what happens now and then none is expected of a unit."""
        of_all = self.comparing.units
        if not of_all:
            return 1.0
        return 0.0 if not self.outcome.is_one_each else 1 - len({unit for unit, _ in self.values}) / len(of_all)

    def ratio(self) -> RateRatio | None:
        """Counts of each day under trial rules against those of the same day under ordinary rules."""
        if self.outcome.kind is not Weighing.RATE:
            return None
        blocks: dict[str, dict[Arm, list[float]]] = defaultdict(lambda: {arm: [] for arm in Arm})
        for (unit, arm), rows in self.cells.items():
            if (unit, arm) in self.values:
                blocks[unit.block][arm] += [entry.value for entry in rows]
        counts = [
            PairedCounts(
                pair=block,
                trial_count=int(fsum(by_arm[Arm.TRIAL])),
                trial_exposure=len(by_arm[Arm.TRIAL]),
                ordinary_count=int(fsum(by_arm[Arm.ORDINARY])),
                ordinary_exposure=len(by_arm[Arm.ORDINARY]),
            )
            for block, by_arm in blocks.items()
            if all(by_arm.values())
        ]
        return rate_ratio(counts) if counts else None

    def bounds(self) -> tuple[float, float] | None:
        """Between which ends the effect lies, whatever the missing values were."""
        return None if self.effect is None else bounds_of_units(self.effect, self.cells, self.missing)

    def without_each(self) -> Iterator[tuple[str, Effect]]:
        """The effect without one unit, for each of them that leaves a spread."""
        each = turns_without_each(self.values, self.first) if self.comparing.drawing.is_in_turn else days_without_each(self.values)
        yield from ((unit.name, effect) for unit, effect in each if effect.has_spread)

    def _effect(self, values: Values) -> UnitsDifference | None:
        return effect_in_turn(values, self.first) if self.comparing.drawing.is_in_turn else effect_in_days(values)

    def _side(self, arm: Arm) -> set[Unit]:
        if self.comparing.drawing.is_in_turn:
            return {unit for unit, _ in self.values if self.first.get(unit) is arm}
        whole = {unit.block for unit, other in self.values if other is not arm}
        return {unit for unit, own in self.values if own is arm and unit.block in whole}


class ByUnits:
    """Compare by units that were drawn singly.

    Attributes:
        words: What the design calls them.
        drawing: What was drawn.
        records: What was recorded.
        units: The units of the days that were played.
    """

    def __init__(self, records: TrialRecords, drawing: Drawing, words: DesignWords) -> None:
        self.words, self.drawing, self.records = words, drawing, records
        self.units = drawing.units_of(records)
        self._events, self._arm_of = drawing.events(records), records.arm_finder()
        self.players: dict[Unit, set[str]] = defaultdict(set)
        self._arms: dict[Unit, set[Arm]] = defaultdict(set, {unit: set(rules) for unit, rules in drawing.rules.items()})
        for entry in records.observations:
            unit, arm = drawing.unit_of(entry, self._events), self._arm_of(entry)
            if unit is not None:
                self.players[unit] |= {entry.player} if entry.player else set()
                self._arms[unit] |= {arm} if arm is not None else set()

    @property
    def played(self) -> int:
        """How many units there are on the days that were played."""
        return len(self.units)

    def compare(self, outcome: Outcome, values: Sequence[Observation]) -> ComparedUnits:
        """Compare the values of an outcome."""
        cells = {(unit, arm): list[Observation]() for unit in self.units for arm in sorted(self._arms[unit])}
        if self.drawing.is_in_turn:
            cells = {(unit, arm): list[Observation]() for unit in self.units for arm in Arm}
        first: dict[Unit, Arm] = {}
        for key, rows in self.cells_of(values).items():
            cells[key] = rows
            first.setdefault(key[0], key[1] if rows[0].round == 1 else _other(key[1]))
        return ComparedUnits(outcome, cells, first, self)

    def cells_of(self, values: Sequence[Observation]) -> dict[tuple[Unit, Arm], list[Observation]]:
        """Values by unit and set of rules; those of nobody who was drawn are in none."""
        cells: dict[tuple[Unit, Arm], list[Observation]] = defaultdict(list)
        for entry in values:
            unit, arm = self.drawing.unit_of(entry, self._events), self._arm_of(entry)
            if unit is not None and arm is not None:
                cells[unit, arm].append(entry)
        return cells

    def effect_of(self, outcome: Outcome, values: Sequence[Observation]) -> Effect | None:
        """The effect alone."""
        return self.compare(outcome, values).effect

    def why_never(self, outcome: Outcome) -> str:
        """Groups of one day cannot judge what they share."""
        return _WHY_NO_PACE if self.drawing.is_of_groups and is_pace(outcome) else ""


def _other(arm: Arm) -> Arm:
    return Arm.ORDINARY if arm is Arm.TRIAL else Arm.TRIAL
