"""Plan a trial: what each change can show on so many pairs of days, the coin thrown from a committed seed, frozen under a stamp."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass

import msgspec
from msgspec import UNSET

from marram.core.errors import StudyError
from marram.evidence.looks import Bounds, Looks, PlannedLook, plan_looks
from marram.evidence.plan import Design, DrawnPair, Primary, TrialPlan, meetings_expected, plan
from marram.evidence.planning.rehearsal import Outlook, RehearsedChange, RehearsedGuard, rehearse
from marram.evidence.sizes import ALPHA, USUAL_POWER
from marram.evidence.verdicts import Overall
from marram.evidence.weighing.one_change import worse_of
from marram.evidence.weighing.together import confounded
from marram.office.trials.past_season import (
    at_upper_limits,
    past_told,
    rows_needed,
    with_upper_limit,
)
from marram.office.trials.planned_trial import (
    BY_DAYS,
    BY_EXERCISE,
    PLAN_SCHEMA,
    DrawnUnit,
    FrozenLook,
    PlannedChange,
    PlannedDays,
    PlannedGuard,
    PlannedOutlook,
    PlannedTrial,
    Spread,
    frozen_text,
    stamp_of,
    trial_stamp,
)
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, TrialRecords
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.overlays.trial_terms import Direction


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadPlan:
    """A plan as it was frozen.

    Attributes:
        stamp: Its stamp.
        trial_stamp: Stamp of the trial that it was made for.
        pairs: The pairs, as the coin fell.
        design: What was drawn.
        drawn: What was drawn besides pairs of days.
        adjust: What the differences of pairs of days are adjusted for.
        looks: Looks at the trial; None where none is planned before its end.
        elsewhere: Numbers of the changes that a station or a clarity exercise judges.
    """

    stamp: str
    trial_stamp: str
    pairs: tuple[DrawnPair, ...]
    design: Design = Design.PAIRED_DAYS
    drawn: tuple[DrawnUnit, ...] = ()
    adjust: tuple[str, ...] = ()
    looks: Looks | None = None
    elsewhere: frozenset[int] = frozenset()


class _FrozenPair(msgspec.Struct):
    """A pair of days, as a plan holds it."""

    pair: str
    first_day: Arm
    second_day: Arm


class _FrozenChange(msgspec.Struct):
    """A change, as a plan holds it."""

    change: int
    judged_by: str = BY_DAYS


class _FrozenPlan(msgspec.Struct):
    """What of a plan is read again."""

    trial_stamp: str
    pairs: list[_FrozenPair]
    changes: list[_FrozenChange] = []
    looks: list[FrozenLook] = []
    design: Design = Design.PAIRED_DAYS
    drawn: list[DrawnUnit] = []
    adjust: tuple[str, ...] = ()


def plan_trial(
    trial: Overlay,
    spread: Spread,
    *,
    pairs: int,
    seed: str,
    left_out: frozenset[int] = frozenset(),
    looks: int = 1,
    bounds: Bounds = Bounds.FALLING,
) -> PlannedTrial:
    """The plan of a trial in paired days, as it is written down and frozen.

    Args:
        trial: The trial.
        spread: What a pilot told.
        pairs: Pairs of days.
        seed: Text from which the coin is thrown, kept closed until the last day.
        left_out: Changes that days on the course are not to judge; they go to a station or a clarity exercise.
        looks: Looks at the trial, equally spaced by pairs, the last at its end.
        bounds: How the bounds of the looks lie.

    Raises:
        StudyError: The looks cannot be planned, or a change cannot be answered by the plan; every reason is given, with what to do instead.
    """
    watched = plan_looks(looks, pairs, bounds) if looks != 1 else None
    alpha = ALPHA if watched is None else watched.last_alpha
    planned, refused = {}, []
    for change in (change for change in trial.changes if change.number not in left_out):
        try:
            planned[change.number] = _plan_change(change, spread, pairs=pairs, seed=seed, alpha=alpha)
        except StudyError as problem:
            refused.append(f"change {change.number}: {problem.message} {problem.hint}".rstrip())
    if refused or not planned:
        hint = "Change the plan, or name a change in `left_out` and judge it at a station or in a clarity exercise."
        raise StudyError("\n  ".join(["The plan cannot answer its question:", *refused]), where=trial.name, hint=hint)
    drawn = next(iter(planned.values()))
    outlooks = rehearsed(trial, planned, spread, pairs, watched)
    wide = at_upper_limits(spread)
    outlooks_wide = rehearsed(trial, planned, wide, pairs, watched) if wide.sd != spread.sd else {}
    shared = confounded(trial)
    return PlannedTrial(
        trial=trial.title,
        trial_stamp=trial_stamp(trial),
        design=Design.PAIRED_DAYS.value,
        power=drawn.power,
        pairs=tuple(PlannedDays(pair=pair.pair, first_day=pair.first.value, second_day=pair.second.value) for pair in drawn.pairs),
        seed_commitment=drawn.commitment,
        changes=tuple(
            with_upper_limit(
                planned_change(change, planned.get(change.number), outlooks.get(change.number, ()), shared, spread),
                wide.sd,
                outlooks_wide.get(change.number, ()),
                pairs=pairs,
                alpha=alpha,
                lost=spread.lost,
            )
            for change in trial.changes
        ),
        looks=UNSET if watched is None else tuple(FrozenLook(pairs=look.pairs, bound=look.bound) for look in watched.planned),
        past=past_told(spread),
        rows_needed=rows_needed(trial, spread, pairs),
    )


def _plan_change(change: Change, spread: Spread, *, pairs: int, seed: str, alpha: float) -> TrialPlan:
    if change.expects is None:
        raise StudyError("Nothing is expected of it.", hint="Write expects = { outcome, direction, matters }.")
    key = change.expects.outcome
    if key not in spread.sd:
        unit = outcomes()[key].effect_unit
        hint = f"Give `sd={key}=NUMBER` in {unit}, from a pilot: the standard deviation of the difference of two days of a pair."
        raise StudyError(f"How much {key} differs between two days of a pair is not given.", hint=hint)
    met = spread.met.get(change.number)
    expected = None if met is None else meetings_expected(per_player_round=met, players=spread.players, pairs=pairs)
    primary = Primary(outcome=key, matters=change.expects.matters, sd_of_difference=spread.sd[key])
    return plan([primary], pairs=pairs, seed=seed, expected_meetings=expected, power=USUAL_POWER, alpha=alpha)


def rehearsed(
    trial: Overlay, planned: Mapping[int, TrialPlan], spread: Spread, pairs: int, looks: Looks | None = None
) -> Mapping[int, tuple[PlannedOutlook, ...]]:
    """How the season may end for each change that days judge."""
    changes = [
        RehearsedChange(
            number=change.number,
            outcome=change.expects.outcome,
            matters=change.expects.matters,
            sd=spread.sd[change.expects.outcome],
            wants_less=change.expects.direction is Direction.DOWN,
            guards=tuple(
                RehearsedGuard(outcome=guard.outcome, margin=guard.margin, worse=worse_of(guard), sd=spread.sd[guard.outcome])
                for guard in change.guards
                if guard.outcome in spread.sd
            ),
        )
        for change in trial.changes
        if change.number in planned and change.expects is not None
    ]
    matters = {change.number: change.matters for change in changes}
    found: dict[int, tuple[PlannedOutlook, ...]] = {}
    for outlook in rehearse(changes, pairs=pairs, lost=spread.lost, looks=looks):
        found[outlook.change] = (*found.get(outlook.change, ()), planned_outlook(outlook, matters[outlook.change]))
    return found


def planned_outlook(outlook: Outlook, matters: float) -> PlannedOutlook:
    """How the season may end, as it is frozen."""
    share = outlook.overall
    return PlannedOutlook(
        supposed=round(outlook.supposed * matters, 4),
        did=share[Overall.DID],
        mixed=share[Overall.MIXED],
        did_not=share[Overall.DID_NOT],
        open=share[Overall.OPEN],
        monte_carlo_error=round(outlook.error, 4),
        ended_at=outlook.ended_at or UNSET,
    )


def planned_change(
    change: Change,
    planned: TrialPlan | None,
    outlooks: tuple[PlannedOutlook, ...],
    shared: Mapping[str, tuple[int, ...]],
    spread: Spread,
) -> PlannedChange:
    """A change as it is frozen.

    Args:
        change: The change.
        planned: What the plan can find of it; None where days do not judge it.
        outlooks: How the season may end.
        shared: By outcome, the changes that are to move it, where there is more than one.
        spread: What a pilot told.
    """
    guards = tuple(PlannedGuard(outcome=guard.outcome, margin=guard.margin) for guard in change.guards)
    if planned is None or change.expects is None:
        return PlannedChange(change=change.number, key=change.key, judged_by=BY_EXERCISE, guards=guards)
    (found,) = planned.outcomes
    return PlannedChange(
        change=change.number,
        key=change.key,
        judged_by=BY_DAYS,
        guards=guards,
        outcome=change.expects.outcome,
        unit=outcomes()[change.expects.outcome].effect_unit,
        direction=change.expects.direction.value,
        matters=change.expects.matters,
        sd_of_difference=found.primary.sd_of_difference,
        least_effect=round(found.least_effect, 4),
        pairs_needed=found.pairs_needed,
        expected_meetings=planned.expected_meetings,
        together=tuple(number for number in shared.get(change.expects.outcome, ()) if number != change.number),
        outlook=outlooks,
        outlook_lacks=tuple(guard.outcome for guard in change.guards if guard.outcome not in spread.sd),
    )


def read_plan(text: str, *, where: str) -> ReadPlan:
    """Read a frozen plan, also one of the time before a plan said which shape it has.

    Args:
        text: The text of its file.
        where: Name of the file, for errors.

    Raises:
        StudyError: It is no plan, is of a version that is not known, or was altered after it was frozen.
    """
    try:
        content = json.loads(text)
        version = content.pop("schema", PLAN_SCHEMA)
        stamp = content.pop("plan_stamp")
        frozen = msgspec.convert(content, _FrozenPlan)
        is_whole = stamp_of(frozen_text(content)) == stamp
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError):
        raise StudyError("This is no plan of a trial.", where=where, hint="`plan_trial()` writes one.") from None
    if version != PLAN_SCHEMA:
        raise StudyError(f"The plan is written as {version!r}.", where=where, hint=f"This reads {PLAN_SCHEMA!r}; plan with one version.")
    if not is_whole:
        raise StudyError("The plan was altered after it was frozen.", where=where, hint="Use the file as `plan_trial()` wrote it.")
    pairs = tuple(DrawnPair(pair=row.pair, first=row.first_day, second=row.second_day) for row in frozen.pairs)
    looks = tuple(PlannedLook(pairs=look.pairs, bound=look.bound) for look in frozen.looks)
    return ReadPlan(
        stamp=stamp,
        trial_stamp=frozen.trial_stamp,
        pairs=pairs,
        design=frozen.design,
        drawn=tuple(frozen.drawn),
        adjust=frozen.adjust,
        looks=Looks(planned=looks) if looks else None,
        elsewhere=frozenset(change.change for change in frozen.changes if change.judged_by == BY_EXERCISE),
    )


def refuse_changed_trial(frozen: ReadPlan, trial: Overlay) -> None:
    """See that a trial is the one that was planned.

    Raises:
        StudyError: The trial was changed after it was planned.
    """
    if frozen.trial_stamp != trial_stamp(trial):
        message = f"The trial was changed after it was planned: the plan is for {frozen.trial_stamp}, and this is {trial_stamp(trial)}."
        raise StudyError(message, where=trial.name, hint="Weigh the trial as it was planned; what came later belongs to another trial.")


def departures(frozen: ReadPlan, records: TrialRecords) -> tuple[str, ...]:
    """Where the days did not go as the coin fell; they are weighed as they were played, and told."""
    played = {pair: (first, second) for pair, first, second in _in_order(records)}
    told = [f"Pair {pair.pair} was planned and not played." for pair in frozen.pairs if pair.pair not in played]
    told += [f"Pair {name} was played and not planned." for name in played if name not in {pair.pair for pair in frozen.pairs}]
    told += [
        f"Pair {pair.pair} was played the other way round than the coin fell."
        for pair in frozen.pairs
        if pair.pair in played and played[pair.pair] != (pair.first, pair.second)
    ]
    return tuple(told)


def _in_order(records: TrialRecords) -> list[tuple[str, Arm, Arm]]:
    return [
        (pair, *(day.arm for day in sorted((trial, ordinary), key=lambda day: day.dated)))  # type: ignore[misc]
        for pair, trial, ordinary in records.pairs()
    ]
