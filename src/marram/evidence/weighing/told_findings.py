"""What a trial showed, as findings: one for each change, its guards, and what became of every row."""

from __future__ import annotations

from dataclasses import dataclass

from marram.evidence.design_words import PAIRED, DesignWords
from marram.evidence.effects import Effect, Interval
from marram.evidence.fitting.adjusted_pairs import AdjustedDifference
from marram.evidence.guards import GuardWord
from marram.evidence.looks import Look, LookTaken
from marram.evidence.ranks import RatedAlike
from marram.evidence.rates import RateRatio
from marram.evidence.sensitivity.sensitivity_line import SensitivityLine
from marram.evidence.verdicts import Overall, Verdict
from marram.evidence.weighing.account import Missing, RowsOfDay
from marram.evidence.weighing.answers_given import AnswersCompared, AnswersTold, Met
from marram.evidence.weighing.by_definition import ByDefinition
from marram.evidence.weighing.response import QuestionResponse
from marram.records.outcomes import Outcome, Worse
from marram.records.rows import Arm, TrialRecords
from marram.rulebook.overlays.overlay import Change, Overlay


@dataclass(frozen=True, slots=True, kw_only=True)
class GuardFinding:
    """Whether something that must not get worse did not.

    Attributes:
        outcome: The outcome.
        margin: By how much it may get worse.
        worse: Which way is worse.
        estimate: Trial days less ordinary days; None where no pair has values on both days.
        interval90: Its 90 % interval.
        ratio: How many times as often on trial days, for what is counted; None for anything else.
        word: What is said of it.
        reason: Why the design of the trial cannot judge it; empty where it can.
        interval95: Its 95 % interval; no word hangs on it.
    """

    outcome: Outcome
    margin: float
    worse: Worse
    estimate: float | None
    interval90: Interval | None
    ratio: RateRatio | None
    word: GuardWord
    reason: str = ""
    interval95: Interval | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeFinding:
    """What the records say of one change.

    Attributes:
        change: The change.
        outcome: What was to show it; None where nothing was expected.
        effect: Trial rules less ordinary rules; None where no unit has values on both sides.
        ratio: How many times as often on trial days, for what is counted; None for anything else.
        rows: Values that were weighed.
        missing_share: Part of the units without values.
        missing: How many values are missing, by set of rules; None where nothing was expected.
        missing_bounds: Between which ends the effect lies, whatever the missing values were; None where none is missing.
        p_holm: p of the t test, raised for the number of outcomes weighed together; what several changes share counts once.
        verdict: The word.
        reason: Why there is too little to judge, where that is the word.
        pairs_to_settle: Pairs in all that would settle what is not shown; None where that is not in question or cannot be said.
        guards: What it must not make worse.
        overall: The line over the change by itself; open where the days cannot tell it from others.
        overall_together: The line over it and those in `together`; None where it stands alone.
        together: The other changes that the same values speak of, so that no day says which of them did it.
        also_touched_by: Other changes that observe or guard the same outcome.
        by_definition: What of the effect the change makes by definition; None where it sets no limit on the outcome.
        turned_by: Units without each of which the word would be another.
        answers: What players answered, each question and each lot of players by itself.
        answers_compared: Answers of trial days held against those of ordinary days.
        met: How often it was met on trial days; None where nobody recorded that.
        words: What the design calls what it draws.
        besides: What the design says besides, each a sentence.
        alike: Pairs of changes whose doing more together than each alone would look the same.
        since_switch: Of a roll-out, the effect in the first period after the switch, in the second and on.
        adjusted: The effect adjusted for what the plan names; None where it names nothing.
        responses: Who of those asked answered each question; none where nobody wrote down who was asked.
        sensitivity: What other ways of reckoning say, where they were asked for; no word hangs on it.
        look: How it stands at a look of the plan; None where none is planned now, or nothing can be looked at.
    """

    change: Change
    outcome: Outcome | None
    effect: Effect | None
    ratio: RateRatio | None
    rows: int
    missing_share: float
    missing: Missing | None
    missing_bounds: tuple[float, float] | None
    p_holm: float | None
    verdict: Verdict
    reason: str
    pairs_to_settle: int | None
    guards: tuple[GuardFinding, ...]
    overall: Overall
    overall_together: Overall | None
    together: tuple[int, ...]
    also_touched_by: tuple[int, ...]
    by_definition: ByDefinition | None
    turned_by: tuple[str, ...]
    answers: tuple[AnswersTold, ...]
    answers_compared: tuple[AnswersCompared, ...]
    met: int | None
    words: DesignWords = PAIRED
    besides: tuple[str, ...] = ()
    alike: tuple[tuple[int, ...], ...] = ()
    since_switch: tuple[float, ...] = ()
    adjusted: AdjustedDifference | None = None
    responses: tuple[QuestionResponse, ...] = ()
    sensitivity: tuple[SensitivityLine, ...] = ()
    look: LookTaken | None = None

    @property
    def fair(self) -> AnswersTold | None:
        """How fair those who met the change on a trial day found it; where nobody wrote down who met it, all who answered."""
        told = {lot.met: lot for lot in self.answers if lot.outcome.key == "fair" and lot.arm is Arm.TRIAL}
        return told.get(Met.MET) or (None if Met.NOT_MET in told else told.get(Met.NOT_KNOWN))


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialReport:
    """What a trial showed.

    Attributes:
        trial: The trial.
        findings: One for each change, in order.
        pairs: Whole pairs of days, or what else was drawn.
        records: The records, with what was left out and what was queried.
        rows: What became of every row, by outcome and day.
        is_interim: Whether the plan has more pairs than were played and the trial is still open: then nothing has a word yet, but at a
            look of the plan.
        words: What the design calls what it draws.
        look: The look of the plan that this report is; None where none is planned now.
        planned_pairs: Pairs, or what else was drawn, that the plan has; None where there is no plan.
        rated: How players who said of every change how fair it is put them in order; None where too few did.
    """

    trial: Overlay
    findings: tuple[ChangeFinding, ...]
    pairs: int
    records: TrialRecords
    rows: tuple[RowsOfDay, ...]
    is_interim: bool = False
    words: DesignWords = PAIRED
    look: Look | None = None
    planned_pairs: int | None = None
    rated: RatedAlike | None = None
