"""Find a Handicap Index: a record of scores followed to its end under each book, with what counted and what moved it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from marram.core.citations import Citation, merged
from marram.core.field_names import Field
from marram.core.words import counted
from marram.handicaps.index_on_record import DayOnRecord, Exceptional, IndexOnRecord, follow_record
from marram.handicaps.record_checks import RecordFault, RecordLimits, faults_of_lost_plus
from marram.handicaps.rounding import Figure
from marram.handicaps.rules.course_rules import slope_rules
from marram.handicaps.rules.index_rules import IndexRules, index_rules
from marram.handicaps.rules.score_rules import conditions_rules, differential_rules
from marram.handicaps.score_record import PostedRecord, RoundPosted, post
from marram.handicaps.written_handicaps import tell_handicap
from marram.office.handicaps.worked_figures import number_words
from marram.office.handicaps.written_figures import Written
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import NineHolesBy


@dataclass(frozen=True, slots=True, kw_only=True)
class OnRecordTold:
    """A differential on the record.

    Attributes:
        rows: Rows of the rounds that it is made of.
        day: Day of the last of them.
        figure: The differential, before and after rounding.
        adjusted_by: What exceptional scores have taken off it, zero or below.
        counts: Whether it is among the lowest that are averaged.
    """

    rows: tuple[int, ...]
    day: date
    figure: Figure
    adjusted_by: Fraction
    counts: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class IndexFound:
    """An Index under a book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        index: The Index; None where the record gives none.
        last: The last day of the record.
        record: Every differential, the oldest first.
        exceptional: Every exceptional score.
        history: The Index after each day on which there was one.
        waiting_row: Row of a score of nine holes that waits for another; None where none does.
        dropped_rows: Rows of scores of nine holes that waited too long.
        decimals: Decimals of an Index.
        says: How it came about.
        citations: The rules.
    """

    book: str
    stamp: str
    index: Fraction | None
    last: DayOnRecord
    record: tuple[OnRecordTold, ...]
    exceptional: tuple[Exceptional, ...]
    history: tuple[tuple[date, Fraction], ...]
    waiting_row: int | None
    dropped_rows: tuple[int, ...]
    decimals: int
    says: tuple[str, ...]
    citations: tuple[Citation, ...]

    @property
    def shown(self) -> str | None:
        """The Index as it is written; None where there is none."""
        return None if self.index is None else self.written(self.index)

    def written(self, index: Fraction) -> str:
        """An Index as it is written."""
        return tell_handicap(index, self.decimals)


def record_limits(books: Sequence[Book]) -> RecordLimits:
    """What the figures of a record can be under some books."""
    takes = [book.name for book in books if differential_rules(book).value.nine_holes_by is NineHolesBy.EXPECTED_DIFFERENTIAL]
    return RecordLimits(
        slope=slope_rules(books[0]).value,
        conditions=conditions_rules(books[0]).value,
        index_most=max(index_rules(book).value.most for book in books),
        takes_expected=takes[0] if takes else "",
        differential=differential_rules(books[0]).value,
    )


def find_index(books: Sequence[Book], rounds: Sequence[RoundPosted], *, low_index: str = "") -> tuple[IndexFound, ...]:
    """Follow a record to its end under each book.

    Args:
        books: Books of handicapping.
        rounds: The rounds, the oldest first.
        low_index: The Low Index before the last day, where it is known from elsewhere; empty where it is not.

    Raises:
        HandicapError: The Low Index cannot be, or the record is too short for one.
    """
    return tuple(_under(book, rounds, low) for book, low in zip(books, _stated_low(books, rounds, low_index), strict=True))


def lost_plus(books: Sequence[Book], rounds: Sequence[RoundPosted]) -> tuple[RecordFault, ...]:
    """Indexes that the record states without the plus that it gives itself."""
    book = books[0]
    posted = _posted(book, rounds)
    return tuple(faults_of_lost_plus(rounds, follow_record(posted.posted, index_rules(book).value)))


def _posted(book: Book, rounds: Sequence[RoundPosted]) -> PostedRecord:
    return post(rounds, differential_rules(book).value, index_rules(book).value.recent)


def _stated_low(books: Sequence[Book], rounds: Sequence[RoundPosted], low_index: str) -> Iterator[Fraction | None]:
    written = Written()
    low = written.index(Field.LOW_INDEX, low_index, max(index_rules(book).value.most for book in books)) if low_index else None
    for book in books if low is not None else ():
        least, held = index_rules(book).value.low_index.scores_least, len(_posted(book, rounds).posted)
        if held < least:
            written.fault(
                Field.LOW_INDEX, f"the record holds {counted(held, 'differential')}; {book.name} has a Low Index from {least} on."
            )
    written.refuse()
    return iter([low] * len(books))


def _under(book: Book, rounds: Sequence[RoundPosted], low: Fraction | None) -> IndexFound:
    cited, of_scores = index_rules(book), differential_rules(book)
    record = _posted(book, rounds)
    followed = follow_record(record.posted, cited.value, stated_low=low)
    last = followed.days[-1] if followed.days else _no_day(rounds)
    return IndexFound(
        book=book.name,
        stamp=book.stamp,
        index=last.index,
        last=last,
        record=_told(followed, last),
        exceptional=tuple(one for day in followed.days for one in day.exceptional),
        history=tuple((day.day, day.index) for day in followed.days if day.index is not None),
        waiting_row=record.waiting,
        dropped_rows=record.dropped,
        decimals=cited.value.decimals,
        says=tuple(_says(followed, last, record, cited.value)),
        citations=merged(cited.citations, of_scores.citations),
    )


def _no_day(rounds: Sequence[RoundPosted]) -> DayOnRecord:
    return DayOnRecord(day=rounds[-1].day, posted=(), exceptional=(), averaged=None, low=None, is_low_stated=False, capped=None, index=None)


def _told(followed: IndexOnRecord, last: DayOnRecord) -> tuple[OnRecordTold, ...]:
    counting = set() if last.averaged is None else set(last.averaged.counted)
    return tuple(
        OnRecordTold(
            rows=entry.posted.numbers,
            day=entry.posted.day,
            figure=entry.posted.figure,
            adjusted_by=entry.adjusted_by,
            counts=place in counting,
        )
        for place, entry in enumerate(followed.record)
    )


def _says(followed: IndexOnRecord, last: DayOnRecord, record: PostedRecord, rules: IndexRules) -> Iterator[str]:
    """How the Index came about, one thing a sentence."""
    if last.averaged is None or last.capped is None:
        holes = sum(entry.posted.holes for entry in followed.record)
        held = f"{counted(len(followed.record), 'differential')} of {holes} holes"
        yield f"There is no Index yet: {held}; it takes {rules.bands[0].scores_least} and {rules.holes_least} holes."
    else:
        yield _average_words(last, len(followed.record), rules)
        yield from _cap_words(last, rules)
    for one in (one for day in followed.days for one in day.exceptional):
        rows = " and ".join(map(str, one.numbers))
        under = f"{number_words(one.under)} under the Index of {tell_handicap(one.index, rules.decimals)}"
        yield f"Row {rows} is exceptional, {under}: {number_words(one.reduce)} off each of the {rules.recent} most recent then."
    if record.waiting is not None:
        yield f"Row {record.waiting}, nine holes, waits for another nine."
    if record.dropped:
        yield f"Nine holes that waited too long are dropped: row {', '.join(map(str, record.dropped))}."


def _average_words(last: DayOnRecord, held: int, rules: IndexRules) -> str:
    assert last.averaged is not None
    band, figure = last.averaged.band, last.averaged.figure
    less = f", less {number_words(band.subtract)}" if band.subtract else ""
    looked_at = min(held, rules.recent)
    told = tell_handicap(figure.value, rules.decimals)
    return f"Lowest {band.lowest} of {looked_at} differentials{less}: {number_words(figure.unrounded)}, rounded {told}."


def _cap_words(last: DayOnRecord, rules: IndexRules) -> Iterator[str]:
    assert last.capped is not None
    if last.index is not None and last.index < last.capped.hard:
        yield f"No Index lies above {tell_handicap(rules.most, rules.decimals)}."
    if last.low is None:
        yield f"No Low Index stood before the last day, so no cap: it takes {rules.low_index.scores_least} differentials before that day."
        return
    whose = (
        "as stated"
        if last.is_low_stated
        else f"the lowest worked out here in the {rules.low_index.days} days before the last score that stood"
    )
    yield f"Low Index {tell_handicap(last.low, rules.decimals)}, {whose}."
    if last.capped.is_soft:
        yield f"Soft cap: {tell_handicap(last.capped.soft, rules.decimals)}."
    if last.capped.is_hard:
        yield f"Hard cap: {tell_handicap(last.capped.hard, rules.decimals)}."
