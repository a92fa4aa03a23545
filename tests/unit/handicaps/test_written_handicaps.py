"""Handicaps as they are written and told."""

from fractions import Fraction

import pytest

from marram.core.errors import HandicapError
from marram.handicaps.written_handicaps import read_handicap, tell_handicap


@pytest.mark.parametrize(
    ("written", "strokes"),
    [("12.2", "12.2"), ("+2.4", "-2.4"), (" +2 ", "-2"), ("0", "0"), ("+0.0", "0"), ("54.0", "54"), ("36", "36")],
)
def test_a_plus_handicap_is_below_zero(written: str, strokes: str) -> None:
    assert read_handicap(written, decimals=1) == Fraction(strokes)


@pytest.mark.parametrize(
    ("written", "right"),
    [
        ("-2.4", r"\+2\.4"),
        ("−2.4", r"\+2\.4"),
        ("12,2", r"12\.2"),
        ("12.25", "one decimal"),
        ("", "12.2"),
        ("plus two", "12.2"),
        ("++2", "12.2"),
        ("1e1", "12.2"),
        ("١٢", "12.2"),
        ("nan", "12.2"),
    ],
)
def test_what_is_no_handicap_is_told_with_what_would_be_right(written: str, right: str) -> None:
    with pytest.raises(HandicapError, match=right):
        read_handicap(written, decimals=1)


def test_a_course_handicap_is_whole() -> None:
    with pytest.raises(HandicapError, match="a whole number"):
        read_handicap("12.2", decimals=0)


@pytest.mark.parametrize(
    ("strokes", "decimals", "told"),
    [
        ("-2.4", 1, "+2.4"),
        ("-2", 0, "+2"),
        ("12.2", 1, "12.2"),
        ("0", 1, "0.0"),
        ("-0.04", 1, "0.0"),
        ("-0.05", 1, "0.0"),
        ("-0.06", 1, "+0.1"),
    ],
)
def test_a_handicap_is_told_with_its_plus_and_never_with_a_minus(strokes: str, decimals: int, told: str) -> None:
    assert tell_handicap(Fraction(strokes), decimals) == told
