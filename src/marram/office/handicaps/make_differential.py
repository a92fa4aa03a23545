"""Make a Score Differential of 18 holes, of two nines, or of nine holes with an expected differential."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from marram.core.citations import merged
from marram.core.field_names import Field
from marram.handicaps.differential import differential, joined, nine_hole_differential
from marram.handicaps.record_checks import EXPECTED, GROSS_OF_EIGHTEEN, GROSS_OF_NINE
from marram.handicaps.rounding import Figure
from marram.handicaps.rules.score_rules import DifferentialRules, conditions_rules, differential_rules
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND
from marram.handicaps.tees import Tee
from marram.office.handicaps.give_course_handicap import read_tee
from marram.office.handicaps.worked_figures import HandicapWorkedOut, number_words, worked_out
from marram.office.handicaps.written_figures import Written
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import NineHolesBy


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoreAsked:
    """A score as an official writes it down.

    Attributes:
        gross: Adjusted gross score.
        course_rating: Course Rating of the holes.
        slope: Slope Rating of the holes.
        holes: Holes played, 18 or nine.
        conditions: Playing-conditions adjustment of the day.
        expected: Expected differential of the other nine; empty where there is none.
        second: Score of the other nine as ``gross/rating/slope``; empty where there is none.
    """

    gross: str
    course_rating: str
    slope: str
    holes: int = FULL_ROUND
    conditions: str = "0"
    expected: str = ""
    second: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Score:
    gross: int
    course_rating: Fraction
    slope: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Read:
    first: _Score
    second: _Score | None
    conditions: int
    expected: Fraction | None


def make_differential(books: Sequence[Book], asked: ScoreAsked) -> tuple[HandicapWorkedOut, ...]:
    """Work out a Score Differential under each book.

    Args:
        books: Books of handicapping.
        asked: The score.

    Raises:
        HandicapError: Something cannot be as it is written, or a book takes what is not given; every fault is told.
    """
    read = _read(books, asked)
    return tuple(_under(book, read, asked.holes) for book in books)


def _read(books: Sequence[Book], asked: ScoreAsked) -> _Read:
    written = Written()
    if asked.holes not in {HALF_ROUND, FULL_ROUND}:
        written.fault(Field.ROUND_HOLES, f"{asked.holes} cannot be; expected {HALF_ROUND} or {FULL_ROUND}.")
    first = _score(written, asked.gross, asked.course_rating, asked.slope, asked.holes, books)
    second = None
    if asked.second:
        parts = asked.second.split("/")
        if len(parts) != 3:
            written.fault(Field.SECOND, f"{asked.second!r} is no score; expected gross/rating/slope, such as 45/35.9/118.")
        else:
            gross, rating, slope = parts
            second = _score(written, gross, rating, slope, HALF_ROUND, books)
    limits = conditions_rules(books[0]).value
    conditions = written.whole(Field.CONDITIONS, asked.conditions, limits.least, limits.most)
    expected = written.number(Field.EXPECTED, asked.expected) if asked.expected else None
    if expected is not None and not EXPECTED[0] <= expected <= EXPECTED[1]:
        written.fault(Field.EXPECTED, f"{asked.expected} for nine holes cannot be; expected {EXPECTED[0]} to {EXPECTED[1]}.")
    _check_other_half(written, asked, books)
    written.refuse()
    assert first is not None and conditions is not None
    return _Read(first=first, second=second, conditions=conditions, expected=expected)


def _check_other_half(written: Written, asked: ScoreAsked, books: Sequence[Book]) -> None:
    """Nine holes need what the book makes 18 of them with, and 18 holes need nothing."""
    if asked.holes > HALF_ROUND:
        for field, given in ((Field.SECOND, asked.second), (Field.EXPECTED, asked.expected)):
            if given:
                written.fault(field, "a score of 18 holes has no other half; give it with nine holes.")
        return
    for book in books:
        by_expected = differential_rules(book).value.nine_holes_by is NineHolesBy.EXPECTED_DIFFERENTIAL
        if by_expected and not asked.expected:
            written.fault(
                Field.EXPECTED, f"it is missing: {book.name} takes the expected differential; how it is worked out is not published."
            )
        if not by_expected and not asked.second:
            written.fault(Field.SECOND, f"it is missing: {book.name} joins two scores of nine holes.")


def _score(written: Written, gross: str, course_rating: str, slope: str, holes: int, books: Sequence[Book]) -> _Score | None:
    least, most = GROSS_OF_NINE if holes <= HALF_ROUND else GROSS_OF_EIGHTEEN
    found = written.whole(Field.GROSS, gross, least, most)
    if not course_rating.strip():
        written.fault(Field.COURSE_RATING, "it is missing; a tee without a rating gives no differential.")
    tee: Tee | None = read_tee(written, slope, course_rating, "", holes, books)
    if found is None or tee is None or tee.course_rating is None:
        return None
    return _Score(gross=found, course_rating=tee.course_rating, slope=tee.slope)


def _under(book: Book, read: _Read, holes: int) -> HandicapWorkedOut:
    cited, conditions = differential_rules(book), conditions_rules(book)
    rules, first = cited.value, read.first
    says: tuple[str, ...]
    if holes > HALF_ROUND:
        figure = differential(first.gross, first.course_rating, first.slope, read.conditions, rules)
        says = (f"{_formula(first, Fraction(read.conditions), rules)} = {number_words(figure.unrounded)}.",)
    else:
        figure, says = _of_nine(read, rules)
    cites = merged(cited.citations, conditions.citations if read.conditions else ())
    return replace(worked_out(book, "Score Differential", figure, rules.decimals, says, cites), is_handicap=True)


def _of_nine(read: _Read, rules: DifferentialRules) -> tuple[Figure, tuple[str, ...]]:
    taken = read.conditions * rules.conditions_nine_share
    scores = [read.first] + ([read.second] if read.second and rules.nine_holes_by is NineHolesBy.TWO_NINES else [])
    halves = [nine_hole_differential(one.gross, one.course_rating, one.slope, read.conditions, rules) for one in scores]
    says = [f"{_formula(one, taken, rules)} = {number_words(half)}." for one, half in zip(scores, halves, strict=True)]
    if len(halves) == 1:
        assert read.expected is not None
        halves.append(read.expected)
        says.append("The expected differential is an input: how it is worked out is not published.")
    figure = joined(halves[0], halves[1], rules)
    return figure, (*says, f"{number_words(halves[0])} + {number_words(halves[1])} = {number_words(figure.unrounded)}, rounded once.")


def _formula(score: _Score, conditions: Fraction, rules: DifferentialRules) -> str:
    less = f" - ({number_words(conditions)})" if conditions < 0 else f" - {number_words(conditions)}" if conditions else ""
    return f"{rules.standard_slope} / {score.slope} x ({score.gross} - {number_words(score.course_rating)}{less})"
