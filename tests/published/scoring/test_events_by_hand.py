"""Whole events that were worked out by hand come out: every place, what decided it, each charge."""

from pathlib import Path

import pytest

from tests.published.run import Example, find_faults, list_adapters, read_content, read_examples

FILE = Path(__file__).with_name("events-by-hand.yaml")
EXAMPLES = [example for group in read_examples(read_content(FILE)) for example in group]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example.name)
def test_the_event_comes_out(example: Example) -> None:
    assert list(find_faults(example, list_adapters())) == []


def test_there_is_more_than_one() -> None:
    assert len(EXAMPLES) == 2
