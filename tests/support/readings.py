"""Facts that speak in sentences, read as values of the rule data: edition by edition, part by part.

A file of facts holds rows with one table per edition. A file of readings says how they come to values: row of the rule data, part, then
``of`` (the row of the facts, if it has another name), ``facts`` (the members that state it, the first that is there counting; the part's
own name where nothing is said), ``words`` (what each sentence comes to; without it the value stands there itself), ``not_stated``
(editions of which the facts state nothing and the rule data takes a value all the same).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from marram.core.citations import provenance_class
from marram.rulebook import packaged_catalogue
from marram.rulebook.values import PartType, plain_value
from tests.support.editions import WRITTEN_FOR
from tests.support.yaml_text import read_yaml

Plain: TypeAlias = "str | bool | float | Sequence[Plain] | dict[str, Plain] | None"
EDITIONS = WRITTEN_FOR


@dataclass(frozen=True)
class Readings:
    """A file of facts and a file of how they are read."""

    facts: dict[str, dict[str, dict[str, Plain]]]
    readings: dict[str, dict[str, dict[str, object]]]

    @property
    def stated(self) -> list[tuple[str, str]]:
        """Every row and part that is read."""
        return [(row, part) for row, parts in self.readings.items() for part in parts]

    def cell(self, row: str, part: str, edition: str) -> dict[str, Plain]:
        """The facts that speak of a part."""
        return self.facts[str(self.readings[row][part].get("of", row))][edition]

    def expected(self, row: str, edition: str, part: str) -> Plain:
        """What the facts say of a part, in the words of the rule data; nothing where they say nothing."""
        reading = self.readings[row][part]
        taken = reading.get("not_stated", {})
        assert isinstance(taken, dict)
        if edition in taken:
            said: Plain = taken[edition]
            return self.expected(row, said.removeprefix("like "), part) if isinstance(said, str) and said.startswith("like ") else said
        cell, names = self.cell(row, part, edition), reading.get("facts", [part])
        assert isinstance(names, list)
        name = next((str(name) for name in names if cell.get(name) is not None), None)
        return None if name is None else self._read(row, part, name, cell[name])

    def _read(self, row: str, part: str, name: str, said: Plain) -> Plain:
        if isinstance(said, str) and said.startswith("as 20"):
            return self.expected(row, said.split()[1], part)
        words = self.readings[row][part].get("words", {})
        assert isinstance(words, dict)
        if words:
            found: Plain = words.get(str(said))
            return found
        is_size = packaged_catalogue().rows[row].parts[part].type is PartType.SIZE
        return {"club_lengths" if name.endswith("club_lengths") else "inches": said} if is_size else spoken(said)

    def unread_words(self) -> Iterator[tuple[str, str, str]]:
        """Sentences that are read and that no edition says."""
        for row, part in self.stated:
            said = {str(value) for edition in EDITIONS for value in self.cell(row, part, edition).values()}
            words = self.readings[row][part].get("words", {})
            assert isinstance(words, dict)
            yield from ((row, part, text) for text in words if text not in said)

    def called_seen(self) -> Iterator[tuple[str, str, str]]:
        """Values that the facts do not state and that the rule data calls seen all the same."""
        for row, part in self.stated:
            taken = self.readings[row][part].get("not_stated", {})
            assert isinstance(taken, dict)
            for edition in taken:
                cell = packaged_catalogue().rows[row].editions[edition]
                assert cell.citation is not None
                if provenance_class(cell.seen_of.get(part, cell.citation.seen)) == "seen":
                    yield row, part, edition


def read_in_print() -> set[tuple[str, str, str]]:
    """Row, part and edition of every value that provenance.yaml names as read, part by part or in full."""
    path = Path(__file__).parents[1] / "published" / "rules" / "provenance.yaml"
    cells = [cell for cell in read_yaml(path.read_text(encoding="utf-8"))["cells"] if cell["extent"] in {"full", "main"}]
    rows = packaged_catalogue().rows
    return {(cell["row"], part, cell["edition"]) for cell in cells for part in cell.get("parts", rows[cell["row"]].parts)}


def read_facts(facts_file: Path, readings_file: Path, *, row_of: dict[str, str] | None = None) -> Readings:
    """Read a file of facts and its readings."""
    named = row_of or {}
    sections = read_yaml(facts_file.read_text(encoding="utf-8"))
    facts = {
        named.get(row["id"], row["id"]): {edition: row.get(edition) or {} for edition in EDITIONS}
        for section in sections.values()
        for row in section
    }
    return Readings(facts, read_yaml(readings_file.read_text(encoding="utf-8")))


def held(row: str, edition: str, part: str) -> Plain:
    """What the rule data says, as plain words; nothing where it says nothing."""
    cell = packaged_catalogue().rows[row].editions[edition]
    value = None if cell.absent else cell.values.get(part)
    plain: Plain = None if value is None else plain_value(value)  # type: ignore[assignment]
    return plain.replace(" ", "-") if isinstance(plain, str) else plain


def spoken(said: Plain) -> Plain:
    """A value as the rule data would write it."""
    if isinstance(said, str):
        return said.lower().replace(" ", "-")
    return sorted(str(spoken(entry)) for entry in said) if isinstance(said, list) else said


def in_order(value: Plain) -> Plain:
    """Lists of words whose order means nothing, in one order."""
    return sorted(str(entry) for entry in value) if isinstance(value, list) else value
