"""One change while it is weighed: its values, its effect, the word for it and why it is no better one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from math import fsum

from marram.core.words import counted
from marram.evidence.effects import Effect, Interval
from marram.evidence.guards import GuardWord, guard_either_way, guard_of
from marram.evidence.looks import Look, take_look
from marram.evidence.rates import RARE_BELOW_EVENTS
from marram.evidence.verdicts import (
    FEWEST_PAIRS,
    MOST_MISSING,
    Overall,
    Verdict,
    Wanted,
    as_wanted,
    is_praise,
    line_over,
    pairs_to_settle,
    verdict_of,
)
from marram.evidence.weighing.answers_given import MET, answers_to, compare_answers, weighed_answers
from marram.evidence.weighing.by_definition import ByDefinition, by_definition, share_found
from marram.evidence.weighing.comparing import Compared, Comparing
from marram.evidence.weighing.response import responses_to
from marram.evidence.weighing.together import also_touched_by, together_with
from marram.evidence.weighing.told_findings import ChangeFinding, GuardFinding
from marram.records.outcomes import Outcome, Weighing, Worse, outcomes
from marram.records.rows import Arm, Observation, TrialRecords
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.overlays.trial_terms import Direction, Guard

FALSE_PRAISE = 0.05
"""Over all changes of a trial, the chance of praising where nothing changed is at most this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """When a change is weighed.

    Attributes:
        interim: Why nothing is said before the end of the plan; empty at the end.
        look: The look of the plan that is taken; None where none is planned now.
        is_elsewhere: Whether the plan sends the change to a station or a clarity exercise.
    """

    interim: str = ""
    look: Look | None = None
    is_elsewhere: bool = False

    @property
    def levels(self) -> tuple[float, float]:
        """The levels of the intervals of what is meant and of what must not get worse."""
        return (0.95, 0.90) if self.look is None else (self.look.level, self.look.guard_level)


