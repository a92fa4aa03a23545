"""What must hold of every handicap, whatever the numbers."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from marram.handicaps.rounding import round_half_up
from marram.handicaps.strokes_on_holes import strokes_by_hole
from marram.handicaps.written_handicaps import read_handicap, tell_handicap

HANDICAPS = st.integers(-60, 90)
ROUNDS = st.permutations(list(range(1, 19))).flatmap(lambda order: st.sampled_from([order, order[:9], order[5:14]]))
VALUES = st.fractions(min_value=-100, max_value=100, max_denominator=1000)


@given(HANDICAPS, ROUNDS)
def test_strokes_add_up_to_the_handicap(handicap: int, indexes: list[int]) -> None:
    assert sum(strokes_by_hole(handicap, indexes)) == handicap


@given(HANDICAPS, ROUNDS)
def test_a_higher_stroke_index_never_gets_more(handicap: int, indexes: list[int]) -> None:
    by_index = sorted(zip(indexes, strokes_by_hole(handicap, indexes), strict=True))
    strokes = [received for _, received in by_index]
    assert strokes == sorted(strokes, reverse=True)
    assert strokes[0] - strokes[-1] <= 1


@given(HANDICAPS, ROUNDS)
def test_one_stroke_more_is_one_stroke_on_one_hole(handicap: int, indexes: list[int]) -> None:
    before, after = strokes_by_hole(handicap, indexes), strokes_by_hole(handicap + 1, indexes)
    assert sorted(more - less for less, more in zip(before, after, strict=True)) == [0] * (len(indexes) - 1) + [1]


@given(VALUES, VALUES, st.integers(0, 3))
def test_rounding_never_turns_an_order_round(one: Fraction, other: Fraction, decimals: int) -> None:
    low, high = sorted((one, other))
    assert round_half_up(low, decimals) <= round_half_up(high, decimals)


@given(VALUES, st.integers(0, 3))
def test_rounding_moves_by_half_a_step_at_most_and_up_from_the_half(value: Fraction, decimals: int) -> None:
    moved = (round_half_up(value, decimals) - value) * 10**decimals
    assert Fraction(-1, 2) < moved <= Fraction(1, 2)


@given(st.integers(-300, 540))
def test_what_is_told_is_read_again(tenths: int) -> None:
    index = Fraction(tenths, 10)
    assert read_handicap(tell_handicap(index, 1), decimals=1) == index
