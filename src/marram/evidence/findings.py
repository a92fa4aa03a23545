"""Weigh a trial: from its records to one verdict for each change, by rules that were fixed before the data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, fsum, log

from marram.evidence.effects import Interval, PairedDifference, paired_days
from marram.evidence.guards import GuardWord, guard_either_way
from marram.evidence.rates import RARE_BELOW_EVENTS, PairedCounts, RateRatio, rate_ratio
from marram.evidence.shares import Steps, steps
from marram.evidence.verdicts import FEWEST_PAIRS, Overall, Verdict, as_wanted, holm, overall_of, pairs_to_settle, verdict_of
from marram.records.outcomes import Outcome, Weighing, outcomes
from marram.records.rows import Observation, TrialRecords
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.overlays.trial_terms import Direction

_MET, _FAIR = "change_met", "fair"


@dataclass(frozen=True, slots=True, kw_only=True)
class GuardFinding:
    """Whether something that must not get worse did not.

    Attributes:
        outcome: The outcome.
        margin: By how much it may change either way.
        estimate: Trial days less ordinary days; None where no pair has values on both days.
        interval90: Its 90 % interval.
        word: What is said of it.
    """

    outcome: Outcome
    margin: float
    estimate: float | None
    interval90: Interval | None
    word: GuardWord


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeFinding:
    """What the records say of one change.

    Attributes:
        change: The change.
        outcome: What was to show it; None where nothing was expected.
        effect: Trial days less ordinary days; None where no pair has values on both days.
        ratio: How many times as often on trial days, for what is counted; None for anything else.
        rows: Values that were weighed.
        missing_share: Part of the pairs without values on both days.
        p_holm: p of the t test, raised for the number of changes weighed together.
        verdict: The word.
        reason: Why there is too little to judge, where that is the word.
        pairs_to_settle: Pairs in all that would settle what is not shown; None where that is not in question or cannot be said.
        guards: What it must not make worse.
        overall: The line over the change.
        fair: What players answered; None where nobody was asked.
        met: How often it was met on trial days; None where nobody recorded that.
    """

    change: Change
    outcome: Outcome | None
    effect: PairedDifference | None
    ratio: RateRatio | None
    rows: int
    missing_share: float
    p_holm: float | None
    verdict: Verdict
    reason: str
    pairs_to_settle: int | None
    guards: tuple[GuardFinding, ...]
    overall: Overall
    fair: Steps | None
    met: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialReport:
    """What a trial showed.

    Attributes:
        trial: The trial.
        findings: One for each change, in order.
        pairs: Whole pairs of days.
        records: The records, with what was left out.
    """

    trial: Overlay
    findings: tuple[ChangeFinding, ...]
    pairs: int
    records: TrialRecords


def weigh_trial(trial: Overlay, records: TrialRecords) -> TrialReport:
    """Weigh every change of a trial.

    Args:
        trial: The trial as it was planned.
        records: What was recorded.
    """
    weighed = [_Weighing(change, records) for change in trial.changes]
    p_values = [entry.effect.p_t for entry in weighed if entry.effect is not None]
    raised = iter(holm(p_values))
    findings = [entry.finding(next(raised) if entry.effect is not None else None) for entry in weighed]
    return TrialReport(trial=trial, findings=tuple(findings), pairs=len(records.pairs()), records=records)


class _Weighing:
    """One change while it is weighed."""

    def __init__(self, change: Change, records: TrialRecords) -> None:
        self.change, self.records = change, records
        self.outcome = None if change.expects is None else outcomes()[change.expects.outcome]
        values = [] if self.outcome is None else self._of(self.outcome.key)
        self.rows = len(values)
        self.events = int(fsum(entry.value for entry in values)) if self.outcome and self.outcome.kind is Weighing.RATE else None
        self.paired = [] if self.outcome is None else _paired(self.outcome, values, records)
        self.effect = paired_days(self.paired) if self.paired else None
        met = self._of(_MET)
        self.met = int(fsum(entry.value for entry in met)) if met else None

    def _of(self, outcome: str) -> list[Observation]:
        """Values of an outcome that are about this change, or about the day as a whole."""
        own = [entry for entry in self.records.observations if entry.outcome == outcome]
        return [entry for entry in own if entry.change in {None, self.change.number}]

    def finding(self, p_holm: float | None) -> ChangeFinding:
        """What is said of the change."""
        pairs = len(self.records.pairs())
        missing = 1 - len(self.paired) / pairs if pairs else 1.0
        reason = self._why_too_little(pairs, missing)
        verdict = Verdict.TOO_LITTLE if reason else self._verdict(missing)
        guards = tuple(self._guard(guard.outcome, guard.margin) for guard in self.change.guards)
        overall = Overall.OPEN if verdict is Verdict.TOO_LITTLE else overall_of(verdict, [guard.word for guard in guards])
        return ChangeFinding(
            change=self.change,
            outcome=self.outcome,
            effect=self.effect,
            ratio=self._ratio(),
            rows=self.rows,
            missing_share=missing,
            p_holm=p_holm,
            verdict=verdict,
            reason=reason,
            pairs_to_settle=self._to_settle() if verdict is Verdict.NOT_SHOWN else None,
            guards=guards,
            overall=overall,
            fair=self._fair(),
            met=self.met,
        )

    def _ratio(self) -> RateRatio | None:
        """Counts with their exposure: a value of zero is a group or player to whom it could have happened."""
        if self.outcome is None or self.outcome.kind is not Weighing.RATE or not self.paired:
            return None
        by_day: dict[str, list[float]] = {day.day: [] for day in self.records.days}
        for entry in self._of(self.outcome.key):
            by_day[entry.day].append(entry.value)
        whole = {pair for pair, _, _ in self.paired}
        return rate_ratio(
            [
                PairedCounts(
                    pair=pair,
                    trial_count=int(fsum(by_day[trial.day])),
                    trial_exposure=len(by_day[trial.day]),
                    ordinary_count=int(fsum(by_day[ordinary.day])),
                    ordinary_exposure=len(by_day[ordinary.day]),
                )
                for pair, trial, ordinary in self.records.pairs()
                if pair in whole
            ]
        )

    def _why_too_little(self, pairs: int, missing: float) -> str:
        if self.outcome is None:
            return "nothing was expected of it"
        if self.met == 0:
            return "nobody met it"
        if self.effect is None:
            return "no pair of days has values on both days"
        if len(self.paired) < FEWEST_PAIRS:
            return f"{len(self.paired)} pairs of days; {FEWEST_PAIRS} are the fewest that can show anything"
        if self.events is not None and self.events < RARE_BELOW_EVENTS:
            return f"{self.events} in all on both kinds of day; {RARE_BELOW_EVENTS} are the fewest that a mean of days can weigh"
        if not self.effect.has_spread:
            return "the pairs show no spread, so that nothing can be said of how sure it is"
        return f"{missing:.0%} of the {pairs} pairs have no values" if missing > 0.2 else ""

    def _verdict(self, missing: float) -> Verdict:
        expects, effect = self.change.expects, self.effect
        if expects is None or effect is None:
            return Verdict.TOO_LITTLE
        wanted = as_wanted(effect.estimate, effect.interval95, effect.interval90, is_less_wanted=expects.direction is Direction.DOWN)
        return verdict_of(wanted, matters=expects.matters, pairs=effect.pairs, missing_share=missing)

    def _to_settle(self) -> int | None:
        expects, effect = self.change.expects, self.effect
        if expects is None or effect is None:
            return None
        estimate = -effect.estimate if expects.direction is Direction.DOWN else effect.estimate
        return pairs_to_settle(estimate, effect.sd, matters=expects.matters, pairs=effect.pairs)

    def _guard(self, key: str, margin: float) -> GuardFinding:
        outcome = outcomes()[key]
        paired = _paired(outcome, self._of(key), self.records)
        effect = paired_days(paired) if len(paired) >= FEWEST_PAIRS else None
        return GuardFinding(
            outcome=outcome,
            margin=margin,
            estimate=None if effect is None else effect.estimate,
            interval90=None if effect is None else effect.interval90,
            word=GuardWord.OPEN if effect is None else guard_either_way(effect.interval90, margin),
        )

    def _fair(self) -> Steps | None:
        answers = [round(entry.value) for entry in self._of(_FAIR)]
        return steps([answers.count(step) for step in range(1, 6)]) if answers else None


def _paired(outcome: Outcome, values: Sequence[Observation], records: TrialRecords) -> list[tuple[str, float, float]]:
    """One value for each day of each pair that has values on both: days are what was randomised, not groups or players."""
    by_day: dict[str, list[float]] = {day.day: [] for day in records.days}
    for entry in values:
        by_day[entry.day].append(entry.value)
    days = {name: _of_day(outcome, found) for name, found in by_day.items() if found}
    return [
        (pair, days[trial.day], days[ordinary.day])
        for pair, trial, ordinary in records.pairs()
        if trial.day in days and ordinary.day in days
    ]


def _of_day(outcome: Outcome, values: Sequence[float]) -> float:
    """The value of a day: the mean, and for times that run long now and then the geometric mean."""
    if outcome.kind is Weighing.LOG_MEAN:
        return exp(fsum(map(log, values)) / len(values))
    return fsum(values) / len(values)
