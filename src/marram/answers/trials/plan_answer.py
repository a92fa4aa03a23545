"""The plan of a trial, as it is written down and frozen, and as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.shape import UNSET, Answer, Shape, UnsetType

if TYPE_CHECKING:
    from marram.office.trials.past_season import AtUpperLimit, PlannedPast, PlannedRows
    from marram.office.trials.planned_trial import DrawnUnit, PlannedAlias, PlannedChange, PlannedOutlook, PlannedTrial


class DrawnDaysShape(Shape, frozen=True, kw_only=True):
    """A pair of days, as the coin fell.

    Attributes:
        pair: Name of the pair.
        first_day: Under which rules its first day is played.
        second_day: Under which rules its second day is played.
    """

    pair: str
    first_day: str
    second_day: str


class DrawnUnitShape(Shape, frozen=True, kw_only=True):
    """Something that was drawn, as it fell.

    Attributes:
        unit: Its name.
        rules: Under which rules it plays, one for each of its rounds or spans of time.
        day: Name of its day or event; empty where it has none.
        group: Name of the group; empty where it is none.
        period: The part of the day that it plays in, or its block of days; empty where there is one.
        changes: Numbers of the changes that are on; left out where all of the trial are.
    """

    unit: str
    rules: tuple[str, ...]
    day: str
    group: str
    period: str
    changes: tuple[int, ...] | UnsetType = UNSET


class PlannedAliasShape(Shape, frozen=True, kw_only=True):
    """What no day tells from a change.

    Attributes:
        change: Number of the change.
        pairs: Pairs of changes whose doing more together than each alone would look the same.
        meeting: Those of the pairs that touch the same.
        larger: How many sets of three changes or more would look the same too.
        words: The same in words, with the changes by name.
    """

    change: int
    pairs: tuple[tuple[int, ...], ...]
    meeting: tuple[tuple[int, ...], ...]
    larger: int
    words: str


class PlannedGuardShape(Shape, frozen=True, kw_only=True):
    """What a change must not make worse.

    Attributes:
        outcome: The outcome.
        margin: By how much it may change at most.
    """

    outcome: str
    margin: float


class PlannedOutlookShape(Shape, frozen=True, kw_only=True):
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


class PlannedLookShape(Shape, frozen=True, kw_only=True):
    """A look at the trial.

    Attributes:
        pairs: After how many pairs of days.
        bound: How many standard errors an effect must then lie from nothing.
    """

    pairs: int
    bound: float


class PlannedPastShape(Shape, frozen=True, kw_only=True):
    """What an earlier season told of the spread of an outcome.

    Attributes:
        outcome: The outcome.
        unit: Unit of its effect.
        taken_from: What the standard deviation was taken from.
        sd_of_difference: Standard deviation of the difference of two days.
        degrees_of_freedom: Its degrees of freedom.
        sd_upper_limit: Its upper limit, one-sided, that holds in 80 of 100 cases.
        correlation: Correlation of two values of one day; null where days have one value each.
        correlation_upper_limit: Its upper limit.
        sd_unpaired: What the standard deviation would be of two days that nothing pairs; null as for the correlation.
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


