"""What a plan takes from the records of an earlier season, and what it finds where the spread is as large as that season leaves open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from msgspec import UNSET, UnsetType

from marram.core.errors import StudyError
from marram.evidence.planning.rows_needed import RowsNeeded, answers_for, rounds_for
from marram.evidence.planning.spread_of_past import SpreadOfPast, spread_of_past, times_met
from marram.evidence.sizes import least_effect, pairs_needed, with_loss
from marram.evidence.weighing.answers_given import MET
from marram.evidence.weighing.odd_rows import query_rows
from marram.evidence.weighing.one_change import worse_of
from marram.records.outcomes import Weighing, Worse, outcomes
from marram.records.rows import TrialRecords
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.overlays.trial_terms import Direction

if TYPE_CHECKING:
    from marram.office.trials.planned_trial import PlannedChange, PlannedOutlook, Spread

ASKED_IN_STEPS = "asked_step"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedPast:
    """What an earlier season told of the spread of an outcome.

    Attributes:
        outcome: The outcome.
        unit: Unit of its effect.
        taken_from: What the standard deviation was taken from: pairs of days, or days that follow each other.
        sd_of_difference: Standard deviation of the difference of two days.
        degrees_of_freedom: Its degrees of freedom.
        sd_upper_limit: What it exceeds in 20 of 100 such seasons only.
        correlation: Correlation of two values of one day; None where days have one value each.
        correlation_upper_limit: The same for the correlation.
        sd_unpaired: What the standard deviation would be of two days that nothing pairs; None as for the correlation.
    """

    outcome: str
    unit: str
    taken_from: str
    sd_of_difference: float
    degrees_of_freedom: int
    sd_upper_limit: float
    correlation: float | None
    correlation_upper_limit: float | None
    sd_unpaired: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedRows:
    """How many answers, or rounds in which something is counted, a change needs on each kind of day.

    Attributes:
        change: Number of the change.
        outcome: What is answered or counted.
        is_rate: Whether it is counted; else it is answered.
        wanted: What is to be found: times the odds of a better answer, or times the rate.
        each: Values that each kind of day needs if they were drawn singly; None where it is to stay, or a million would not do.
        design_effect: By how much more, since values of one day hang together.
        each_with_days: Values that each kind of day needs; None as above.
        planned: Values that the plan brings on each kind of day.
        equal_shown: Chance of showing that a rate stays within the factor if it does not move; None where it is to move.
        is_assumed: Whether no season told the shares of the steps, so that they are taken as even.
    """

    change: int
    outcome: str
    is_rate: bool
    wanted: float
    each: int | None
    design_effect: float
    each_with_days: int | None
    planned: int
    equal_shown: float | None
    is_assumed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AtUpperLimit:
    """What a plan finds where the days differ as much as an earlier season leaves open.

    Attributes:
        sd_of_difference: The upper limit of the standard deviation of the difference of two days.
        least_effect: Smallest effect that the plan then finds with its power.
        pairs_needed: Pairs that would then find what matters; None where more than a plan may have would be needed.
        pairs_to_plan: Pairs to plan so that so many are left once some are lost; None as above.
        outlook: How the season may then end.
    """

    sd_of_difference: float
    least_effect: float
    pairs_needed: int | None
    pairs_to_plan: int | None
    outlook: tuple[PlannedOutlook, ...]


def with_past(spread: Spread, trial: Overlay, past: TrialRecords) -> Spread:
    """What was told of the spread, and for what nobody told what an earlier season shows.

    Args:
        spread: What was told; it stands.
        trial: The trial that is planned.
        past: The records of the earlier season.

    Raises:
        StudyError: The days were simulated, or the records show no spread of any outcome of the trial.
    """
    if past.is_simulated:
        message = "Nobody played the days of this earlier season: they were simulated, and show no spread of real days."
        raise StudyError(message, where=trial.name, hint="Give the records of days that were played, or a spread of your own as `sd`.")
    past = query_rows(past, {})
    wanted = dict.fromkeys([*_asked_for(trial), *(key for change in trial.changes for key in change.observes), ASKED_IN_STEPS])
    found = {key: seen for key in wanted if (seen := spread_of_past(outcomes()[key], past)) is not None}
    if not found:
        message = "The records of the earlier season show how far no outcome of the trial spreads."
        hint = (
            f"Two pairs of days, or four days of one course, with values of {', '.join(_asked_for(trial)) or 'an outcome'} are the fewest."
        )
        raise StudyError(message, where=trial.name, hint=hint)
    taken = {key: seen for key, seen in found.items() if key not in spread.sd}
    met = {change.number: times_met(change.number, outcomes()[MET], past) for change in trial.changes}
    return replace(
        spread,
        sd={**{key: seen.sd for key, seen in taken.items()}, **spread.sd},
        met={**{number: often for number, often in met.items() if often is not None}, **spread.met},
        past=tuple(found.values()),
    )


def at_upper_limits(spread: Spread) -> Spread:
    """The same with each standard deviation that was taken from the past at its upper limit."""
    limits: Mapping[str, SpreadOfPast] = {seen.outcome.key: seen for seen in spread.past}
    return replace(
        spread, sd={key: limits[key].sd_upper if key in limits and sd == limits[key].sd else sd for key, sd in spread.sd.items()}
    )


def with_upper_limit(
    planned: PlannedChange, sd: Mapping[str, float], outlook: tuple[PlannedOutlook, ...], *, pairs: int, alpha: float, lost: float
) -> PlannedChange:
    """A planned change with what the plan finds of it at the upper limit of its spread; as it is where no limit is known.

    Args:
        planned: The change as it is planned.
        sd: Each standard deviation at its upper limit.
        outlook: How the season may then end.
        pairs: Pairs of days.
        alpha: False alarms let pass at the end, two-sided.
        lost: Part of the pairs that is expected to be lost.
    """
    if planned.outcome is UNSET or planned.matters is UNSET or not outlook or sd[planned.outcome] == planned.sd_of_difference:
        return planned
    wide = sd[planned.outcome]
    needed = pairs_needed(planned.matters, wide, alpha=alpha)
    limit = AtUpperLimit(
        sd_of_difference=round(wide, 4),
        least_effect=round(least_effect(pairs, wide, alpha=alpha), 4),
        pairs_needed=needed,
        pairs_to_plan=None if needed is None else with_loss(needed, lost),
        outlook=outlook,
    )
    return replace(planned, at_upper_limit=limit)


def past_told(spread: Spread) -> tuple[PlannedPast, ...] | UnsetType:
    """What an earlier season told, as a plan holds it."""
    return tuple(_told(seen) for seen in spread.past) or UNSET


def rows_needed(trial: Overlay, spread: Spread, pairs: int) -> tuple[PlannedRows, ...] | UnsetType:
    """How many answers and counted rounds each change needs; not there where no earlier season was asked.

    Args:
        trial: The trial.
        spread: What the season told.
        pairs: Pairs of days.
    """
    past = {seen.outcome.key: seen for seen in spread.past}
    found = [
        _rows(change, needed)
        for change in trial.changes
        for needed in (*_of_answers(change, past, spread, pairs), *_of_counts(change, past, pairs))
    ]
    return tuple(found) if past else UNSET


def _of_answers(change: Change, past: Mapping[str, SpreadOfPast], spread: Spread, pairs: int) -> Iterator[RowsNeeded]:
    asked = [outcomes()[key] for key in change.observes if outcomes()[key].kind is Weighing.STEPS]
    for outcome in [*asked, *([outcomes()[ASKED_IN_STEPS]] if change.asks else [])]:
        seen = past.get(outcome.key)
        a_day = float(spread.players) if seen is None else seen.values_a_day
        yield answers_for(outcome.key, seen, shares=None if seen is None else seen.shares, a_day=a_day, pairs=pairs)


def _of_counts(change: Change, past: Mapping[str, SpreadOfPast], pairs: int) -> Iterator[RowsNeeded]:
    expects = change.expects
    lots = []
    if expects is not None:
        lots.append((expects.outcome, -expects.matters if expects.direction is Direction.DOWN else expects.matters, True))
    lots += [(guard.outcome, -guard.margin if worse_of(guard) is Worse.DOWN else guard.margin, False) for guard in change.guards]
    for key, more, is_to_move in lots:
        seen = past.get(key)
        if seen is not None and (found := rounds_for(seen, more=more, pairs=pairs, is_to_move=is_to_move)) is not None:
            yield found


def _rows(change: Change, needed: RowsNeeded) -> PlannedRows:
    return PlannedRows(
        change=change.number,
        outcome=needed.outcome,
        is_rate=needed.is_rate,
        wanted=round(needed.wanted, 4),
        each=needed.each,
        design_effect=round(needed.design_effect, 4),
        each_with_days=needed.each_with_days,
        planned=needed.planned,
        equal_shown=None if needed.equal_shown is None else round(needed.equal_shown, 4),
        is_assumed=needed.is_assumed,
    )


def _told(seen: SpreadOfPast) -> PlannedPast:
    parts = seen.components
    return PlannedPast(
        outcome=seen.outcome.key,
        unit=seen.outcome.effect_unit,
        taken_from=seen.taken_from.value,
        sd_of_difference=round(seen.sd, 4),
        degrees_of_freedom=seen.freedom,
        sd_upper_limit=round(seen.sd_upper, 4),
        correlation=None if parts is None else round(parts.correlation, 4),
        correlation_upper_limit=None if parts is None else round(parts.correlation_upper, 4),
        sd_unpaired=None if seen.sd_unpaired is None else round(seen.sd_unpaired, 4),
    )


def _asked_for(trial: Overlay) -> tuple[str, ...]:
    """Outcomes that the changes of a trial expect or guard."""
    expected = [change.expects.outcome for change in trial.changes if change.expects is not None]
    return tuple(dict.fromkeys([*expected, *(guard.outcome for change in trial.changes for guard in change.guards)]))
