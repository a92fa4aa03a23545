"""What a change does by definition, kept apart from what it does to play.

A shorter limit cuts every search that would have gone on: the mean time falls even if nobody looks any faster. So each value is cut at the
tighter of the two limits, on both kinds of day alike, and what is then left of the difference is what play did differently.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import fsum

from marram.evidence.effects import PairedDifference, paired_days
from marram.evidence.shares import ShareDifference, share_difference
from marram.records.outcomes import Outcome, Weighing
from marram.records.rows import Arm, Observation, TrialDay
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
    restricted: PairedDifference
    found: ShareDifference | None


def by_definition(
    change: Change,
    outcome: Outcome,
    effect: PairedDifference,
    paired: Sequence[tuple[str, TrialDay, TrialDay]],
    values: Sequence[Observation],
) -> ByDefinition | None:
    """What of an effect the change makes by definition; None where it sets no limit on the outcome.

    Args:
        change: The change.
        outcome: The outcome.
        effect: The effect, whole.
        paired: The pairs that it was worked out from.
        values: The values of the outcome.
    """
    tighter = _tighter_limit(change, outcome)
    if tighter is None:
        return None
    cut: dict[str, list[float]] = {}
    for entry in values:
        cut.setdefault(entry.day, []).append(min(entry.value, tighter))
    means = {day: fsum(found) / len(found) for day, found in cut.items()}
    restricted = paired_days([(pair, means[trial.day], means[ordinary.day]) for pair, trial, ordinary in paired])
    return ByDefinition(
        limit=tighter,
        share_of_difference=effect.estimate - restricted.estimate,
        restricted=restricted,
        found=None,
    )


def share_found(observations: Sequence[Observation], arms: Mapping[str, Arm]) -> ShareDifference | None:
    """Share of balls found in time on trial days less that on ordinary days; None where either side has no search."""
    found = {arm: [entry.value for entry in observations if entry.outcome == _FOUND and arms.get(entry.day) is arm] for arm in Arm}
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
