"""Score Differentials: what a score is worth on a course of standard difficulty."""

from __future__ import annotations

from fractions import Fraction

from marram.handicaps.rounding import Figure, rounded
from marram.handicaps.rules.score_rules import DifferentialRules


def differential(adjusted_gross: int, course_rating: Fraction, slope: int, conditions: int, rules: DifferentialRules) -> Figure:
    """The Score Differential of a round of 18 holes.

    Args:
        adjusted_gross: Adjusted gross score.
        course_rating: Course Rating.
        slope: Slope Rating.
        conditions: Playing-conditions adjustment of the day; above zero where the course played harder.
        rules: How a score becomes a differential.

    Source:
        Rules of Handicapping 2020 and 2024, Rules 5.1a and 5.1c.
    """
    return rounded(_over_rating(adjusted_gross - course_rating - conditions, slope, rules), rules.decimals)


def nine_hole_differential(adjusted_gross: int, course_rating: Fraction, slope: int, conditions: int, rules: DifferentialRules) -> Fraction:
    """The differential of nine holes, which is not rounded: it is half of one that is.

    Args:
        adjusted_gross: Adjusted gross score of the nine holes.
        course_rating: Their Course Rating.
        slope: Their Slope Rating.
        conditions: Playing-conditions adjustment of the day, whole; nine holes take their share of it.
        rules: How a score becomes a differential.

    Source:
        Rules of Handicapping 2020 and 2024, Rule 5.1b.
    """
    return _over_rating(adjusted_gross - course_rating - conditions * rules.conditions_nine_share, slope, rules)


def joined(one_nine: Fraction, other_nine: Fraction, rules: DifferentialRules) -> Figure:
    """The differential that a score of nine holes makes with another, or with the expected one: added, and rounded once.

    Args:
        one_nine: Unrounded differential of nine holes.
        other_nine: That of the other nine, or the expected one for the player's Index, which is not published and must be given.
        rules: How a score becomes a differential.

    Source:
        Rules of Handicapping 2020, Rule 5.1b and note 1; Rules of Handicapping 2024, Rule 5.1b.
    """
    return rounded(one_nine + other_nine, rules.decimals)


def _over_rating(over: Fraction, slope: int, rules: DifferentialRules) -> Fraction:
    return over * rules.standard_slope / slope
