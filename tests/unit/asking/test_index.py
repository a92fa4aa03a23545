"""The index on texts of a few words, where the order can be told by thinking."""

from __future__ import annotations

import math
from collections import Counter

import pytest

from marram.asking.heard_words import Lexicon
from marram.asking.index import Index, Text


def lexicon_of(words: str = "") -> Lexicon:
    return Lexicon(idle=frozenset(), linking=frozenset(), phrases={}, kinds={}, words=Counter(words.split()))


def order_of(entries: dict[str, list[str]], asked: str) -> list[str]:
    lexicon = lexicon_of()
    index = Index(lexicon, {name: [Text(words=words) for words in texts] for name, texts in entries.items()}, {})
    return [match.id for match in index.find(lexicon.hear(asked))]


def test_words_that_follow_each_other_count_more_than_words_far_apart() -> None:
    entries = {"apart": ["alpha gamma delta beta"], "together": ["gamma alpha beta delta"]}
    assert order_of(entries, "alpha beta") == ["together", "apart"]


def test_a_long_entry_is_marked_down() -> None:
    entries = {"long": ["alpha", "beta gamma delta epsilon zeta eta"], "short": ["alpha", "beta"]}
    assert order_of(entries, "alpha") == ["short", "long"]


def test_a_phrase_that_says_more_than_was_asked_fits_by_its_cosine() -> None:
    """Three words of equal rarity: the cosine of one of them with all three is 1 / √3. Both entries hold the same words."""
    lexicon = lexicon_of()
    texts = {"alone": [Text(words="alpha"), Text(words="beta gamma")], "together": [Text(words="alpha beta gamma")]}
    fits = {match.id: match.fit for match in Index(lexicon, texts, {}).find(lexicon.hear("alpha"))}
    assert fits["alone"] - fits["together"] == pytest.approx(0.45 * (1 - 1 / math.sqrt(3)))


def test_a_rare_word_counts_more_than_a_common_one() -> None:
    entries = {"common": ["alpha beta"], "rare": ["gamma delta"], "third": ["alpha zeta"], "fourth": ["alpha eta"]}
    assert order_of(entries, "alpha gamma")[0] == "rare"


def test_of_entries_that_fit_as_well_the_one_with_the_words_in_that_order_comes_first() -> None:
    """Who did what to whom: the same words as near each other, so only their order tells the two apart."""
    entries = {"first": ["alpha beta"], "second": ["beta alpha"]}
    assert order_of(entries, "beta alpha") == ["second", "first"]
    assert order_of(entries, "alpha beta") == ["first", "second"]


def test_an_entry_that_shares_no_word_is_not_found() -> None:
    assert order_of({"one": ["alpha"], "other": ["beta"]}, "beta") == ["other"]


def test_of_words_as_near_the_commonest_is_meant() -> None:
    assert lexicon_of("manner manner banner").hear("hanner").sequence == ("manner",)
    assert lexicon_of("manner banner banner").hear("hanner").sequence == ("banner",)


def test_one_slip_counts_before_two_words_written_as_one() -> None:
    lexicon = lexicon_of("lay bird ladybird")
    assert lexicon.hear("laybird").sequence == lexicon.hear("ladybird").sequence
    assert lexicon.hear("birdlay").sequence == ("bird", "lie")


def test_a_short_word_forgives_no_slip_and_a_long_one_two() -> None:
    assert lexicon_of("pin").hear("pan").sequence == ("pan",)
    assert lexicon_of("flagstick").hear("flgstik").sequence == ("flgstik",)
    assert lexicon_of("flagstick").hear("flagstk").sequence != lexicon_of("flagstick").hear("flagstick").sequence
    assert lexicon_of("flagstick").hear("flagsstikc").sequence == lexicon_of("flagstick").hear("flagstick").sequence
