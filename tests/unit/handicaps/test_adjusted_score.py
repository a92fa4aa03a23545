"""Scores for handicap, worked by hand from the Rules of Handicapping 2020 and 2024, Rules 2.2, 3.1, 3.2 and 3.3."""

from dataclasses import replace
from fractions import Fraction

import pytest

from marram.core.errors import HandicapError
from marram.handicaps.adjusted_score import (
    HoleCard,
    ScoreOf,
    adjusted_gross,
    entered_for_holes_not_played,
    hole_limits,
    holes_to_fill,
    most_likely_scores,
    net_double_bogey,
    score_of,
)
from marram.handicaps.rules.score_rules import hole_limit_rules, holes_not_played_rules, most_likely_rules
from marram.interchange.books.book_files import read_handicap_book

BOOK, TWO_NINES = read_handicap_book("2024"), read_handicap_book("2020")
TEN_HOLES = read_handicap_book("2020+ten-holes-make-eighteen")
LIMITS = hole_limit_rules(BOOK).value
PARS = [4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4]
INDEXES = [9, 5, 17, 11, 1, 7, 15, 3, 13, 8, 16, 4, 14, 2, 10, 18, 6, 12]
HOLES = [HoleCard(par=par, stroke_index=index) for par, index in zip(PARS, INDEXES, strict=True)]
BY_NUMBER = dict(enumerate(HOLES, start=1))


@pytest.mark.parametrize(
    ("course_handicap", "strokes", "most"),
    [
        (15, 1, 7),  # 4 + 2 + 1
        (-2, -1, 5),
        (54, 3, 9),
        (55, 3, 9),  # over 54, but only three strokes: 4 + 2 + 3
        (55, 4, 9),  # over 54 and four strokes: par + 5
        (80, 5, 9),
        (54, 4, 10),  # four strokes can only come up to 54 on nine holes; not over 54, so not limited
        (None, 0, 9),  # no Index yet: par + 5
    ],
)
def test_net_double_bogey_of_a_par_4(course_handicap: int | None, strokes: int, most: int) -> None:
    assert net_double_bogey(4, strokes, course_handicap, LIMITS) == most


def test_limits_of_a_round_and_the_score_that_follows() -> None:
    limits = hole_limits(HOLES, 14, LIMITS)
    assert list(limits) == [7, 7, 5, 8, 7, 7, 5, 7, 8, 7, 5, 7, 8, 7, 7, 5, 8, 7]
    gross = [5, 4, 4, 6, 9, 5, 3, 5, 6, 4, 4, 6, 5, 10, 5, 3, 7, 4]
    assert adjusted_gross(gross, limits) == 95 - 2 - 3
    picked_up = [None if score in {9, 10} else score for score in gross]
    assert adjusted_gross(picked_up, limits) == 90
    assert list(hole_limits(HOLES, None, LIMITS)) == [par + 5 for par in PARS]
    with pytest.raises(HandicapError, match="17 scores for 18 holes"):
        adjusted_gross(gross[:-1], limits)


def test_limits_of_nine_holes_take_strokes_in_the_order_of_the_nine() -> None:
    assert list(hole_limits(HOLES[:9], 2, LIMITS)) == [6, 6, 5, 7, 7, 6, 5, 7, 7]


@pytest.mark.parametrize(
    ("book", "played", "of", "made", "filled"),
    [
        ("2020", 14, 18, ScoreOf.EIGHTEEN, 4),
        ("2020", 13, 18, ScoreOf.NINE, 0),
        ("2020", 10, 18, ScoreOf.NINE, 0),
        ("2020", 7, 9, ScoreOf.NINE, 2),
        ("2020", 6, 9, ScoreOf.NOTHING, 0),
        ("2024", 10, 18, ScoreOf.EIGHTEEN, 8),
        ("2024", 9, 18, ScoreOf.NINE, 0),
        ("2024", 8, 9, ScoreOf.NOTHING, 0),
        ("2024", 9, 9, ScoreOf.NINE, 0),
        ("2020+ten-holes-make-eighteen", 10, 18, ScoreOf.EIGHTEEN, 8),
        ("2020+ten-holes-make-eighteen", 8, 9, ScoreOf.NOTHING, 0),
    ],
)
def test_what_so_many_holes_make(book: str, played: int, of: int, made: ScoreOf, filled: int) -> None:
    rules = holes_not_played_rules(read_handicap_book(book)).value
    assert score_of(played, of, rules) is made
    assert holes_to_fill(played, made) == filled


def test_holes_not_played_count_net_par() -> None:
    # Course Handicap 14: a stroke at index 12 and 6, none at 18: holes 16, 17, 18 count 3, 6, 5.
    rules = holes_not_played_rules(TWO_NINES).value
    assert entered_for_holes_not_played(BY_NUMBER, [17, 18], 14, rules) == {17: 6, 18: 5}
    assert entered_for_holes_not_played(BY_NUMBER, [16], -1, rules) == {16: 2}
    with pytest.raises(HandicapError, match="no hole 19"):
        entered_for_holes_not_played(BY_NUMBER, [19], 14, rules)


def test_nine_holes_never_make_a_score_of_18() -> None:
    rules = replace(holes_not_played_rules(BOOK).value, eighteen_least=8)
    assert score_of(9, 9, rules) is ScoreOf.NINE
    assert score_of(9, 18, rules) is ScoreOf.EIGHTEEN


def test_holes_not_played_of_a_nine_take_strokes_in_the_order_of_the_nine() -> None:
    # Holes 1-9: indexes in order 1 3 5 7 ... 17. With 2 strokes holes 5 and 8 have one; hole 8 (index 3) is second of the nine.
    front = {number: hole for number, hole in BY_NUMBER.items() if number <= 9}
    entered = entered_for_holes_not_played(front, [8, 9], 2, holes_not_played_rules(TWO_NINES).value)
    assert entered == {8: 5, 9: 5}


def test_with_ten_to_thirteen_holes_the_first_not_played_counts_one_more() -> None:
    rules = holes_not_played_rules(TEN_HOLES).value
    entered = entered_for_holes_not_played(BY_NUMBER, [13, 14, 15, 16, 17, 18], 14, rules)
    assert entered == {13: 7, 14: 5, 15: 5, 16: 3, 17: 6, 18: 5}
    assert entered_for_holes_not_played(BY_NUMBER, [14, 15, 16, 17, 18], 14, rules)[14] == 6  # 13 played
    assert entered_for_holes_not_played(BY_NUMBER, [15, 16, 17, 18], 14, rules)[15] == 5  # 14 played


def test_where_an_expected_differential_stands_for_them_no_score_is_entered() -> None:
    with pytest.raises(HandicapError, match="not published"):
        entered_for_holes_not_played(BY_NUMBER, [18], 14, holes_not_played_rules(BOOK).value)


@pytest.mark.parametrize(
    ("distance_yd", "scores"),
    # Rule 3.3: within 5 ft 1 stroke, to 20 yd 2 or 3, beyond 3 or 4.
    [("1", (5,)), ("5/3", (5,)), ("17/10", (6, 7)), ("15", (6, 7)), ("20", (6, 7)), ("20.5", (7, 8)), ("150", (7, 8))],
)
def test_most_likely_scores_after_four_strokes(distance_yd: str, scores: tuple[int, ...]) -> None:
    assert most_likely_scores(4, Fraction(distance_yd), most_likely_rules(BOOK).value) == scores
