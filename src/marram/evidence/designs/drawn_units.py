"""Units that are drawn singly: groups of a day, groups or days of two rounds; which of them there are, and whose a value is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from marram.evidence.plan import Design
from marram.records.rows import Arm, Observation, TrialRecords

FIRST_WAVE, SECOND_WAVE = "morning", "afternoon"
_WASHED_OUT = "yes"
"""What stands under wash-out of a day where one full round's time was left free between its waves."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """Something that was drawn.

    Attributes:
        event: Name of its day, or of its event of two rounds.
        group: Name of the group; empty where the unit is a day of half of the field.
        period: The part of the day that it plays in; empty where there is one.
    """

    event: str
    group: str = ""
    period: str = ""

    @property
    def name(self) -> str:
        """What it is told by."""
        return " ".join(part for part in (self.event, self.period, self.group) if part)

    @property
    def block(self) -> str:
        """Within what it was drawn: its day, and of a day of two waves its wave."""
        return f"{self.event} {self.period}".rstrip()


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """What was drawn, if there is a plan, and by which design.

    Attributes:
        design: The design.
        rules: The rules of each unit, one for each of its rounds; empty where there is no plan.
    """

    design: Design
    rules: Mapping[Unit, tuple[Arm, ...]] = field(default_factory=dict)

    @property
    def is_in_turn(self) -> bool:
        """Whether every unit plays both sets of rules, one after the other."""
        return self.design is not Design.GROUPS_IN_A_DAY

    @property
    def is_of_groups(self) -> bool:
        """Whether groups were drawn, and not days."""
        return self.design is not Design.CROSS_OVER_BY_HALF

    @property
    def has_waves(self) -> bool:
        """Whether the plan draws in both waves of a day."""
        return any(unit.period for unit in self.rules)

    def unit_of(self, entry: Observation, events: Mapping[str, str]) -> Unit | None:
        """Whose a value is; None where it names no group and groups were drawn.

        Args:
            entry: The value.
            events: The event of each day.
        """
        event = events.get(entry.day, entry.day)
        if not self.is_of_groups:
            return Unit(event=event)
        if not entry.group:
            return None
        is_of_a_wave = not self.is_in_turn and (self.has_waves or not self.rules)
        return Unit(event=event, group=entry.group, period=entry.period if is_of_a_wave else "")

    def events(self, records: TrialRecords) -> dict[str, str]:
        """The event that each day belongs to: groups of two rounds may play them on two days, which `pair` holds together."""
        return {day.day: day.event if self.is_in_turn and self.is_of_groups else day.day for day in records.days}

    def units_of(self, records: TrialRecords) -> tuple[Unit, ...]:
        """The units of the days that were played: those that were drawn for them, and any other that a value names.

        Those of a second wave count where time was left free before it.
        """
        events, washed_out = self.events(records), days_washed_out(records)
        held = set(events.values())
        drawn = (unit for unit in self.rules if unit.event in held and (unit.period in {"", FIRST_WAVE} or unit.event in washed_out))
        named = (unit for entry in records.observations if (unit := self.unit_of(entry, events)) is not None)
        return tuple(dict.fromkeys([*drawn, *named]))


def rules_drawn(drawing: Drawing, unit: Unit, entry: Observation) -> Arm | None:
    """Under which rules a value should have been observed, as it was drawn; None where nothing was drawn for it."""
    rules: Sequence[Arm] = drawing.rules.get(unit, ())
    place = (entry.round or 0) - 1 if drawing.is_in_turn else 0
    return rules[place] if 0 <= place < len(rules) else None


def days_washed_out(records: TrialRecords) -> frozenset[str]:
    """The days on which a full round's time was left free between the waves, as the table of days says."""
    return frozenset(day.day for day in records.days if dict(day.facts).get("wash-out", "").lower() == _WASHED_OUT)
