"""One change while it is weighed: its values, its effect, the word for it and why it is no better one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import exp, fsum, log

from marram.core.words import counted
from marram.evidence.effects import Interval, PairedDifference, paired_days, student
from marram.evidence.guards import GuardWord, guard_either_way, guard_of
from marram.evidence.rates import RARE_BELOW_EVENTS, PairedCounts, RateRatio, rate_ratio
from marram.evidence.verdicts import (
    FEWEST_PAIRS,
    MOST_MISSING,
    Overall,
    Verdict,
    Wanted,
    as_wanted,
    is_praise,
    overall_of,
    pairs_to_settle,
    verdict_of,
)
from marram.evidence.weighing.account import bounds_for_the_missing, missing_of
from marram.evidence.weighing.answers_given import MET, answers_to, compare_answers, weighed_answers
from marram.evidence.weighing.by_definition import ByDefinition, by_definition, share_found
from marram.evidence.weighing.together import also_touched_by, together_with
from marram.evidence.weighing.told_findings import ChangeFinding, GuardFinding
from marram.records.outcomes import Outcome, Weighing, Worse, outcomes
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.overlays.trial_terms import Direction, Guard

FALSE_PRAISE = 0.05
"""Over all changes of a trial, the chance of praising where nothing changed is at most this."""


class OneChange:
    """One change while it is weighed."""

    def __init__(self, change: Change, trial: Overlay, records: TrialRecords, *, interim: str = "") -> None:
        self.change, self.trial, self.records, self.interim = change, trial, records, interim
        self.outcome = None if change.expects is None else outcomes()[change.expects.outcome]
        self.values = [] if self.outcome is None else self._of(self.outcome)
        self.numbers = frozenset(map(id, self.values))
        self.events = int(fsum(entry.value for entry in self.values)) if self.outcome and self.outcome.kind is Weighing.RATE else None
        self.missing = None if self.outcome is None else missing_of(self.outcome, self.values, records)
        self.pairs = [] if self.outcome is None else _whole_pairs(self.values, records)
        self.paired = [] if self.outcome is None else _paired(self.outcome, self.values, self.pairs)
        self.effect = paired_days(self.paired) if self.paired else None
        met = self._of(outcomes()[MET])
        self.met = int(fsum(entry.value for entry in met)) if met else None

    @property
    def wants_less(self) -> bool:
        """Whether less is what was wanted."""
        return self.change.expects is not None and self.change.expects.direction is Direction.DOWN

    @property
    def p_wanted(self) -> float:
        """The one-sided p of the wanted way."""
        if self.effect is None:
            return 1.0
        is_wanted_way = (self.effect.estimate < 0) is self.wants_less
        return self.effect.p_t / 2 if is_wanted_way else 1 - self.effect.p_t / 2

    def rests_on(self) -> Iterator[Observation]:
        """Every observation that something said of the change rests on."""
        yield from self.values
        yield from weighed_answers(self.change, self.records)
        for guard in self.change.guards:
            yield from self._of(outcomes()[guard.outcome])
        for counter in {self.outcome.counted_by} - {""} if self.outcome is not None else ():
            yield from (entry for entry in self.records.observations if entry.outcome == counter)

    def _of(self, outcome: Outcome) -> list[Observation]:
        """Values of an outcome that are about this change, or about the day as a whole."""
        own = [entry for entry in self.records.observations if entry.outcome == outcome.key]
        return own if outcome.is_of_the_day else [entry for entry in own if entry.change in {None, self.change.number}]

    def finding(self, raised: Mapping[int, float], chance: Mapping[int, float], rows: Mapping[int, frozenset[int]]) -> ChangeFinding:
        """What is said of the change."""
        number = self.change.number
        reason = self.why_too_little()
        verdict, doubt = (Verdict.TOO_LITTLE, reason) if reason else self._verdict(chance[number])
        guards = tuple(map(self._guard, self.change.guards))
        overall = Overall.OPEN if verdict is Verdict.TOO_LITTLE else overall_of(verdict, [guard.word for guard in guards])
        together = together_with(self.change, rows)
        return ChangeFinding(
            change=self.change,
            outcome=self.outcome,
            effect=self.effect,
            ratio=None if self.outcome is None else self._ratio(self.outcome, self.values, self.pairs),
            rows=len(self.values),
            missing_share=self._missing_pairs(),
            missing=self.missing,
            missing_bounds=self._bounds(),
            p_holm=raised.get(number),
            verdict=verdict,
            reason=doubt,
            pairs_to_settle=self._to_settle() if verdict is Verdict.NOT_SHOWN else None,
            guards=guards,
            overall=Overall.OPEN if together else overall,
            overall_together=overall if together else None,
            together=together,
            also_touched_by=also_touched_by(self.change, self.trial, together),
            by_definition=self._by_definition(),
            turned_by=() if reason else self._turned_by(verdict),
            answers=answers_to(self.change, self.records),
            answers_compared=compare_answers(self.change, self.records),
            met=self.met,
        )

    def _missing_pairs(self) -> float:
        pairs = len(self.records.pairs())
        return 1 - len(self.paired) / pairs if pairs else 1.0

    def _ratio(self, outcome: Outcome, values: Sequence[Observation], pairs: Pairs) -> RateRatio | None:
        """Counts with their exposure: a value of zero is a group or player to whom it could have happened."""
        if outcome.kind is not Weighing.RATE or not pairs:
            return None
        by_day = _by_day(values)
        return rate_ratio(
            [
                PairedCounts(
                    pair=pair,
                    trial_count=int(fsum(by_day[trial.day])),
                    trial_exposure=len(by_day[trial.day]),
                    ordinary_count=int(fsum(by_day[ordinary.day])),
                    ordinary_exposure=len(by_day[ordinary.day]),
                )
                for pair, trial, ordinary in pairs
            ]
        )

    def why_too_little(self) -> str:
        """Why nothing can be said; empty where something can."""
        if self.outcome is None:
            return "nothing was expected of it"
        if self.interim:
            return self.interim
        if self.met == 0:
            return "nobody met it"
        if self.effect is None:
            return self._why_no_pair()
        if len(self.paired) < FEWEST_PAIRS:
            return f"{counted(len(self.paired), 'pair')} of days; {FEWEST_PAIRS} are the fewest that can show anything"
        if self.events is not None and self.events < RARE_BELOW_EVENTS:
            return f"{self.events} in all on both kinds of day; {RARE_BELOW_EVENTS} are the fewest that a mean of days can weigh"
        if not self.effect.has_spread:
            return "the pairs show no spread, so that nothing can be said of how sure it is"
        return self._why_missing()

    def _why_no_pair(self) -> str:
        arms = {day.day: day.arm for day in self.records.days}
        sides = {arms[entry.day] for entry in self.values if entry.day in arms}
        if len(sides) == 1:
            return f"it was recorded on {sides.pop().value} days alone, so that there is nothing to hold it against"
        return "no pair of days has values on both days"

    def _why_missing(self) -> str:
        pairs = self._missing_pairs()
        if pairs > MOST_MISSING:
            return f"{pairs:.0%} of the {len(self.records.pairs())} pairs have no values"
        if self.missing is None or self.outcome is None:
            return ""
        arm, share = self.missing.worst
        if share <= MOST_MISSING:
            return ""
        other = "ordinary" if arm is Arm.TRIAL else "trial"
        how = "" if self.outcome.is_one_each else f", held against {other} days"
        return f"{share:.0%} of the values of {arm.value} days are missing{how}; at most {MOST_MISSING:.0%} may be"

    def _verdict(self, chance: float) -> tuple[Verdict, str]:
        """The word, and why it is not a better one where the numbers alone would give that."""
        wanted, matters = self._wanted(self.effect), self._matters
        verdict = verdict_of(wanted, matters=matters, pairs=len(self.paired), missing_share=self._missing_pairs())
        if not is_praise(verdict):
            return verdict, ""
        if chance > FALSE_PRAISE:
            return Verdict.NOT_SHOWN, "of all outcomes that the trial weighs together, one may well look so by chance"
        bounds = self._bounds()
        if bounds is not None and (bounds[1] >= 0 if self.wants_less else bounds[0] <= 0):
            return Verdict.NOT_SHOWN, "the values that are missing could turn it"
        return verdict, ""

    @property
    def _matters(self) -> float:
        assert self.change.expects is not None
        return self.change.expects.matters

    def _wanted(self, effect: PairedDifference | None) -> Wanted:
        assert effect is not None
        return as_wanted(effect.estimate, effect.interval95, effect.interval90, is_less_wanted=self.wants_less)

    def _turned_by(self, verdict: Verdict) -> tuple[str, ...]:
        """Pairs without each of which praise would be none, or what is no praise would be."""
        found = []
        for name, _, _ in self.paired:
            rest = [trial - ordinary for other, trial, ordinary in self.paired if other != name]
            if len(set(rest)) == 1:
                continue
            wide, narrow, _ = student(rest)
            wanted = as_wanted(fsum(rest) / len(rest), wide, narrow, is_less_wanted=self.wants_less)
            without = verdict_of(wanted, matters=self._matters, pairs=max(len(rest), FEWEST_PAIRS))
            if is_praise(without) is not is_praise(verdict):
                found.append(name)
        return tuple(found)

    def _bounds(self) -> tuple[float, float] | None:
        if self.outcome is None or self.missing is None or not self.pairs:
            return None
        return bounds_for_the_missing(
            self.outcome, [(trial, ordinary) for _, trial, ordinary in self.pairs], _by_day(self.values), self.missing
        )

    def _by_definition(self) -> ByDefinition | None:
        if self.outcome is None or self.effect is None:
            return None
        found = by_definition(self.change, self.outcome, self.effect, self.pairs, self.values)
        arms = {day.day: day.arm for day in self.records.days}
        return None if found is None else replace(found, found=share_found(self.records.observations, arms))

    def _to_settle(self) -> int | None:
        if self.effect is None:
            return None
        return pairs_to_settle(self._wanted(self.effect).estimate, self.effect.sd, matters=self._matters, pairs=self.effect.pairs)

    def _guard(self, guard: Guard) -> GuardFinding:
        outcome = outcomes()[guard.outcome]
        values = self._of(outcome)
        pairs = _whole_pairs(values, self.records)
        missing = missing_of(outcome, values, self.records)
        effect = paired_days(_paired(outcome, values, pairs)) if len(pairs) >= FEWEST_PAIRS else None
        is_open = (
            effect is None
            or bool(self.interim)
            or missing.worst[1] > MOST_MISSING
            or len(pairs) < (1 - MOST_MISSING) * len(self.records.pairs())
        )
        worse = worse_of(guard)
        return GuardFinding(
            outcome=outcome,
            margin=guard.margin,
            worse=worse,
            estimate=None if effect is None else effect.estimate,
            interval90=None if effect is None else effect.interval90,
            ratio=self._ratio(outcome, values, pairs),
            word=GuardWord.OPEN if effect is None or is_open else guard_word(effect.interval90, guard.margin, worse),
        )


def worse_of(guard: Guard) -> Worse:
    """Which way is worse: as the guard says, else as its outcome does."""
    return Worse(guard.worse) if guard.worse else outcomes()[guard.outcome].worse


def guard_word(interval90: Interval, margin: float, worse: Worse) -> GuardWord:
    """What is said of a guard: better is never harm, unless neither way is."""
    if worse is Worse.EITHER:
        return guard_either_way(interval90, margin)
    return guard_of(interval90.turned() if worse is Worse.UP else interval90, margin)


Pairs = Sequence[tuple[str, TrialDay, TrialDay]]


def _by_day(values: Sequence[Observation]) -> dict[str, list[float]]:
    found: dict[str, list[float]] = {}
    for entry in values:
        found.setdefault(entry.day, []).append(entry.value)
    return found


def _whole_pairs(values: Sequence[Observation], records: TrialRecords) -> Pairs:
    """Pairs that have values on both days."""
    days = {entry.day for entry in values}
    return [(pair, trial, ordinary) for pair, trial, ordinary in records.pairs() if trial.day in days and ordinary.day in days]


def _paired(outcome: Outcome, values: Sequence[Observation], pairs: Pairs) -> list[tuple[str, float, float]]:
    """One value for each day of each pair: days are what was randomised, not groups or players."""
    days = {name: _of_day(outcome, found) for name, found in _by_day(values).items()}
    return [(pair, days[trial.day], days[ordinary.day]) for pair, trial, ordinary in pairs]


def _of_day(outcome: Outcome, values: Sequence[float]) -> float:
    """The value of a day: the mean, and for times that run long now and then the geometric mean."""
    if outcome.kind is Weighing.LOG_MEAN:
        return exp(fsum(map(log, values)) / len(values))
    return fsum(values) / len(values)
