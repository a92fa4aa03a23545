"""Brackets of 2 to 64 players come out as the printed table has them, with byes where its highest numbers are empty."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.events.knockout.match_bracket import BYE, BracketDrawn, MatchWon, follow_bracket
from tests.support.yaml_text import read_yaml

TABLES: dict[int, list[list[int]]] = read_yaml(Path(__file__).with_name("bracket-tables.yaml").read_text(encoding="utf-8"))["tables"]


def drawn(entrants: int) -> BracketDrawn:
    return BracketDrawn(by="entry", seed="", numbered=tuple(str(number) for number in range(1, entrants + 1)))


@pytest.mark.parametrize("entrants", range(2, 65))
def test_the_first_round_is_that_of_the_table(entrants: int) -> None:
    table = TABLES[min(size for size in TABLES if size >= entrants)]
    found = follow_bracket(drawn(entrants), ())
    assert [(place.sides, place.told) for place in found.rounds[0]] == [
        (tuple(str(number) if number <= entrants else "" for number in pair), BYE if max(pair) > entrants else "") for pair in table
    ]
    assert list(found.byes) == [str(number) for number in range(1, 2 * len(table) - entrants + 1)]
    assert [len(one) for one in found.rounds] == [len(table) // 2**number for number in range(len(found.rounds))]


@pytest.mark.parametrize("entrants", [2, 3, 5, 8, 13, 32, 47, 64])
def test_where_the_lower_number_wins_each_round_is_the_table_of_half_the_size(entrants: int) -> None:
    found = follow_bracket(drawn(entrants), ())
    won: list[MatchWon] = []
    while not found.winner:
        won += [
            MatchWon(winner=min(place.sides, key=int), loser=max(place.sides, key=int), told="1 up", round=place.round)
            for place in found.open
        ]
        found = follow_bracket(drawn(entrants), won)
    assert found.winner == "1" and len(won) == entrants - 1, "everybody but the winner loses once"
    for one in found.rounds[1:]:
        assert [[int(name) for name in place.sides] for place in one] == TABLES[2 * len(one)]
