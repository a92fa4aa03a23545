"""The rules by which an Index becomes a Course Handicap, and a course its Slope Rating."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from marram.core.citations import Cited
from marram.core.errors import RuleDataError
from marram.handicaps.rules.rule_reader import RuleReader
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import HalfIndex


@dataclass(frozen=True, slots=True, kw_only=True)
class SlopeRules:
    """What a Slope Rating may be.

    Attributes:
        least: The lowest.
        most: The highest.
        standard: That of a course of standard difficulty.
        men_factor: By which bogey rating less Course Rating is multiplied for men.
        women_factor: The same for women.
        rating_decimals: Decimals of a Course Rating.
    """

    least: int
    most: int
    standard: int
    men_factor: Fraction
    women_factor: Fraction
    rating_decimals: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseHandicapRules:
    """How an Index becomes a Course Handicap.

    Attributes:
        standard_slope: Slope Rating by which the tee's is divided.
        adds_rating_less_par: Whether Course Rating less par is added.
        half_index: What half an Index is for nine holes.
        index_decimals: Decimals of an Index, and of half of one where that is rounded.
        decimals: Decimals of a Course Handicap.
    """

    standard_slope: int
    adds_rating_less_par: bool
    half_index: HalfIndex
    index_decimals: int
    decimals: int


def slope_rules(book: Book) -> Cited[SlopeRules]:
    """What a Slope Rating may be under a book."""
    read = RuleReader(book)
    rules = SlopeRules(
        least=read.whole("slope.least", least=1),
        most=read.whole("slope.most"),
        standard=read.whole("slope.standard", least=1),
        men_factor=_factor(read, "slope.men_factor"),
        women_factor=_factor(read, "slope.women_factor"),
        rating_decimals=read.whole("slope.rating_decimals"),
    )
    return Cited(value=rules, citations=read.citations)


def course_handicap_rules(book: Book, *, for_nine: bool = False) -> Cited[CourseHandicapRules]:
    """How an Index becomes a Course Handicap under a book.

    Args:
        book: The handicap book.
        for_nine: Whether nine holes are played: what half an Index is stands behind the figure then, and not else.
    """
    read = RuleReader(book)
    half = read.word("course-handicap-for-nine.half_index") if for_nine else book.word("course-handicap-for-nine.half_index").value
    rules = CourseHandicapRules(
        adds_rating_less_par=read.yes("course-handicap.rating_less_par"),
        half_index=HalfIndex(half),
        standard_slope=read.whole("slope.standard", least=1),
        index_decimals=RuleReader(book).decimals("index"),
        decimals=read.decimals("course-handicap"),
    )
    return Cited(value=rules, citations=read.citations)


def _factor(read: RuleReader, key: str) -> Fraction:
    found = read.exact(key)
    if not found:
        raise RuleDataError(f"The book {read.book.name} holds 0.", where=key, hint="Expected a number above zero.")
    return found
