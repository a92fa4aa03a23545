"""What each edition says of one and the same fact, where one cell was once typed more fully; and where an edition does not ask.

Source: facts.yaml beside this file, in which each question names the title and rule that its answer was written from.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.interchange.books.book_files import read_book
from marram.rulings.acts.acts import facts_not_read, facts_read, rule_on_act
from tests.support.yaml_text import read_yaml

CASES = read_yaml((Path(__file__).parent / "facts.yaml").read_text(encoding="utf-8"))["acts"]


@pytest.mark.parametrize("case", [pytest.param(case, id=f"{case['act']}-{case['edition']}-{'-'.join(case['facts'])}") for case in CASES])
def test_act(case: dict[str, object]) -> None:
    facts, expected, book, act = case["facts"], case["leads_to"], read_book(str(case["edition"])), str(case["act"])
    assert isinstance(facts, list)
    assert isinstance(expected, dict)
    found = rule_on_act(book, act, dict.fromkeys(facts, True))
    assert found.case is not None, found.why_none
    assert {name: getattr(found.case, name) for name in expected} == expected
    assert str(case["rule"]) in found.citations[0].rule
    assert bool(facts_not_read(facts, facts_read([book], act))) is bool(case.get("not_read", False))
    assert case["source"]


def test_enough_of_them_rest_on_a_source() -> None:
    seen = [case for case in CASES if "memory" not in case["source"]]
    assert len({case["act"] for case in seen}) >= 20
    assert len({case["act"] for case in CASES}) >= 25
