"""What each edition says of the areas of the course and of measures, against the collected facts, value by value.

Source: areas_and_measures.yaml beside this file, in which each edition of each row names the published title that its values were seen in,
or says that they are from memory. How its sentences read as values stands in readings.yaml.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TypeAlias

import pytest
import yaml

from marram.rulebook import packaged_catalogue
from marram.rulebook.audit import provenance_class
from marram.rulebook.values import PartType, plain_value

Plain: TypeAlias = "str | bool | float | Sequence[Plain] | dict[str, Plain] | None"
EDITIONS = tuple(packaged_catalogue().editions)
HERE = Path(__file__).parent
READINGS = yaml.safe_load((HERE / "readings.yaml").read_text(encoding="utf-8"))
FACTS = yaml.safe_load((HERE / "areas_and_measures.yaml").read_text(encoding="utf-8"))
ROW_OF = {"relief-size-small": "relief.small", "relief-size-large": "relief.lateral", "search-time": "search"}
CELLS: dict[str, dict[str, dict[str, Plain]]] = {
    ROW_OF.get(row["id"], row["id"]): {edition: row.get(edition) or {} for edition in EDITIONS}
    for section in FACTS.values()
    for row in section
}
IN_ANOTHER_ROW = {("teeing-area", "other_tees_are", "2016"): "general-area, whose facts name the other teeing grounds"}
"""Values that the facts state under another row."""
STATED = [(row, part) for row, parts in READINGS.items() for part in parts]


def held(row: str, edition: str, part: str) -> Plain:
    """What the rule data says, as plain words; nothing where it says nothing."""
    cell = packaged_catalogue().rows[row].editions[edition]
    value = None if cell.absent else cell.values.get(part)
    plain: Plain = None if value is None else plain_value(value)  # type: ignore[assignment]
    return plain.replace(" ", "-") if isinstance(plain, str) else plain


def stated(row: str, edition: str, part: str) -> Plain:
    """What the facts say of it, in the words of the rule data; nothing where they say nothing."""
    reading = READINGS[row][part]
    if edition in reading.get("not_stated", {}):
        taken: Plain = reading["not_stated"][edition]
        return stated(row, taken.removeprefix("like "), part) if isinstance(taken, str) and taken.startswith("like ") else taken
    cell = CELLS[row][edition]
    name = next((name for name in reading.get("facts", [part]) if cell.get(name) is not None), None)
    if name is None:
        return None
    said = cell[name]
    if isinstance(said, str) and said.startswith("as 20"):
        return stated(row, said.split()[1], part)
    words: dict[str, Plain] = reading.get("words", {})
    if words:
        return words.get(str(said))
    is_size = packaged_catalogue().rows[row].parts[part].type is PartType.SIZE
    return {"club_lengths" if name.endswith("club_lengths") else "inches": said} if is_size else spoken(said)


def spoken(said: Plain) -> Plain:
    """A value as the rule data would write it."""
    if isinstance(said, str):
        return said.lower().replace(" ", "-")
    return sorted(str(spoken(entry)) for entry in said) if isinstance(said, list) else said


def in_order(value: Plain) -> Plain:
    """Lists of words whose order means nothing, in one order."""
    return sorted(str(entry) for entry in value) if isinstance(value, list) else value


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("row", "part"), STATED)
def test_value(row: str, part: str, edition: str) -> None:
    found, expected = held(row, edition, part), stated(row, edition, part)
    assert in_order(found) == in_order(expected) if part != "order" else found == expected


def test_every_value_of_these_rows_is_compared() -> None:
    rows = packaged_catalogue().rows
    compared = {f"{row}.{part}" for row, part in STATED}
    assert compared == {f"{row}.{name}" for row in READINGS for name, spec in rows[row].parts.items() if spec.decides}
    assert set(CELLS) == set(READINGS)


def test_every_sentence_that_is_read_is_one_of_the_facts() -> None:
    for row, parts in READINGS.items():
        for part, reading in parts.items():
            said = {str(value) for cell in CELLS[row].values() for value in cell.values()}
            assert set(reading.get("words", {})) <= said, (row, part)


@pytest.mark.parametrize(
    ("row", "part", "edition"),
    [(row, part, edition) for row, part in STATED for edition in READINGS[row][part].get("not_stated", {})],
)
def test_what_the_facts_do_not_state_is_not_called_seen(row: str, part: str, edition: str) -> None:
    cell = packaged_catalogue().rows[row].editions[edition]
    assert cell.citation is not None
    if (row, part, edition) not in IN_ANOTHER_ROW:
        assert provenance_class(cell.seen_of.get(part, cell.citation.seen)) in {"inferred", "memory"}, f"{row}.{part}, {edition}"
