"""Rounding as the Rules of Handicapping have it; expected values from their text or worked by hand from it."""

from decimal import Decimal
from fractions import Fraction

import pytest

from marram.handicaps.rounding import as_written, in_decimals, round_half_up, round_whole, rounded


@pytest.mark.parametrize(
    ("value", "whole"),
    # Rules of Handicapping 2024, Rules 6.1 and 6.2a: a half goes up; below zero "up" is toward zero.
    [("0.5", 1), ("1.5", 2), ("2.5", 3), ("10.5", 11), ("-0.5", 0), ("-1.5", -1), ("-2.5", -2), ("-1.51", -2), ("-0.49", 0), ("-2.85", -3)],
)
def test_halves_go_up_to_whole_strokes(value: str, whole: int) -> None:
    assert round_whole(Fraction(value)) == whole
    assert rounded(Fraction(value)).whole == whole


@pytest.mark.parametrize(
    ("value", "tenth"),
    # Rules of Handicapping 2020, Rule 5.1c prints the first two; the others follow from the same rule.
    [("-1.54", "-1.5"), ("-1.55", "-1.5"), ("-1.56", "-1.6"), ("5.65", "5.7"), ("-5.65", "-5.6"), ("10.55", "10.6"), ("18.984", "19.0")],
)
def test_halves_go_up_to_tenths(value: str, tenth: str) -> None:
    assert round_half_up(Decimal(value), 1) == Fraction(tenth)
    assert in_decimals(Fraction(value), 1) == tenth


def test_a_half_that_binary_numbers_lose_is_kept() -> None:
    # 1.13 * 5 = 5.65 exactly; as binary numbers it is 5.6499…
    assert round_half_up(as_written(1.13) * 5, 1) == Fraction("5.7")
    assert as_written(0.85) == Fraction(85, 100)


def test_the_unrounded_figure_is_kept() -> None:
    figure = rounded(Fraction(25, 2))
    assert (figure.whole, figure.unrounded) == (13, Fraction(25, 2))


@pytest.mark.parametrize(
    ("value", "decimals", "told"),
    [("-0.04", 1, "0.0"), ("-0.5", 0, "0"), ("-1.7673", 4, "-1.7673"), ("3", 2, "3.00"), ("0.05", 1, "0.1"), ("-10.25", 1, "-10.2")],
)
def test_numbers_are_told_with_their_decimals(value: str, decimals: int, told: str) -> None:
    assert in_decimals(Fraction(value), decimals) == told
