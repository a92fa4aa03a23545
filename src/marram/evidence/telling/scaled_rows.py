"""Effects on one scale: each in multiples of the smallest effect that matters, or of the margin of what must not get worse.

Better lies to the right for every row, so that nothing at all and enough to matter stand on the same lines whatever the unit.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from marram.evidence.effects import Interval
from marram.evidence.guards import GuardWord
from marram.evidence.verdicts import Verdict
from marram.evidence.weighing.headlines import headline_parts, size_parts
from marram.evidence.weighing.told_findings import ChangeFinding, GuardFinding, TrialReport
from marram.records.outcomes import Outcome, Worse
from marram.rulebook.differences.told_change import ToldChange
from marram.rulebook.overlays.trial_terms import Direction

Ends = tuple[float, float]


class Sign(StrEnum):
    """The square beside a word: full for shown or kept, half for open, empty for no or harmed."""

    FULL = "full"
    HALF = "half"
    EMPTY = "empty"


_SIGNS: Mapping[Verdict | GuardWord, Sign] = {
    Verdict.DOES_IT: Sign.FULL,
    Verdict.NO_DIFFERENCE: Sign.EMPTY,
    Verdict.OPPOSITE: Sign.EMPTY,
    Verdict.OPPOSITE_SLIGHT: Sign.EMPTY,
    GuardWord.KEPT: Sign.FULL,
    GuardWord.HARMED: Sign.EMPTY,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaledEffect:
    """An effect in multiples of what matters or of its margin, better above 0.

    Attributes:
        estimate: The effect.
        interval95: Its 95 % interval; None where nothing bounds it.
        interval90: Its 90 % interval; None where nothing bounds it.
        by_definition: The part of it that the change makes by definition; None where there is none.
    """

    estimate: float
    interval95: Ends | None
    interval90: Ends | None
    by_definition: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EffectRow:
    """One row of the first page: what was measured, said and drawn.

    Attributes:
        changes: Numbers of the changes that it stands for.
        is_guard: Whether it is something that must not get worse.
        outcome: Key of the outcome; empty where nothing was expected.
        sentence: What was measured: before the effect, the effect, after it.
        limits: Its interval and what would matter, or its margin, in units.
        word: The word for it.
        reason: Why it is no better one, or what would settle it; empty where there is nothing to say.
        sign: The square beside the word.
        unit_of_scale: What is 1 on the scale, in the unit of the effect; None where nothing is.
        effect: The effect on the scale; None where there is nothing to draw.
        is_either_way: Whether either way would be worse.
    """

    changes: tuple[int, ...]
    is_guard: bool
    outcome: str
    sentence: tuple[str, str, str]
    limits: str
    word: str
    reason: str
    sign: Sign
    unit_of_scale: float | None
    effect: ScaledEffect | None
    is_either_way: bool = False

    @property
    def drawn_words(self) -> str:
        """The drawing of the row in words, for those who cannot see it."""
        of = "the margin" if self.is_guard else "the smallest effect that matters"
        if self.effect is None:
            return "Nothing to draw."
        told = f"In multiples of {of}, better above 0: {self.effect.estimate:.2f}"
        told += "".join(
            f", {name} interval {ends[0]:.2f} to {ends[1]:.2f}"
            for name, ends in (("95 %", self.effect.interval95), ("90 %", self.effect.interval90))
            if ends is not None
        )
        return told + (f"; {self.effect.by_definition:.2f} of it by definition." if self.effect.by_definition is not None else ".")


def change_rows(report: TrialReport, told: Mapping[int, ToldChange]) -> tuple[EffectRow, ...]:
    """A row for each change; changes of which the same is measured and said share one."""
    return _joined(_change_row(finding, told[finding.change.number]) for finding in report.findings)


def guard_rows(report: TrialReport) -> tuple[EffectRow, ...]:
    """A row for each thing that must not get worse; where several changes guard the same and it is the same, one."""
    return _joined(_guard_row(finding, guard) for finding in report.findings for guard in finding.guards)


def _joined(rows: Iterable[EffectRow]) -> tuple[EffectRow, ...]:
    found: dict[EffectRow, tuple[int, ...]] = {}
    for row in rows:
        alike = replace(row, changes=())
        found[alike] = (*found.get(alike, ()), *row.changes)
    return tuple(replace(row, changes=changes) for row, changes in found.items())


def _change_row(finding: ChangeFinding, told: ToldChange) -> EffectRow:
    expects, effect, outcome = finding.change.expects, finding.effect, finding.outcome
    scaled, limits = None, ""
    if expects is not None and outcome is not None:
        turn = -1.0 if expects.direction is Direction.DOWN else 1.0
        limits = f"{_size(outcome, turn * expects.matters, is_stated=True)} would matter."
        if effect is not None:
            part = None if finding.by_definition is None else finding.by_definition.share_of_difference
            scaled = _scaled(effect.estimate, effect.interval95, effect.interval90, turn / expects.matters, part)
            if effect.interval95.is_bounded:
                limits = f"{_shortly(outcome, turn * expects.matters, is_stated=True)} would matter."
            limits = f"{_range(effect.interval95, outcome, 95, finding.words.mean_of)}; {limits}"
    return EffectRow(
        changes=(finding.change.number,),
        is_guard=False,
        outcome="" if outcome is None else outcome.key,
        sentence=headline_parts(finding, told),
        limits=_capital(limits),
        word=_capital(finding.words.said(finding.verdict)),
        reason="; ".join(filter(None, (finding.reason, _to_settle(finding)))),
        sign=_SIGNS.get(finding.verdict, Sign.HALF),
        unit_of_scale=None if expects is None else expects.matters,
        effect=scaled,
    )


def _guard_row(finding: ChangeFinding, guard: GuardFinding) -> EffectRow:
    outcome, either = guard.outcome, guard.worse is Worse.EITHER
    limits = f"{_margin(guard)} is the margin."
    sentence, scaled = (outcome.means, "", ""), None
    if guard.estimate is not None and guard.interval90 is not None:
        before, size, after = size_parts(outcome, guard.estimate)
        sentence = (before, size, f"{after}.")
        limits = f"{_range(guard.interval90, outcome, 90, finding.words.mean_of)}; {limits}"
        turn = 1.0 if guard.worse is Worse.DOWN else -1.0
        scaled = _scaled(guard.estimate, guard.interval95 or guard.interval90, guard.interval90, turn / guard.margin, None)
    return EffectRow(
        changes=(finding.change.number,),
        is_guard=True,
        outcome=outcome.key,
        sentence=sentence,
        limits=_capital(limits),
        word=_capital(finding.words.said(guard.word)),
        reason=guard.reason or ("" if scaled else f"too few {finding.words.unit}s have values"),
        sign=_SIGNS.get(guard.word, Sign.HALF),
        unit_of_scale=guard.margin,
        effect=scaled,
        is_either_way=either,
    )


def _scaled(estimate: float, interval95: Interval, interval90: Interval, times: float, part: float | None) -> ScaledEffect:
    return ScaledEffect(
        estimate=estimate * times,
        interval95=_ends(interval95, times),
        interval90=_ends(interval90, times),
        by_definition=None if part is None else part * times,
    )


def _ends(interval: Interval, times: float) -> Ends | None:
    if not interval.is_bounded:
        return None
    low, high = sorted((interval.low * times, interval.high * times))
    return low, high


def _range(interval: Interval, outcome: Outcome, level: int, mean_of: str) -> str:
    """An interval in units: both ends with their way, or the way once where it is the same."""
    if not interval.is_bounded:
        return f"the {mean_of} bound nothing"
    if interval.low * interval.high <= 0:
        return f"{_size(outcome, interval.low)} to {_shortly(outcome, interval.high)} ({level} %)"
    near, far = sorted((interval.low, interval.high), key=abs)
    return f"{_size(outcome, near).partition(' ')[0]} to {_size(outcome, far)} ({level} %)"


def _margin(guard: GuardFinding) -> str:
    """By how much it may get worse, with the way that is worse."""
    if guard.worse is Worse.EITHER:
        return f"{_shortly(guard.outcome, guard.margin, is_stated=True).partition(' ')[0]} either way"
    return _shortly(guard.outcome, guard.margin if guard.worse is Worse.UP else -guard.margin, is_stated=True)


def _size(outcome: Outcome, amount: float, *, is_stated: bool = False) -> str:
    """A difference with its unit and its way."""
    return size_parts(outcome, amount, is_stated=is_stated)[1]


def _shortly(outcome: Outcome, amount: float, *, is_stated: bool = False) -> str:
    """A difference with its way alone, where the unit was just told."""
    number, _, rest = _size(outcome, amount, is_stated=is_stated).partition(" ")
    return f"{number} {rest.rpartition(' ')[2]}".rstrip()


def _to_settle(finding: ChangeFinding) -> str:
    number = finding.pairs_to_settle
    return "" if number is None else f"about {finding.words.count(number)} in all would settle it"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
