"""The report of a trial, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.place_answer import rounded
from marram.answers.shape import UNSET, Answer, Shape, UnsetType
from marram.answers.trials.first_page_answer import FirstPageShape, first_page_shape
from marram.answers.trials.look_answer import LookShape, LookTakenShape, look_shape, look_taken_shape
from marram.answers.trials.response_answer import ResponseShape, response_shape
from marram.answers.trials.sensitivity_answer import SensitivityShape, sensitivity_answer
from marram.office.trials.report_trial import finding_lines, headline_of

if TYPE_CHECKING:
    from marram.evidence.effects import Interval
    from marram.evidence.fitting.adjusted_pairs import AdjustedDifference
    from marram.evidence.ranks import RatedAlike
    from marram.evidence.rates import RateRatio
    from marram.evidence.weighing.account import RowsOfDay
    from marram.evidence.weighing.answers_given import AnswersCompared, AnswersTold
    from marram.evidence.weighing.by_definition import ByDefinition
    from marram.evidence.weighing.told_findings import ChangeFinding, GuardFinding
    from marram.office.trials.report_trial import TrialReported

Ends = tuple[float, float]


class CountedShape(Shape, frozen=True, kw_only=True):
    """What is counted, all days of a kind together, with exact limits for what is rare.

    Attributes:
        trial_count: Events on trial days.
        ordinary_count: Events on ordinary days.
        rare: Whether there are so few that the exact limits are the ones to read.
        ratio: Ratio of the rates; null where no event on ordinary days leaves it without a value.
        ratio_interval95: Exact 95 % limits; null where one of them is infinite.
    """

    trial_count: int
    ordinary_count: int
    rare: bool
    ratio: float | None
    ratio_interval95: Ends | None


class ByDefinitionShape(Shape, frozen=True, kw_only=True):
    """What of an effect the change makes by definition.

    Attributes:
        limit: The tighter of the two limits, in the unit of the outcome.
        estimate: The part of the effect that the limit makes by itself.
        restricted_estimate: What is left with every value cut at the limit on both kinds of day.
        restricted_interval95: Its 95 % interval; null where there is none.
        found_difference: Share of balls found on trial days less that on ordinary days; null where nobody recorded it.
        found_interval95: Its 95 % interval; null where nobody recorded it.
    """

    limit: float
    estimate: float
    restricted_estimate: float
    restricted_interval95: Ends | None
    found_difference: float | None
    found_interval95: Ends | None


class AnswersShape(Shape, frozen=True, kw_only=True):
    """What one lot of players answered to one question.

    Attributes:
        outcome: The outcome that the answers belong to.
        question: The question as the trial asks it; empty where the outcome itself is what is asked.
        rules: Under which rules the day was played.
        met: Whether those who answered had met the change.
        counts: How many gave each step, from 1 to 5; of yes and no, how many said no and how many yes.
        top_two: Share of the two best steps, or of yes.
        top_two_interval95: Its 95 % interval, which allows for players and days that come again.
        at_least: Share of answers of at least step 2, 3, 4 and 5; empty for yes and no.
        answers: How many answers.
        players: From how many players.
        days: On how many days.
    """

    outcome: str
    question: str
    rules: str
    met: str
    counts: tuple[int, ...]
    top_two: float
    top_two_interval95: Ends | None
    at_least: tuple[float, ...]
    answers: int
    players: int
    days: int


class AnswersComparedShape(Shape, frozen=True, kw_only=True):
    """Answers of trial days held against those of the ordinary days of their pairs.

    Attributes:
        outcome: The outcome.
        question: The question as the trial asks it.
        chance_of_higher: Chance that an answer of a trial day is the higher one; a half is no difference.
        interval95: Its 95 % interval; null where there is none.
        pairs: Pairs of days.
    """

    outcome: str
    question: str
    chance_of_higher: float
    interval95: Ends | None
    pairs: int


class GuardFindingShape(Shape, frozen=True, kw_only=True):
    """Whether something that must not get worse did not.

    Attributes:
        outcome: The outcome.
        unit: Unit of the effect.
        margin: By how much it may get worse.
        worse: Which way is worse: `up`, `down` or `either`.
        estimate: Trial days less ordinary days; null where no pair has values on both days.
        interval90: Its 90 % interval; null where there is none.
        interval95: Its 95 % interval, on which no word hangs; null where there is none.
        counted: What was counted; null for what is not counted.
        word: What is said of it.
        reason: Why the design of the trial cannot judge it; empty where it can.
    """

    outcome: str
    unit: str
    margin: float
    worse: str
    estimate: float | None
    interval90: Ends | None
    interval95: Ends | None
    counted: CountedShape | None
    word: str
    reason: str


class AdjustedShape(Shape, frozen=True, kw_only=True):
    """A difference of pairs of days, adjusted for what the plan names.

    Attributes:
        by: What it is adjusted for.
        estimate: The difference between two days alike in that; null where it cannot be told.
        interval95: Its 95 % interval; null where there is none.
        p_t: p of the t test; null where it was not made.
        pairs: Pairs that it rests on.
        left_out: Pairs of which one day or both lack it.
        same: What never differed within a pair.
        reason: Why it cannot be told; else empty.
    """

    by: tuple[str, ...]
    estimate: float | None
    interval95: Ends | None
    p_t: float | None
    pairs: int
    left_out: tuple[str, ...]
    same: tuple[str, ...]
    reason: str


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
        randomised_units: Pairs of days, or what else was drawn, that were weighed.
        rows: Values that were weighed.
        p_t: p of the t test; null where it was not made.
        p_sign_flip: p of turning the coins; null where it was not made.
        p_holm: p raised for the number of outcomes weighed together; null where it was not made.
        verdict: The word.
        reason: Why there is too little to judge, or why the word is no better one; else empty.
        pairs_to_settle: Pairs, or what else is drawn, in all that would settle what is not shown; null where that cannot be said.
        guards: What it must not make worse.
        overall: The line over the change by itself; `open` where the days cannot tell it from others.
        overall_together: The line over it and those in `together`; null where it stands alone.
        together: Numbers of the other changes that the same values speak of: no day says which of them did it.
        also_touched_by: Numbers of other changes that observe or guard the same outcome.
        interim: Whether the plan is not at its end, so that nothing has a word yet but at a look where its bound is passed.
        by_definition: What of the effect the change makes by definition; null where it sets no limit on the outcome.
        missing_share: Part of the values that is missing, on the side where more is; null where nothing was expected.
        missing_bounds: Between which ends the effect lies, whatever the missing values were; null where none is missing.
        turned_by: Pairs, or what else was drawn, without each of which the word would be another.
        counted: What was counted; null for what is not counted.
        answers: What players answered, each question and each lot of players by itself.
        answers_compared: Answers of trial days held against those of ordinary days.
        headline: What was measured where the change was in force, in one sentence.
        responses: Who of those asked answered each question; empty where nobody wrote down who was asked.
        sensitivity: What other ways of reckoning say, where they were asked for; no word hangs on it.
        says: The same in sentences.
        met: How often it was met on trial days; null where nobody recorded that.
        fair: How fair players found it; null where nobody answered.
        adjusted: The same adjusted for what the plan names; null where it names nothing.
        look: How it stands at a look of the plan; null where none is planned now.
        aliases: Pairs of changes that these days do not tell from it: what they do together beyond each alone is taken for nothing.
        since_switch: Of a roll-out, the effect in the first period after the switch, in the second and on.
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
    overall_together: str | None
    together: tuple[int, ...]
    also_touched_by: tuple[int, ...]
    interim: bool
    by_definition: ByDefinitionShape | None
    missing_share: float | None
    missing_bounds: Ends | None
    turned_by: tuple[str, ...]
    counted: CountedShape | None
    answers: tuple[AnswersShape, ...]
    answers_compared: tuple[AnswersComparedShape, ...]
    headline: str
    responses: tuple[ResponseShape, ...]
    sensitivity: tuple[SensitivityShape, ...]
    says: tuple[str, ...]
    met: int | None
    fair: FairShape | None
    adjusted: AdjustedShape | None
    look: LookTakenShape | None
    aliases: tuple[tuple[int, ...], ...]
    since_switch: tuple[float, ...]
    command: str


class RowLeftOutShape(Shape, frozen=True, kw_only=True):
    """A row of the records that was not weighed.

    Attributes:
        where: Where it stands.
        reason: Why it was left out.
        queried: Whether it is odd, and would be weighed if somebody said that it is right.
        day: Its day; empty where it stands for a whole pair.
        outcome: Its outcome; empty where it stands for several.
    """

    where: str
    reason: str
    queried: bool
    day: str
    outcome: str


class ReasonShape(Shape, frozen=True, kw_only=True):
    """Why rows were not weighed.

    Attributes:
        reason: The reason.
        rows: How many rows.
    """

    reason: str
    rows: int


class RowsOfDayShape(Shape, frozen=True, kw_only=True):
    """What became of the rows of one outcome on one day.

    Attributes:
        outcome: The outcome.
        day: The day.
        rules: Under which rules it was played; empty where nothing says that.
        read: Rows read.
        weighed: Rows weighed.
        left_out: Why the others were not.
    """

    outcome: str
    day: str
    rules: str
    read: int
    weighed: int
    left_out: tuple[ReasonShape, ...]


class RatedShape(Shape, frozen=True, kw_only=True):
    """How the same players rate the changes of a trial.

    Attributes:
        changes: Numbers of the changes.
        players: Players who rated every one of them.
        mean_ranks: Mean rank of each change, the fairest highest.
        chi2: Friedman's statistic.
        p: How often chance alone would show as much if all were rated alike, as a part of 1.
    """

    changes: tuple[int, ...]
    players: int
    mean_ranks: tuple[float, ...]
    chi2: float
    p: float


class TrialReportAnswer(Answer, frozen=True, kw_only=True):
    """One verdict for each change of a trial, from the records of its days.

    Attributes:
        schema: Name and version of this shape.
        trial: Title of the trial.
        plan_stamp: Stamp of the plan; null where none was given.
        trial_stamp: Stamp of the trial.
        pairs: Pairs of days, or what else was drawn.
        design: What was drawn.
        randomised_unit: What is counted in `pairs` and weighed.
        findings: What the records say of each change.
        departures: Where the days did not go as planned.
        left_out: Rows that were not weighed.
        interim: Whether the plan is not at its end.
        look: The look of the plan that the report is; null where none is planned now.
        rated: How players who said of every change how fair it is put them in order; null where too few did.
        rows: What became of every row, by outcome and day.
        remarks: What the reader should know besides.
        first_page: What stands on the first page of the written report, with everything that is drawn there.
        is_simulated: True where nobody played the days: a forecast wrote them, and the words are those of forecasts; else left out.
    """

    schema: Literal["marram.trial-report/1"] = "marram.trial-report/1"
    trial: str
    plan_stamp: str | None
    trial_stamp: str
    pairs: int
    design: str
    randomised_unit: str
    findings: tuple[ChangeFindingShape, ...]
    departures: tuple[str, ...]
    left_out: tuple[RowLeftOutShape, ...]
    interim: bool
    look: LookShape | None
    rated: RatedShape | None
    rows: tuple[RowsOfDayShape, ...]
    remarks: tuple[str, ...]
    first_page: FirstPageShape
    is_simulated: bool | UnsetType = UNSET


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
        design=weighed.words.design.value,
        randomised_unit=weighed.words.rests_on,
        findings=tuple(_finding(reported, finding, command) for finding in weighed.findings),
        departures=reported.departures,
        left_out=tuple(
            RowLeftOutShape(where=row.where, reason=row.reason, queried=row.is_query, day=row.day, outcome=row.outcome)
            for row in weighed.records.left_out
        ),
        interim=weighed.is_interim,
        look=look_shape(weighed),
        rated=None if weighed.rated is None else _rated(weighed.rated),
        rows=tuple(map(_rows, weighed.rows)),
        remarks=tuple(weighed.records.remarks),
        is_simulated=weighed.words.is_simulated or UNSET,
        first_page=first_page_shape(reported.first),
    )


def _finding(reported: TrialReported, finding: ChangeFinding, command: str) -> ChangeFindingShape:
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
        randomised_units=0 if effect is None else effect.units,
        rows=finding.rows,
        p_t=None if effect is None else round(effect.p_t, 4),
        p_sign_flip=None if effect is None else rounded(effect.p_sign_flip, 4),
        p_holm=rounded(finding.p_holm, 4),
        verdict=finding.words.said(finding.verdict),
        reason=finding.reason,
        pairs_to_settle=finding.pairs_to_settle,
        guards=tuple(map(_guard, finding.guards)),
        overall=finding.words.said(finding.overall),
        overall_together=None if finding.overall_together is None else finding.words.said(finding.overall_together),
        together=finding.together,
        also_touched_by=finding.also_touched_by,
        interim=reported.weighed.is_interim,
        by_definition=None if finding.by_definition is None else _by_definition(finding.by_definition),
        missing_share=None if finding.missing is None else round(finding.missing.worst[1], 4),
        missing_bounds=None
        if finding.missing_bounds is None
        else (round(finding.missing_bounds[0], 4), round(finding.missing_bounds[1], 4)),
        turned_by=finding.turned_by,
        counted=None if finding.ratio is None else _counted(finding.ratio),
        answers=tuple(map(_answers, finding.answers)),
        answers_compared=tuple(map(_compared, finding.answers_compared)),
        headline=headline_of(reported, finding),
        responses=tuple(map(response_shape, finding.responses)),
        sensitivity=tuple(map(sensitivity_answer, finding.sensitivity)),
        says=finding_lines(reported, finding),
        met=finding.met,
        fair=_fair(finding),
        adjusted=None if finding.adjusted is None else _adjusted(finding.adjusted),
        look=look_taken_shape(finding.look),
        aliases=finding.alike,
        since_switch=tuple(round(amount, 4) for amount in finding.since_switch),
        command=command,
    )


def _ends(interval: Interval) -> Ends | None:
    return (round(interval.low, 4), round(interval.high, 4)) if interval.is_bounded else None


def _guard(guard: GuardFinding) -> GuardFindingShape:
    return GuardFindingShape(
        outcome=guard.outcome.key,
        unit=guard.outcome.effect_unit,
        margin=guard.margin,
        worse=guard.worse.value,
        estimate=rounded(guard.estimate, 4),
        interval90=None if guard.interval90 is None else _ends(guard.interval90),
        interval95=None if guard.interval95 is None else _ends(guard.interval95),
        counted=None if guard.ratio is None else _counted(guard.ratio),
        word=guard.word.value,
        reason=guard.reason,
    )


def _fair(finding: ChangeFinding) -> FairShape | None:
    fair = finding.fair
    if fair is None:
        return None
    return FairShape(counts=tuple(fair.counts), top_two=round(fair.top_two.estimate, 4), top_two_interval95=_ends(fair.top_two.interval95))


def _adjusted(found: AdjustedDifference) -> AdjustedShape:
    return AdjustedShape(
        by=found.by,
        estimate=rounded(found.estimate, 4),
        interval95=None if found.interval95 is None else _ends(found.interval95),
        p_t=rounded(found.p, 4),
        pairs=found.pairs,
        left_out=found.left_out,
        same=found.same,
        reason=found.reason,
    )


def _counted(ratio: RateRatio) -> CountedShape:
    pooled = ratio.pooled
    return CountedShape(
        trial_count=ratio.trial_count,
        ordinary_count=ratio.ordinary_count,
        rare=ratio.is_rare,
        ratio=rounded(pooled.estimate, 4),
        ratio_interval95=_ends(pooled.interval95),
    )


def _by_definition(part: ByDefinition) -> ByDefinitionShape:
    return ByDefinitionShape(
        limit=part.limit,
        estimate=round(part.share_of_difference, 4),
        restricted_estimate=round(part.restricted.estimate, 4),
        restricted_interval95=_ends(part.restricted.interval95),
        found_difference=None if part.found is None else round(part.found.estimate, 4),
        found_interval95=None if part.found is None else _ends(part.found.interval95),
    )


def _answers(lot: AnswersTold) -> AnswersShape:
    return AnswersShape(
        outcome=lot.outcome.key,
        question=lot.question,
        rules=lot.arm.value,
        met=lot.met.value,
        counts=lot.counts,
        top_two=round(lot.top_two.estimate, 4),
        top_two_interval95=_ends(lot.top_two.interval95),
        at_least=tuple(round(share.estimate, 4) for share in lot.at_least),
        answers=lot.top_two.of,
        players=lot.top_two.players,
        days=lot.top_two.days,
    )


def _compared(compared: AnswersCompared) -> AnswersComparedShape:
    ends = compared.better.interval95
    return AnswersComparedShape(
        outcome=compared.outcome.key,
        question=compared.question,
        chance_of_higher=round(compared.chance_of_better, 4),
        interval95=(round(0.5 + ends.low, 4), round(0.5 + ends.high, 4)) if ends.is_bounded else None,
        pairs=compared.better.pairs,
    )


def _rated(rated: RatedAlike) -> RatedShape:
    return RatedShape(
        changes=rated.changes,
        players=rated.players,
        mean_ranks=tuple(round(rank, 4) for rank in rated.ranked.mean_ranks),
        chi2=round(rated.ranked.chi2, 4),
        p=round(rated.ranked.p, 6),
    )


def _rows(row: RowsOfDay) -> RowsOfDayShape:
    return RowsOfDayShape(
        outcome=row.outcome,
        day=row.day,
        rules="" if row.arm is None else row.arm.value,
        read=row.read,
        weighed=row.weighed,
        left_out=tuple(ReasonShape(reason=reason, rows=count) for reason, count in row.left_out),
    )
