"""What a design or a plan says of a finding besides: the time since a switch, what goes with a change, what is adjusted for."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from marram.core.words import counted
from marram.evidence.designs.by_changes import ComparedDays, is_measured, meeting_alike
from marram.evidence.designs.by_steps import ComparedSteps
from marram.evidence.fitting.adjusted_pairs import AdjustedDifference, Told, adjust_pairs
from marram.evidence.fitting.stepped_effect import SteppedEffect
from marram.evidence.verdicts import FEWEST_PAIRS, Verdict, as_wanted, is_praise, overall_of, verdict_of
from marram.evidence.weighing.by_pairs import ComparedPairs
from marram.evidence.weighing.finding_words import limit_words, turned_words
from marram.evidence.weighing.one_change import OneChange
from marram.evidence.weighing.told_findings import ChangeFinding
from marram.records.outcomes import Outcome
from marram.records.rows import TrialRecords

_MOST_PERIODS_TOLD = 4
Named = Mapping[int, str]
"""What each change is called, by its number."""


def withheld(finding: ChangeFinding, why: str) -> ChangeFinding:
    """A finding whose praise is taken back: it is not shown either way."""
    overall = overall_of(Verdict.NOT_SHOWN, [guard.word for guard in finding.guards])
    return replace(finding, verdict=Verdict.NOT_SHOWN, reason=why, overall=overall, pairs_to_settle=None)


def after_steps(finding: ChangeFinding, entry: OneChange) -> ChangeFinding:
    """A finding of a roll-out, with the effect by time since the switch; without praise where that tells another tale."""
    effect, outcome = finding.effect, finding.outcome
    if not isinstance(effect, SteppedEffect) or outcome is None:
        return finding
    told = replace(finding, since_switch=effect.since_switch, besides=(*finding.besides, *_since_switch(effect, outcome)))
    told, doubt = _as_drawn(told, entry, outcome)
    if doubt and is_praise(finding.verdict):
        return withheld(told, doubt)
    mean = effect.mean_since_switch
    if not is_praise(finding.verdict) or mean is None:
        return told
    if (mean >= 0) is entry.wants_less:
        return withheld(told, "with the time since the switch left free it goes the other way")
    ends = effect.interval95
    if not ends.low <= mean <= ends.high:
        return withheld(told, "the effect is not the same in every period after the switch, so that one number does not tell it")
    return told


def _as_drawn(finding: ChangeFinding, entry: OneChange, outcome: Outcome) -> tuple[ChangeFinding, str]:
    """A finding with the effect by the steps as they were drawn, where they were played otherwise, and why that lets nothing be praised."""
    drawn = entry.compared.as_drawn if isinstance(entry.compared, ComparedSteps) else None
    if drawn is None:
        return finding, ""
    limits = limit_words(drawn.interval95, outcome, 95, finding.words)
    sentence = (
        f"By the steps as they were drawn, and not as they were played: {turned_words(drawn.estimate, outcome)} on trial days{limits}."
    )
    is_shown = drawn.interval95.high < 0 if entry.wants_less else drawn.interval95.low > 0
    doubt = "" if is_shown else "courses went over at other steps than were drawn, and by the drawn ones it is not shown"
    return replace(finding, besides=(*finding.besides, sentence)), doubt


def _since_switch(effect: SteppedEffect, outcome: Outcome) -> Iterator[str]:
    if effect.mean_since_switch is None:
        yield "How the effect goes on with the time since the switch these periods cannot tell."
        return
    told = [turned_words(amount, outcome) for amount in effect.since_switch[:_MOST_PERIODS_TOLD]]
    more = " and so on" if len(effect.since_switch) > _MOST_PERIODS_TOLD else ""
    yield (
        f"By the time since the switch, the first period first: {'; '.join(told)}{more}. With that left free the mean is "
        f"{turned_words(effect.mean_since_switch, outcome)} on trial days."
    )
    how = "all of them" if effect.is_exact else "a part of them, drawn from a fixed start"
    yield f"The steps could have been dealt out in {effect.ways:,} ways; the limits rest on {how}."


def after_days_of_changes(named: Named, meeting: Collection[frozenset[int]]) -> Callable[[ChangeFinding, OneChange], ChangeFinding]:
    """What is said of each change of a plan by days with some of the changes.

    Args:
        named: What each change is called.
        meeting: Pairs of changes that touch the same.
    """

    def told(finding: ChangeFinding, entry: OneChange) -> ChangeFinding:
        if not isinstance(entry.compared, ComparedDays):
            return finding
        besides = (*_alike(entry.compared, named), *_hint(finding, entry.compared))
        found = replace(finding, also_touched_by=(), alike=entry.compared.pairs_alike(), besides=(*finding.besides, *besides))
        meets = meeting_alike(entry.compared, meeting)
        if meets and is_praise(finding.verdict):
            return withheld(found, f"it may be what {_pair(meets[0], named)} do together, which touch the same")
        return found

    return told


def _alike(compared: ComparedDays, named: Named) -> Iterator[str]:
    pairs = [_pair(pair, named) for pair in compared.pairs_alike()]
    if pairs:
        yield (
            f"Its days tell it from each other change, and not from what {'; or '.join(pairs)} do together beyond what each does alone: "
            "that is taken for nothing, and no such pair is credited."
        )


def _pair(pair: Sequence[int], named: Named) -> str:
    return " and ".join(f"change {number} ({named.get(number, '')})" for number in pair)


def _hint(finding: ChangeFinding, compared: ComparedDays) -> Iterator[str]:
    effects, effect = compared.effects, finding.effect
    if effects is None or effect is None or is_measured(effects) or finding.outcome is None:
        return
    least = f"{effects.stands_out_from:.3g} {finding.outcome.effect_unit}"
    stands = "It does" if abs(effect.estimate) > effects.stands_out_from else "It does not"
    yield f"A hint and no finding: among {counted(len(effects.of), 'effect')} of these days one stands out from {least} up. {stands}."


def after_adjusting(by: Sequence[str], records: TrialRecords) -> Callable[[ChangeFinding, OneChange], ChangeFinding]:
    """What is said of a finding of paired days once it is adjusted for what the plan names.

    Args:
        by: What the plan names, as the table of days heads it.
        records: The records.
    """
    facts = {day.day: dict(day.facts) for day in records.days}
    told: dict[str, Told] = {
        name: {pair: (facts[trial.day].get(name, ""), facts[ordinary.day].get(name, "")) for pair, trial, ordinary in records.pairs()}
        for name in by
    }

    def adjusted(finding: ChangeFinding, entry: OneChange) -> ChangeFinding:
        if not isinstance(entry.compared, ComparedPairs) or finding.outcome is None or not entry.compared.paired:
            return finding
        found = adjust_pairs(entry.compared.paired, told)
        besides = (*finding.besides, *_adjusted(found, finding, entry, finding.outcome))
        return replace(finding, adjusted=found, besides=besides)

    return adjusted


def _adjusted(found: AdjustedDifference, finding: ChangeFinding, entry: OneChange, outcome: Outcome) -> Iterator[str]:
    by = " and ".join(found.by)
    if found.estimate is None or found.interval95 is None:
        yield f"Adjusted for {by}, as the plan has it: {found.reason}."
    else:
        limits = limit_words(found.interval95, outcome, 95, finding.words)
        yield (
            f"Adjusted for {by}, as the plan has it: {turned_words(found.estimate, outcome)} on trial days{limits}, from "
            f"{counted(found.pairs, 'pair')} of days. The word rests on the days as they were; {_word_adjusted(found, entry, finding)}."
        )
    if found.left_out:
        pairs = counted(len(found.left_out), "pair")
        yield f"{pairs} left out of the adjusted line, since one day or both lack {by}: {', '.join(found.left_out)}."
    if found.same and found.estimate is not None:
        yield f"Nothing was adjusted for {' and '.join(found.same)}, which never differed within a pair."


def _word_adjusted(found: AdjustedDifference, entry: OneChange, finding: ChangeFinding) -> str:
    """What the word would be by the adjusted difference."""
    expects = entry.change.expects
    if expects is None or found.estimate is None or found.interval95 is None or found.interval90 is None:
        return "adjusted there is none"
    wanted = as_wanted(found.estimate, found.interval95, found.interval90, is_less_wanted=entry.wants_less)
    word = verdict_of(wanted, matters=expects.matters, pairs=max(found.pairs, FEWEST_PAIRS))
    return "adjusted it would be the same" if word is finding.verdict else f"adjusted it would be “{word.value}”"
