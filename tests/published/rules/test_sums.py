"""What several acts cost together, against sums worked out by hand.

Source: sums.yaml beside this file, in which each sum names its rule and where it was seen; its `about` keeps the figure of the first run.
"""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path

import pytest
from click.testing import CliRunner

from marram.cli.act.command import act
from tests.support.yaml_text import read_yaml

FACTS = read_yaml((Path(__file__).parent / "sums.yaml").read_text(encoding="utf-8"))
SUMS = {entry["id"]: entry for entry in FACTS["sums"]}
ADDED = [name for name, entry in SUMS.items() if "stroke_play" in entry]


def asked(entry: dict[str, object]) -> list[str]:
    """The command by which an official asks for a sum."""
    first, *others = list(entry["acts"])  # type: ignore[call-overload]
    words = [first, *(word for other in others for word in ("--also", other)), "--book", str(entry["edition"]), "--json"]
    for name in ("between", "holes", "form"):
        words += [f"--{name}", str(entry[name])] if name in entry else []
    return words + (["--match"] if entry.get("match") else [])


def told(entry: dict[str, object]) -> dict[str, object]:
    done = CliRunner().invoke(act, asked(entry))
    assert done.exit_code == 0, done.output
    (book,) = json.loads(done.stdout)["books"]
    return dict(book)


def totals(readings: list[dict[str, object]], side: str) -> dict[frozenset[str], object]:
    """Each total of a side by what it supposes."""
    found: dict[frozenset[str], object] = {}
    for reading in readings:
        total = reading[side]
        assert isinstance(total, dict)
        amount = total["words"] if side == "match_play" or total["disqualified"] else total["strokes"]
        found[frozenset(map(str, reading["supposes"]))] = amount  # type: ignore[call-overload]
    return found


def agrees(expected: object, found: dict[frozenset[str], object]) -> bool:
    """Whether the totals found are the one expected, or those expected of each thing supposed."""
    if not isinstance(expected, dict):
        return set(found.values()) == {expected}
    split = all(any(supposal in supposes for supposes in found) for supposal in expected)
    return split and all(
        amount == found_amount for supposal, amount in expected.items() for supposes, found_amount in found.items() if supposal in supposes
    )


@pytest.mark.parametrize("name", ADDED)
@pytest.mark.parametrize("side", ["stroke_play", "match_play"])
def test_a_sum_is_what_it_comes_to_by_hand(name: str, side: str) -> None:
    entry = SUMS[name]
    together = told(entry)["together"]
    assert isinstance(together, dict)
    found = totals(together["readings"], side)
    assert agrees(entry[side], found), (entry["rule"], found)
    assert together["citations"]


@pytest.mark.parametrize("name", ADDED)
def test_what_hangs_on_something_unsaid_is_null_and_asked(name: str) -> None:
    together = told(SUMS[name])["together"]
    assert isinstance(together, dict)
    found = set(totals(together["readings"], "stroke_play").values())
    assert (together["stroke_play"]["words"] is None) is (len(found) > 1)
    assert bool(together["asks"]) is (len(together["readings"]) > 1)


@pytest.mark.parametrize("name", [name for name, entry in SUMS.items() if "partner" in entry])
def test_what_the_partner_bears(name: str) -> None:
    entry = SUMS[name]
    book = told(entry)
    expected = entry["partner"] if isinstance(entry["partner"], list) else [entry["partner"]]
    each = book.get("each_reads", [book["reads"]])
    assert isinstance(each, list)
    assert [reads["partner"] for reads in each] == expected
    assert all(reads["citations"] for reads in each)


def test_the_sums_name_their_rules_and_sources() -> None:
    assert len(SUMS) == len(FACTS["sums"]) >= 40
    assert {entry["source"] for entry in SUMS.values()} <= set(FACTS["about"]["sources"])
    assert all(entry["rule"] for entry in SUMS.values())
    assert min(Counter(entry["edition"] for entry in SUMS.values()).values()) >= 15
