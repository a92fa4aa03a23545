"""From differentials to an Index: the average, exceptional scores, the Low Index and its caps, the limit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from marram.handicaps.rounding import Figure, round_half_up, rounded
from marram.handicaps.rules.index_rules import Band, CapRules, ExceptionalStep, IndexRules, LowIndexRules


@dataclass(frozen=True, slots=True, kw_only=True)
class Averaged:
    """The average of the lowest differentials.

    Attributes:
        figure: The average, before and after rounding.
        band: How many were averaged, and what was taken off.
        counted: Places of the differentials that count, in the order given.
    """

    figure: Figure
    band: Band
    counted: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Capped:
    """An average after the caps.

    Attributes:
        soft: After the soft cap, rounded; the average itself where it did not apply.
        hard: After the hard cap as well.
        is_soft: Whether the soft cap lowered it.
        is_hard: Whether the hard cap lowered it.
    """

    soft: Fraction
    hard: Fraction
    is_soft: bool
    is_hard: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class IndexOn:
    """An Index and the day of the score after which it stood."""

    day: date
    index: Fraction


def average(differentials: Sequence[Fraction], rules: IndexRules) -> Averaged | None:
    """The average of the lowest of the most recent differentials; None where there are too few.

    Args:
        differentials: Adjusted differentials in the order of the record; the last are the most recent.
        rules: How an Index is worked out.

    Source:
        Rules of Handicapping 2020 and 2024, Rules 5.2a and 5.2b.
    """
    first = max(0, len(differentials) - rules.recent)
    recent = list(enumerate(differentials[first:], start=first))
    band = next((band for band in reversed(rules.bands) if len(recent) >= band.scores_least), None)
    if band is None:
        return None
    # Of two that are equal the more recent counts: which one is told makes no difference to the average.
    lowest = sorted(recent, key=lambda entry: (entry[1], -entry[0]))[: band.lowest]
    mean = sum((value for _, value in lowest), Fraction(0)) / band.lowest - band.subtract
    return Averaged(figure=rounded(mean, rules.decimals), band=band, counted=tuple(sorted(place for place, _ in lowest)))


def exceptional_reduction(index: Fraction, unrounded_differential: Fraction, steps: Sequence[ExceptionalStep]) -> Fraction:
    """Strokes that an exceptional score takes off each recent differential; 0 where it is none.

    Args:
        index: The Index in effect when the round was played.
        unrounded_differential: Its differential before rounding.
        steps: The steps, the smallest first.

    Source:
        Rules of Handicapping 2020 and 2024, Rule 5.9; a difference between 9.9 and 10.0 is taken to lie in the lower step.
    """
    under = index - unrounded_differential
    return next((step.reduce for step in reversed(steps) if under >= step.under_index_least), Fraction(0))


def low_index(history: Sequence[IndexOn], last_score: date, differentials_on_record: int, rules: LowIndexRules) -> Fraction | None:
    """The Low Index that stands after the last score on the record; None before there are enough differentials.

    Args:
        history: Every Index achieved on this record, the oldest first; one carried in from elsewhere was not achieved.
        last_score: Day of the last score on the record.
        differentials_on_record: Differentials on the record.
        rules: What the Low Index is.

    Source:
        Rules of Handicapping 2020 and 2024, Rule 5.7, interpretations 5.7/1 and 5.7/2 (no score in the year: the Index itself).
    """
    achieved = [entry for entry in history if entry.day <= last_score]
    if differentials_on_record < rules.scores_least or not achieved:
        return None
    first_day = last_score - timedelta(days=rules.days)
    within = [entry.index for entry in achieved if entry.day >= first_day]
    return min(within) if within else achieved[-1].index


def cap(averaged: Fraction, low: Fraction | None, rules: CapRules, decimals: int) -> Capped:
    """The average after the soft and the hard cap; downward nothing limits it.

    Args:
        averaged: The average, rounded.
        low: The Low Index that stood before the new score; None where there is none yet, and then no cap.
        rules: How far it may lie above.
        decimals: Decimals of an Index.

    Source:
        Rules of Handicapping 2020 and 2024, Rule 5.8; a rise of just the first step is not slowed.
    """
    if low is None:
        return Capped(soft=averaged, hard=averaged, is_soft=False, is_hard=False)
    above = averaged - low - rules.soft_over
    is_soft = above > 0
    soft = round_half_up(low + rules.soft_over + rules.soft_kept_share * above, decimals) if is_soft else averaged
    hard = min(soft, low + rules.hard_over)
    return Capped(soft=soft, hard=hard, is_soft=is_soft, is_hard=hard < soft)


def within_limit(index: Fraction, rules: IndexRules) -> Fraction:
    """The Index, and no more than the highest that there is (Rules of Handicapping 2024, Rule 5.3)."""
    return min(index, rules.most)