class PlannedRowsShape(Shape, frozen=True, kw_only=True):
    """How many answers, or rounds in which something is counted, a change needs on each kind of day.

    Attributes:
        change: Number of the change.
        outcome: What is answered or counted.
        is_rate: Whether it is counted; else it is answered.
        wanted: What is to be found: times the odds of a better answer, or times the rate.
        each: Values that each kind of day needs if they were drawn singly; null where it is to stay, or a million would not do.
        design_effect: By how much more, since values of one day hang together.
        each_with_days: Values that each kind of day needs; null as above.
        planned: Values that the plan brings on each kind of day.
        equal_shown: Chance of showing that a rate stays within the factor if it does not move; null where it is to move.
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


class AtUpperLimitShape(Shape, frozen=True, kw_only=True):
    """What a plan finds where the days differ as much as an earlier season leaves open.

    Attributes:
        sd_of_difference: The upper limit of the standard deviation of the difference of two days.
        least_effect: Smallest effect that the plan then finds with its power.
        pairs_needed: Pairs that would then find what matters; null where more than a plan may have would be needed.
        pairs_to_plan: Pairs to plan so that so many are left once some are lost; null as above.
        outlook: How the season may then end, for several supposed effects.
    """

    sd_of_difference: float
    least_effect: float
    pairs_needed: int | None
    pairs_to_plan: int | None
    outlook: tuple[PlannedOutlookShape, ...]


class PlannedChangeShape(Shape, frozen=True, kw_only=True):
    """One change in a plan; what is only planned for days on the course is left out where they do not judge it.

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
        pairs_needed: Pairs that would find what matters; null where more than a plan may have would be needed.
        sd_between_groups: Standard deviation between the groups of a day; for groups drawn within a day alone.
        units_needed: Groups, or what else is drawn singly, that would find what matters; null as for pairs.
        expected_meetings: How often players are expected to meet it on trial days; null where nobody said how often one does in a round.
        together: Numbers of other changes that are to move the same: no day will say which of them did it.
        outlook: How the season may end, for several supposed effects.
        outlook_lacks: Guards whose spread nobody gave: the outlook is drawn without them.
        at_upper_limit: The same where days differ as much as the earlier season leaves open; left out where the spread was told.
    """

    change: int
    key: str
    judged_by: str
    guards: tuple[PlannedGuardShape, ...]
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
    outlook: tuple[PlannedOutlookShape, ...] | UnsetType = UNSET
    outlook_lacks: tuple[str, ...] | UnsetType = UNSET
    at_upper_limit: AtUpperLimitShape | UnsetType = UNSET


class TrialPlanAnswer(Answer, frozen=True, kw_only=True):
    """The plan of a trial: what each change can show, and which day of each pair comes under the trial rules. Also the shape of its file.

    Attributes:
        schema: Name and version of this shape; a plan of the time before it was named has none. The stamp does not cover it.
        trial: Title of the trial.
        trial_stamp: Stamp of the trial.
        plan_stamp: Stamp of the plan: digest of all members but this one and the schema.
        design: What the coin draws.
        power: Chance of finding the least effect.
        pairs: The pairs, as the coin fell.
        seed_commitment: What is made public of the seed before the first day.
        changes: The changes.
        drawn: What was drawn besides pairs of days, such as groups; left out for paired days.
        advice: What must hold for the design to be believed; left out for paired days.
        adjust: What the differences of pairs of days are adjusted for; left out where nothing is.
        looks: Looks at the trial, the last at its end; left out where none is planned before it.
        aliases: What no day tells from each change; there for days with some of the changes alone.
        past: What an earlier season told of the spread; left out where none was asked.
        rows_needed: Answers and counted rounds that each change needs; left out where no earlier season was asked.
    """

    schema: Literal["marram.trial-plan/1"] = "marram.trial-plan/1"
    trial: str
    trial_stamp: str
    plan_stamp: str
    design: str
    power: float
    pairs: tuple[DrawnDaysShape, ...]
    seed_commitment: str
    changes: tuple[PlannedChangeShape, ...]
    drawn: tuple[DrawnUnitShape, ...] | UnsetType = UNSET
    advice: tuple[str, ...] | UnsetType = UNSET
    adjust: tuple[str, ...] | UnsetType = UNSET
    looks: tuple[PlannedLookShape, ...] | UnsetType = UNSET
    aliases: tuple[PlannedAliasShape, ...] | UnsetType = UNSET
    past: tuple[PlannedPastShape, ...] | UnsetType = UNSET
    rows_needed: tuple[PlannedRowsShape, ...] | UnsetType = UNSET


def trial_plan_answer(planned: PlannedTrial) -> TrialPlanAnswer:
    """The plan of a trial."""
    return TrialPlanAnswer(
        trial=planned.trial,
        trial_stamp=planned.trial_stamp,
        plan_stamp=planned.stamp,
        design=planned.design,
        power=planned.power,
        pairs=tuple(DrawnDaysShape(pair=each.pair, first_day=each.first_day, second_day=each.second_day) for each in planned.pairs),
        seed_commitment=planned.seed_commitment,
        changes=tuple(map(_change, planned.changes)),
        drawn=planned.drawn if planned.drawn is UNSET else tuple(map(_drawn, planned.drawn)),
        advice=planned.advice,
        adjust=planned.adjust,
        looks=UNSET if planned.looks is UNSET else tuple(PlannedLookShape(pairs=each.pairs, bound=each.bound) for each in planned.looks),
        aliases=planned.aliases if planned.aliases is UNSET else tuple(map(_alias, planned.aliases)),
        past=UNSET if planned.past is UNSET else tuple(map(_past, planned.past)),
        rows_needed=UNSET if planned.rows_needed is UNSET else tuple(map(_rows, planned.rows_needed)),
    )


def _drawn(drawn: DrawnUnit) -> DrawnUnitShape:
    rules = tuple(arm.value for arm in drawn.rules)
    return DrawnUnitShape(unit=drawn.unit, rules=rules, day=drawn.day, group=drawn.group, period=drawn.period, changes=drawn.changes)


def _alias(alias: PlannedAlias) -> PlannedAliasShape:
    return PlannedAliasShape(change=alias.change, pairs=alias.pairs, meeting=alias.meeting, larger=alias.larger, words=alias.words)


def _change(change: PlannedChange) -> PlannedChangeShape:
    return PlannedChangeShape(
        change=change.change,
        key=change.key,
        judged_by=change.judged_by,
        guards=tuple(PlannedGuardShape(outcome=guard.outcome, margin=guard.margin) for guard in change.guards),
        outcome=change.outcome,
        unit=change.unit,
        direction=change.direction,
        matters=change.matters,
        sd_of_difference=change.sd_of_difference,
        least_effect=change.least_effect,
        pairs_needed=change.pairs_needed,
        sd_between_groups=change.sd_between_groups,
        units_needed=change.units_needed,
        expected_meetings=change.expected_meetings,
        together=change.together,
        outlook=change.outlook if change.outlook is UNSET else tuple(map(_outlook, change.outlook)),
        outlook_lacks=change.outlook_lacks,
        at_upper_limit=change.at_upper_limit if change.at_upper_limit is UNSET else _at_upper_limit(change.at_upper_limit),
    )


def _outlook(outlook: PlannedOutlook) -> PlannedOutlookShape:
    return PlannedOutlookShape(
        supposed=outlook.supposed,
        did=outlook.did,
        mixed=outlook.mixed,
        did_not=outlook.did_not,
        open=outlook.open,
        monte_carlo_error=outlook.monte_carlo_error,
        ended_at=outlook.ended_at,
    )


def _at_upper_limit(limit: AtUpperLimit) -> AtUpperLimitShape:
    return AtUpperLimitShape(
        sd_of_difference=limit.sd_of_difference,
        least_effect=limit.least_effect,
        pairs_needed=limit.pairs_needed,
        pairs_to_plan=limit.pairs_to_plan,
        outlook=tuple(map(_outlook, limit.outlook)),
    )


def _past(past: PlannedPast) -> PlannedPastShape:
    return PlannedPastShape(
        outcome=past.outcome,
        unit=past.unit,
        taken_from=past.taken_from,
        sd_of_difference=past.sd_of_difference,
        degrees_of_freedom=past.degrees_of_freedom,
        sd_upper_limit=past.sd_upper_limit,
        correlation=past.correlation,
        correlation_upper_limit=past.correlation_upper_limit,
        sd_unpaired=past.sd_unpaired,
    )


def _rows(rows: PlannedRows) -> PlannedRowsShape:
    return PlannedRowsShape(
        change=rows.change,
        outcome=rows.outcome,
        is_rate=rows.is_rate,
        wanted=rows.wanted,
        each=rows.each,
        design_effect=rows.design_effect,
        each_with_days=rows.each_with_days,
        planned=rows.planned,
        equal_shown=rows.equal_shown,
        is_assumed=rows.is_assumed,
    )
