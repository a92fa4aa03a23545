"""Differentials and the Index, worked by hand from the Rules of Handicapping 2020 and 2024, Rules 5.1 to 5.9."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

import pytest

from marram.handicaps.differential import differential, joined, nine_hole_differential
from marram.handicaps.index_of_scores import IndexOn, average, cap, exceptional_reduction, low_index, within_limit
from marram.handicaps.rounding import in_decimals
from marram.handicaps.rules.index_rules import index_rules
from marram.handicaps.rules.score_rules import conditions_rules, differential_rules
from marram.interchange.books.book_files import read_handicap_book

BOOK = read_handicap_book("2024")
INDEX, DIFFERENTIAL = index_rules(BOOK).value, differential_rules(BOOK).value
LAST = date(2025, 6, 30)


def fractions(*written: str) -> list[Fraction]:
    return [Fraction(one) for one in written]


@pytest.mark.parametrize(
    ("gross", "rating", "slope", "conditions", "unrounded", "value"),
    [
        (94, "73.0", 125, 0, "18.9840", "19"),
        (94, "73.0", 125, 3, "16.2720", "16.3"),  # 18 x 113 / 125
        (94, "73.0", 125, -1, "19.8880", "19.9"),  # 22 x 113 / 125
        (66, "71.0", 100, 0, "-5.6500", "-5.6"),  # a half goes up
    ],
)
def test_differential(gross: int, rating: str, slope: int, conditions: int, unrounded: str, value: str) -> None:
    found = differential(gross, Fraction(rating), slope, conditions, DIFFERENTIAL)
    assert (in_decimals(found.unrounded, 4), found.value) == (unrounded, Fraction(value))


def test_nine_holes_take_half_the_conditions_and_are_rounded_once_when_joined() -> None:
    # 113/121 x (42 - 35.3 - 0.5) = 5.79008; with 8.5 expected 14.29 -> 14.3
    nine = nine_hole_differential(42, Fraction("35.3"), 121, 1, DIFFERENTIAL)
    assert in_decimals(nine, 5) == "5.79008"
    assert joined(nine, Fraction("8.5"), DIFFERENTIAL).value == Fraction("14.3")
    # 2.3134 + 3.6480 = 5.9614 -> 6.0, and not 2.3 + 3.6
    first, second = (
        nine_hole_differential(gross, Fraction(rating), 127, 0, DIFFERENTIAL) for gross, rating in ((38, "35.4"), (40, "35.9"))
    )
    assert joined(first, second, DIFFERENTIAL).value == 6


@pytest.mark.parametrize(
    ("differentials", "unrounded", "value", "counted"),
    [
        (fractions("15.3", "15.2", "16.6"), "13.2000", "13.2", [1]),
        (fractions("0.9", "3.4", "2.2"), "-1.1000", "-1.1", [0]),
        (fractions("-0.2", "-0.3", "4", "5", "3.1", "2.6", "7.7"), "-0.2500", "-0.2", [0, 1]),
        (fractions("10", "12", "10"), "8.0000", "8", [2]),  # of two that are equal the more recent is told
        (fractions("10", "12.1", "14", "15", "16", "17"), "10.0500", "10.1", [0, 1]),
    ],
)
def test_average(differentials: Sequence[Fraction], unrounded: str, value: str, counted: list[int]) -> None:
    found = average(differentials, INDEX)
    assert found is not None
    assert (in_decimals(found.figure.unrounded, 4), found.figure.value, list(found.counted)) == (unrounded, Fraction(value), counted)


def test_fewer_than_three_scores_make_no_index() -> None:
    assert average(fractions("15.3", "15.2"), INDEX) is None
    assert average([], INDEX) is None


def test_only_the_twenty_most_recent_count() -> None:
    old_and_low = [Fraction(1)] * 3
    found = average([*old_and_low, *([Fraction(12)] * 12), *([Fraction(10)] * 8)], INDEX)
    assert found is not None and found.figure.value == 10
    assert list(found.counted) == list(range(15, 23))


@pytest.mark.parametrize(
    ("under", "reduce"),
    [("6.99", 0), ("7", 1), ("9.9", 1), ("9.99", 1), ("10", 2), ("25", 2), ("-3", 0)],
)
def test_exceptional_scores(under: str, reduce: int) -> None:
    assert exceptional_reduction(Fraction(20), 20 - Fraction(under), INDEX.exceptional) == reduce
    assert exceptional_reduction(Fraction(-2), -2 - Fraction(under), INDEX.exceptional) == reduce


@pytest.mark.parametrize(
    ("averaged", "low", "soft", "hard"),
    [
        ("13.0", "10.0", "13.0", "13.0"),  # 3.0 and no more: not slowed
        ("13.1", "10.0", "13.1", "13.1"),  # 13.05 -> 13.1
        ("13.2", "10.0", "13.1", "13.1"),
        ("11.6", "6.5", "10.6", "10.6"),  # 10.55
        ("17.0", "10.0", "15.0", "15.0"),
        ("18.2", "10.2", "15.7", "15.2"),
        ("3.5", "-1.0", "2.8", "2.8"),  # 2.75
        ("4.0", "10.0", "4.0", "4.0"),  # downward free
    ],
)
def test_caps(averaged: str, low: str, soft: str, hard: str) -> None:
    found = cap(Fraction(averaged), Fraction(low), INDEX.caps, 1)
    assert (found.soft, found.hard) == (Fraction(soft), Fraction(hard))
    assert found.is_soft is (Fraction(averaged) - Fraction(low) > 3)
    assert found.is_hard is (Fraction(hard) < Fraction(soft))
    assert cap(Fraction(averaged), None, INDEX.caps, 1).hard == Fraction(averaged)


def test_nobody_has_an_index_above_the_limit() -> None:
    assert within_limit(Fraction("61.3"), INDEX) == 54
    assert within_limit(Fraction("53.9"), INDEX) == Fraction("53.9")


@pytest.mark.parametrize(
    ("history", "low"),
    [
        ([("2024-06-15", "9.1"), ("2024-07-10", "9.8"), ("2025-01-20", "10.4"), ("2025-06-30", "11.0")], "9.8"),
        ([("2024-06-30", "9.1"), ("2025-06-30", "11.0")], "9.1"),  # 365 days before is the first day
        ([("2024-06-29", "9.1"), ("2025-06-30", "11.0")], "11.0"),
        ([("2024-01-10", "9.1"), ("2024-02-10", "12.0")], "12.0"),  # no score in the year: the Index itself (5.7/2)
        ([("2025-06-30", "11.0"), ("2025-07-01", "8.0")], "11.0"),  # an Index after the last score is not looked at
    ],
)
def test_low_index(history: list[tuple[str, str]], low: str) -> None:
    entries = [IndexOn(day=date.fromisoformat(day), index=Fraction(index)) for day, index in history]
    assert low_index(entries, LAST, 20, INDEX.low_index) == Fraction(low)
    assert low_index(entries, LAST, 19, INDEX.low_index) is None
    assert low_index([], LAST, 20, INDEX.low_index) is None


def test_conditions_take_eight_scores() -> None:
    rules = conditions_rules(BOOK).value
    assert [rules.may_move(scores) for scores in (7, 8)] == [False, True]
