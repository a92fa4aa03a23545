"""Give a Course Handicap: what an Index gives on a set of tees, under each book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from marram.core.citations import Cited
from marram.core.field_names import Field
from marram.handicaps.course_handicap import course_handicap, half_index
from marram.handicaps.rounding import Figure
from marram.handicaps.rules.course_rules import CourseHandicapRules, course_handicap_rules, slope_rules
from marram.handicaps.rules.index_rules import index_rules
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND
from marram.handicaps.tees import Tee, faults_of_par, faults_of_rating, faults_of_slope
from marram.handicaps.written_handicaps import tell_handicap
from marram.office.handicaps.worked_figures import HandicapWorkedOut, number_words, worked_out
from marram.office.handicaps.written_figures import Written
from marram.rulebook.book import Book


@dataclass(frozen=True, slots=True, kw_only=True)
class IndexOnTees:
    """An Index and the tees, as an official writes them down.

    Attributes:
        index: Handicap Index, such as ``12.2`` or ``+2.4``.
        slope: Slope Rating of the holes played.
        course_rating: Course Rating of the holes played; empty where it is not known.
        par: Par of the holes played; empty where it is not known.
        holes: Holes played, 18 or nine.
    """

    index: str
    slope: str
    course_rating: str = ""
    par: str = ""
    holes: int = FULL_ROUND


def give_course_handicap(books: Sequence[Book], asked: IndexOnTees) -> tuple[HandicapWorkedOut, ...]:
    """Work out a Course Handicap under each book.

    Args:
        books: Books of handicapping.
        asked: The Index and the tees.

    Raises:
        HandicapError: Something cannot be as it is written, or a book takes what is not given; every fault is told.
    """
    written = Written()
    index, tee = read_index_on_tees(written, books, asked)
    written.refuse()
    assert index is not None and tee is not None
    return tuple(_under(book, index, tee, asked.holes) for book in books)


def read_index_on_tees(written: Written, books: Sequence[Book], asked: IndexOnTees) -> tuple[Fraction | None, Tee | None]:
    """The Index and the tees as numbers; None for what is wrong, its faults noted."""
    if asked.holes not in {HALF_ROUND, FULL_ROUND}:
        written.fault(Field.ROUND_HOLES, f"{asked.holes} cannot be; expected {HALF_ROUND} or {FULL_ROUND}.")
    index = written.index(Field.HANDICAP_INDEX, asked.index, max(index_rules(book).value.most for book in books))
    tee = read_tee(written, asked.slope, asked.course_rating, asked.par, asked.holes, books)
    needs = [book.name for book in books if course_handicap_rules(book).value.adds_rating_less_par]
    for field, given in ((Field.COURSE_RATING, asked.course_rating), (Field.PAR, asked.par)):
        if needs and not given:
            written.fault(field, f"it is missing, and {needs[0]} adds Course Rating less par.")
    return index, tee


def read_tee(written: Written, slope: str, course_rating: str, par: str, holes: int, books: Sequence[Book]) -> Tee | None:
    """The tees as numbers; None where one of them is wrong, its faults noted."""
    rules = slope_rules(books[0]).value
    found_slope = written.whole(Field.SLOPE, slope, 0, 999)
    found_rating = written.number(Field.COURSE_RATING, course_rating) if course_rating else None
    found_par = written.whole(Field.PAR, par, 0, 999) if par else None
    if found_slope is not None:
        written.faults(Field.SLOPE, (f"{fault}." for fault in faults_of_slope(found_slope, rules)))
    if found_rating is not None:
        written.faults(Field.COURSE_RATING, (f"{fault}." for fault in faults_of_rating(found_rating, holes)))
    if found_par is not None:
        written.faults(Field.PAR, (f"{fault}." for fault in faults_of_par(found_par, holes)))
    return None if found_slope is None else Tee(slope=found_slope, course_rating=found_rating, par=found_par)


def course_figure(book: Book, index: Fraction, tee: Tee, holes: int) -> tuple[Figure, Cited[CourseHandicapRules], str]:
    """The Course Handicap under a book, the rules that it follows, and how it came about."""
    for_nine = holes == HALF_ROUND
    cited = course_handicap_rules(book, for_nine=for_nine)
    rules = cited.value
    used = half_index(index, rules) if for_nine else index
    figure = course_handicap(used, tee, rules)
    half = f"half of {tell_handicap(index, rules.index_decimals)} is {number_words(used)}; " if for_nine else ""
    less_par = ""
    if rules.adds_rating_less_par and tee.course_rating is not None:
        less_par = f" + ({number_words(tee.course_rating)} - {tee.par})"
    formula = f"{half}{number_words(used)} x {tee.slope} / {rules.standard_slope}{less_par} = {number_words(figure.unrounded)}"
    return figure, cited, formula


def _under(book: Book, index: Fraction, tee: Tee, holes: int) -> HandicapWorkedOut:
    figure, cited, formula = course_figure(book, index, tee, holes)
    left_out = () if cited.value.adds_rating_less_par else ("Course Rating less par is left out.",)
    return worked_out(book, "Course Handicap", figure, cited.value.decimals, (f"{formula}.", *left_out), cited.citations)
