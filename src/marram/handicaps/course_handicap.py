"""From an Index to the strokes that a set of tees gives, over 18 holes and over nine."""

from __future__ import annotations

from fractions import Fraction

from marram.handicaps.rounding import Figure, round_half_up, rounded
from marram.handicaps.rules.course_rules import CourseHandicapRules
from marram.handicaps.tees import Tee
from marram.rulebook.handicap_words import HalfIndex


def course_handicap(index: Fraction, tee: Tee, rules: CourseHandicapRules) -> Figure:
    """The Course Handicap for 18 holes; what is used further on in exact sums is the unrounded figure.

    Args:
        index: Handicap Index; below zero for a plus handicap.
        tee: The tees.
        rules: How an Index becomes a Course Handicap.

    Raises:
        HandicapError: The rules add Course Rating less par, and the tee lacks one.

    Source:
        Rules of Handicapping 2020 and 2024, Rule 6.1a.
    """
    by_slope = index * tee.slope / rules.standard_slope
    return rounded(by_slope + (tee.rating_less_par if rules.adds_rating_less_par else 0), rules.decimals)


def half_index(index: Fraction, rules: CourseHandicapRules) -> Fraction:
    """What half an Index is for nine holes."""
    half = index / 2
    return round_half_up(half, rules.index_decimals) if rules.half_index is HalfIndex.ROUNDED_TO_A_TENTH else half


def course_handicap_for_nine(index: Fraction, tee: Tee, rules: CourseHandicapRules) -> Figure:
    """The Course Handicap for nine holes, of half the Index and the ratings of the nine.

    Args:
        index: Handicap Index, whole.
        tee: The tees, with rating, slope and par of the nine holes.
        rules: How an Index becomes a Course Handicap.

    Raises:
        HandicapError: The rules add Course Rating less par, and the tee lacks one.

    Source:
        Rules of Handicapping 2024, Rule 6.1b; National local guidance for Rule 6 (2024) for the rounded half.
    """
    return course_handicap(half_index(index, rules), tee, rules)
