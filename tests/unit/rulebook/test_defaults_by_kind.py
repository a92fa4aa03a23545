"""What a thing is instead hangs on its kind: stated once, never counted as seen, and overruled by what the thing itself states."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from importlib import resources

import pytest

from marram.rulebook.audit import DEFAULT, audit_catalogue
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.reading.row_reading import read_parts
from marram.rulebook.values import PartSpec

CATALOGUE = packaged_catalogue()
THING = CATALOGUE.forms["thing"]


def stated() -> Iterator[tuple[str, str, Mapping[str, object]]]:
    """What the data types for each thing that gives its own kind."""
    raw = tomllib.loads(resources.files("marram.rulebook").joinpath("data/objects.toml").read_text(encoding="utf-8"))
    for row, table in raw.items():
        for edition, cell in table["in"].items():
            if "kind" in cell:
                yield row, edition, cell


@pytest.mark.parametrize(
    ("thing", "fact", "kind"),
    [
        ("stone", "if_solidly_embedded", "part-of-course"),  # Rules of Golf (January 2023), Definition of Loose Impediment
        ("rake", "if_solidly_embedded", "immovable-obstruction"),  # the same, Definitions of the obstructions: what cannot be moved
        ("sprinkler-head", "if_declared_integral", "integral-object"),  # the same, Definition of Integral Object
        ("rake", "if_sticks_to_ball", "the-same"),
    ],
)
def test_a_thing_is_what_its_kind_is_instead(thing: str, fact: str, kind: str) -> None:
    assert CATALOGUE.rows[f"thing.{thing}"].editions["2023"].values[fact] == kind


def test_no_thing_repeats_what_its_kind_says() -> None:
    repeated = [
        (row, edition, name)
        for row, edition, cell in stated()
        for name, value in cell.items()
        if name in THING and name != "kind" and [value] == [THING[name].default_for({"kind": str(cell["kind"])})]
    ]
    assert repeated == []


def test_a_default_by_kind_is_counted_as_a_default() -> None:
    cell = CATALOGUE.rows["thing.stone"].editions["2023"]
    assert "if_solidly_embedded" in cell.defaulted and "kind" not in cell.defaulted
    counts = audit_catalogue(CATALOGUE).counts["2023", "objects"]
    assert counts[DEFAULT] == sum(len(row.editions["2023"].defaulted) for row in CATALOGUE.rows.values() if row.situation == "objects")


def read(**member: object) -> tuple[dict[str, PartSpec], list[str]]:
    faults: list[str] = []
    words = ["the-same", "red", "blue"]
    other = {"type": "word", "words": words, "means": "m", "default": "the-same", **member}
    return read_parts("form", {"kind": {"type": "word", "words": ["a", "b"], "means": "m"}, "other": other}, faults), faults


def test_the_default_follows_the_word_and_falls_back() -> None:
    parts, faults = read(default_by="kind", defaults={"a": "red"})
    assert faults == []
    assert [parts["other"].default_for({"kind": kind}) for kind in ("a", "b")] == ["red", "the-same"]
    assert parts["other"].default_for({}) == "the-same"


def test_a_default_by_kind_needs_one_for_every_other_kind() -> None:
    faults: list[str] = []
    read_parts("form", {"other": {"type": "yes-no", "means": "m", "default_by": "kind", "defaults": {"a": True}}}, faults)
    assert faults == ["form.other: default_by needs a default besides", "form.other: defaults needs a default besides"]


@pytest.mark.parametrize(
    ("member", "words"),
    [
        ({"default_by": "kinds", "defaults": {"a": "red"}}, "not 'kinds'"),
        ({"default_by": "kind", "defaults": {"c": "red"}}, "names 'c', which is no word of kind"),
        ({"default_by": "kind", "defaults": {"a": "green"}}, "default is 'green', expected one of"),
        ({"defaults": {"a": "red"}}, "not ''"),
    ],
)
def test_a_default_that_cannot_be_found_is_a_fault(member: dict[str, object], words: str) -> None:
    assert words in " ".join(read(**member)[1])
