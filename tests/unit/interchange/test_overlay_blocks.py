"""A trial file rewritten change by change: what nobody touched stays to the letter."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.core.errors import RuleDataError
from marram.interchange.books.overlay_blocks import read_blocks

WRITTEN = """\
# The whole trial, in the words of its author.
title = "Two changes"   # a working title
dated = 2026-03-01
on = ["2023"]

# First of all, the search.
[[change]]
key = "search.limit_min"
was = 3
now = 2      # minutes
because = "Long enough."

[[clarification]]
dated = 2026-04-02
change = 2
text = "Both hands may be used."

# Then the drop: see the minutes of March.
[[change]]
key = "drop-height.height"   # from the list
was = "knee-as-when-standing"
now = "shoulder"
because = '''
Several
lines.'''
asks = [
  "Was it easier?",  # by all
]
"""


def test_nothing_changed_is_the_same_text() -> None:
    assert read_blocks(WRITTEN, where="t").text == WRITTEN


def test_one_member_changed_changes_one_line() -> None:
    blocks = read_blocks(WRITTEN, where="t")
    after = blocks.with_change(1, {**blocks.changes[0], "now": 4}).text
    assert after == WRITTEN.replace("now = 2      # minutes", "now = 4      # minutes")


def test_a_change_moved_takes_its_remarks_and_its_clarification_along() -> None:
    after = read_blocks(WRITTEN, where="t").in_order([2, 1]).text
    raw = tomllib.loads(after)
    assert [change["key"] for change in raw["change"]] == ["drop-height.height", "search.limit_min"]
    assert raw["clarification"][0]["change"] == 1
    assert (
        after.index("minutes of March") < after.index("drop-height.height") < after.index("the search.") < after.index("search.limit_min")
    )
    assert all(remark in after for remark in ("a working title", "# minutes", "# from the list", "# by all"))


def test_a_change_taken_out_takes_its_own_remark_and_clarification_and_no_other() -> None:
    after = read_blocks(WRITTEN, where="t").in_order([1]).text
    raw = tomllib.loads(after)
    assert [change["key"] for change in raw["change"]] == ["search.limit_min"]
    assert "clarification" not in raw
    assert "# First of all, the search." in after
    assert "minutes of March" not in after


def test_a_clarification_of_the_other_change_is_renumbered() -> None:
    raw = tomllib.loads(read_blocks(WRITTEN, where="t").in_order([2]).text)
    assert raw["clarification"][0]["change"] == 1


def test_the_head_keeps_its_remarks() -> None:
    after = read_blocks(WRITTEN, where="t").with_head({"title": "Three", "status": "open", "from": None}).text
    assert after.startswith("# The whole trial, in the words of its author.\n")
    assert 'title = "Three"   # a working title' in after
    assert tomllib.loads(after)["status"] == "open"


def test_a_file_without_a_last_line_end_takes_another_change() -> None:
    text = WRITTEN.rstrip("\n")
    after = read_blocks(text, where="t").with_change(3, {"key": "a.b", "was": 1, "now": 2, "because": "x"}).text
    assert after.startswith(text + "\n")
    assert tomllib.loads(after)["change"][2]["key"] == "a.b"


@pytest.mark.parametrize(
    "text",
    [
        'title = "x"\nchange = [{ key = "a.b" }]\n',
        'title = "x"\n[[change]]\nbecause = """\n[[change]]\n"""\n',
        'title = "x"\n[[change]]\nkey = "a"\n[other]\nz = 1\n',
    ],
)
def test_a_file_that_cannot_be_told_apart_is_refused_and_never_rewritten(text: str) -> None:
    with pytest.raises(RuleDataError, match="told apart"):
        read_blocks(text, where="t")


def test_no_toml_is_told() -> None:
    with pytest.raises(RuleDataError, match="not TOML"):
        read_blocks("title = ", where="t")


TEXTS = st.text(alphabet=st.characters(blacklist_categories=["Cs", "Cc"]), max_size=60)


@given(because=TEXTS, aim=TEXTS, asks=st.lists(TEXTS, max_size=3), number=st.floats(0.001, 1e9) | st.integers(0, 10**9))
def test_whatever_is_typed_is_read_back(because: str, aim: str, asks: list[str], number: float) -> None:
    blocks = read_blocks(WRITTEN, where="t")
    members = {**blocks.changes[1], "because": because, "aim": aim, "asks": asks, "now": {"metres": number}}
    after = blocks.with_change(2, members).text
    assert tomllib.loads(after)["change"][1] == members
    assert tomllib.loads(after)["change"][0] == tomllib.loads(WRITTEN)["change"][0]


def test_the_examples_are_kept_to_the_letter() -> None:
    files = sorted((Path(__file__).parents[3] / "examples" / "trials").glob("*.toml"))
    assert len(files) >= 3
    for file in files:
        text = file.read_text(encoding="utf-8")
        blocks = read_blocks(text, where=file.name)
        assert blocks.text == text
        assert list(blocks.changes) == tomllib.loads(text)["change"]


def test_remarks_at_the_top_stay_there_where_a_file_has_no_head() -> None:
    blocks = read_blocks('# About all of it.\n[[change]]\nkey = "a.b"\n\n[[change]]\nkey = "c.d"\n', where="t")
    assert blocks.in_order([2, 1]).text.startswith("# About all of it.\n")
    assert [change["key"] for change in read_blocks(blocks.in_order([2, 1]).text, where="t").changes] == ["c.d", "a.b"]
