"""What every design answers: how it compares the values of an outcome, under trial rules against ordinary rules.

A change is weighed by one set of rules whatever was drawn (`weighing.one_change`); a design says what its units are, what they tell and
what of them is missing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol, runtime_checkable

from marram.evidence.design_words import DesignWords
from marram.evidence.effects import Effect
from marram.evidence.rates import RateRatio
from marram.evidence.weighing.account import Missing
from marram.records.outcomes import Outcome
from marram.records.rows import Observation, TrialRecords


class Compared(Protocol):
    """The values of one outcome, compared."""

    @property
    def effect(self) -> Effect | None:
        """Trial rules less ordinary rules; None where no unit, or no unit of one side, has values."""

    @property
    def fewest(self) -> int:
        """How many units were weighed, on the side that has fewer."""

    @property
    def missing(self) -> Missing:
        """How many values are missing, by set of rules."""

    @property
    def missing_units(self) -> float:
        """Part of the units that have no values."""

    def ratio(self) -> RateRatio | None:
        """How many times as often under trial rules, for what is counted; None for anything else."""

    def bounds(self) -> tuple[float, float] | None:
        """Between which ends the effect lies, whatever the missing values were; None where none is missing."""

    def without_each(self) -> Iterator[tuple[str, Effect]]:
        """The effect without one unit, for each of them that leaves a spread."""


class Comparing(Protocol):
    """How a design compares."""

    @property
    def words(self) -> DesignWords:
        """What the design calls what it draws."""

    @property
    def played(self) -> int:
        """How many units were played."""

    def compare(self, outcome: Outcome, values: Sequence[Observation]) -> Compared:
        """Compare the values of an outcome."""

    def effect_of(self, outcome: Outcome, values: Sequence[Observation]) -> Effect | None:
        """The effect alone, for values that are looked at in another way, such as with each cut at a limit."""

    def why_never(self, outcome: Outcome) -> str:
        """Why the design cannot judge such an outcome, whatever was recorded; empty where it can."""


@runtime_checkable
class ComparingApart(Protocol):
    """How a design compares that tells each change from the others."""

    def apart(self, change: int) -> tuple[TrialRecords, Comparing]:
        """The records with the days that had the change on as trial days, and how they are compared for it."""
