"""Days with some of the changes compared: each change by its days with it and without it, cleared of the others and of blocks of days."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations

from marram.core.errors import StudyError
from marram.evidence.design_words import CHANGES, DesignWords
from marram.evidence.designs.day_rows import by_day, filled_ends, missing_on_days
from marram.evidence.effects import Effect
from marram.evidence.fitting.factor_effects import FEWEST_FREEDOM, LETTERS, FactorEffect, FactorEffects, PlayedDay, factor_effects
from marram.evidence.rates import RateRatio
from marram.evidence.weighing.account import Missing
from marram.evidence.weighing.by_pairs import value_of
from marram.records.outcomes import Outcome
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords

_OF_ONE = replace(CHANGES, sides=("days with it", "days without it"))


@dataclass(frozen=True)
class ComparedDays:
    """The values of one outcome, compared by the days with a change and those without it.

    Attributes:
        outcome: The outcome.
        values: Its values.
        records: All that was recorded, the days with the change as trial days.
        change: Number of the change.
        blocks: Name of the block of each day.
    """

    outcome: Outcome
    values: Sequence[Observation]
    records: TrialRecords
    change: int
    blocks: Mapping[str, str]

    @cached_property
    def numbers(self) -> tuple[int, ...]:
        """The changes that were on on some day, in order: each has the letter of its place."""
        return tuple(sorted({number for day in self.records.days for number in day.changes or ()}))

    @cached_property
    def effects(self) -> FactorEffects | None:
        """The effects of all changes; None where no day has values."""
        return self._fitted(self._means)

    @property
    def effect(self) -> FactorEffect | None:
        """Days with the change less days without it; None where the days do not tell it from the others."""
        return self._own(self.effects)

    @property
    def fewest(self) -> int:
        """How many days with the change, or without it, have values, whichever are fewer."""
        sides = [day.arm for day in self._days]
        return min(sides.count(arm) for arm in Arm)

    @cached_property
    def missing(self) -> Missing:
        """How many values are missing, by days with the change and days without it."""
        return missing_on_days(self.outcome, self.values, self.records, lambda day: self.blocks.get(day.day, ""))

    @property
    def missing_units(self) -> float:
        """Part of the days that have no values."""
        return 1 - len(self._days) / len(self.records.days) if self.records.days else 1.0

    def ratio(self) -> RateRatio | None:
        """None: how many times as often is told of pairs of days alone."""
        return None

    def bounds(self) -> tuple[float, float] | None:
        """Between which ends the effect lies, whatever the missing values were."""
        ends = filled_ends(self.outcome, self._by_day, self.missing, {day.day: day.arm for day in self.records.days})
        if ends is None:
            return None
        low, high = (self._own(self._fitted(means)) for means in ends)
        return None if low is None or high is None else (low.estimate, high.estimate)

    def without_each(self) -> Iterator[tuple[str, Effect]]:
        """The effect without one day, for each day that leaves something to measure it by."""
        for name in self._means:
            found = self._own(self._fitted({day: value for day, value in self._means.items() if day != name}))
            if found is not None and found.has_spread:
                yield name, found

    def pairs_alike(self) -> tuple[tuple[int, ...], ...]:
        """Pairs of changes that were both on or both off just on the days with this change, or just on those without it."""
        own = [self.change in (day.changes or ()) for day in self._days]
        found = []
        for pair in combinations([number for number in self.numbers if number != self.change], 2):
            alike = [(pair[0] in (day.changes or ())) is (pair[1] in (day.changes or ())) for day in self._days]
            if own and (alike == own or alike == [not is_on for is_on in own]):
                found.append(pair)
        return tuple(found)

    def _own(self, effects: FactorEffects | None) -> FactorEffect | None:
        if effects is None or self.change not in self.numbers:
            return None
        return effects.of.get(LETTERS[self.numbers.index(self.change)])

    def _fitted(self, means: Mapping[str, float]) -> FactorEffects | None:
        played = [
            PlayedDay(
                day=day.day,
                block=self.blocks.get(day.day, ""),
                on=tuple(number in (day.changes or ()) for number in self.numbers),
                value=means[day.day],
            )
            for day in self.records.days
            if day.day in means
        ]
        return factor_effects(played) if played and self.numbers else None

    @cached_property
    def _by_day(self) -> dict[str, list[float]]:
        return by_day(self.values)

    @cached_property
    def _means(self) -> dict[str, float]:
        return {day: value_of(self.outcome, own) for day, own in self._by_day.items()}

    @cached_property
    def _days(self) -> list[TrialDay]:
        return [day for day in self.records.days if day.day in self._by_day]


class ByOneChange:
    """Compare by the days with one change and those without it."""

    words: DesignWords = _OF_ONE

    def __init__(self, records: TrialRecords, change: int, blocks: Mapping[str, str]) -> None:
        self.records, self.change, self.blocks = records, change, blocks

    @property
    def played(self) -> int:
        """How many days were played."""
        return len(self.records.days)

    def compare(self, outcome: Outcome, values: Sequence[Observation]) -> ComparedDays:
        """Compare the values of an outcome."""
        return ComparedDays(outcome, values, self.records, self.change, self.blocks)

    def effect_of(self, outcome: Outcome, values: Sequence[Observation]) -> Effect | None:
        """The effect alone."""
        return self.compare(outcome, values).effect

    def why_never(self, outcome: Outcome) -> str:  # noqa: ARG002
        """Whole days can judge every outcome."""
        return ""


class ByChanges(ByOneChange):
    """Compare each change by its own days."""

    words: DesignWords = CHANGES

    def __init__(self, records: TrialRecords, blocks: Mapping[str, str] | None = None) -> None:
        """See what was on on each day.

        Args:
            records: The records, each day with the changes that were on.
            blocks: Name of the block of each day; where a day has none, what the table calls its period.

        Raises:
            StudyError: A day does not say which changes were on, or more changes were on than can be told apart.
        """
        unsaid = [day.day for day in records.days if day.changes is None]
        if unsaid:
            hint = "Write under changes which were on, such as 1 3, or none."
            raise StudyError("It does not say which changes were on.", where=f"day {unsaid[0]}", hint=hint)
        numbers = {number for day in records.days for number in day.changes or ()}
        if len(numbers) > len(LETTERS):
            raise StudyError(
                f"{len(numbers)} changes were on on some days.", where="days", hint=f"At most {len(LETTERS)} are told apart by days."
            )
        of_day = {day.day: (blocks or {}).get(day.day, day.period) for day in records.days}
        super().__init__(records, 0, of_day)

    def apart(self, change: int) -> tuple[TrialRecords, ByOneChange]:
        """The records with the days that had the change on as trial days, and how they are compared for it."""
        days = tuple(replace(day, arm=Arm.TRIAL if change in (day.changes or ()) else Arm.ORDINARY) for day in self.records.days)
        view = replace(self.records, days=days)
        return view, ByOneChange(view, change, self.blocks)


def is_measured(effects: FactorEffects) -> bool:
    """Whether enough days were played alike for a word."""
    return effects.freedom >= FEWEST_FREEDOM


def meeting_alike(compared: ComparedDays, meeting: Collection[frozenset[int]]) -> tuple[tuple[int, ...], ...]:
    """Of the pairs that cannot be told from a change, those that touch the same."""
    return tuple(pair for pair in compared.pairs_alike() if frozenset(pair) in meeting)
