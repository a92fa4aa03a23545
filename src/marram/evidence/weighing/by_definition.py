"""What a change does by definition, kept apart from what it does to play.

A shorter limit cuts every search that would have gone on: the mean time falls even if nobody looks any faster. So each value is cut at the
tighter of the two limits, on both kinds of day alike, and what is then left of the difference is what play did differently.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import fsum

from marram.evidence.effects import Effect
from marram.evidence.shares import ShareDifference, share_difference
from marram.records.outcomes import Outcome, Weighing
from marram.records.rows import Arm, Observation, TrialRecords
from marram.rulebook.overlays.overlay import Change

_FOUND = "ball_found"


@dataclass(frozen=True, slots=True, kw_only=True)
class ByDefinition:
    """How much of a difference the change makes by definition.

    Attributes:
        limit: The tighter of the two limits, in the unit of the outcome.
        share_of_difference: The part of the mean difference that the limit makes by itself, in the unit of the outcome.
        restricted: What is left: the paired difference with every value cut at the limit, on both kinds of day.
        found: Share of balls found on trial days less that on ordinary days; None where nobody recorded it.
    """

    limit: float
    share_of_difference: float
    restricted: Effect
    found: ShareDifference | None


def by_definition(
    change: Change,
    outcome: Outcome,
    effect: Effect,
    values: Sequence[Observation],
    compare: Callable[[Sequence[Observation]], Effect | None],
) -> ByDefinition | None:
    """What of an effect the change makes by definition; None where it sets no limit on the outcome.

    Args:
        change: The change.
        outcome: The outcome.
        effect: The effect, whole.
        values: The values of the outcome.
        compare: How the design of the trial compares such values.
    """
    tighter = _tighter_limit(change, outcome)
    if tighter is None:
        return None
    restricted = compare([replace(entry, value=min(entry.value, tighter)) for entry in values])
    if restricted is None:
        return None
    return ByDefinition(
        limit=tighter,
        share_of_difference=effect.estimate - restricted.estimate,
        restricted=restricted,
        found=None,
    )


def share_found(records: TrialRecords) -> ShareDifference | None:
    """Share of balls found in time on trial days less that on ordinary days; None where either side has no search."""
    arm_of, found = records.arm_finder(), {arm: list[float]() for arm in Arm}
    for entry in records.observations:
        arm = arm_of(entry) if entry.outcome == _FOUND else None
        if arm is not None:
            found[arm].append(entry.value)
    if not all(found.values()):
        return None
    trial, ordinary = found[Arm.TRIAL], found[Arm.ORDINARY]
    return share_difference(round(fsum(trial)), len(trial), round(fsum(ordinary)), len(ordinary))


def _tighter_limit(change: Change, outcome: Outcome) -> float | None:
    limit = outcome.limit
    if limit is None or change.key != limit.key or outcome.kind is not Weighing.MEAN:
        return None
    both = [value for value in (change.was, change.now) if isinstance(value, int | float) and not isinstance(value, bool)]
    return min(both) * limit.times if len(both) == 2 and both[0] != both[1] else None
