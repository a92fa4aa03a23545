"""Verdicts: one word for each effect, by a rule fixed before the data, and one line for each change.

No word rests on a p value alone. Effects are counted so that more is what was wanted; `as_wanted` turns them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite, sqrt

from marram.core.errors import StudyError
from marram.evidence.effects import Interval
from marram.evidence.guards import GuardWord

FEWEST_PAIRS = 6
"""With fewer pairs no way in which the coins fall can reach 5 %: the smallest two-sided p of 5 pairs is 2/32."""

MOST_MISSING = 0.20
"""Share of what was to be observed that may be missing (common practice)."""

MOST_PRIMARIES = 3
"""Primary outcomes of one change (common practice)."""

_MOST_PAIRS_SOUGHT = 10_000


class Verdict(StrEnum):
    """The word that stands on the page for one outcome."""

    TOO_LITTLE = "too little to judge"
    DOES_IT = "does it: clearly enough to matter"
    DOES_IT_SIZE_OPEN = "does it; the size is still uncertain"
    WORKS_LESS = "works, but less than asked for"
    NO_DIFFERENCE = "makes no difference that matters"
    OPPOSITE = "does the opposite, by enough to matter"
    OPPOSITE_SLIGHT = "does the opposite, slightly or uncertain in size"
    NOT_SHOWN = "not shown either way"


class Overall(StrEnum):
    """The line that stands over a change."""

    DID = "did what it was meant to"
    MIXED = "mixed"
    DID_NOT = "did not do what it was meant to"
    OPEN = "open"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """An effect counted so that more is what was wanted."""

    estimate: float
    interval95: Interval
    interval90: Interval


def as_wanted(estimate: float, interval95: Interval, interval90: Interval, *, is_less_wanted: bool) -> Wanted:
    """An effect turned so that more is what was wanted; a ratio is given by its logarithm."""
    if not is_less_wanted:
        return Wanted(estimate=estimate, interval95=interval95, interval90=interval90)
    return Wanted(estimate=-estimate, interval95=interval95.turned(), interval90=interval90.turned())


def verdict_of(wanted: Wanted, *, matters: float, pairs: int, missing_share: float = 0.0) -> Verdict:
    """The word for an outcome: the first of the conditions that fits.

    Args:
        wanted: The effect, counted so that more is what was wanted.
        matters: Smallest effect that matters, fixed before the data, in the same unit; for a ratio, its logarithm.
        pairs: Pairs of days weighed.
        missing_share: Part of what was to be observed that is missing, from 0 to 1.

    Raises:
        StudyError: The smallest effect that matters is not above zero.
    """
    if not matters > 0:
        raise StudyError(f"An effect of {matters} cannot be what matters.", hint="Give a number above zero.")
    if pairs < FEWEST_PAIRS or missing_share > MOST_MISSING:
        return Verdict.TOO_LITTLE
    if wanted.interval95.low > 0:
        return _word_for_what_works(wanted, matters)
    if -matters < wanted.interval90.low and wanted.interval90.high < matters:
        return Verdict.NO_DIFFERENCE
    if wanted.interval95.high < -matters:
        return Verdict.OPPOSITE
    return Verdict.OPPOSITE_SLIGHT if wanted.interval95.high < 0 else Verdict.NOT_SHOWN


def is_praise(verdict: Verdict) -> bool:
    """Whether a word says that the change does what was wanted, by enough or by less."""
    return verdict in _MET or verdict is Verdict.WORKS_LESS


def overall_of(intent: Verdict, guards: Sequence[GuardWord]) -> Overall:
    """The line over a change: what its intent and its guards say together.

    Args:
        intent: The word for what it was meant to do.
        guards: The words for what it must not make worse.
    """
    if intent in _MET:
        return Overall.DID if all(word is GuardWord.KEPT for word in guards) else Overall.MIXED
    return Overall.DID_NOT if intent in _FAILED else Overall.OPEN


def line_over(intent: Verdict, guards: Sequence[GuardWord], *, is_interim: bool = False) -> Overall:
    """The line over a change: `overall_of`, but open where there is too little to judge.

    Args:
        intent: The word for what it was meant to do.
        guards: The words for what it must not make worse.
        is_interim: Whether the plan goes on: a guard that is not yet shown to be kept then leaves the line open, unless another is harmed.
    """
    waits = is_interim and GuardWord.OPEN in guards and GuardWord.HARMED not in guards
    return Overall.OPEN if intent is Verdict.TOO_LITTLE or waits else overall_of(intent, guards)


def pairs_to_settle(estimate: float, sd: float, *, matters: float, pairs: int) -> int | None:
    """The fewest pairs of days that would settle what is not shown either way, if estimate and spread stayed as they are.

    They will not stay exactly so: take the number for the least that is worth planning.

    Args:
        estimate: Mean difference, counted so that more is what was wanted.
        sd: Standard deviation of the differences, in the same unit.
        matters: Smallest effect that matters.
        pairs: Pairs of days so far.

    Returns:
        The number of pairs in all; None where the pairs show no spread, or more than 10,000 would be needed.
    """
    if not (sd > 0 and isfinite(sd)):
        return None

    def is_settled(count: int) -> bool:
        return verdict_of(_as_if(estimate, sd, count), matters=matters, pairs=count) is not Verdict.NOT_SHOWN

    low, high = max(pairs + 1, FEWEST_PAIRS), _MOST_PAIRS_SOUGHT
    if is_settled(low):
        return low
    if not is_settled(high):
        return None
    while high - low > 1:  # an interval round the same estimate only shrinks, so what is settled stays settled
        middle = (low + high) // 2
        low, high = (low, middle) if is_settled(middle) else (middle, high)
    return high


def holm(p_values: Sequence[float]) -> tuple[float, ...]:
    """Raise the p values of several primary outcomes so that together they give a false alarm in at most 5 of 100 trials.

    Args:
        p_values: One for each outcome.

    Raises:
        StudyError: A value is not between 0 and 1.

    Source: Holm, A simple sequentially rejective multiple test procedure (1979).
    """
    if not all(0 <= p <= 1 for p in p_values):
        raise StudyError(f"{list(p_values)} are not all p values.", hint="Each lies between 0 and 1.")
    raised, so_far = [0.0] * len(p_values), 0.0
    for passed, place in enumerate(sorted(range(len(p_values)), key=p_values.__getitem__)):
        so_far = max(so_far, min((len(p_values) - passed) * p_values[place], 1.0))
        raised[place] = so_far
    return tuple(raised)


_MET = frozenset({Verdict.DOES_IT, Verdict.DOES_IT_SIZE_OPEN})
_FAILED = frozenset({Verdict.NO_DIFFERENCE, Verdict.OPPOSITE, Verdict.OPPOSITE_SLIGHT})


def _word_for_what_works(wanted: Wanted, matters: float) -> Verdict:
    if wanted.interval95.low > matters:
        return Verdict.DOES_IT
    return Verdict.DOES_IT_SIZE_OPEN if wanted.estimate >= matters else Verdict.WORKS_LESS


def _as_if(estimate: float, sd: float, pairs: int) -> Wanted:
    from scipy.stats import t

    half95, half90 = (float(t.ppf(q, pairs - 1)) * sd / sqrt(pairs) for q in (0.975, 0.95))
    return Wanted(
        estimate=estimate,
        interval95=Interval(low=estimate - half95, high=estimate + half95),
        interval90=Interval(low=estimate - half90, high=estimate + half90),
    )
