"""Paired days compared: one number for each day, one difference for each pair, since days are what was drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import exp, fsum, log, sqrt
from statistics import fmean, stdev

from marram.evidence.design_words import PAIRED, SIMULATED_PAIRS, DesignWords
from marram.evidence.effects import Effect, PairedDifference, UnitsDifference, paired_days
from marram.evidence.rates import PairedCounts, RateRatio, rate_ratio
from marram.evidence.weighing.account import Missing, bounds_for_the_missing, missing_of
from marram.records.outcomes import Outcome, Weighing
from marram.records.rows import Observation, TrialDay, TrialRecords

Pairs = Sequence[tuple[str, TrialDay, TrialDay]]


@dataclass(frozen=True)
class ComparedPairs:
    """The values of one outcome, compared by pairs of days.

    Attributes:
        outcome: The outcome.
        values: Its values.
        records: All that was recorded.
    """

    outcome: Outcome
    values: Sequence[Observation]
    records: TrialRecords

    @cached_property
    def pairs(self) -> Pairs:
        """Pairs that have values on both days."""
        days = {entry.day for entry in self.values}
        return [(pair, trial, ordinary) for pair, trial, ordinary in self.records.pairs() if trial.day in days and ordinary.day in days]

    @cached_property
    def paired(self) -> list[tuple[str, float, float]]:
        """One value for each day of each pair: days are what was randomised, not groups or players."""
        days = {name: value_of(self.outcome, found) for name, found in self._by_day.items()}
        return [(pair, days[trial.day], days[ordinary.day]) for pair, trial, ordinary in self.pairs]

    @cached_property
    def effect(self) -> PairedDifference | None:
        """Trial days less ordinary days; None where no pair has values on both days."""
        return paired_days(self.paired) if self.paired else None

    @property
    def fewest(self) -> int:
        """How many pairs were weighed."""
        return len(self.paired)

    @cached_property
    def missing(self) -> Missing:
        """How many values are missing, by set of rules."""
        return missing_of(self.outcome, self.values, self.records)

    @property
    def missing_units(self) -> float:
        """Part of the pairs without values on both days."""
        pairs = len(self.records.pairs())
        return 1 - len(self.paired) / pairs if pairs else 1.0

    def ratio(self) -> RateRatio | None:
        """Counts with their exposure: a value of zero is a group or player to whom it could have happened."""
        if self.outcome.kind is not Weighing.RATE or not self.pairs:
            return None
        by_day = self._by_day
        return rate_ratio(
            [
                PairedCounts(
                    pair=pair,
                    trial_count=int(fsum(by_day[trial.day])),
                    trial_exposure=len(by_day[trial.day]),
                    ordinary_count=int(fsum(by_day[ordinary.day])),
                    ordinary_exposure=len(by_day[ordinary.day]),
                )
                for pair, trial, ordinary in self.pairs
            ]
        )

    def bounds(self) -> tuple[float, float] | None:
        """Between which ends the effect lies, whatever the missing values were."""
        if not self.pairs:
            return None
        days = [(trial, ordinary) for _, trial, ordinary in self.pairs]
        return bounds_for_the_missing(self.outcome, days, self._by_day, self.missing)

    def without_each(self) -> Iterator[tuple[str, Effect]]:
        """The effect without one pair, for each of them that leaves a spread."""
        for name, _, _ in self.paired:
            rest = [(trial, ordinary) for other, trial, ordinary in self.paired if other != name]
            differences = [trial - ordinary for trial, ordinary in rest]
            if len(set(differences)) > 1:
                yield (
                    name,
                    UnitsDifference(
                        estimate=fsum(differences) / len(rest),
                        standard_error=stdev(differences) / sqrt(len(rest)),
                        freedom=len(rest) - 1,
                        units=len(rest),
                        trial_mean=fmean(trial for trial, _ in rest),
                        ordinary_mean=fmean(ordinary for _, ordinary in rest),
                    ),
                )

    @cached_property
    def _by_day(self) -> dict[str, list[float]]:
        found: dict[str, list[float]] = {}
        for entry in self.values:
            found.setdefault(entry.day, []).append(entry.value)
        return found


class ByPairs:
    """Compare by pairs of days."""

    def __init__(self, records: TrialRecords) -> None:
        self.records = records

    @property
    def words(self) -> DesignWords:
        """Those of paired days; of days that nobody played those of a forecast."""
        return SIMULATED_PAIRS if self.records.is_simulated else PAIRED

    @property
    def played(self) -> int:
        """How many whole pairs were played."""
        return len(self.records.pairs())

    def compare(self, outcome: Outcome, values: Sequence[Observation]) -> ComparedPairs:
        """Compare the values of an outcome."""
        return ComparedPairs(outcome, values, self.records)

    def effect_of(self, outcome: Outcome, values: Sequence[Observation]) -> Effect | None:
        """The effect alone."""
        return self.compare(outcome, values).effect

    def why_never(self, outcome: Outcome) -> str:  # noqa: ARG002
        """Whole days can judge every outcome."""
        return ""


def value_of(outcome: Outcome, values: Sequence[float]) -> float:
    """The value of what was drawn: the mean, and for times that run long now and then the geometric mean."""
    if outcome.kind is Weighing.LOG_MEAN:
        return exp(fsum(map(log, values)) / len(values))
    return fsum(values) / len(values)
