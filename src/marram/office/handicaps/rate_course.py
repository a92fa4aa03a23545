"""Rate a course: the Slope Rating of two ratings, and how well its stroke indexes are spread."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from marram.core.field_names import Field
from marram.core.words import counted
from marram.handicaps.rules.course_rules import slope_rules
from marram.handicaps.stroke_index_check import IndexCheck, check_stroke_indexes
from marram.handicaps.strokes_on_holes import FULL_ROUND
from marram.handicaps.tees import RatedFor, faults_of_rating, slope_rating
from marram.office.handicaps.worked_figures import HandicapWorkedOut, number_words, worked_out
from marram.office.handicaps.written_figures import Written, all_known
from marram.rulebook.book import Book

_HIGHEST_BOGEY = Fraction(150)
"""No bogey rating lies higher: our own limit."""


def check_indexes(stroke_index: str) -> tuple[IndexCheck, ...]:
    """Hold the stroke indexes of 18 holes against what is recommended.

    Args:
        stroke_index: Stroke index of each hole, apart by commas.

    Raises:
        HandicapError: They are not 18 numbers from 1 to 18; every fault is told.
    """
    written = Written()
    indexes = written.wholes(Field.STROKE_INDEX, stroke_index, 1, FULL_ROUND)
    if len(indexes) != FULL_ROUND:
        written.fault(Field.STROKE_INDEX, f"it holds {counted(len(indexes), 'number')}; expected {FULL_ROUND}.")
    written.refuse()
    return check_stroke_indexes(all_known(indexes))


def give_slope(books: Sequence[Book], course_rating: str, bogey_rating: str, rated_for: str) -> tuple[HandicapWorkedOut, ...]:
    """Work out a Slope Rating under each book.

    Args:
        books: Books of handicapping.
        course_rating: Course Rating of 18 holes.
        bogey_rating: Their bogey rating.
        rated_for: For whom they are rated, a word of ``RatedFor``.

    Raises:
        HandicapError: Something cannot be as it is written; every fault is told.
    """
    written = Written()
    rating, bogey = written.number(Field.COURSE_RATING, course_rating), written.number(Field.BOGEY_RATING, bogey_rating)
    if rating is not None:
        written.faults(Field.COURSE_RATING, (f"{fault}." for fault in faults_of_rating(rating, FULL_ROUND)))
    if rating is not None and bogey is not None and not rating < bogey <= _HIGHEST_BOGEY:
        written.fault(Field.BOGEY_RATING, f"{bogey_rating} cannot be; expected more than the Course Rating, and {_HIGHEST_BOGEY} at most.")
    written.refuse()
    assert rating is not None and bogey is not None
    return tuple(_slope_under(book, rating, bogey, RatedFor(rated_for)) for book in books)


def _slope_under(book: Book, rating: Fraction, bogey: Fraction, rated_for: RatedFor) -> HandicapWorkedOut:
    cited = slope_rules(book)
    figure = slope_rating(bogey, rating, rated_for, cited.value)
    factor = cited.value.men_factor if rated_for is RatedFor.MEN else cited.value.women_factor
    formula = f"{number_words(factor)} x ({number_words(bogey)} - {number_words(rating)}) = {number_words(figure.unrounded)}."
    limits = f"No Slope Rating lies below {cited.value.least} or above {cited.value.most}."
    is_limited = abs(figure.value - figure.unrounded) > Fraction(1, 2)
    return worked_out(book, "Slope Rating", figure, 0, (formula, *((limits,) if is_limited else ())), cited.citations)
