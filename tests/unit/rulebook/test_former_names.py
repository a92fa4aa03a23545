"""Names that outsiders may have written down stay: every key, fact and event of an earlier state still answers."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from marram.office.books.show_key import fact_of_key
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.search_clock import SearchEvent
from marram.rulings.drop.states import DropEvent

FORMER = json.loads((Path(__file__).parent / "former_names.json").read_text(encoding="utf-8"))


def test_every_former_key_still_answers() -> None:
    catalogue = packaged_catalogue()
    assert len(FORMER["keys"]) > 2000
    assert [key for key in FORMER["keys"] if key not in catalogue.keys and not fact_of_key(catalogue, key)] == []


@pytest.mark.parametrize(
    ("kind", "known"),
    [("facts", packaged_catalogue().facts), ("drop_events", list(DropEvent)), ("search_events", list(SearchEvent))],
)
def test_every_former_fact_and_event_is_known(kind: str, known: object) -> None:
    assert FORMER[kind]
    assert [name for name in FORMER[kind] if name not in known] == []  # type: ignore[operator]


def test_a_former_key_that_names_no_fact_is_no_key() -> None:
    assert fact_of_key(packaged_catalogue(), "questions.nobody_asks") == ""
    assert fact_of_key(packaged_catalogue(), "search.limit_min") == ""
