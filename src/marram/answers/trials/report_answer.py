"""The report of a trial, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.place_answer import rounded
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.evidence.effects import Interval
    from marram.evidence.weighing.told_findings import ChangeFinding, GuardFinding
    from marram.office.trials.report_trial import TrialReported

Ends = tuple[float, float]


class GuardFindingShape(Shape, frozen=True, kw_only=True):
    """Whether something that must not get worse did not.

    Attributes:
        outcome: The outcome.
        unit: Unit of the effect.
        margin: By how much it may change.
        estimate: Trial days less ordinary days; null where no pair has values on both days.
        interval90: Its 90 % interval; null where there is none.
        word: What is said of it.
    """

    outcome: str
    unit: str
    margin: float
    estimate: float | None
    interval90: Ends | None
    word: str


class FairShape(Shape, frozen=True, kw_only=True):
    """How fair players found a change.

    Attributes:
        counts: How many gave each of the five answers, from *much less fair* to *much fairer*.
        top_two: Part of those who call it fairer or much fairer.
        top_two_interval95: Its 95 % interval; null where there is none.
    """

    counts: tuple[int, ...]
    top_two: float
    top_two_interval95: Ends | None


class ChangeFindingShape(Shape, frozen=True, kw_only=True):
    """What the records say of one change.

    Attributes:
        change: Its number.
        key: Its key.
        outcome: What was to show it; null where nothing was expected.
        unit: Unit of the effect; null where nothing was expected.
        direction: Which way it should go; null where nothing was expected.
        estimate: Trial days less ordinary days; null where no pair has values on both days.
        trial_mean: Mean of the trial days.
        ordinary_mean: Mean of the ordinary days.
        interval95: The 95 % interval of the estimate; null where there is none.
        interval90: The 90 % interval of the estimate; null where there is none.
        rate_ratio: How many times as often on trial days; null for what is not counted.
        rate_ratio_interval95: Its 95 % interval; null where there is none.
        matters: Smallest effect that matters; null where nothing was expected.
        randomised_units: Pairs of days that were weighed.
        rows: Values that were weighed.
        p_t: p of the t test; null where it was not made.
        p_sign_flip: p of turning the coins; null where it was not made.
        p_holm: p raised for the number of outcomes weighed together; null where it was not made.
        verdict: The word.
        reason: Why there is too little to judge; empty where that is not the word.
        pairs_to_settle: Pairs in all that would settle what is not shown; null where that cannot be said.
        guards: What it must not make worse.
        overall: The line over the change.
        met: How often it was met on trial days; null where nobody recorded that.
        fair: How fair players found it; null where nobody answered.
        command: The command that works it out again.
    """

    change: int
    key: str
    outcome: str | None
    unit: str | None
    direction: str | None
    estimate: float | None
    trial_mean: float | None
    ordinary_mean: float | None
    interval95: Ends | None
    interval90: Ends | None
    rate_ratio: float | None
    rate_ratio_interval95: Ends | None
    matters: float | None
    randomised_units: int
    rows: int
    p_t: float | None
    p_sign_flip: float | None
    p_holm: float | None
    verdict: str
    reason: str
    pairs_to_settle: int | None
    guards: tuple[GuardFindingShape, ...]
    overall: str
    met: int | None
    fair: FairShape | None
    command: str


class RowLeftOutShape(Shape, frozen=True, kw_only=True):
    """A row of the records that was not weighed.

    Attributes:
        where: Where it stands.
        reason: Why it was left out.
    """

    where: str
    reason: str


class TrialReportAnswer(Answer, frozen=True, kw_only=True):
    """One verdict for each change of a trial, from the records of its days.

    Attributes:
        schema: Name and version of this shape.
        trial: Title of the trial.
        plan_stamp: Stamp of the plan; null where none was given.
        trial_stamp: Stamp of the trial.
        pairs: Pairs of days.
        findings: What the records say of each change.
        departures: Where the days did not go as planned.
        left_out: Rows that were not weighed.
        remarks: What the reader should know besides.
    """

    schema: Literal["marram.trial-report/1"] = "marram.trial-report/1"
    trial: str
    plan_stamp: str | None
    trial_stamp: str
    pairs: int
    findings: tuple[ChangeFindingShape, ...]
    departures: tuple[str, ...]
    left_out: tuple[RowLeftOutShape, ...]
    remarks: tuple[str, ...]


def trial_report_answer(reported: TrialReported, command: str) -> TrialReportAnswer:
    """The report of a trial.

    Args:
        reported: What the records say.
        command: The command that works it out again.
    """
    weighed = reported.weighed
    return TrialReportAnswer(
        trial=weighed.trial.title,
        plan_stamp=reported.plan_stamp,
        trial_stamp=reported.trial_stamp,
        pairs=weighed.pairs,
        findings=tuple(_finding(finding, command) for finding in weighed.findings),
        departures=reported.departures,
        left_out=tuple(RowLeftOutShape(where=row.where, reason=row.reason) for row in weighed.records.left_out),
        remarks=tuple(weighed.records.remarks),
    )


def _finding(finding: ChangeFinding, command: str) -> ChangeFindingShape:
    expects, effect, ratio = finding.change.expects, finding.effect, None if finding.ratio is None else finding.ratio.ratio
    return ChangeFindingShape(
        change=finding.change.number,
        key=finding.change.key,
        outcome=None if finding.outcome is None else finding.outcome.key,
        unit=None if finding.outcome is None else finding.outcome.effect_unit,
        direction=None if expects is None else expects.direction.value,
        estimate=None if effect is None else round(effect.estimate, 4),
        trial_mean=None if effect is None else round(effect.trial_mean, 4),
        ordinary_mean=None if effect is None else round(effect.ordinary_mean, 4),
        interval95=None if effect is None else _ends(effect.interval95),
        interval90=None if effect is None else _ends(effect.interval90),
        rate_ratio=None if ratio is None else round(ratio.estimate, 4),
        rate_ratio_interval95=None if ratio is None else _ends(ratio.interval95),
        matters=None if expects is None else expects.matters,
        randomised_units=0 if effect is None else effect.pairs,
        rows=finding.rows,
        p_t=None if effect is None else round(effect.p_t, 4),
        p_sign_flip=None if effect is None else round(effect.p_sign_flip, 4),
        p_holm=rounded(finding.p_holm, 4),
        verdict=finding.verdict.value,
        reason=finding.reason,
        pairs_to_settle=finding.pairs_to_settle,
        guards=tuple(map(_guard, finding.guards)),
        overall=finding.overall.value,
        met=finding.met,
        fair=_fair(finding),
        command=command,
    )


def _ends(interval: Interval) -> Ends | None:
    return (round(interval.low, 4), round(interval.high, 4)) if interval.is_bounded else None


def _guard(guard: GuardFinding) -> GuardFindingShape:
    return GuardFindingShape(
        outcome=guard.outcome.key,
        unit=guard.outcome.effect_unit,
        margin=guard.margin,
        estimate=rounded(guard.estimate, 4),
        interval90=None if guard.interval90 is None else _ends(guard.interval90),
        word=guard.word.value,
    )


def _fair(finding: ChangeFinding) -> FairShape | None:
    fair = finding.fair
    if fair is None:
        return None
    return FairShape(counts=tuple(fair.counts), top_two=round(fair.top_two.estimate, 4), top_two_interval95=_ends(fair.top_two.interval95))
