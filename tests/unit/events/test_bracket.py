"""The bracket by numbers: the tables of the Rules, empty places, and who can meet whom when."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.core.errors import EventError
from marram.events.bracket import draw_by_number

UPPER_32 = ((1, 32), (16, 17), (8, 25), (9, 24), (4, 29), (13, 20), (5, 28), (12, 21))
LOWER_32 = ((2, 31), (15, 18), (7, 26), (10, 23), (3, 30), (14, 19), (6, 27), (11, 22))
"""Rules of Golf (January 2016), Appendix I Part C 11, from memory."""


def test_the_table_of_thirty_two() -> None:
    assert draw_by_number(32).pairs == UPPER_32 + LOWER_32
    assert draw_by_number(32).lower_half == LOWER_32
    assert draw_by_number(32).byes == ()


def test_eleven_play_and_five_wait() -> None:
    """Numbers 12 to 16 stay empty: 1 to 5 wait."""
    found = draw_by_number(11)
    assert (found.places, found.byes, found.first_round) == (16, (1, 2, 3, 4, 5), ((8, 9), (7, 10), (6, 11)))


def test_two_play_one_match() -> None:
    assert draw_by_number(2).pairs == ((1, 2),)
    assert draw_by_number(3).byes == (1,)


@pytest.mark.parametrize("entrants", [-1, 0, 1, 1025])
def test_what_makes_no_bracket_is_refused(entrants: int) -> None:
    with pytest.raises(EventError, match="bracket"):
        draw_by_number(entrants)


def test_the_largest_bracket_is_drawn() -> None:
    assert draw_by_number(1024).places == 1024


@given(st.integers(2, 300))
def test_everybody_plays_once_and_the_better_number_wins_through_to_the_last(entrants: int) -> None:
    found = draw_by_number(entrants)
    assert sorted(number for pair in found.pairs for number in pair) == list(range(1, found.places + 1))
    assert found.places // 2 < entrants <= found.places
    assert len(found.byes) + 2 * len(found.first_round) == entrants
    left = [min(pair) for pair in found.pairs]
    while len(left) > 1:
        meeting = list(zip(left[::2], left[1::2], strict=True))
        assert {sum(pair) for pair in meeting} == {len(left) + 1}
        left = [min(pair) for pair in meeting]
    assert left == [1]
