"""Overlays: what they may change, and what is refused."""

from __future__ import annotations

import pytest

from marram.core.errors import OverlayConflict, RuleDataError, StaleOverlay
from marram.rulebook import Overlay, open_book, packaged_catalogue, read_overlay

CATALOGUE = packaged_catalogue()


def overlay(name: str = "a", *, was: str = "3", now: str = "2", key: str = "search.limit_min", more: str = "") -> Overlay:
    head = f'title = "T {name}"\ndated = 2026-01-01\n{more}\n'
    text = f'{head}[[change]]\nkey = "{key}"\nwas = {was}\nnow = {now}\nbecause = "b"\n'
    return read_overlay(text, name=name, catalogue=CATALOGUE)


def test_change_is_read_and_cited() -> None:
    base, book = open_book("2023", [], CATALOGUE), open_book("2023", [overlay()], CATALOGUE)
    assert (base.number("search.limit_min").value, book.number("search.limit_min").value) == (3, 2)
    assert book.number("search.limit_min").citations[0].overlay == "T a"
    assert base.stamp != book.stamp
    assert book.stamp == open_book("2023", [overlay()], CATALOGUE).stamp


def test_size_of_a_procedure_follows_the_shared_size() -> None:
    changed = overlay(key="relief.lateral.size", was="{ club_lengths = 2 }", now="{ metres = 2 }")
    book = open_book("2023", [changed], CATALOGUE)
    assert book.size("relief.penalty-area-lateral-red.size").value.in_metres(9) == 2


def test_base_that_holds_something_else_is_refused() -> None:
    with pytest.raises(StaleOverlay, match="holds 5 min|holds 5"):
        open_book("2016", [overlay()], CATALOGUE)


def test_two_overlays_on_one_key_need_an_order() -> None:
    with pytest.raises(OverlayConflict, match="both change search.limit_min"):
        open_book("2023", [overlay(), overlay("b", was="2", now="4")], CATALOGUE)
    second = overlay("b", was="2", now="4", more='after = ["a"]')
    assert open_book("2023", [overlay(), second], CATALOGUE).number("search.limit_min").value == 4


@pytest.mark.parametrize(
    ("key", "was", "now", "words"),
    [
        ("search.limit_mins", "3", "2", "search.limit_min"),
        ("search.limit_min", "3", '"2 min"', "a number of min"),
        ("relief.lateral.size", "{ club_lengths = 2 }", "{ kilograms = 2 }", "club_lengths"),
        ("search.limit_min", "3", "-1", "zero or more"),
    ],
)
def test_faults_say_what_would_be_right(key: str, was: str, now: str, words: str) -> None:
    with pytest.raises(RuleDataError, match=words):
        overlay(key=key, was=was, now=now)
