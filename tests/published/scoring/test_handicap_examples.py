"""Every worked example of a handicap, and that a broken rounding or a lost plus makes some of them fail.

Source of the examples: each names its own (title, year, rule) in its file.
"""

import re
from collections.abc import Callable
from math import floor
from pathlib import Path

import pytest

from marram.handicaps import rounding, written_handicaps
from tests.published import adapters_handicap_scores, adapters_handicaps
from tests.published.run import Example, find_faults, list_adapters, read_content, read_examples

FILES = [Path(__file__).with_name(name) for name in ("scoring-examples.yaml", "handicap-examples.yaml")]
TOPICS = {adapter.topic for adapter in (*adapters_handicaps.ADAPTERS, *adapters_handicap_scores.ADAPTERS)}
EXAMPLES = [example for file in FILES for group in read_examples(read_content(file)) for example in group if example.topic in TOPICS]
TOLD = {example.name: example for example in EXAMPLES}


def fail(names: list[str]) -> list[str]:
    adapters = list_adapters()
    return [name for name in names if list(find_faults(TOLD[name], adapters))]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example.name)
def test_the_example_comes_out(example: Example) -> None:
    assert list(find_faults(example, list_adapters())) == []


def test_there_are_examples_of_every_topic() -> None:
    assert len(EXAMPLES) > 60
    assert {example.topic for example in EXAMPLES} == TOPICS


@pytest.mark.parametrize(
    ("broken", "seen_by"),
    [
        (lambda value: round(value - rounding._HALF), ["CH-08", "CH-11", "SD-04", "SD-05"]),  # half to even
        (int, ["CH-07", "CH-08", "SD-04"]),  # toward zero
        (lambda value: floor(value - rounding._HALF), ["CH-02", "PH-03", "SD-01", "HI-04"]),  # cut off
    ],
)
def test_a_broken_rounding_is_seen(broken: Callable[[object], int], seen_by: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    assert fail(seen_by) == []
    monkeypatch.setattr(rounding, "floor", broken)
    assert fail(seen_by) == seen_by


def test_a_lost_plus_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    seen_by = ["CH-07", "SA-04", "SA-05", "SA-08", "ND-04", "CP-06"]
    assert fail(seen_by) == []
    written = written_handicaps._WRITTEN.pattern.replace(r"(?P<plus>\+?)", r"(?P<plus>)\+?")
    monkeypatch.setattr(written_handicaps, "_WRITTEN", re.compile(written, re.ASCII))
    assert fail(seen_by) == seen_by


def test_a_plus_told_as_a_minus_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(written_handicaps, "in_decimals", lambda value, decimals: rounding.in_decimals(value, decimals).replace("-", "−"))
    assert fail(["CH-07", "HI-05"]) == ["CH-07", "HI-05"]
