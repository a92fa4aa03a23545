"""Give a Playing Handicap: a Course Handicap with the allowance of a format, for one player, a side, or the players of a match."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from marram.core.citations import Citation, Cited, merged
from marram.core.errors import HandicapError
from marram.core.field_names import Field
from marram.handicaps.playing_handicap import added_for_tees, off_lowest, playing_handicap, side_handicap
from marram.handicaps.rounding import Figure
from marram.handicaps.rules.playing_rules import Allowance, PlayingHandicapRules, allowance_for, list_allowances, playing_handicap_rules
from marram.handicaps.tees import Tee
from marram.office.handicaps.give_course_handicap import IndexOnTees, course_figure, read_index_on_tees
from marram.office.handicaps.worked_figures import HandicapWorkedOut, PlayerWorkedOut, number_words, worked_out
from marram.office.handicaps.written_figures import Written
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import Shared, Takes, TeesDifferBy

_MOST_PCT = 150


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayingAsked:
    """What a Playing Handicap is asked for, as an official writes it down.

    Attributes:
        on_tees: An Index and the tees; None where Course Handicaps are given.
        course_handicaps: Course Handicaps before rounding: one, those of a side, or those of the players of a match.
        format: The format, by which the book's recommended allowance goes; empty where the allowance is given.
        allowance_pct: The allowance in per cent, as the terms have it; empty where the format gives it.
        lowest_par: Par of the tees with the lowest one, where totals are compared from different tees; empty where they are not.
        lowest_rating: The same of the Course Rating, for a book that levels by it.
    """

    on_tees: IndexOnTees | None = None
    course_handicaps: tuple[str, ...] = ()
    format: str = ""
    allowance_pct: str = ""
    lowest_par: str = ""
    lowest_rating: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FormatListed:
    """A format with its recommended allowance.

    Attributes:
        name: The format.
        means: What it is.
        shares: The share of each player, of a side the lowest Course Handicap first.
        pct: The shares in words.
        is_of_side: Whether a side has one Playing Handicap.
        is_off_lowest: Whether the lowest plays off zero and others receive the difference.
    """

    name: str
    means: str
    shares: tuple[Fraction, ...]
    pct: str
    is_of_side: bool
    is_off_lowest: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FormatsListed:
    """The formats of a book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        formats: Each format.
        citations: The rules.
    """

    book: str
    stamp: str
    formats: tuple[FormatListed, ...]
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Read:
    index: Fraction | None
    tee: Tee | None
    holes: int
    courses: tuple[Fraction, ...]
    share: Fraction | None
    lowest: Tee | None


def give_playing_handicap(books: Sequence[Book], asked: PlayingAsked) -> tuple[HandicapWorkedOut, ...]:
    """Work out a Playing Handicap under each book.

    Args:
        books: Books of handicapping.
        asked: What it is asked for.

    Raises:
        HandicapError: Something cannot be as it is written, or does not go together; every fault is told.
    """
    read = _read(books, asked)
    return tuple(_under(book, read, asked.format) for book in books)


def list_formats(books: Sequence[Book]) -> tuple[FormatsListed, ...]:
    """The formats of each book with the allowances that it recommends."""
    return tuple(_formats_of(book) for book in books)


def _formats_of(book: Book) -> FormatsListed:
    found = [allowance_for(book, name) for name in list_allowances(book)]
    formats = tuple(
        FormatListed(
            name=cited.value.name,
            means=cited.value.means,
            shares=cited.value.shares,
            pct=" / ".join(map(_pct, cited.value.shares)),
            is_of_side=cited.value.shared is Shared.SIDE,
            is_off_lowest=cited.value.takes is Takes.OFF_LOWEST,
        )
        for cited in found
    )
    return FormatsListed(book=book.name, stamp=book.stamp, formats=formats, citations=merged(*(cited.citations for cited in found)))


def _read(books: Sequence[Book], asked: PlayingAsked) -> _Read:
    written = Written()
    if (asked.on_tees is None) == (not asked.course_handicaps):
        written.fault(Field.COURSE_HANDICAP, "give an Index with its tees, or Course Handicaps, and not both.")
    if bool(asked.format) == bool(asked.allowance_pct):
        written.fault(Field.FORMAT, "give the format, whose allowance is taken, or the allowance of the terms, and not both.")
    courses = [written.unrounded_handicap(Field.COURSE_HANDICAP, one) for one in asked.course_handicaps]
    share = written.number(Field.ALLOWANCE, asked.allowance_pct) if asked.allowance_pct else None
    if share is not None and not 0 < share <= _MOST_PCT:
        written.fault(Field.ALLOWANCE, f"{asked.allowance_pct} per cent cannot be; expected more than 0 and {_MOST_PCT} at most.")
    lowest = _lowest(written, asked)
    index, tee = (None, None) if asked.on_tees is None else read_index_on_tees(written, books, asked.on_tees)
    holes = 0 if asked.on_tees is None else asked.on_tees.holes
    written.refuse()
    known = tuple(course for course in courses if course is not None)
    return _Read(index=index, tee=tee, holes=holes, courses=known, share=None if share is None else share / 100, lowest=lowest)


def _lowest(written: Written, asked: PlayingAsked) -> Tee | None:
    if not asked.lowest_par and not asked.lowest_rating:
        return None
    if asked.on_tees is None:
        written.fault(Field.LOWEST_PAR, "the tees differ from whose? Give the Index with its own tees.")
    par = written.whole(Field.LOWEST_PAR, asked.lowest_par, 27, 80) if asked.lowest_par else None
    rating = written.number(Field.LOWEST_RATING, asked.lowest_rating) if asked.lowest_rating else None
    return Tee(slope=0, course_rating=rating, par=par)


def _under(book: Book, read: _Read, format_: str) -> HandicapWorkedOut:
    cited = playing_handicap_rules(book)
    allowance = allowance_for(book, format_) if format_ else _of_the_terms(read.share)
    courses, says, citations = _courses(book, read)
    added = _added(read, cited.value)
    rules = merged(citations, cited.citations, allowance.citations)
    if allowance.value.shared is Shared.SIDE:
        return _side(book, courses, allowance.value, cited.value, says, rules)
    share = allowance.value.shares[0]
    figures = [playing_handicap(course, share, cited.value, added=added) for course in courses]
    plus = f" + {number_words(added)} for the tees" if added else ""
    said = [
        f"{number_words(course.unrounded)} x {_pct(share)}{plus} = {number_words(one.unrounded)}."
        for course, one in zip(courses, figures, strict=True)
    ]
    found = worked_out(book, "Playing Handicap", figures[0], cited.value.decimals, (*says, *said), rules)
    return _with_players(found, courses, figures, allowance.value)


def _of_the_terms(share: Fraction | None) -> Cited[Allowance]:
    assert share is not None
    allowance = Allowance(name="terms", means="As the terms have it.", shares=(share,), shared=Shared.EACH_PLAYER, takes=Takes.FULL)
    return Cited(value=allowance, citations=())


def _courses(book: Book, read: _Read) -> tuple[list[Figure], tuple[str, ...], tuple[Citation, ...]]:
    if read.index is None or read.tee is None:
        return [Figure(value=course, unrounded=course) for course in read.courses], (), ()
    figure, cited, formula = course_figure(book, read.index, read.tee, read.holes)
    return [figure], (f"Course Handicap {formula}.",), cited.citations


def _added(read: _Read, rules: PlayingHandicapRules) -> Fraction:
    if read.lowest is None or read.tee is None:
        return Fraction(0)
    by_rating = rules.tees_differ_by is TeesDifferBy.COURSE_RATING
    field = Field.LOWEST_RATING if by_rating else Field.LOWEST_PAR
    own, lowest = (read.tee.course_rating, read.lowest.course_rating) if by_rating else (read.tee.par, read.lowest.par)
    if lowest is None:
        raise HandicapError("Different tees are levelled by it under this book, and it is missing.", field=field)
    if own is not None and lowest > own:
        told = f"{number_words(Fraction(lowest))} lies above {number_words(Fraction(own))}, that of the player's own tees."
        raise HandicapError(told, field=field, hint="Give the lowest of all tees.")
    return added_for_tees(read.tee, [read.tee, read.lowest], rules)


def _side(
    book: Book,
    courses: Sequence[Figure],
    allowance: Allowance,
    rules: PlayingHandicapRules,
    says: tuple[str, ...],
    citations: tuple[Citation, ...],
) -> HandicapWorkedOut:
    try:
        figure = side_handicap(courses, allowance.shares, rules)
    except HandicapError as problem:
        raise HandicapError(problem.message, field=Field.COURSE_HANDICAP, hint=problem.hint) from None
    lowest_first = sorted(course.unrounded for course in courses)
    sum_ = " + ".join(f"{number_words(one)} x {_pct(share)}" for one, share in zip(lowest_first, allowance.shares, strict=True))
    told = f"{sum_} = {number_words(figure.unrounded)}, the lowest first."
    return worked_out(book, "Playing Handicap of the side", figure, rules.decimals, (*says, told), citations)


def _with_players(
    found: HandicapWorkedOut, courses: Sequence[Figure], figures: Sequence[Figure], allowance: Allowance
) -> HandicapWorkedOut:
    if len(courses) == 1:
        return found
    wholes = [figure.whole for figure in figures]
    receives = off_lowest(wholes) if allowance.takes is Takes.OFF_LOWEST else tuple(wholes)
    players = tuple(
        PlayerWorkedOut(course_handicap=course.unrounded, figure=figure, receives=strokes)
        for course, figure, strokes in zip(courses, figures, receives, strict=True)
    )
    return replace(found, players=players)


def _pct(share: Fraction) -> str:
    return f"{number_words(share * 100)} %"
