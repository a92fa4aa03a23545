"""A Handicap Index under each book, with what counted and what moved it, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.handicaps.handicap_answer import exact_text, plain_number, six_decimals
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date
    from fractions import Fraction

    from marram.handicaps.index_on_record import Exceptional
    from marram.office.handicaps.find_index import IndexFound, OnRecordTold


class DifferentialShape(Shape, frozen=True, kw_only=True):
    """A differential on the record.

    Attributes:
        rows: Rows of the rounds that it is made of.
        day: Day of the last of them.
        value: The differential as it was posted.
        unrounded: The same before rounding, to six decimals.
        exact: The same before rounding, as a fraction.
        adjusted_by: What exceptional scores have taken off it, zero or below.
        counts: Whether it is among the lowest that are averaged.
    """

    rows: tuple[int, ...]
    day: str
    value: int | float
    unrounded: float
    exact: str
    adjusted_by: int | float
    counts: bool


class ExceptionalShape(Shape, frozen=True, kw_only=True):
    """An exceptional score.

    Attributes:
        rows: Rows of its rounds.
        index: The Index in effect when it was played.
        under: How far its unrounded differential lay under that, to six decimals.
        reduces: Strokes that it takes off each of the most recent differentials then.
    """

    rows: tuple[int, ...]
    index: int | float
    under: float
    reduces: int | float


class IndexOnDayShape(Shape, frozen=True, kw_only=True):
    """The Index after the scores of a day.

    Attributes:
        day: The day.
        index: The Index.
        shown_as: The same as it is written.
    """

    day: str
    index: int | float
    shown_as: str


class HandicapIndexShape(Shape, frozen=True, kw_only=True):
    """An Index under one book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        value: The Index, below zero for a plus handicap; null where the record gives none.
        unrounded: The average before rounding and caps, to six decimals; null where there is none.
        exact: The same as a fraction; null where there is none.
        shown_as: The Index as it is written; null where there is none.
        average: The average, rounded, before the caps; null where there is none.
        low_index: The Low Index that stood before the last day; null where there was none.
        low_index_stated: Whether it was stated and not worked out.
        after_soft_cap: The average after the soft cap; null where there is no average.
        after_hard_cap: The average after both caps; null where there is no average.
        says: How it came about.
        differentials: Every differential, the oldest first.
        exceptional: Every exceptional score.
        history: The Index after each day on which there was one.
        waiting_row: Row of a score of nine holes that waits for another; null where none does.
        dropped_rows: Rows of scores of nine holes that waited too long.
        citations: The rules.
    """

    book: str
    stamp: str
    value: int | float | None
    unrounded: float | None
    exact: str | None
    shown_as: str | None
    average: int | float | None
    low_index: int | float | None
    low_index_stated: bool
    after_soft_cap: int | float | None
    after_hard_cap: int | float | None
    says: tuple[str, ...]
    differentials: tuple[DifferentialShape, ...]
    exceptional: tuple[ExceptionalShape, ...]
    history: tuple[IndexOnDayShape, ...]
    waiting_row: int | None
    dropped_rows: tuple[int, ...]
    citations: tuple[CitationShape, ...]


class HandicapIndexAnswers(Answer, frozen=True, kw_only=True):
    """A Handicap Index from a record of scores, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
    """

    schema: Literal["marram.handicap-index/1"] = "marram.handicap-index/1"
    books: tuple[HandicapIndexShape, ...]


def index_answers(found: Iterable[IndexFound]) -> HandicapIndexAnswers:
    """An Index under each book."""
    return HandicapIndexAnswers(books=tuple(map(_under, found)))


def _number(value: Fraction | None) -> int | float | None:
    return None if value is None else plain_number(value)


def _under(found: IndexFound) -> HandicapIndexShape:
    averaged, capped = found.last.averaged, found.last.capped
    return HandicapIndexShape(
        book=found.book,
        stamp=found.stamp,
        value=_number(found.index),
        unrounded=None if averaged is None else six_decimals(averaged.figure.unrounded),
        exact=None if averaged is None else exact_text(averaged.figure.unrounded),
        shown_as=found.shown,
        average=None if averaged is None else plain_number(averaged.figure.value),
        low_index=_number(found.last.low),
        low_index_stated=found.last.is_low_stated,
        after_soft_cap=None if capped is None else plain_number(capped.soft),
        after_hard_cap=None if capped is None else plain_number(capped.hard),
        says=found.says,
        differentials=tuple(map(_differential, found.record)),
        exceptional=tuple(map(_exceptional, found.exceptional)),
        history=tuple(_on_day(day, index, found) for day, index in found.history),
        waiting_row=found.waiting_row,
        dropped_rows=found.dropped_rows,
        citations=citation_shapes(found.citations),
    )


def _on_day(day: date, index: Fraction, found: IndexFound) -> IndexOnDayShape:
    return IndexOnDayShape(day=day.isoformat(), index=plain_number(index), shown_as=found.written(index))


def _differential(told: OnRecordTold) -> DifferentialShape:
    return DifferentialShape(
        rows=told.rows,
        day=told.day.isoformat(),
        value=plain_number(told.figure.value),
        unrounded=six_decimals(told.figure.unrounded),
        exact=exact_text(told.figure.unrounded),
        adjusted_by=plain_number(told.adjusted_by),
        counts=told.counts,
    )


def _exceptional(one: Exceptional) -> ExceptionalShape:
    return ExceptionalShape(
        rows=one.numbers, index=plain_number(one.index), under=six_decimals(one.under), reduces=plain_number(one.reduce)
    )