class OneChange:
    """One change while it is weighed."""

    def __init__(self, change: Change, trial: Overlay, records: TrialRecords, comparing: Comparing, *, at: Moment | None = None) -> None:
        self.change, self.trial, self.records = change, trial, records
        self.comparing, self.at = comparing, at or Moment()
        self.outcome = None if change.expects is None else outcomes()[change.expects.outcome]
        self.values = [] if self.outcome is None else self._of(self.outcome)
        self.numbers = frozenset(map(id, self.values))
        self.events = int(fsum(entry.value for entry in self.values)) if self.outcome and self.outcome.kind is Weighing.RATE else None
        self.never = "" if self.outcome is None else comparing.why_never(self.outcome)
        self.compared = None if self.outcome is None or self.never else comparing.compare(self.outcome, self.values)
        self.missing = None if self.compared is None else self.compared.missing
        self.effect = None if self.compared is None else self.compared.effect
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
        return self.p / 2 if is_wanted_way else 1 - self.p / 2

    @property
    def p(self) -> float:
        """The two-sided p of no effect, over all looks of the plan where it has any."""
        if self.effect is None:
            return 1.0
        return self.effect.p_t if self.at.look is None else self.at.look.p_of_all(self.effect.p_t)

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
        overall = line_over(verdict, [guard.word for guard in guards], is_interim=bool(self.at.interim))
        together = together_with(self.change, rows)
        return ChangeFinding(
            change=self.change,
            outcome=self.outcome,
            effect=self.effect,
            ratio=None if self.compared is None else self.compared.ratio(),
            rows=len(self.values),
            missing_share=self._missing_units,
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
            words=self.comparing.words,
            responses=responses_to(self.change, self.records),
            look=take_look(self.at.look, self.effect),
        )

    @property
    def _missing_units(self) -> float:
        return 1.0 if self.compared is None else self.compared.missing_units

    def why_too_little(self) -> str:
        """Why nothing can be said now; empty where something can."""
        look, effect = self.at.look, self.effect
        if why := self.why_not_now():
            return why
        if not self.at.interim or look is None or effect is None or look.passed_by(effect.p_t):
            return ""
        return f"interim: {look.words}, and its bound of {look.bound:.2f} standard errors is not passed"

    def why_not_now(self) -> str:
        """Why nothing can be judged now, however far it lies from nothing; empty where it can."""
        if self.outcome is None:
            return "nothing was expected of it"
        if self.at.is_elsewhere:
            return "the plan sends it to a station or a clarity exercise, and days do not judge it"
        if self.at.interim and self.at.look is None:
            return self.at.interim
        if self.met == 0:
            return "nobody met it"
        if self.never:
            return self.never
        if self.effect is None or self.compared is None:
            return self._why_no_unit()
        return self._why_few(self.compared, self.effect) or self._why_missing()

    def _why_few(self, compared: Compared, effect: Effect) -> str:
        words = self.comparing.words
        if compared.fewest < FEWEST_PAIRS:
            each = "" if words.is_of_days else " on each side"
            return f"{counted(compared.fewest, words.rests_on)}{each}; {FEWEST_PAIRS} are the fewest that can show anything"
        if self.events is not None and self.events < RARE_BELOW_EVENTS:
            what = "on both kinds of day" if words.is_of_days else "under both sets of rules"
            return f"{self.events} in all {what}; {RARE_BELOW_EVENTS} are the fewest that a mean of {words.mean_of} can weigh"
        if not effect.has_spread:
            return words.no_spread or f"the {words.unit}s show no spread, so that nothing can be said of how sure it is"
        return ""

    def _why_no_unit(self) -> str:
        arm_of, words = self.records.arm_finder(), self.comparing.words
        sides = {arm for entry in self.values if (arm := arm_of(entry)) is not None}
        if len(sides) == 1:
            return f"it was recorded {words.on(sides.pop())} alone, so that there is nothing to hold it against"
        return words.none_whole

    def _why_missing(self) -> str:
        units, words = self._missing_units, self.comparing.words
        if units > MOST_MISSING:
            return f"{units:.0%} of the {words.parts or counted(self.comparing.played, words.unit)} have no values"
        if self.missing is None or self.outcome is None:
            return ""
        arm, share = self.missing.worst
        if share <= MOST_MISSING:
            return ""
        other = Arm.ORDINARY if arm is Arm.TRIAL else Arm.TRIAL
        how = "" if self.outcome.is_one_each else f", held against {words.kind(other)}"
        return f"{share:.0%} of the values of {words.kind(arm)} are missing{how}; at most {MOST_MISSING:.0%} may be"

    def _verdict(self, chance: float) -> tuple[Verdict, str]:
        """The word, and why it is not a better one where the numbers alone would give that."""
        wanted, matters = self._wanted(self.effect), self._matters
        fewest = 0 if self.compared is None else self.compared.fewest
        verdict = verdict_of(wanted, matters=matters, pairs=fewest, missing_share=self._missing_units)
        look = self.at.look if self.at.interim else None
        passed, unsure = (f"interim: {look.words}, and its bound is passed", Verdict.TOO_LITTLE) if look else ("", Verdict.NOT_SHOWN)
        if not is_praise(verdict):
            return verdict, passed
        if chance > FALSE_PRAISE:
            return unsure, "of all outcomes that the trial weighs together, one may well look so by chance"
        bounds = self._bounds()
        if bounds is not None and (bounds[1] >= 0 if self.wants_less else bounds[0] <= 0):
            return unsure, "the values that are missing could turn it"
        return verdict, passed

    @property
    def _matters(self) -> float:
        assert self.change.expects is not None
        return self.change.expects.matters

    def _wanted(self, effect: Effect | None) -> Wanted:
        assert effect is not None
        wide, narrow = (effect.interval95, effect.interval90) if self.at.look is None else map(effect.limits, self.at.levels)
        return as_wanted(effect.estimate, wide, narrow, is_less_wanted=self.wants_less)

    def _turned_by(self, verdict: Verdict) -> tuple[str, ...]:
        """Units without each of which praise would be none, or what is no praise would be."""
        if self.compared is None:
            return ()
        found = []
        for name, effect in self.compared.without_each():
            without = verdict_of(self._wanted(effect), matters=self._matters, pairs=max(effect.units, FEWEST_PAIRS))
            if is_praise(without) is not is_praise(verdict):
                found.append(name)
        return tuple(found)

    def _bounds(self) -> tuple[float, float] | None:
        return None if self.compared is None else self.compared.bounds()

    def _by_definition(self) -> ByDefinition | None:
        if self.outcome is None or self.effect is None:
            return None
        compare = partial(self.comparing.effect_of, self.outcome)
        found = by_definition(self.change, self.outcome, self.effect, self.values, compare)
        return None if found is None else replace(found, found=share_found(self.records))

    def _to_settle(self) -> int | None:
        if self.effect is None:
            return None
        return pairs_to_settle(self._wanted(self.effect).estimate, self.effect.sd, matters=self._matters, pairs=self.effect.units)

    def _guard(self, guard: Guard) -> GuardFinding:
        outcome = outcomes()[guard.outcome]
        compared, never = self.comparing.compare(outcome, self._of(outcome)), self.comparing.why_never(outcome)
        effect = compared.effect if compared.fewest >= FEWEST_PAIRS and not never else None
        waits = self.at.is_elsewhere or bool(self.at.interim and self.at.look is None)
        is_open = waits or compared.missing.worst[1] > MOST_MISSING or compared.missing_units > MOST_MISSING
        worse = worse_of(guard)
        limits = None if effect is None else effect.interval90 if self.at.look is None else effect.limits(self.at.levels[1])
        return GuardFinding(
            outcome=outcome,
            margin=guard.margin,
            worse=worse,
            estimate=None if effect is None else effect.estimate,
            interval90=None if effect is None else effect.interval90,
            interval95=None if effect is None else effect.interval95,
            ratio=None if never else compared.ratio(),
            reason=never,
            word=GuardWord.OPEN if limits is None or is_open else guard_word(limits, guard.margin, worse),
        )


def worse_of(guard: Guard) -> Worse:
    """Which way is worse: as the guard says, else as its outcome does."""
    return Worse(guard.worse) if guard.worse else outcomes()[guard.outcome].worse


def guard_word(interval90: Interval, margin: float, worse: Worse) -> GuardWord:
    """What is said of a guard: better is never harm, unless neither way is."""
    if worse is Worse.EITHER:
        return guard_either_way(interval90, margin)
    return guard_of(interval90.turned() if worse is Worse.UP else interval90, margin)
