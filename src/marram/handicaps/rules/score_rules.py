"""The rules by which the strokes of a round become a score for handicap, and that score a differential."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from marram.core.citations import Cited
from marram.handicaps.rules.rule_reader import RuleReader
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import FilledBy, NineHolesBy


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleLimitRules:
    """The most that a hole counts for handicap.

    Attributes:
        over_par: Strokes over par before those received.
        no_index_over_par: Strokes over par where the player has no Index yet.
        limited_above: Course Handicap above which the most over par is limited.
        limited_from: Strokes received on the hole from which it is.
        limited_over_par: Strokes over par of such a hole.
    """

    over_par: int
    no_index_over_par: int
    limited_above: int
    limited_from: int
    limited_over_par: int


@dataclass(frozen=True, slots=True, kw_only=True)
class HolesNotPlayedRules:
    """How many holes make a score, and what is entered for the others.

    Attributes:
        eighteen_least: Holes of 18 that make a score of 18.
        nine_least: Holes that make a score of nine.
        filled_by: What stands for holes not played.
        first_one_more_below: Holes played below which the first of them counts net par and one; 0 where none does.
    """

    eighteen_least: int
    nine_least: int
    filled_by: FilledBy
    first_one_more_below: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MostLikelyRules:
    """Strokes that are added to a hole begun and not finished.

    Attributes:
        near_in: Distance up to which the fewest are added, inches.
        far_yd: Distance beyond which the most are added, yards.
        near: Strokes near the hole.
        middle: Fewest and most strokes between the two.
        far: Fewest and most strokes beyond.
    """

    near_in: Fraction
    far_yd: Fraction
    near: int
    middle: tuple[int, int]
    far: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class DifferentialRules:
    """How a score becomes a Score Differential.

    Attributes:
        standard_slope: Slope Rating of a course of standard difficulty.
        nine_holes_by: What makes a score of nine holes one of 18.
        conditions_nine_share: Share of the playing-conditions adjustment in a score of nine holes.
        decimals: Decimals of a Score Differential.
    """

    standard_slope: int
    nine_holes_by: NineHolesBy
    conditions_nine_share: Fraction
    decimals: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionsRules:
    """How far a day's conditions may move scores.

    Attributes:
        least: The lowest adjustment, below zero for a day that played easier.
        most: The highest.
        scores_least: Acceptable scores of the day that it takes.
        index_most: Highest Index of a player whose score counts among them.
    """

    least: int
    most: int
    scores_least: int
    index_most: Fraction

    def may_move(self, scores_that_count: int) -> bool:
        """Whether the day's adjustment may be other than 0, given the scores by players up to that Index."""
        return scores_that_count >= self.scores_least


def hole_limit_rules(book: Book) -> Cited[HoleLimitRules]:
    """The most that a hole counts under a book."""
    read, row = RuleReader(book), "net-double-bogey."
    rules = HoleLimitRules(
        over_par=read.whole(row + "over_par"),
        no_index_over_par=read.whole(row + "no_index_over_par"),
        limited_above=read.whole(row + "limited_above"),
        limited_from=read.whole(row + "limited_from"),
        limited_over_par=read.whole(row + "limited_over_par"),
    )
    return Cited(value=rules, citations=read.citations)


def holes_not_played_rules(book: Book) -> Cited[HolesNotPlayedRules]:
    """How many holes make a score under a book."""
    read, row = RuleReader(book), "holes-not-played."
    rules = HolesNotPlayedRules(
        eighteen_least=read.whole(row + "eighteen_least"),
        nine_least=read.whole(row + "nine_least"),
        filled_by=FilledBy(read.word(row + "filled_by")),
        first_one_more_below=read.whole(row + "first_one_more_below"),
    )
    return Cited(value=rules, citations=read.citations)


def most_likely_rules(book: Book) -> Cited[MostLikelyRules]:
    """Strokes added to a hole that was not finished, under a book."""
    read, row = RuleReader(book), "most-likely-score."
    rules = MostLikelyRules(
        near_in=read.exact(row + "near_in"),
        far_yd=read.exact(row + "far_yd"),
        near=read.whole(row + "near_strokes"),
        middle=(read.whole(row + "middle_least"), read.whole(row + "middle_most")),
        far=(read.whole(row + "far_least"), read.whole(row + "far_most")),
    )
    return Cited(value=rules, citations=read.citations)


def differential_rules(book: Book) -> Cited[DifferentialRules]:
    """How a score becomes a Score Differential under a book."""
    read = RuleReader(book)
    rules = DifferentialRules(
        nine_holes_by=NineHolesBy(read.word("score-differential.nine_holes_by")),
        conditions_nine_share=read.share("score-differential.conditions_nine_pct"),
        standard_slope=read.whole("slope.standard", least=1),
        decimals=read.decimals("differential"),
    )
    return Cited(value=rules, citations=read.citations)


def conditions_rules(book: Book) -> Cited[ConditionsRules]:
    """How far a day's conditions may move scores under a book."""
    read, row = RuleReader(book), "playing-conditions."
    rules = ConditionsRules(
        least=-read.whole(row + "easier_most"),
        most=read.whole(row + "harder_most"),
        scores_least=read.whole(row + "scores_least"),
        index_most=read.exact(row + "index_most"),
    )
    return Cited(value=rules, citations=read.citations)
