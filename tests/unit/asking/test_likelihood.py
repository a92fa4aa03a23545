"""The likelihood of a wording, against sums done by hand."""

from __future__ import annotations

from math import log

import pytest

from marram.asking.heard_words import read_lexicon
from marram.asking.likelihood import Likelihood


def test_one_word_in_one_of_two_entries() -> None:
    model = Likelihood({"a": [({"moss": 1.0}, 1.0)], "b": [({"fern": 1.0}, 1.0)]})
    common = 1.01 / 2.02
    assert model.of("a", {"moss": 1.0}) == pytest.approx(log((1 + 4 * common) / 5 / common))
    assert model.of("b", {"moss": 1.0}) == pytest.approx(log(4 * common / 5 / common)) == pytest.approx(log(0.8))


def test_each_text_counts_to_length_one_times_its_weight() -> None:
    model = Likelihood({"a": [({"moss": 3.0, "fern": 4.0}, 2.0), ({"moss": 1.0}, 1.0)], "b": [({"reed": 1.0}, 1.0)]})
    moss, fern, stock = 2 * 0.6 + 1, 2 * 0.8, 2 * 0.6 + 1 + 2 * 0.8 + 1 + 0.03
    both = [log((held + 4 * (held + 0.01) / stock) / (moss + fern + 4) / ((held + 0.01) / stock)) for held in (moss, fern)]
    assert model.of("a", {"moss": 1.0, "fern": 0.5}) == pytest.approx((both[0] + 0.5 * both[1]) / 1.5)


def test_a_word_that_stands_nowhere_says_nothing_and_no_words_are_zero() -> None:
    model = Likelihood({"a": [({"moss": 1.0}, 1.0)], "b": [({"fern": 1.0}, 1.0)]})
    assert model.of("a", {"stone": 1.0}) == model.of("a", {}) == 0.0
    assert model.of("a", {"moss": 1.0, "stone": 1.0}) == pytest.approx(model.of("a", {"moss": 1.0}) / 2)


def test_an_empty_text_does_no_harm() -> None:
    assert Likelihood({"a": [({}, 1.0)]}).of("a", {"moss": 1.0}) == 0.0


def test_order_and_small_words_are_spoken_but_do_not_say_what_of() -> None:
    said = read_lexicon().hear("he hit my ball")
    other = read_lexicon().hear("my ball hit he")
    assert said.weights == other.weights
    assert said.spoken != other.spoken
    pairs = {name: weight for name, weight in said.spoken.items() if " " in name}
    assert pairs and set(pairs.values()) == {0.4}
    small = {name for name in said.spoken if name not in said.weights and " " not in name}
    assert small and {said.spoken[name] for name in small} == {0.3}
