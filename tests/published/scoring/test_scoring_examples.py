"""Every stored example of scoring passes; breaking rounding, the plus sign or countback makes one fail.

The examples are the cited ones of scoring-examples.yaml: rule and arithmetic stand beside each.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from marram.handicaps import strokes_on_holes
from marram.scoring.competition.terms_of_competition import Step
from marram.scoring.forms import strokes_received
from marram.scoring.ties import countback
from tests.published import adapters_matches, adapters_returned_cards, adapters_scoring, adapters_ties
from tests.published.run import Example, find_faults, list_adapters, read_content, read_examples

STORED = Path(__file__).with_name("scoring-examples.yaml")
TOPICS = {
    adapter.topic for module in (adapters_scoring, adapters_returned_cards, adapters_ties, adapters_matches) for adapter in module.ADAPTERS
}
EXAMPLES = [example for (example,) in read_examples(read_content(STORED)) if example.topic in TOPICS]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example.name)
def test_an_example_of_scoring(example: Example) -> None:
    assert list(find_faults(example, list_adapters())) == []


def test_there_are_examples_of_every_kind() -> None:
    assert len(EXAMPLES) >= 16


def failing() -> set[str]:
    return {example.topic for example in EXAMPLES if any(find_faults(example, list_adapters()))}


@pytest.mark.parametrize(
    ("module", "name", "broken", "topic"),
    [
        (
            strokes_received,
            "strokes_by_hole",
            lambda strokes, index: strokes_on_holes.strokes_by_hole(abs(strokes), index),
            "stableford_plus",
        ),
        (countback, "round_half_up", lambda value, decimals=0: Fraction(int(value)), "countback_net_whole"),
        (adapters_ties, "holes_of_step", lambda step, holes: tuple(range(1, 10)), "countback_gross"),
        (countback, "_LAST", dict.fromkeys((Step.LAST_9, Step.LAST_6, Step.LAST_3, Step.LAST_1), 9), "countback_gross"),
    ],
    ids=["plus sign", "rounding", "first holes", "nine for six"],
)
def test_a_broken_rule_fails_an_example(module: object, name: str, broken: object, topic: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert failing() == set()
    monkeypatch.setattr(module, name, broken)
    assert topic in failing()
