"""How many players, or rulings of officials, an exercise needs for the difference that is wanted, and what the planned ones can find."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from marram.core.errors import StudyError
from marram.evidence.arm_sizes import design_effect, players_for_equal_means, players_per_arm, units_per_arm
from marram.evidence.clarity.assignment import Assigned
from marram.evidence.clarity.exercise import Wording
from marram.evidence.sizes import least_effect, pairs_needed
from marram.interchange.field.exercise_files import Task
from marram.records.outcomes import outcomes
from marram.rulebook.overlays.overlay import Change, Overlay

OF_ONE_INCIDENT = 0.1
"""How much rulings of one incident hang together, for planning (common practice)."""
_STEP = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class GuardSize:
    """How many players show that something stays within its margin, in each of two lots, if it does not move at all."""

    outcome: str
    margin: float
    players_in_each_lot: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StationSize:
    """How many players the station of a change needs.

    Attributes:
        change: Number of the change.
        outcome: What is measured.
        unit: Its unit.
        matters: Smallest effect that matters.
        sd: Standard deviation between players, and about that of the difference of one player's two tries.
        players: Players that are planned, each under both texts.
        players_needed: Players that find what matters, each under both texts; None where more than 10,000 would be needed.
        least_effect: Smallest effect that the planned players find.
        players_in_each_lot: Players that each of two lots would need, where each did the task under one text alone.
        guards: The same for what must not get worse, where its spread was told.
    """

    change: int
    outcome: str
    unit: str
    matters: float
    sd: float
    players: int
    players_needed: int | None
    least_effect: float
    players_in_each_lot: int
    guards: tuple[GuardSize, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaritySize:
    """How many rulings a clarity exercise needs under each text.

    Attributes:
        agreement: Part of rulings that agree under the text in force, as it is supposed.
        matters: Smallest difference that matters.
        design_effect: By how much more are needed because rulings of one incident hang together.
        rulings: Rulings under each text that are planned, on the side that has fewer.
        rulings_needed: Rulings under each text that find what matters.
        least_difference: Smallest difference that the planned rulings find; None where they find none.
    """

    agreement: float
    matters: float
    design_effect: float
    rulings: int
    rulings_needed: int
    least_difference: float | None


def station_sizes(trial: Overlay, tasks: Sequence[Task], sd: Mapping[str, float], *, players: int) -> tuple[StationSize, ...]:
    """The size of each station whose spread was told.

    Args:
        trial: The trial.
        tasks: The tasks.
        sd: By outcome, the standard deviation between players.
        players: Players that are planned.
    """
    numbers = sorted({task.change for task in tasks})
    changes = [trial.changes[number - 1] for number in numbers]
    return tuple(_station(change, sd, players) for change in changes if change.expects is not None and change.expects.outcome in sd)


def _station(change: Change, sd: Mapping[str, float], players: int) -> StationSize:
    assert change.expects is not None
    key, matters = change.expects.outcome, change.expects.matters
    guards = tuple(
        GuardSize(outcome=guard.outcome, margin=guard.margin, players_in_each_lot=players_for_equal_means(sd[guard.outcome], guard.margin))
        for guard in change.guards
        if guard.outcome in sd
    )
    return StationSize(
        change=change.number,
        outcome=key,
        unit=outcomes()[key].effect_unit,
        matters=matters,
        sd=sd[key],
        players=players,
        players_needed=pairs_needed(matters, sd[key]),
        least_effect=round(least_effect(players, sd[key]), 4),
        players_in_each_lot=units_per_arm(matters, sd[key]),
        guards=guards,
    )


def clarity_size(assigned: Sequence[Assigned], *, agreement: float, matters: float) -> ClaritySize:
    """The size of a clarity exercise.

    Args:
        assigned: Who rules what.
        agreement: Part of rulings that agree under the text in force, as it is supposed.
        matters: Smallest difference that matters.

    Raises:
        StudyError: No difference of that size is left above the agreement.
    """
    if agreement + matters > 1:
        message = f"{agreement:.0%} agreement leaves no room for {matters:.0%} more."
        raise StudyError(message, where="agreement", hint="Suppose less agreement, or want a smaller difference.")
    planned = min(sum(entry.wording is wording for entry in assigned) for wording in Wording)
    incidents = len({entry.item for entry in assigned})
    effect = max(design_effect(planned / incidents, OF_ONE_INCIDENT), 1.0)

    def needed(more: float) -> int:
        return ceil(players_per_arm(agreement, min(agreement + more, 1.0)) * effect)

    found = [step * _STEP for step in range(1, round((1 - agreement) / _STEP) + 1) if needed(step * _STEP) <= planned]
    return ClaritySize(
        agreement=agreement,
        matters=matters,
        design_effect=round(effect, 4),
        rulings=planned,
        rulings_needed=needed(matters),
        least_difference=round(found[0], 2) if found else None,
    )
