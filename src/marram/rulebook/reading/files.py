"""Strict reading of the rule data. Every fault of every file is told in one pass."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from importlib import resources
from importlib.resources.abc import Traversable
from typing import TypeVar

from marram.core.errors import RuleDataError
from marram.rulebook.catalogue import Catalogue, Row
from marram.rulebook.editions import Editions, followed, parse_editions, with_followers
from marram.rulebook.facts import parse_facts
from marram.rulebook.reading.cell_reading import table_of
from marram.rulebook.reading.row_checks import faults_of_names
from marram.rulebook.reading.row_reading import RowReader, read_parts, unknown_facts
from marram.rulebook.sources import parse_sources
from marram.rulebook.values import FACT, PartType, facts_named

_EDITIONS_FILE = "editions.toml"
_FORMS_FILE = "forms.toml"
_FACTS_FILE = "facts.toml"
_SOURCES_FILE = "sources.toml"
_BRIEFLY_FILE = "told_briefly.toml"
_APART = {_EDITIONS_FILE, _FORMS_FILE, _FACTS_FILE, _SOURCES_FILE, _BRIEFLY_FILE}
"""Files that hold no rows."""
T = TypeVar("T")


class _Reader:
    """Collects rows and faults; a fault never stops the reading."""

    def __init__(
        self,
        editions: Mapping[str, object],
        forms: Mapping[str, object],
        facts: Mapping[str, object],
        sources: Mapping[str, object],
    ) -> None:
        self.faults: list[str] = []
        self.editions: Editions = self._told(_EDITIONS_FILE, parse_editions(editions))
        stated = self._told(_FACTS_FILE, parse_facts(facts, self.editions))
        self.facts = {name: replace(fact, by_edition=with_followers(fact.by_edition, self.editions)) for name, fact in stated.items()}
        self.sources = self._told(_SOURCES_FILE, parse_sources(sources, self.editions))
        self.forms = {form: read_parts(f"{_FORMS_FILE}, {form}", table_of(forms, form), self.faults) for form in forms}
        self.rows: dict[str, Row] = {}
        self._rows = RowReader(self.editions, self.forms, self.sources)

    def _told(self, file: str, read: tuple[T, Iterable[str]]) -> T:
        """What a file holds, its faults noted."""
        found, faults = read
        self.faults += [f"{file}, {fault}" for fault in faults]
        return found

    def fault(self, where: str, message: str) -> None:
        self.faults.append(f"{where}: {message}")

    def read_file(self, name: str, text: str) -> None:
        try:
            content = tomllib.loads(text)
        except tomllib.TOMLDecodeError as problem:
            self.fault(name, f"not TOML: {problem}")
            return
        for row_id, raw in content.items():
            if row_id in self.rows:
                self.fault(f"{name}, {row_id}", "the row stands in two files")
            elif not isinstance(raw, dict):
                self.fault(f"{name}, {row_id}", "a row must be a table")
            else:
                self.rows[row_id] = self._rows.read(name.removesuffix(".toml"), row_id, raw)

    def check(self) -> None:
        """Find what rows name and the rule data does not hold."""
        self.faults += self._rows.faults
        self._check_row_names()
        self._check_facts()
        for where, fault in faults_of_names(self.rows, self.forms, self.facts, forms_file=_FORMS_FILE, facts_file=_FACTS_FILE):
            self.fault(where, fault)

    def _check_row_names(self) -> None:
        """Find lists of rows that name a row which does not exist."""
        for row in self.rows.values():
            for spec in (spec for spec in row.parts.values() if spec.type is PartType.ROWS):
                for edition, cell in row.editions.items():
                    named = cell.values.get(spec.name, ())
                    for name in named if isinstance(named, tuple) else ():
                        if f"{spec.of}.{name}" not in self.rows:
                            self.fault(f"{row.id}, {edition}", f"{spec.name} names {spec.of}.{name}, and there is no such row")

    def _check_facts(self) -> None:
        """Find facts that a case or a closed list names and the catalogue of facts does not hold."""
        for row in self.rows.values():
            where = f"{row.situation}.toml, {row.id}"
            for edition, cell in row.editions.items():
                self._check_named(f"{where}, {edition}", [name for value in cell.values.values() for name in facts_named(value)])
        for form, parts in self.forms.items():
            for spec in (spec for spec in parts.values() if spec.of == FACT):
                self._check_named(f"{_FORMS_FILE}, {form}.{spec.name}", spec.words)

    def read_briefly(self, text: str) -> dict[str, frozenset[str]]:
        """Read which rows each edition tells more briefly than it knows; a row or edition that is not there is a fault."""
        found = {}
        for edition, raw in tomllib.loads(text).items():
            named = [f"act.{name}" for name in table_of({edition: raw}, edition).get("acts", ())]  # type: ignore[attr-defined]
            missing = [name for name in named if name not in self.rows] or ([] if edition in self.editions else [edition])
            for name in missing:
                self.fault(f"{_BRIEFLY_FILE}, {edition}", f"there is no {name}")
            found[edition] = frozenset(named)
        return {edition: self._still_brief(edition, found) for edition in self.editions}

    def _still_brief(self, edition: str, told: Mapping[str, frozenset[str]]) -> frozenset[str]:
        """The rows that an edition tells briefly: its own list, or of that of the edition it follows what it has not told anew."""
        source = next((name for name in followed(edition, self.editions) if name in told), edition)
        rows = [self.rows[name] for name in told.get(source, ()) if name in self.rows]
        return frozenset(row.id for row in rows if row.editions[edition].values == row.editions[source].values)

    def _check_named(self, where: str, names: Iterable[str]) -> None:
        for fault in unknown_facts(names, self.facts):
            self.fault(where, fault)


def read_catalogue(folder: Traversable) -> Catalogue:
    """Read every rule file of a folder.

    Args:
        folder: Folder with ``editions.toml``, ``forms.toml``, ``sources.toml`` and one file for each situation.

    Raises:
        RuleDataError: Any file has a fault; the message lists all of them.
    """
    apart = {name: tomllib.loads(folder.joinpath(name).read_text(encoding="utf-8")) for name in _APART - {_BRIEFLY_FILE}}
    reader = _Reader(apart[_EDITIONS_FILE], apart[_FORMS_FILE], apart[_FACTS_FILE], apart[_SOURCES_FILE])
    for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if file.name.endswith(".toml") and file.name not in _APART:
            reader.read_file(file.name, file.read_text(encoding="utf-8"))
    reader.check()
    briefly = folder.joinpath(_BRIEFLY_FILE)
    told_briefly = reader.read_briefly(briefly.read_text(encoding="utf-8")) if briefly.is_file() else {}
    if reader.faults:
        listed = "\n  ".join(reader.faults)
        raise RuleDataError(f"The rule data has {len(reader.faults)} faults:\n  {listed}", where="rule data")
    return Catalogue(
        editions=reader.editions,
        forms=reader.forms,
        rows=reader.rows,
        facts=reader.facts,
        sources=reader.sources,
        told_briefly=told_briefly,
    )


@lru_cache(maxsize=1)
def packaged_catalogue() -> Catalogue:
    """The rule data that comes with Marram, read once a process."""
    return read_catalogue(resources.files("marram.rulebook").joinpath("data"))


@lru_cache(maxsize=1)
def packaged_handicapping() -> Catalogue:
    """The Rules of Handicapping that come with Marram, editions of their own, read once a process."""
    return read_catalogue(resources.files("marram.rulebook").joinpath("handicapping"))
