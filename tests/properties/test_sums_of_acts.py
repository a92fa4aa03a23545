"""Sums of acts: no order, one act named twice is one act, and a sum is never below its highest part.

Source: Rules of Golf (January 2023), Rule 1.3c(4); Decisions on the Rules of Golf 2016, Decision 1-4/12.
"""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import given, settings
from hypothesis import strategies as st

from marram.interchange.books.book_files import read_book
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.acts import acts_of, rule_on_act
from marram.rulings.acts.breaches import NamedAct
from marram.rulings.acts.several import SumOfActs, Supposal, sum_of_acts
from marram.rulings.acts.sum_of_breaches import Between

EDITIONS = tuple(packaged_catalogue().editions)
BOOKS = {edition: read_book(edition) for edition in EDITIONS}


def can_be_added(edition: str, act: str) -> bool:
    case = rule_on_act(BOOKS[edition], act, {}).case
    return case is not None and not case.added


ADDABLE = {edition: tuple(act for act in acts_of(packaged_catalogue()) if can_be_added(edition, act)) for edition in EDITIONS}


@st.composite
def books_with_acts(draw: st.DrawFn) -> tuple[str, tuple[str, ...]]:
    edition = draw(st.sampled_from(EDITIONS))
    return edition, tuple(draw(st.lists(st.sampled_from(ADDABLE[edition]), min_size=1, max_size=4)))


def summed(edition: str, acts: Sequence[str], between: Between | None = None, holes: int | None = None) -> SumOfActs:
    return sum_of_acts(BOOKS[edition], [NamedAct(act=name, facts={}) for name in acts], between, holes)


def amounts(found: SumOfActs) -> dict[tuple[Supposal, ...], tuple[object, ...]]:
    return {reading.supposes: reading.total.amounts for reading in found.readings}


@settings(max_examples=150, deadline=None)
@given(books_with_acts(), st.sampled_from([None, *Between]), st.randoms(use_true_random=False))
def test_the_order_of_acts_does_not_matter(asked: tuple[str, tuple[str, ...]], between: Between | None, random: object) -> None:
    edition, acts = asked
    mixed = list(acts)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    assert amounts(summed(edition, acts, between)) == amounts(summed(edition, mixed, between))


@settings(max_examples=150, deadline=None)
@given(books_with_acts(), st.integers(min_value=1, max_value=18))
def test_one_act_named_twice_is_one_act(asked: tuple[str, tuple[str, ...]], holes: int) -> None:
    edition, (act, *_) = asked
    once = summed(edition, [act], Between.ONE_ACT, holes)
    twice = summed(edition, [act, act], Between.ONE_ACT, holes)
    assert {reading.total.amounts for reading in once.readings} == {reading.total.amounts for reading in twice.readings}


@settings(max_examples=150, deadline=None)
@given(books_with_acts(), st.sampled_from(list(Between)))
def test_a_sum_is_never_below_its_highest_part(asked: tuple[str, tuple[str, ...]], between: Between) -> None:
    edition, acts = asked
    alone = [reading.total for act in acts for reading in summed(edition, [act], between, 1).readings]
    for reading in summed(edition, acts, between, 1).readings:
        total = reading.total
        if Supposal.WITH_THAT_BALL not in reading.supposes and total.stroke_play_words != "disqualified":
            assert total.strokes >= max(part.strokes for part in alone)
        assert total.is_out >= any(part.is_out for part in alone if Supposal.WITH_THAT_BALL not in reading.supposes)
        assert set(total.match.holes_lost) >= {hole for part in alone for hole in part.match.holes_lost} or reading.supposes


@settings(max_examples=100, deadline=None)
@given(books_with_acts())
def test_a_stroke_between_never_costs_less_than_nothing_between(asked: tuple[str, tuple[str, ...]]) -> None:
    edition, acts = asked
    for nothing, stroke in zip(
        summed(edition, acts, Between.ONE_ACT, 1).readings, summed(edition, acts, Between.STROKE, 1).readings, strict=False
    ):
        if nothing.supposes == stroke.supposes and not stroke.total.is_out:
            assert nothing.total.strokes <= stroke.total.strokes
