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


def test_after_must_name_the_overlay_that_it_meets() -> None:
    second = overlay("b", was="2", now="4", more='after = ["c"]')
    with pytest.raises(OverlayConflict, match=r'after = \["a"\]'):
        open_book("2023", [overlay(), second], CATALOGUE)


def test_a_second_overlay_is_stale_against_what_the_first_left() -> None:
    """The later overlay must say what stands after the earlier one, not what the edition said."""
    second = overlay("b", was="3", now="4", more='after = ["a"]')
    with pytest.raises(StaleOverlay, match="was 3.*holds 2"):
        open_book("2023", [overlay(), second], CATALOGUE)


def test_two_overlays_on_different_keys_need_no_order_and_are_both_in_the_stamp() -> None:
    first, second = overlay(), overlay("b", key="relief.lateral.size", was="{ club_lengths = 2 }", now="{ metres = 2 }")
    both = open_book("2023", [first, second], CATALOGUE)
    assert both.number("search.limit_min").value == 2
    assert both.size("relief.lateral.size").value.in_metres(0) == 2
    assert both.name == "2023+a+b"
    stamps = {both.stamp, open_book("2023", [first], CATALOGUE).stamp, open_book("2023", [second], CATALOGUE).stamp}
    assert len(stamps) == 3


def test_an_overlay_for_one_edition_is_refused_by_another() -> None:
    for_new = overlay(more='on = ["2023"]')
    assert open_book("2023", [for_new], CATALOGUE).number("search.limit_min").value == 2
    with pytest.raises(RuleDataError, match="written for 2023, not for 2019"):
        open_book("2019", [for_new], CATALOGUE)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "title: a sentence is needed"),
        ("title = ", "not TOML"),
        ('title = "T"\ndated = "2026-01-01"\n', "dated: a date is needed"),
        ('title = "T"\ndated = 2026-01-01\n', "at least one"),
        ('title = "T"\ndated = 2026-01-01\ncolour = 1\n', "unknown member 'colour'"),
        ('title = "T"\ndated = 2026-01-01\non = ["1950"]\n', "unknown edition '1950'"),
        ('title = "T"\ndated = 2026-01-01\nafter = "a"\n', "after: a list of names"),
        ('title = "T"\ndated = 2026-01-01\nchange = ["x"]\n', "change 1: a change is a table"),
    ],
)
def test_a_head_that_does_not_hold_is_refused(text: str, words: str) -> None:
    with pytest.raises(RuleDataError, match=words):
        read_overlay(text, name="t", catalogue=CATALOGUE)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ("wherefore = 1", "unknown member 'wherefore'"),
        ('standing = "perhaps"', "expected one of allowed as a local rule, unofficial only"),
        ('expects = { outcome = "o" }', "needs exactly direction, matters, outcome"),
        ('expects = { outcome = "o", direction = "down", matters = 0 }', "expected a number above zero"),
        ('observes = "time"', "observes: a list of names"),
        ('[[change]]\nkey = "search.limit_min"\nwas = 3\nnow = 1\nbecause = "b"', "changed by change 1 too"),
        ('[[change]]\nkey = "search.limit_min"\nnow = 1\nbecause = "b"', "was: missing"),
    ],
)
def test_a_change_that_does_not_hold_is_refused(more: str, words: str) -> None:
    text = 'title = "T"\ndated = 2026-01-01\n[[change]]\nkey = "search.limit_min"\nwas = 3\nnow = 2\nbecause = "b"\n'
    assert read_overlay(text, name="t", catalogue=CATALOGUE).changes[0].now == 2
    with pytest.raises(RuleDataError, match=words):
        read_overlay(text + more + "\n", name="t", catalogue=CATALOGUE)


def test_all_faults_of_an_overlay_are_told_at_once() -> None:
    text = 'title = "T"\ndated = 2026-01-01\n[[change]]\nkey = "search.limit_mim"\nwas = 3\nnow = 2\nbecause = "b"\nstanding = "no"\n'
    text += '[[change]]\nkey = "search.limit_min"\nwas = true\nnow = -1\nbecause = "b"\n'
    with pytest.raises(RuleDataError) as told:
        read_overlay(text, name="t", catalogue=CATALOGUE)
    message = str(told.value)
    assert "change 1, key" in message
    assert "change 2, was: True" in message
    assert "change 2, now: -1" in message


def test_overlays_of_one_title_are_told_apart_by_their_names() -> None:
    """What two files are called in print decides nothing: the order is stated by name."""
    text = (
        'title = "One title"\ndated = 2026-01-01\n{more}\n[[change]]\nkey = "search.limit_min"\nwas = {was}\nnow = {now}\nbecause = "b"\n'
    )
    first = read_overlay(text.format(more="", was=3, now=2), name="a", catalogue=CATALOGUE)
    second = read_overlay(text.format(more="", was=2, now=4), name="b", catalogue=CATALOGUE)
    with pytest.raises(OverlayConflict, match="a and b both change search.limit_min"):
        open_book("2023", [first, second], CATALOGUE)
    by_title = read_overlay(text.format(more='after = ["One title"]', was=2, now=4), name="b", catalogue=CATALOGUE)
    with pytest.raises(OverlayConflict):
        open_book("2023", [first, by_title], CATALOGUE)


@pytest.mark.parametrize(("margin", "is_refused"), [("0.99", False), ("1", True), ("1.5", True)])
def test_a_share_may_get_worse_by_a_part_of_one_alone(margin: str, is_refused: bool) -> None:
    """Whether a ball was found is weighed by its share, which lies from 0 to 1; minutes of a round may get worse by many."""
    text = (
        'title = "T"\ndated = 2026-01-01\n[[change]]\nkey = "search.limit_min"\nwas = 3\nnow = 2\nbecause = "b"\n'
        'observes = ["ball_found", "round_min"]\n'
        'guards = [{{ outcome = "ball_found", margin = {share} }}, {{ outcome = "round_min", margin = 5 }}]\n'
    )
    if is_refused:
        with pytest.raises(RuleDataError, match=rf"guards.margin: {margin}; ball_found is a share of all"):
            read_overlay(text.format(share=margin), name="t", catalogue=CATALOGUE)
    else:
        assert read_overlay(text.format(share=margin), name="t", catalogue=CATALOGUE).changes[0].guards[0].margin == 0.99
