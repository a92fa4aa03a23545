"""Numbers and sizes in words."""

from __future__ import annotations

import pytest

from marram.core.units import LengthUnit, Size
from marram.rulebook.wording.explain import size_with_metres, strokes_words
from marram.rulebook.wording.value_words import listed, number_words, size_words


@pytest.mark.parametrize(
    ("value", "in_figures", "words"),
    [(0, True, "no penalty strokes"), (1, True, "1 penalty stroke"), (2, True, "2 penalty strokes"), (2, False, "two penalty strokes")],
)
def test_strokes_are_told_in_words_and_in_a_table_in_figures(value: float, in_figures: bool, words: str) -> None:  # noqa: FBT001
    assert number_words(value, "strokes", in_figures=in_figures) == words


def test_a_count_of_none_is_nought_in_a_table() -> None:
    assert number_words(0, "count", in_figures=True) == "0"


def test_penalties_begin_a_sentence() -> None:
    assert [strokes_words(count) for count in (0, 1, 2)] == ["No penalty", "One penalty stroke", "Two penalty strokes"]


def test_metres_stand_beside_other_units_only() -> None:
    """An inch is 0.0254 m: 6 in are 0.15 m; two club-lengths of 45 in are 2.29 m."""
    metres, inches = Size(amount=2.0, unit=LengthUnit.METRES), Size(amount=6.0, unit=LengthUnit.INCHES)
    clubs = Size(amount=2.0, unit=LengthUnit.CLUB_LENGTHS)
    assert size_with_metres(metres, 2.0) == metres.words
    assert size_with_metres(clubs, 2.286) == f"{clubs.words} (2.29 m)"
    assert size_words(inches) == f"{inches.words} (0.15 m)"
    assert size_words(metres) == metres.words


def test_a_list_ends_in_and_or_or() -> None:
    assert [listed(words) for words in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["nothing", "a", "a and b", "a, b and c"]
    assert listed(["a", "b"], "or") == "a or b"
