"""What published sources say where the rule data was once found wrong: acts, things and single values, one case each.

Source: corrections.yaml beside this file, in which each case names the title, year and rule that it was written from.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.terms import Area
from marram.interchange.books.book_files import read_book
from marram.rulings.acts.acts import rule_on_act
from marram.rulings.acts.objects import rule_on_object
from tests.support.readings import held
from tests.support.yaml_text import read_yaml

CASES = read_yaml((Path(__file__).parent / "corrections.yaml").read_text(encoding="utf-8"))


def named(kind: str, *names: str) -> list[object]:
    """The cases of a kind, each under a name of its own."""
    return [pytest.param(case, id="-".join(str(case.get(name)) for name in (*names, "edition", "facts"))) for case in CASES[kind]]


def stated(case: dict[str, object]) -> dict[str, bool]:
    facts = case["facts"]
    assert isinstance(facts, list)
    return dict.fromkeys(facts, True)


@pytest.mark.parametrize("case", named("acts", "act"))
def test_act(case: dict[str, object]) -> None:
    found = rule_on_act(read_book(str(case["edition"])), str(case["act"]), stated(case))
    expected = case["leads_to"]
    assert isinstance(expected, dict)
    assert found.case is not None, found.why_none
    assert {name: getattr(found.case, name) for name in expected} == expected
    assert str(case["rule"]).removeprefix("draft ") in found.citations[0].rule
    assert case["source"]


@pytest.mark.parametrize("case", named("things", "thing"))
def test_thing(case: dict[str, object]) -> None:
    area = Area(str(case.get("area", "general-area")))
    assert rule_on_object(read_book(str(case["edition"])), str(case["thing"]), area, stated(case)).kind == case["kind"]
    assert case["source"]


@pytest.mark.parametrize("case", named("values", "key"))
def test_value(case: dict[str, object]) -> None:
    row, _, part = str(case["key"]).rpartition(".")
    assert held(row, str(case["edition"]), part) == case["is"]
    assert case["source"]
