"""How far from the reference point a ball may end up, with a 45 in club.

Source: 2017 draft proposed-change page, Measuring the Size of the Relief Area: in the 2016 edition three or four club-lengths, in the
draft 20 or 80 inches; Rules of Golf (January 2019), Definition of Relief Area: one or two club-lengths. In inches, exact.
"""

from __future__ import annotations

import pytest

from marram.core.units import INCH_M
from marram.rulebook import open_book, packaged_catalogue

CLUB_M = 45 * INCH_M


@pytest.mark.parametrize(
    ("edition", "small_in", "large_in"), [("2016", 135, 180), ("draft-2017", 20, 80), ("2019", 45, 90), ("2023", 45, 90)]
)
def test_farthest_play(edition: str, small_in: float, large_in: float) -> None:
    book = open_book(edition, [], packaged_catalogue())
    roll = "dropped-ball-roll-limit.roll_limit"
    roll_m = book.size(roll).value.in_metres(CLUB_M) if book.has(roll) else 0.0
    for key, expected_in in (("relief.small.size", small_in), ("relief.lateral.size", large_in)):
        farthest_m = book.size(key).value.in_metres(CLUB_M) + roll_m
        assert farthest_m / INCH_M == pytest.approx(expected_in, abs=1e-9)


@pytest.mark.parametrize(("edition", "minutes"), [("2016", 5), ("draft-2017", 3), ("2019", 3), ("2023", 3)])
def test_search_limit(edition: str, minutes: float) -> None:
    """Source: Rules of Golf 2012-2015, Definition of Lost Ball; 2017 draft paper 24; Rules of Golf (2019 and 2023), Rule 18.2a(1)."""
    assert open_book(edition, [], packaged_catalogue()).number("search.limit_min").value == minutes
