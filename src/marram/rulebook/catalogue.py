"""The catalogue: every row of the rule data, with all editions side by side."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from marram.core.citations import Citation
from marram.core.errors import RuleDataError
from marram.rulebook.editions import Editions, EditionTitle, followed, latest_in_force
from marram.rulebook.facts import Facts
from marram.rulebook.sources import Sources
from marram.rulebook.values import FACT, PartSpec, Value, json_member, nearest_names


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionRow:
    """What one edition says in a row.

    Attributes:
        absent: Why the edition has no such row; empty where it has one.
        values: Value of each part.
        without: Parts that the edition does not have, with the reason.
        citation: The rule, and where the values were seen; None only for an absent row.
        seen_of: Where single parts were seen, if elsewhere.
        defaulted: Parts of which the edition states nothing: their value is the form's default, and nobody saw it anywhere.
    """

    absent: str
    values: Mapping[str, Value]
    without: Mapping[str, str]
    citation: Citation | None
    seen_of: Mapping[str, str]
    defaulted: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of the rule data.

    Attributes:
        id: Name of the row.
        situation: Name of the file that holds it.
        means: What it is about, in our own words.
        parts: What may stand in it.
        editions: What each edition says.
        added: What a trial says in a row that it adds and that no edition has; empty for every other row.
    """

    id: str
    situation: str
    means: str
    parts: Mapping[str, PartSpec]
    editions: Mapping[str, EditionRow]
    added: Mapping[str, Value] = field(default_factory=dict)


ADDED, _SITUATION = "added_by_trials", "situation."
"""Where rows stand that no edition has and a trial adds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionKind:
    """A kind of condition that a trial adds.

    Attributes:
        name: What it is called.
        means: What it is, in the trial's own words.
        radius_m: About how large one is, metres; None where that says nothing.
    """

    name: str
    means: str
    radius_m: float | None


@dataclass(frozen=True)
class Catalogue:
    """All rows of the rule data, the editions that they speak of, the facts that they turn on and the sources that they were seen in."""

    editions: Editions
    forms: Mapping[str, Mapping[str, PartSpec]]
    """Parts that rows of one form share."""
    rows: Mapping[str, Row]
    facts: Facts
    sources: Sources
    told_briefly: Mapping[str, frozenset[str]]
    """Rows that an edition tells more briefly than it knows, by edition: what they leave out is no difference to another edition."""
    added_conditions: Mapping[str, ConditionKind] = field(default_factory=dict)
    """Kinds of condition that trials add."""

    @cached_property
    def condition_names(self) -> tuple[str, ...]:
        """Every kind of condition that a situation may be about."""
        return (*self.forms.get("situation", {})["conditions"].words, *self.added_conditions)

    @cached_property
    def means_of_situations(self) -> Mapping[str, str]:
        """Every situation that an incident may state, with what it means."""
        return {row.removeprefix(_SITUATION): self.rows[row].means for row in self.rows_of(_SITUATION.rstrip("."))}

    @cached_property
    def facts_named(self) -> frozenset[str]:
        """Every fact that a part of some row may name."""
        specs = (spec for row in self.rows.values() for spec in row.parts.values())
        return frozenset(word for spec in specs if spec.of == FACT for word in spec.words)

    @property
    def has_added(self) -> bool:
        """Whether a trial has added to the rule data."""
        return bool(self.added_conditions) or any(row.added for row in self.rows.values())

    def with_added(self, rows: Mapping[str, Row], conditions: Mapping[str, ConditionKind]) -> Catalogue:
        """The rule data with rows and conditions besides; those that it holds already stay."""
        if rows.keys() <= self.rows.keys() and conditions.keys() <= self.added_conditions.keys():
            return self
        return replace(self, rows={**self.rows, **rows}, added_conditions={**self.added_conditions, **conditions})

    def with_added_of(self, other: Catalogue) -> Catalogue:
        """The rule data with what trials have added to another."""
        rows = {row.id: row for row in other.rows.values() if row.added and row.id not in self.rows}
        return self.with_added(rows, other.added_conditions)

    @cached_property
    def _families(self) -> Mapping[str, tuple[str, ...]]:
        found: dict[str, list[str]] = {}
        for row in self.rows:
            found.setdefault(row.partition(".")[0], []).append(row)
        return {family: tuple(rows) for family, rows in found.items()}

    def rows_of(self, family: str) -> tuple[str, ...]:
        """Names of the rows of a family, such as ``caution``, in their order."""
        return self._families.get(family, ())

    @cached_property
    def keys(self) -> Mapping[str, tuple[Row, PartSpec]]:
        """Each key, ``row.part``, with its row and part."""
        return {f"{row.id}.{spec.name}": (row, spec) for row in self.rows.values() for spec in row.parts.values()}

    @cached_property
    def _json_members(self) -> dict[str, Mapping[str, str]]:
        return {}

    def json_members(self, edition: str) -> Mapping[str, str]:
        """Every value of an edition as a member of a JSON object, by its key; written once for all books of the edition."""
        if edition not in self._json_members:
            cells = ((row.id, row.editions[edition]) for row in self.rows.values())
            named = ((f"{row_id}.{part}", value) for row_id, cell in cells for part, value in cell.values.items())
            self._json_members[edition] = {key: json_member(key, value) for key, value in named}
        return self._json_members[edition]

    def find_key(self, key: str) -> tuple[Row, PartSpec]:
        """The row and part of a key.

        Raises:
            RuleDataError: There is no such key; the message names the nearest ones.
        """
        found = self.keys.get(key)
        if found is None:
            near = nearest_names(key, list(self.keys))
            hint = f"Nearest: {', '.join(near)}." if near else "`list_keys()` shows all keys."
            raise RuleDataError("There is no such key in the rule data.", where=key, hint=hint)
        return found

    def find_edition(self, name: str) -> EditionTitle:
        """The edition of that name.

        Raises:
            RuleDataError: There is no such edition.
        """
        if name not in self.editions:
            known = ", ".join(self.editions)
            raise RuleDataError("There is no such edition of the rules.", where=name or "(empty)", hint=f"Known: {known}.")
        return self.editions[name]

    @property
    def latest(self) -> str:
        """The edition in force: the last that is no draft."""
        return latest_in_force(self.editions)

    def is_for(self, edition: str, written_for: Collection[str]) -> bool:
        """Whether what is written for some editions serves an edition: one of these, or one that follows one of these. None named: all."""
        return not written_for or any(name in written_for for name in followed(edition, self.editions))

    def situations(self) -> Iterator[str]:
        """Names of the files, each once, in order."""
        yield from dict.fromkeys(row.situation for row in self.rows.values())
