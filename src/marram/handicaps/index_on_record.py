"""A record followed day by day: after each day's scores the Index, what it was averaged from, and what moved it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from itertools import groupby

from marram.handicaps.index_of_scores import Averaged, Capped, IndexOn, average, cap, exceptional_reduction, low_index, within_limit
from marram.handicaps.rules.index_rules import IndexRules
from marram.handicaps.score_record import Posted


@dataclass(frozen=True, slots=True, kw_only=True)
class OnRecord:
    """A differential with what exceptional scores have taken off it.

    Attributes:
        posted: The differential as it was posted.
        adjusted_by: What was taken off so far, zero or below.
    """

    posted: Posted
    adjusted_by: Fraction = Fraction(0)

    @property
    def value(self) -> Fraction:
        """The differential that counts."""
        return self.posted.figure.value + self.adjusted_by


@dataclass(frozen=True, slots=True, kw_only=True)
class Exceptional:
    """An exceptional score.

    Attributes:
        numbers: Numbers of its rounds.
        index: The Index in effect when it was played.
        under: How far its unrounded differential lay under that.
        reduce: Strokes that it takes off.
    """

    numbers: tuple[int, ...]
    index: Fraction
    under: Fraction
    reduce: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class DayOnRecord:
    """The Index after the scores of a day.

    Attributes:
        day: The day.
        posted: Differentials posted.
        exceptional: Exceptional scores among them.
        averaged: The average; None where there are too few scores.
        low: The Low Index that stood before; None where there was none.
        is_low_stated: Whether that was stated and not worked out.
        capped: The average after the caps; None where there is no average.
        index: The Index; None where there is none yet.
    """

    day: date
    posted: tuple[Posted, ...]
    exceptional: tuple[Exceptional, ...]
    averaged: Averaged | None
    low: Fraction | None
    is_low_stated: bool
    capped: Capped | None
    index: Fraction | None


@dataclass(frozen=True, slots=True, kw_only=True)
class IndexOnRecord:
    """A record followed to its end.

    Attributes:
        days: Each day on which a score was posted, the oldest first.
        record: Every differential with what was taken off it.
    """

    days: tuple[DayOnRecord, ...]
    record: tuple[OnRecord, ...]


def reduce_recent(record: Sequence[OnRecord], reduce: Fraction, recent: int) -> tuple[OnRecord, ...]:
    """The record after an exceptional score, its last: each recent differential is less by so much, on top of what it lost before."""
    older, newest = tuple(record[:-recent]), record[-recent:]
    return (*older, *(replace(entry, adjusted_by=entry.adjusted_by - reduce) for entry in newest))


def follow_record(posted: Iterable[Posted], rules: IndexRules, *, stated_low: Fraction | None = None) -> IndexOnRecord:
    """Work out the Index after each day of a record.

    The scores of one day are taken together: the Index is revised the day after. An Index that the record states is taken for whether a
    score was exceptional; as a Low Index only one counts that was worked out here.

    Args:
        posted: The differentials, the oldest first.
        rules: How an Index is worked out.
        stated_low: The Low Index before the last day, where it is known from elsewhere.

    Source:
        Rules of Handicapping 2020 and 2024, Rules 4.5, 5.2, 5.7, 5.8 and 5.9; the order of these steps is inferred.
    """
    record: tuple[OnRecord, ...] = ()
    days: list[DayOnRecord] = []
    by_day = [(day, tuple(scores)) for day, scores in groupby(posted, key=lambda one: one.day)]
    for at, (day, scores) in enumerate(by_day, start=1):
        index = days[-1].index if days else None
        low = _low_before(days, record, rules)
        is_stated = stated_low is not None and at == len(by_day)
        exceptional = tuple(_exceptional(scores, index, rules))
        for score in scores:
            record = (*record, OnRecord(posted=score))
            record = reduce_recent(record, _reduction(score, exceptional), rules.recent)
        days.append(_after(day, scores, exceptional, record, stated_low if is_stated else low, rules, is_stated=is_stated))
    return IndexOnRecord(days=tuple(days), record=record)


def _low_before(days: Sequence[DayOnRecord], record: Sequence[OnRecord], rules: IndexRules) -> Fraction | None:
    history = [IndexOn(day=entry.day, index=entry.index) for entry in days if entry.index is not None]
    return low_index(history, days[-1].day, len(record), rules.low_index) if days else None


def _exceptional(scores: Sequence[Posted], index: Fraction | None, rules: IndexRules) -> Iterator[Exceptional]:
    for score in scores:
        in_effect = index if score.index is None else score.index
        if in_effect is None:
            continue
        reduce = exceptional_reduction(in_effect, score.figure.unrounded, rules.exceptional)
        if reduce:
            yield Exceptional(numbers=score.numbers, index=in_effect, under=in_effect - score.figure.unrounded, reduce=reduce)


def _reduction(score: Posted, exceptional: Sequence[Exceptional]) -> Fraction:
    return next((one.reduce for one in exceptional if one.numbers == score.numbers), Fraction(0))


def _after(
    day: date,
    scores: tuple[Posted, ...],
    exceptional: tuple[Exceptional, ...],
    record: Sequence[OnRecord],
    low: Fraction | None,
    rules: IndexRules,
    *,
    is_stated: bool,
) -> DayOnRecord:
    has_holes = sum(entry.posted.holes for entry in record) >= rules.holes_least
    averaged = average([entry.value for entry in record], rules) if has_holes else None
    capped = None if averaged is None else cap(averaged.figure.value, low, rules.caps, rules.decimals)
    return DayOnRecord(
        day=day,
        posted=scores,
        exceptional=exceptional,
        averaged=averaged,
        low=low,
        is_low_stated=is_stated,
        capped=capped,
        index=None if capped is None else within_limit(capped.hard, rules),
    )
