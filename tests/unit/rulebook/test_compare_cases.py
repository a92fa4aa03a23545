"""Two books are compared by what they lead to, not by how their cells are typed.

Source: Rules of Golf 2016, Rules 9-2, 15-3a, 6-3a Exception; Rules of Golf 2019, Rules 9.5b, 10.2b(4), 6.3c(1), 5.3a; the same 2023.
"""

from __future__ import annotations

from datetime import date
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.interchange.books.book_files import read_book
from marram.rulebook.book import Book, open_book
from marram.rulebook.consequence_words import BallIs, HoleIs, PutRight
from marram.rulebook.consequences import Cases, Consequence
from marram.rulebook.differences.compare import compare_books, stated_for_one
from marram.rulebook.differences.compare_cases import cases_that_differ, facts_of, lead_to_the_same
from marram.rulebook.facts import Fact, Settled
from marram.rulebook.overlays.overlay import Change, Overlay, Standing
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.values import ABSENT, Value

NAMES = ("measuring", "conceding", "inadvertent", "second_breach")
LAST = Consequence(strokes=2, hole=HoleIs.LOST)


def case_of(cases: Cases, known: frozenset[str]) -> Consequence:
    return next(case for case in cases if known.issuperset(case.when))


@st.composite
def lists_of_cases(draw: st.DrawFn) -> Cases:
    whens = draw(st.lists(st.sets(st.sampled_from(NAMES), min_size=1, max_size=3), max_size=4))
    strokes = st.integers(min_value=0, max_value=2)
    return (*(Consequence(when=tuple(sorted(when)), strokes=draw(strokes)) for when in whens), Consequence(strokes=draw(strokes)))


@given(lists_of_cases(), lists_of_cases())
def test_lists_differ_where_some_combination_of_facts_does(first: Cases, second: Cases) -> None:
    known = [frozenset(chosen) for size in range(len(NAMES) + 1) for chosen in combinations(NAMES, size)]
    by_hand = any(case_of(first, facts).strokes != case_of(second, facts).strokes for facts in known)
    assert bool(cases_that_differ(first, second)) is by_hand
    assert bool(cases_that_differ(second, first)) is by_hand


@given(lists_of_cases())
def test_a_list_leads_to_what_it_leads_to(cases: Cases) -> None:
    assert cases_that_differ(cases, cases) == ()
    assert facts_of(cases) <= set(NAMES)


def test_a_case_that_says_what_would_hold_anyhow_is_no_difference() -> None:
    told = (Consequence(when=("measuring",), strokes=2, hole=HoleIs.LOST), LAST)
    assert cases_that_differ(told, (LAST,)) == ()
    free = (Consequence(when=("measuring",)), LAST)
    assert cases_that_differ(free, (LAST,)) == ((0, 0),)
    assert cases_that_differ(free, (LAST,), never={"measuring"}) == ()


def test_facts_that_exclude_each_other_are_never_true_together() -> None:
    first = (Consequence(when=("measuring",)), Consequence(when=("conceding",), strokes=1), LAST)
    second = (first[1], first[0], LAST)
    assert cases_that_differ(first, second) == ((0, 0),)

    def fact(name: str, other: str) -> Fact:
        return Fact(name=name, question="?", by_edition={}, excludes=(other,), answer=Settled.YES_NO)

    facts = {"measuring": fact("measuring", "conceding"), "conceding": fact("conceding", "measuring")}
    assert cases_that_differ(first, second, facts=facts) == ()


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (Consequence(ball=BallIs.NONE), Consequence(ball=BallIs.AS_IT_LIES), True),
        (Consequence(ball=BallIs.REPLACED), Consequence(ball=BallIs.AS_IT_LIES), False),
        (Consequence(ball=BallIs.CORRECTED), Consequence(ball=BallIs.CORRECTED, put_right=PutRight.BEFORE_THE_NEXT_TEE), True),
        (Consequence(ball=BallIs.REPLACED), Consequence(ball=BallIs.REPLACED, put_right=PutRight.BEFORE_THE_STROKE), False),
        (Consequence(when=("measuring",)), Consequence(when=("conceding",)), True),
        (Consequence(strokes=1), Consequence(strokes=1, match_strokes=1), False),
    ],
)
def test_what_is_left_unsaid_is_no_difference(one: Consequence, other: Consequence, same: bool) -> None:  # noqa: FBT001
    assert lead_to_the_same(one, other) is same
    assert lead_to_the_same(other, one) is same


