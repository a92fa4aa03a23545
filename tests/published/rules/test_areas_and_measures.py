"""What each edition says of the areas of the course and of measures, against the collected facts, value by value.

Source: areas_and_measures.yaml beside this file, in which each edition of each row names the published title that its values were seen in,
or says that they are from memory. How its sentences read as values stands in readings.yaml.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.rulebook import packaged_catalogue
from tests.support.readings import EDITIONS, held, in_order, read_facts, read_in_print

HERE = Path(__file__).parent
ROW_OF = {"relief-size-small": "relief.small", "relief-size-large": "relief.lateral", "search-time": "search"}
FACTS = read_facts(HERE / "areas_and_measures.yaml", HERE / "readings.yaml", row_of=ROW_OF)
IN_ANOTHER_ROW = {("teeing-area", "other_tees_are", "2016"): "general-area, whose facts name the other teeing grounds"}
"""Values that the facts state under another row."""


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("row", "part"), FACTS.stated)
def test_value(row: str, part: str, edition: str) -> None:
    found, expected = held(row, edition, part), FACTS.expected(row, edition, part)
    assert in_order(found) == in_order(expected) if part != "order" else found == expected


def test_every_value_of_these_rows_is_compared() -> None:
    rows = packaged_catalogue().rows
    compared = {f"{row}.{part}" for row, part in FACTS.stated}
    assert compared == {f"{row}.{name}" for row in FACTS.readings for name, spec in rows[row].parts.items() if spec.decides}
    assert set(FACTS.facts) == set(FACTS.readings)


def test_every_sentence_that_is_read_is_one_of_the_facts() -> None:
    assert not list(FACTS.unread_words())


def test_what_the_facts_do_not_state_is_not_called_seen() -> None:
    assert set(FACTS.called_seen()) - read_in_print() == set(IN_ANOTHER_ROW)
