"""The sentence over a change: what was measured where it was in force, not what was hoped for."""

from __future__ import annotations

import re

from marram.evidence.effects import Interval
from marram.evidence.verdicts import Verdict
from marram.evidence.weighing.finding_words import change_numbers
from marram.evidence.weighing.told_findings import ChangeFinding
from marram.records.outcomes import Outcome, Weighing
from marram.rulebook.differences.told_change import ToldChange

_LONGEST_RULE = 90
"""Letters of a rule that a headline can hold before and after; what is longer is named by its number."""
_WAY = re.compile(r".*?\b(?:more|fewer|less|longer|farther|nearer|higher|lower)\b")
"""What follows a number up to the word that says which way."""


def headline(finding: ChangeFinding, told: ToldChange) -> str:
    """One sentence that an official would speak: what was measured where the change was in force, or, without days, what it is."""
    return "".join(headline_parts(finding, told))


def headline_parts(finding: ChangeFinding, told: ToldChange) -> tuple[str, str, str]:
    """The headline as what comes before its effect, the effect with its unit and way, and what follows."""
    effect, outcome = finding.effect, finding.outcome
    if effect is None or outcome is None:
        return told.sentence, "", ""
    before, size, after = size_parts(outcome, effect.estimate)
    if finding.words.is_simulated:
        before = f"Expected, not found: {before[:1].lower()}{before[1:]}"
    return before, size, f"{after} {_where(finding, told)}{_doubt(finding.verdict, effect.interval95)}."


def size_parts(outcome: Outcome, amount: float, *, is_stated: bool = False) -> tuple[str, str, str]:
    """A difference as a spoken sentence without its full stop: what comes before the number, the number with its way, and what follows.

    Args:
        outcome: The outcome.
        amount: The difference, in its unit.
        is_stated: Whether it was stated beforehand, and is told as it was stated.
    """
    shown, places = (abs(amount) * 100, ".1f") if outcome.kind is Weighing.SHARE else (abs(amount), ".2f")
    number = f"{shown:{'g' if is_stated else places}}"
    before, _, after = (outcome.says_down if amount < 0 else outcome.says_up).partition("{number}")
    way = _WAY.match(after)
    end = way.end() if way else 0
    return before, f"{number}{after[:end]}", after[end:]


def rule_under(head: str, told: ToldChange) -> str:
    """What the change is, for the line under a headline; empty where the headline says just that."""
    return "" if head == told.sentence else told.sentence


def aim_words(finding: ChangeFinding) -> str:
    """What the change was hoped to do, within a sentence; empty where the draft does not say."""
    aim = finding.change.aim.rstrip(". ")
    return aim[:1].lower() + aim[1:]


def _where(finding: ChangeFinding, told: ToldChange) -> str:
    """Under which rule that was measured."""
    if finding.together:
        return f"under {change_numbers(tuple(sorted((finding.change.number, *finding.together)))).lower()} together"
    if len(told.before) + len(told.now) > _LONGEST_RULE:
        return f"under change {finding.change.number}"
    return f"where the rule says “{told.now}” and not “{told.before}”"


def _doubt(verdict: Verdict, interval: Interval) -> str:
    """What keeps a headline from being taken at its word."""
    if verdict is Verdict.TOO_LITTLE:
        return ": too little to judge by"
    return ": this may be chance" if interval.low <= 0 <= interval.high else ""