def keys(first: str, second: str) -> set[str]:
    return {entry.key for entry in compare_books(read_book(first), read_book(second))}


@pytest.mark.parametrize(
    ("first", "second", "act"),
    [
        ("2019", "2023", "opponent-moves-not-search"),
        ("2019", "2023", "caddie-behind-at-stroke"),
        ("2019", "2023", "club-laid-for-stance"),
        ("2016", "2019", "late-start-within-5"),
        ("2016", "2019", "late-start-over-5"),
        ("2016", "2019", "hole-not-finished"),
        ("2016", "2019", "anchored-stroke"),
        ("draft-2017", "2019", "wrong-place-serious"),
        ("draft-2017", "2019", "accidental-move-by-player"),
    ],
)
def test_what_an_edition_only_tells_more_fully_is_not_reported(first: str, second: str, act: str) -> None:
    assert f"act.{act}.cases" not in keys(first, second)


@pytest.mark.parametrize(
    ("first", "second", "act"),
    [
        ("2019", "2023", "incorrect-substitution"),
        ("2019", "2023", "card-unsigned"),
        ("2019", "2023", "handicap-missing-on-card"),
        ("2019", "2023", "caddie-behind-taking-stance"),
        ("2016", "2019", "double-hit"),
        ("2016", "2019", "practice-before-stroke-play-round"),
        ("2016", "2019", "accidental-move-in-search"),
        ("2016", "2019", "drop-wrong-way-played"),
        ("draft-2017", "2019", "double-hit"),
    ],
)
def test_what_changed_is_still_reported(first: str, second: str, act: str) -> None:
    assert f"act.{act}.cases" in keys(first, second)


def test_what_no_source_states_is_counted_apart() -> None:
    books = read_book("draft-2017"), read_book("2019")
    one = stated_for_one(*books)
    assert one
    assert not {entry.key for entry in one} & keys("draft-2017", "2019")
    assert all(entry.first.value is None or entry.second.value is None for entry in one)


def changed(edition: str, key: str, now: Value) -> Book:
    catalogue = packaged_catalogue()
    row, spec = catalogue.find_key(key)
    was = row.editions[edition].values.get(spec.name, ABSENT)
    change = Change(number=1, key=key, was=was, now=now, because="As tried.", standing=Standing.UNOFFICIAL)
    overlay = Overlay(name="tried", title="Tried", dated=date(2024, 1, 1), on=(edition,), after=(), changes=(change,))
    return open_book(edition, [overlay], catalogue)


def test_what_an_overlay_takes_away_or_puts_in_is_always_reported() -> None:
    gone = changed("2019", "act.double-hit.cases", ABSENT)
    assert [entry.key for entry in compare_books(read_book("2019"), gone)] == ["act.double-hit.cases"]
    silent = next(entry for entry in stated_for_one(read_book("2019"), read_book("2023")) if entry.first.value is None)
    assert silent.second.value is not None
    put_in = changed("2019", silent.key, silent.second.value)
    assert [entry.key for entry in compare_books(read_book("2019"), put_in)] == [silent.key]


def test_a_cell_that_an_overlay_types_anew_is_not_told_briefly() -> None:
    key = "act.anchored-stroke.cases"
    free = (Consequence(when=("inadvertent",)), Consequence(strokes=2, hole=HoleIs.LOST))
    assert key in {entry.key for entry in compare_books(changed("2016", key, (free[1],)), changed("2016", key, free))}
