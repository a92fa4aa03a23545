"""Brackets with their players: what is refused, what a result may be, and what rests on what."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.core.errors import EventError
from marram.events.knockout.match_bracket import (
    BracketDrawn,
    MatchWon,
    find_match,
    follow_bracket,
    later_results,
    match_key,
    read_result,
)

SIX = BracketDrawn(by="entry", seed="", numbered=("Aster", "Bracken", "Clover", "Dock", "Elder", "Fern"))


def won(winner: str, loser: str, told: str = "1 up", **more: object) -> MatchWon:
    return MatchWon(winner=winner, loser=loser, told=told, round=1, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("3 & 2", "3 & 2"),
        ("by 4 and 3", "4 & 3"),
        ("10/8", "10 & 8"),
        ("2 & 1", "2 & 1"),
        ("3 & 1", "3 & 1"),
        ("1 up", "1 up"),
        ("2UP", "2 up"),
        ("19th hole", "at the 19th hole"),
        ("at the 21st hole", "at the 21st hole"),
        ("22", "at the 22nd hole"),
        ("walkover", "by a walkover"),
        ("Conceded", "by concession"),
        ("disqualification", "by disqualification"),
    ],
)
def test_results_are_read_as_they_are_told(text: str, told: str) -> None:
    assert read_result(text, 18) == told


@pytest.mark.parametrize("text", ["4 & 1", "2 & 2", "1 & 2", "11 & 9", "3 & 0", "3 up", "18th hole", "17", "won", "", "3 & 2 & 1"])
def test_results_that_cannot_be_are_refused(text: str) -> None:
    with pytest.raises(EventError):
        read_result(text, 18)


@given(st.integers(1, 17), st.integers(0, 20))
def test_a_lead_with_holes_left_is_one_or_two_more_than_are_left(left: int, up: int) -> None:
    # before the last hole played there were left + 1 holes and no lead above that; one hole moves the lead by one at most
    may_be = up in {left + 1, left + 2} and up + left <= 18
    try:
        found = read_result(f"{up} & {left}", 18)
    except EventError:
        found = ""
    assert bool(found) is may_be


def test_a_struck_result_opens_the_match_again() -> None:
    assert follow_bracket(SIX, [won("Dock", "Elder")]).rounds[1][0].sides == ("Aster", "Dock")
    again = follow_bracket(SIX, [won("Dock", "Elder", is_struck=True)])
    assert again.rounds[1][0].sides == ("Aster", "") and [place.sides for place in again.open] == [("Dock", "Elder"), ("Clover", "Fern")]


def test_a_result_moves_nobody_into_a_match_that_was_not_theirs() -> None:
    # Clover lost to Fern, so what is told of Clover and Bracken is of no match
    found = follow_bracket(SIX, [won("Fern", "Clover"), won("Clover", "Bracken")])
    assert found.rounds[1][1].sides == ("Bracken", "Fern") and not found.rounds[1][1].winner


def test_who_does_not_meet_is_told_with_the_matches_that_are_open() -> None:
    bracket = follow_bracket(SIX, ())
    with pytest.raises(EventError, match="Dock and Fern do not meet") as refused:
        find_match(bracket, "Dock", "Fern")
    assert "Dock v Elder; Clover v Fern" in refused.value.hint
    with pytest.raises(EventError, match="Klover is not in the bracket") as refused:
        find_match(bracket, "Klover", "Fern")
    assert refused.value.hint == "Is Clover meant?"
    assert find_match(bracket, "fern", "CLOVER").number == 4


def test_later_matches_rest_on_earlier_ones() -> None:
    bracket = follow_bracket(SIX, [won("Dock", "Elder"), won("Dock", "Aster")])
    first, second = find_match(bracket, "Dock", "Elder"), find_match(bracket, "Dock", "Aster")
    assert [place.round for place in later_results(bracket, first)] == [2] and list(later_results(bracket, second)) == []


def test_one_player_alone_makes_no_bracket() -> None:
    with pytest.raises(EventError):
        follow_bracket(BracketDrawn(by="entry", seed="", numbered=("Aster",)), ())
    assert match_key("Fern", "aster") == match_key("Aster", "FERN")
