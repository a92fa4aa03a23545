"""Plan a trial: what each change can show on so many pairs of days, the coin thrown from a committed seed, frozen under a stamp."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace

import msgspec
from msgspec import UNSET, UnsetType

from marram.core.errors import StudyError
from marram.evidence.looks import Bounds, Looks, PlannedLook, plan_looks
from marram.evidence.plan import Design, DrawnPair, Primary, TrialPlan, meetings_expected, plan
from marram.evidence.planning.rehearsal import Outlook, RehearsedChange, RehearsedGuard, rehearse
from marram.evidence.planning.spread_of_past import SpreadOfPast
from marram.evidence.sizes import ALPHA, USUAL_POWER
from marram.evidence.verdicts import Overall
from marram.evidence.weighing.one_change import worse_of
from marram.evidence.weighing.together import confounded
from marram.interchange.books.overlay_writing import write_overlay
from marram.office.trials.past_season import (
    AtUpperLimit,
    PlannedPast,
    PlannedRows,
    at_upper_limits,
    past_told,
    rows_needed,
    with_upper_limit,
)
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, TrialRecords
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.overlays.trial_terms import Direction, Life

PLAN_SCHEMA = "marram.trial-plan/1"
"""Which shape a plan's file has, and in which version."""
BY_DAYS, BY_EXERCISE = "the days", "a station or a clarity exercise"
"""What judges a change."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """What a plan rests on and only a pilot can tell.

    Attributes:
        sd: Standard deviation of the difference of the two days of a pair, by outcome, in its unit.
        met: How often a player meets a change in a round, by number of the change.
        players: Players in the field of a day.
        lost: Part of the pairs that is expected to be lost, to weather or a missing day.
        past: What an earlier season told; empty where none was asked.
    """

    sd: Mapping[str, float]
    met: Mapping[int, float]
    players: int
    lost: float = 0.0
    past: tuple[SpreadOfPast, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedDays:
    """A pair of days, as the coin fell: under which rules its first and its second day is played."""

    pair: str
    first_day: str
    second_day: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnUnit:
    """Something that was drawn, as it fell: a group of a day, a day of half of the field.

    Attributes:
        unit: Its name.
        rules: Under which rules it plays, one for each of its rounds or spans of time.
        day: Name of its day or event; empty where it has none.
        group: Name of the group; empty where it is none.
        period: The part of the day that it plays in, or its block of days; empty where there is one.
        changes: Numbers of the changes that are on; not there where all of the trial are.
    """

    unit: str
    rules: tuple[Arm, ...]
    day: str = ""
    group: str = ""
    period: str = ""
    changes: tuple[int, ...] | UnsetType = UNSET


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedAlias:
    """What no day tells from a change.

    Attributes:
        change: Number of the change.
        pairs: Pairs of changes whose doing more together than each alone would look the same.
        meeting: Those of the pairs that touch the same.
        larger: How many sets of three changes or more would look the same too.
        words: The same in a sentence, with the changes by name.
    """

    change: int
    pairs: tuple[tuple[int, ...], ...]
    meeting: tuple[tuple[int, ...], ...]
    larger: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedGuard:
    """What a change must not make worse, and by how much it may."""

    outcome: str
    margin: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedOutlook:
    """How the season may end if the effect were so large: drawn many times, with guards, lost days and all changes together.

    Attributes:
        supposed: The supposed effect, in the unit of the outcome and the way that is wanted.
        did: Chance of *did what it was meant to*, as a part of 1; of a change that others share an outcome with, for all together.
        mixed: Chance of *mixed*.
        did_not: Chance of *did not do what it was meant to*.
        open: Chance of *open*.
        monte_carlo_error: How far each chance may be off because it was drawn, as a standard deviation.
        ended_at: Chance that the line stands at each planned look before the last.
    """

    supposed: float
    did: float
    mixed: float
    did_not: float
    open: float
    monte_carlo_error: float
    ended_at: tuple[float, ...] | UnsetType = UNSET


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedChange:
    """One change in a plan. Where the days do not judge it, only the first three members and the guards are there.

    Attributes:
        change: Its number.
        key: Its key.
        judged_by: What judges it.
        guards: What it must not make worse.
        outcome: The outcome that is to show it.
        unit: Unit of the effect.
        direction: Which way it should go.
        matters: Smallest effect that matters.
        sd_of_difference: Standard deviation of the difference of the two days of a pair, or of the two rounds of what was drawn.
        least_effect: Smallest effect that the plan finds with its power.
        pairs_needed: Pairs that would find what matters; None where more than a plan may have would be needed.
        sd_between_groups: Standard deviation between the groups of a day; there for groups drawn within a day alone.
        units_needed: Groups, or what else is drawn singly, that would find what matters; None as for pairs.
        expected_meetings: How often players are expected to meet it on trial days; None where nobody said.
        together: Other changes that are to move the same: no day will say which of them did it.
        outlook: How the season may end, for several supposed effects.
        outlook_lacks: Guards whose spread nobody gave: the outlook is drawn without them, and the good word is less likely than it says.
        at_upper_limit: The same where days differ as much as the earlier season leaves open; not there where the spread was told.
    """

    change: int
    key: str
    judged_by: str
    guards: tuple[PlannedGuard, ...]
    outcome: str | UnsetType = UNSET
    unit: str | UnsetType = UNSET
    direction: str | UnsetType = UNSET
    matters: float | UnsetType = UNSET
    sd_of_difference: float | UnsetType = UNSET
    least_effect: float | UnsetType = UNSET
    pairs_needed: int | None | UnsetType = UNSET
    sd_between_groups: float | UnsetType = UNSET
    units_needed: int | None | UnsetType = UNSET
    expected_meetings: float | None | UnsetType = UNSET
    together: tuple[int, ...] | UnsetType = UNSET
    outlook: tuple[PlannedOutlook, ...] | UnsetType = UNSET
    outlook_lacks: tuple[str, ...] | UnsetType = UNSET
    at_upper_limit: AtUpperLimit | UnsetType = UNSET


@dataclass(frozen=True, slots=True, kw_only=True)
class FrozenLook:
    """A look at the trial: after how many pairs, and how many standard errors an effect must then lie from nothing."""

    pairs: int
    bound: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedTrial:
    """A plan as it is frozen. Its members are those of the file: the stamp is that of their text.

    Attributes:
        trial: Title of the trial.
        trial_stamp: Its stamp.
        design: What the coin draws.
        power: Chance of finding the least effect.
        pairs: The pairs, as the coin fell.
        seed_commitment: What is made public of the seed before the first day.
        changes: The changes.
        drawn: What was drawn besides pairs of days, such as groups; not there for paired days.
        advice: What must hold for the design to be believed; not there for paired days.
        adjust: What the differences of pairs of days are adjusted for; not there where nothing is.
        looks: Looks at the trial, the last at its end; not there where none is planned before it.
        aliases: What no day tells from each change; there for days with some of the changes alone.
        past: What an earlier season told of the spread; not there where none was asked.
        rows_needed: Answers and counted rounds that each change needs; not there where no earlier season was asked.
    """

    trial: str
    trial_stamp: str
    design: str
    power: float
    pairs: tuple[PlannedDays, ...]
    seed_commitment: str
    changes: tuple[PlannedChange, ...]
    drawn: tuple[DrawnUnit, ...] | UnsetType = UNSET
    advice: tuple[str, ...] | UnsetType = UNSET
    adjust: tuple[str, ...] | UnsetType = UNSET
    looks: tuple[FrozenLook, ...] | UnsetType = UNSET
    aliases: tuple[PlannedAlias, ...] | UnsetType = UNSET
    past: tuple[PlannedPast, ...] | UnsetType = UNSET
    rows_needed: tuple[PlannedRows, ...] | UnsetType = UNSET

    @property
    def stamp(self) -> str:
        """Stamp of the plan: any other member or value gives another."""
        return _stamp(_frozen_text(msgspec.to_builtins(self)))


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


def trial_stamp(trial: Overlay) -> str:
    """Short digest of everything that a trial changes, expects and asks; its dates and where it stands leave it as it is."""
    return _stamp(write_overlay(replace(trial, life=Life())))


def _stamp(text: str) -> str:
    digest = hashlib.sha256(text.encode()).hexdigest()
    return f"{digest[:4]} {digest[4:8]}"


def _frozen_text(content: object) -> str:
    """The text whose digest is the stamp of a plan; it stays as it is, or every plan that was frozen would look altered."""
    return json.dumps(content, sort_keys=True, ensure_ascii=False, indent=1)


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
        is_whole = _stamp(_frozen_text(content)) == stamp
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
