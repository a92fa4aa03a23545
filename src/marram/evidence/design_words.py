"""What a design calls what it draws, and how it tells under which rules something was observed."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.words import counted
from marram.evidence.plan import Design
from marram.records.rows import Arm


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignWords:
    """The words of a design.

    Attributes:
        design: The design.
        unit: What is drawn, one of it.
        rests_on: What an effect rests on, one of it.
        mean_of: What the values are means of, several of it.
        none_whole: What is said where no unit has values on both sides.
        is_of_days: Whether whole days are played under one set of rules.
        how: What was drawn, and why it is that which is weighed.
    """

    design: Design
    unit: str
    rests_on: str
    mean_of: str
    none_whole: str
    is_of_days: bool
    how: str

    def kind(self, arm: Arm) -> str:
        """What was played under a set of rules: trial days, or rounds under trial rules."""
        return f"{arm.value} days" if self.is_of_days else f"rounds under {arm.value} rules"

    def on(self, arm: Arm) -> str:
        """Where something was observed: on trial days, or under trial rules."""
        return f"on {arm.value} days" if self.is_of_days else f"under {arm.value} rules"

    def count(self, number: int) -> str:
        """So many of what is drawn."""
        return counted(number, self.unit)


PAIRED = DesignWords(
    design=Design.PAIRED_DAYS,
    unit="pair",
    rests_on="pair of days",
    mean_of="days",
    none_whole="no pair of days has values on both days",
    is_of_days=True,
    how="one day of each pair under the trial rules, by the coin. Days are weighed, not groups or players: groups of one day wait for "
    "each other.",
)
