"""Whole events that were worked out by hand come out: every place, what decided it, each charge."""

from pathlib import Path

import pytest

from tests.published.run import Example, find_faults, list_adapters, read_content, read_examples

NAMES = ("events-by-hand.yaml", "events-of-several-rounds.yaml", "event-records-by-hand.yaml")
FILES = [Path(__file__).with_name(name) for name in NAMES]
EXAMPLES = [example for file in FILES for group in read_examples(read_content(file)) for example in group]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example.name)
def test_the_event_comes_out(example: Example) -> None:
    assert list(find_faults(example, list_adapters())) == []


def test_there_is_more_than_one() -> None:
    assert len(EXAMPLES) == 10
