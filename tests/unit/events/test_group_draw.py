"""The draw: sizes of groups by hand, everybody once, and a lot that anybody can work out again."""

from __future__ import annotations

import hashlib
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.core.errors import EventError
from marram.events.entry_list import Entry
from marram.events.group_draw import DrawnBy, draw_as_listed, group_sizes, make_draw, odd_groups

NAMES = ("Aster", "Bracken", "Clover", "Fern", "Gorse", "Heather", "Ivy")


def entries(*names: str) -> list[Entry]:
    return [Entry(player=name) for name in names or NAMES]


@pytest.mark.parametrize(
    ("players", "size", "sizes"),
    [
        (72, 3, (3,) * 24),
        (73, 3, (2, 2, *(3,) * 23)),  # 25 groups, 75 places, two too many
        (74, 3, (2, *(3,) * 24)),
        (4, 3, (2, 2)),
        (5, 4, (2, 3)),
        (9, 4, (3, 3, 3)),
        (1, 3, (1,)),
        (5, 2, (2, 3)),  # a three rather than a player alone
        (3, 2, (3,)),
        (3, 1, (1, 1, 1)),
        (13, 4, (3, 3, 3, 4)),
    ],
)
def test_sizes_of_groups(players: int, size: int, sizes: tuple[int, ...]) -> None:
    assert group_sizes(players, size) == sizes


@given(players=st.integers(1, 400), size=st.integers(2, 4))
def test_groups_are_even_and_nobody_is_alone(players: int, size: int) -> None:
    sizes = group_sizes(players, size)
    assert sum(sizes) == players
    assert max(sizes) - min(sizes) <= 1 and list(sizes) == sorted(sizes)
    assert min(sizes) >= 2 or players == 1
    assert max(sizes) <= max(size, 3)


@pytest.mark.parametrize(("players", "size", "told"), [(0, 3, "Nobody has entered"), (5, 0, "group of 0"), (5, 5, "group of 5")])
def test_what_cannot_be_drawn(players: int, size: int, told: str) -> None:
    with pytest.raises(EventError, match=told):
        group_sizes(players, size)


def test_a_draw_at_random_is_the_order_of_the_digests_that_the_page_names() -> None:
    by_hand = sorted(NAMES, key=lambda name: hashlib.sha256(f"seed 1\n{name.casefold()}".encode()).hexdigest())
    drawn = make_draw(entries(), by=DrawnBy.RANDOM, size=7 - 3, seed="seed 1")
    assert [name for group in drawn.groups for name in group] == by_hand
    assert [len(group) for group in drawn.groups] == [3, 4]


@given(st.permutations(NAMES), st.text(max_size=8))
def test_the_order_of_the_entries_decides_nothing(names: list[str], seed: str) -> None:
    assert make_draw(entries(*names), by=DrawnBy.RANDOM, size=3, seed=seed) == make_draw(entries(), by=DrawnBy.RANDOM, size=3, seed=seed)


def test_one_player_more_leaves_the_others_in_their_order() -> None:
    before = [name for group in make_draw(entries(), by=DrawnBy.RANDOM, size=3, seed="x").groups for name in group]
    after = [name for group in make_draw(entries(*NAMES, "Yarrow"), by=DrawnBy.RANDOM, size=3, seed="x").groups for name in group]
    assert [name for name in after if name != "Yarrow"] == before


def test_by_handicap_the_lowest_come_first_plus_before_scratch_and_none_last() -> None:
    field = [
        Entry(player="Aster", handicap_index=Fraction(12)),
        Entry(player="Bracken", handicap_index=Fraction(-2)),
        Entry(player="Clover"),
        Entry(player="Fern", handicap_index=Fraction(30), playing_handicap=5),
        Entry(player="Gorse", handicap_index=Fraction(0)),
    ]
    drawn = make_draw(field, by=DrawnBy.HANDICAP, size=4, seed="x")
    assert drawn.groups == (("Bracken", "Gorse"), ("Fern", "Aster", "Clover"))


def test_equal_handicaps_are_in_the_order_of_the_lot() -> None:
    field = [Entry(player=name, handicap_index=Fraction(10)) for name in NAMES]
    assert make_draw(field, by=DrawnBy.HANDICAP, size=3, seed="x").groups == make_draw(field, by=DrawnBy.RANDOM, size=3, seed="x").groups


def test_partners_are_drawn_together() -> None:
    field = [Entry(player=f"{side} {place}", side=side) for side in ("Elm", "Oak", "Ash", "Yew", "Box") for place in (1, 2)]
    drawn = make_draw(field, by=DrawnBy.RANDOM, size=4, seed="x")
    assert [len(group) for group in drawn.groups] == [2, 4, 4]
    for group in drawn.groups:
        sides = [name.split()[0] for name in group]
        assert all(sides.count(side) == 2 for side in sides)


def test_a_list_is_taken_as_it_stands() -> None:
    listed = [("ivy", "2"), ("Aster", "1"), ("Bracken", "2"), ("Clover", "1"), ("Fern", "3"), ("Gorse", "3"), ("HEATHER", "3")]
    assert draw_as_listed(entries(), listed, size=3).groups == (("Ivy", "Bracken"), ("Aster", "Clover"), ("Fern", "Gorse", "Heather"))
    in_order = [(name, "") for name in NAMES]
    assert [len(group) for group in draw_as_listed(entries(), in_order, size=3).groups] == [3, 3, 1]
    with pytest.raises(EventError, match="group 1 has 7 players"):
        draw_as_listed(entries(), [(name, "all") for name in NAMES], size=3)


def test_groups_of_another_size_are_told() -> None:
    drawn = make_draw(entries(), by=DrawnBy.RANDOM, size=3, seed="x")
    assert [len(group) for group in drawn.groups] == [2, 2, 3]
    assert odd_groups(drawn, 3) == "2 groups of 2 instead of 3."
    assert odd_groups(make_draw(entries(*NAMES[:6]), by=DrawnBy.RANDOM, size=3, seed="x"), 3) == ""
