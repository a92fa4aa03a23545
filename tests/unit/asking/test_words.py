"""The words of a question: one word for many names, stems, kinds, and slips of spelling."""

from __future__ import annotations

import pytest

from marram.asking.heard_words import Lexicon, read_lexicon, split_words


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    found = read_lexicon()
    found.learn("a rake in the bunker, a flagstick, a marker and leaves on the green")
    return found


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Ball's in the O.B., lost", ["balls", "in", "the", "ob", "lost"]),
        ("a pitch-mark; 2 clubs", ["a", "pitch", "mark", "2", "clubs"]),
        ("lost. Found", ["lost", "found"]),
        ("", []),
    ],
)
def test_words_are_split(text: str, words: list[str]) -> None:
    assert split_words(text) == words


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("the pin", "flagsticks"),
        ("OB", "out of bounds"),
        ("gimme", "conceded"),
        ("in the trap", "bunkers"),
        ("casual water", "puddle"),
        ("winter rules", "lift, clean and place"),
        ("better ball", "fourball"),
        ("struck", "hitting"),
        ("whiff", "missed ball"),
        ("caddy", "caddies"),
        ("GUR", "ground under repair"),
        ("my buggy", "golf cart"),
        ("insurance ball", "provisional"),
        ("reload", "provisional ball"),
        ("club knockout", "match play"),
        ("splash out", "bunker"),
        ("lead strip", "lead tape"),
        ("marked with a leaf", "ball marker"),
        ("the lost ball clock", "search time"),
        ("jumped the queue", "out of turn"),
    ],
)
def test_names_of_one_thing_say_the_same(lexicon: Lexicon, one: str, other: str) -> None:
    assert lexicon.hear(one).sequence == lexicon.hear(other).sequence


def test_the_longest_phrase_counts(lexicon: Lexicon) -> None:
    assert lexicon.hear("old hole plug").sequence == ("hole_plug",)
    assert lexicon.hear("hole").sequence == ("hole",)


@pytest.mark.parametrize(("wrong", "right"), [("flagstik", "flagstick"), ("bunkr", "bunker"), ("raek", "rake")])
def test_slips_of_spelling_are_forgiven(lexicon: Lexicon, wrong: str, right: str) -> None:
    assert lexicon.hear(wrong).sequence[-1:] == lexicon.hear(right).sequence[-1:]


def test_two_words_written_as_one_are_parted(lexicon: Lexicon) -> None:
    assert lexicon.hear("bunkerrake").sequence == lexicon.hear("bunker rake").sequence


def test_a_short_word_is_not_taken_for_another(lexicon: Lexicon) -> None:
    assert lexicon.hear("gin").sequence == ("gin",)


def test_a_kind_counts_less_than_the_thing(lexicon: Lexicon) -> None:
    said = lexicon.hear("a fox")
    assert said.sequence == ("fox",)
    assert said.weights["fox"] == 1.0
    assert 0 < said.weights["anim"] < 1


def test_idle_words_and_negations_tell_nothing(lexicon: Lexicon) -> None:
    assert lexicon.hear("may I not please do this").sequence == ()
