"""Lengths told with clubs."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.core.clubs import told_in_clubs
from marram.core.units import INCH_M


@pytest.mark.parametrize(
    ("length_in", "club_in", "words"),
    [
        (80, 39, "two of a 39-inch club and 2 in"),
        (80, 40, "two of a 40-inch club"),
        (80, 45, "two of a 45-inch club less 10 in"),
        (20, 39, "20 in of a 39-inch club"),
        (40, 45, "one of a 45-inch club less 5 in"),
        (45.1, 45, "one of a 45-inch club"),
        (44.9, 45, "one of a 45-inch club"),
    ],
)
def test_a_length_is_told_as_it_is_laid_down(length_in: float, club_in: float, words: str) -> None:
    assert told_in_clubs(length_in * INCH_M, club_in) == words


@given(st.floats(5, 400), st.floats(20, 48))
def test_the_words_come_to_the_length_within_half_an_inch(length_in: float, club_in: float) -> None:
    club_in = round(club_in * 2) / 2
    words = told_in_clubs(length_in * INCH_M, club_in)
    counts = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10}
    head, _, rest = words.partition(" of a ")
    if head.endswith(" in"):
        told_in = float(head.removesuffix(" in"))
    else:
        told_in = (counts.get(head) or int(head)) * club_in
        if " and " in rest:
            told_in += float(rest.split(" and ")[1].removesuffix(" in"))
        if " less " in rest:
            told_in -= float(rest.split(" less ")[1].removesuffix(" in"))
    assert abs(told_in - length_in) <= 0.25 + 1e-9


@pytest.mark.parametrize(("length_m", "club_in"), [(0.0, 45.0), (1.0, 0.0), (-1.0, 45.0)])
def test_lengths_that_cannot_be_are_refused(length_m: float, club_in: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        told_in_clubs(length_m, club_in)
