"""Entries put into a TOML file and taken out of it, while the rest stays as somebody wrote it."""

from __future__ import annotations

import datetime
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.core.toml_entries import toml_value, with_entry, without_entry

DAY = """# greenkeepers, morning
date = 2026-06-13 # a day
sigma_m = 0.3

[[conditions]]
kind = "temporary-water"
ring = [
  [1.0, 2.0],
  [3.0, 4.0],
]

# the scrape by the path
[[conditions]]
kind = "ground-under-repair" # still open

[[hole_locations]]
hole = 9
"""


def test_an_entry_goes_to_the_end_and_every_letter_before_it_stays() -> None:
    changed = with_entry(DAY, "conditions", {"kind": "no-play-zone", "x_m": 1.5, "what": 'a "nest"'})
    assert changed.startswith(DAY.rstrip())
    assert tomllib.loads(changed)["conditions"][2] == {"kind": "no-play-zone", "x_m": 1.5, "what": 'a "nest"'}


def test_an_entry_is_taken_out_with_its_lines_and_the_remark_before_the_next_one_stays() -> None:
    changed = without_entry(DAY, "conditions", 1)
    assert "temporary-water" not in changed
    assert "3.0, 4.0" not in changed
    assert "# the scrape by the path\n[[conditions]]" in changed
    assert "# greenkeepers, morning" in changed
    assert [entry["kind"] for entry in tomllib.loads(changed)["conditions"]] == ["ground-under-repair"]


def test_the_last_entry_before_another_table_is_taken_out_alone() -> None:
    changed = without_entry(DAY, "conditions", 2)
    assert tomllib.loads(changed)["hole_locations"] == [{"hole": 9}]
    assert [entry["kind"] for entry in tomllib.loads(changed)["conditions"]] == ["temporary-water"]


def test_an_empty_array_is_given_its_first_entry() -> None:
    changed = with_entry("date = 2026-06-13 # d\nconditions = []\n", "conditions", {"kind": "x"})
    assert changed.startswith("date = 2026-06-13 # d")
    assert tomllib.loads(changed) == {"date": datetime.date(2026, 6, 13), "conditions": [{"kind": "x"}]}


@pytest.mark.parametrize(
    "text",
    [
        'date = 2026-06-13\nconditions = [{ kind = "a", x_m = 1.0 }, { kind = "b" }]\n',  # no header that lines could show
        'date = 2026-06-13\nconditions = [\n  { kind = "a", x_m = 1.0 },\n  { kind = "b" },\n]\n',
        '[[conditions]]\nkind = "a"\nx_m = 1.0\nwhat = """\n[[conditions]]\n"""\n[[conditions]]\nkind = "b"\n',  # a header that is none
    ],
)
def test_a_file_written_in_another_way_says_what_is_wanted_all_the_same(text: str) -> None:
    whole = tomllib.loads(text)
    added = tomllib.loads(with_entry(text, "conditions", {"kind": "c"}))
    assert added == whole | {"conditions": [*whole["conditions"], {"kind": "c"}]}
    assert tomllib.loads(without_entry(text, "conditions", 1)) == whole | {"conditions": whole["conditions"][1:]}
    assert tomllib.loads(without_entry(text, "conditions", 2)) == whole | {"conditions": whole["conditions"][:1]}


plain = st.one_of(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=12),
    st.booleans(),
    st.integers(-(10**9), 10**9),
    st.floats(allow_nan=False, allow_infinity=False),
    st.dates(datetime.date(1900, 1, 1)),
)


@given(st.one_of(plain, st.lists(plain, max_size=3), st.lists(st.lists(st.floats(-1e6, 1e6), min_size=2, max_size=2), max_size=3)))
def test_a_value_is_read_back_as_it_was(value: object) -> None:
    assert tomllib.loads(f"it = {toml_value(value)}")["it"] == value


@given(
    st.lists(st.dictionaries(st.sampled_from(["kind", "what", "x_m", "odd name"]), plain, max_size=3), max_size=4),
    st.dictionaries(st.sampled_from(["kind", "what"]), plain, min_size=1),
    st.data(),
)
def test_what_was_put_in_can_be_taken_out(entries: list[dict[str, object]], new: dict[str, object], data: st.DataObject) -> None:
    text = "date = 2026-06-13\n"
    for entry in entries:
        text = with_entry(text, "conditions", entry)
    changed = with_entry(text, "conditions", new)
    assert tomllib.loads(changed)["conditions"] == [*entries, new]
    number = data.draw(st.integers(1, len(entries) + 1))
    left = tomllib.loads(without_entry(changed, "conditions", number)).get("conditions", [])
    every = [*entries, new]
    assert left == every[: number - 1] + every[number:]
