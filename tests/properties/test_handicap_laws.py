"""What must hold of every handicap, whatever the numbers."""

from datetime import date, timedelta
from fractions import Fraction
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from marram.handicaps.index_of_scores import average, cap
from marram.handicaps.index_on_record import follow_record
from marram.handicaps.rounding import round_half_up, rounded
from marram.handicaps.rules.index_rules import index_rules
from marram.handicaps.score_record import Posted
from marram.handicaps.strokes_on_holes import strokes_by_hole
from marram.handicaps.written_handicaps import read_handicap, tell_handicap
from marram.interchange.books.book_files import read_handicap_book

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


RULES = index_rules(read_handicap_book("2024")).value
TENTHS = st.integers(-80, 700).map(lambda tenths: Fraction(tenths, 10))


def record_of(days_and_values: list[tuple[int, Fraction]]) -> list[Posted]:
    return [
        Posted(numbers=(at,), day=date(2024, 1, 1) + timedelta(days=day), holes=18, figure=rounded(value, 1))
        for at, (day, value) in enumerate(days_and_values)
    ]


@given(st.lists(st.tuples(st.integers(0, 600), TENTHS), max_size=45).map(lambda entries: sorted(entries, key=lambda entry: entry[0])))
def test_no_index_lies_above_the_limit_nor_too_far_above_the_low_index(entries: list[tuple[int, Fraction]]) -> None:
    for day in follow_record(record_of(entries), RULES).days:
        if day.index is not None:
            assert day.index <= RULES.most
            assert (day.index * 10).denominator == 1
            assert day.low is None or day.index <= day.low + RULES.caps.hard_over


@given(st.lists(st.lists(TENTHS, min_size=1, max_size=4), min_size=1, max_size=6), st.randoms())
def test_the_order_of_scores_of_one_day_does_not_matter(days: list[list[Fraction]], random: Random) -> None:
    """Up to twenty scores, none of them exceptional: then no place on the record drops out, and nothing is taken off in turn."""
    kept = [[min(max(value, Fraction(20)), Fraction(25)) for value in day] for day in days][:5]
    turned = [random.sample(day, len(day)) for day in kept]
    both = [record_of([(at, value) for at, day in enumerate(order) for value in day]) for order in (kept, turned)]
    one, other = (follow_record(record, RULES) for record in both)
    assert [day.index for day in one.days] == [day.index for day in other.days]


@given(TENTHS, TENTHS)
def test_a_higher_average_never_makes_a_lower_index(one: Fraction, other: Fraction) -> None:
    low, high = sorted((one, other))
    assert cap(low, Fraction(10), RULES.caps, 1).hard <= cap(high, Fraction(10), RULES.caps, 1).hard


@given(st.lists(TENTHS, min_size=3, max_size=20), st.integers(0, 19))
def test_a_better_score_never_raises_the_average(values: list[Fraction], place: int) -> None:
    better = [value - 1 if at == place % len(values) else value for at, value in enumerate(values)]
    before, after = average(values, RULES), average(better, RULES)
    assert before is not None and after is not None and after.figure.unrounded <= before.figure.unrounded
