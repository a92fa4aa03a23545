"""Tees with their ratings, what is wrong with them, and the Slope Rating that follows from two ratings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from marram.core.errors import HandicapError
from marram.handicaps.rounding import Figure, in_decimals, rounded
from marram.handicaps.rules.course_rules import SlopeRules
from marram.handicaps.strokes_on_holes import HALF_ROUND

_RATINGS = {True: (Fraction(20), Fraction(45)), False: (Fraction(40), Fraction(90))}
_PARS = {True: (27, 40), False: (54, 80)}
"""What a rating and a par of nine holes, or of more, can be: our own limits, wide of every course that is played."""


class RatedFor(StrEnum):
    """Whose scores a rating speaks of; men and women have factors of their own."""

    MEN = "men"
    WOMEN = "women"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tee:
    """A set of tees.

    Attributes:
        slope: Slope Rating.
        course_rating: Course Rating for the holes played; None where it is not known.
        par: Par of the holes played; None where it is not known.
    """

    slope: int
    course_rating: Fraction | None = None
    par: int | None = None

    @property
    def rating_less_par(self) -> Fraction:
        """Course Rating less par.

        Raises:
            HandicapError: One of them is not known.
        """
        if self.course_rating is None or self.par is None:
            lacks = "Course Rating" if self.course_rating is None else "par"
            raise HandicapError(f"The tee has no {lacks}.", hint="A Course Handicap takes Course Rating, Slope Rating and par.")
        return self.course_rating - self.par


def faults_of_slope(slope: int, rules: SlopeRules) -> Iterator[str]:
    """What is wrong with a Slope Rating."""
    if not rules.least <= slope <= rules.most:
        yield f"a Slope Rating of {slope} cannot be; expected {rules.least} to {rules.most}"


def faults_of_rating(course_rating: Fraction, holes: int) -> Iterator[str]:
    """What is wrong with a Course Rating."""
    least, most = _RATINGS[holes <= HALF_ROUND]
    if not least <= course_rating <= most:
        told = in_decimals(course_rating, 1)
        yield f"a Course Rating of {told} for {holes} holes cannot be; expected {least} to {most}"
    elif (course_rating * 10).denominator != 1:
        yield "a Course Rating has one decimal"


def faults_of_par(par: int, holes: int) -> Iterator[str]:
    """What is wrong with the par of the holes together."""
    least, most = _PARS[holes <= HALF_ROUND]
    if not least <= par <= most:
        yield f"a par of {par} for {holes} holes cannot be; expected {least} to {most}"


def faults_of_tee(tee: Tee, holes: int, rules: SlopeRules) -> Iterator[str]:
    """Everything that is wrong with a set of tees.

    Args:
        tee: The tees.
        holes: Holes that its rating and par speak of.
        rules: What a Slope Rating may be.
    """
    yield from faults_of_slope(tee.slope, rules)
    if tee.course_rating is not None:
        yield from faults_of_rating(tee.course_rating, holes)
    if tee.par is not None:
        yield from faults_of_par(tee.par, holes)


def slope_rating(bogey_rating: Fraction, course_rating: Fraction, rated_for: RatedFor, rules: SlopeRules) -> Figure:
    """The Slope Rating of a course: how much more it asks of a bogey player than of a scratch player.

    Args:
        bogey_rating: Bogey rating.
        course_rating: Course Rating.
        rated_for: For whom it is rated.
        rules: The factors and what a Slope Rating may be.

    Source:
        Rules of Handicapping 2020, Appendix G; definitions of the Course Rating System.
    """
    figure = rounded(_factor(rated_for, rules) * (bogey_rating - course_rating))
    within = min(max(figure.value, Fraction(rules.least)), Fraction(rules.most))
    return Figure(value=within, unrounded=figure.unrounded)


def bogey_rating(slope: int, course_rating: Fraction, rated_for: RatedFor, rules: SlopeRules) -> Figure:
    """The bogey rating that a Slope Rating stands for; the other way round."""
    return rounded(course_rating + slope / _factor(rated_for, rules), rules.rating_decimals)


def _factor(rated_for: RatedFor, rules: SlopeRules) -> Fraction:
    return rules.men_factor if rated_for is RatedFor.MEN else rules.women_factor
