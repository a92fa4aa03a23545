"""Strict reading of what each edition says in a row: its values, where they were seen, and what it takes over from another edition."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from marram.core.citations import Citation
from marram.rulebook.catalogue import EditionRow
from marram.rulebook.editions import Editions
from marram.rulebook.sources import Sources
from marram.rulebook.values import PartSpec, Value, parse_value

_MEMBERS = {"rule", "seen", "unsure", "as", "without", "seen_of", "absent"}
_NOT_STATED = {"absent": "empty"}


def table_of(raw: Mapping[str, object], name: str) -> Mapping[str, object]:
    """A table within a table; an empty one where there is none."""
    table = raw.get(name, {})
    return table if isinstance(table, dict) else {}


def read_stated(place: str, raw: Mapping[str, object], parts: Mapping[str, PartSpec], faults: list[str]) -> dict[str, Value]:
    """The values that a table states.

    Args:
        place: The table, for messages.
        raw: The table.
        parts: The parts of its row.
        faults: Takes what is wrong.
    """
    values: dict[str, Value] = {}
    for name in parts:
        if name in raw:
            value = parse_value(raw[name], parts[name])
            if value is None:
                faults.append(f"{place}: {name} is {raw[name]!r}, expected {parts[name].expects}")
            else:
                values[name] = value
    return values


@dataclass(frozen=True, slots=True, kw_only=True)
class _Base:
    """What a cell is taken over from.

    Attributes:
        cell: The cell of the other edition; None where nothing is taken over.
        is_followed: The edition follows the other, and what it does not state keeps the other's provenance.
    """

    cell: EditionRow | None = None
    is_followed: bool = False


class CellReader:
    """Reads the cells of one row, each once; one that is `as` another after that other."""

    def __init__(
        self, where: str, tables: Mapping[str, object], parts: Mapping[str, PartSpec], editions: Editions, sources: Sources
    ) -> None:
        """Take the row.

        Args:
            where: The file and the row.
            tables: What the row holds for each edition.
            parts: The parts of the row.
            editions: All editions.
            sources: All sources.
        """
        self._where, self._tables, self._parts = where, tables, parts
        self._editions, self._sources = editions, sources
        self._done: dict[str, EditionRow] = {}
        self.faults: list[str] = []

    def read(self) -> dict[str, EditionRow]:
        """What every edition says, in the order of the editions."""
        for edition in self._tables.keys() - self._editions.keys():
            self.faults.append(f"{self._where}: unknown edition {edition!r}")
        return {edition: self._cell(edition, ()) for edition in self._editions}

    def _cell(self, edition: str, passed: tuple[str, ...]) -> EditionRow:
        if edition not in self._done:
            self._done[edition] = self._read(edition, (*passed, edition))
        return self._done[edition]

    def _read(self, edition: str, passed: tuple[str, ...]) -> EditionRow:
        place = f"{self._where}, {edition}"
        raw = self._tables.get(edition)
        if raw is None and self._editions[edition].follows:
            return self._as_followed(edition, passed)
        if not isinstance(raw, dict):
            self.faults.append(f"{place}: the cell is empty: give values, `as`, or `absent` with the reason")
            raw = _NOT_STATED
        for member in sorted(raw.keys() - _MEMBERS - self._parts.keys()):
            self.faults.append(f"{place}: unknown part {member!r}")
        return self._made(place, edition, raw, self._base(place, edition, raw, passed))

    def _as_followed(self, edition: str, passed: tuple[str, ...]) -> EditionRow:
        """The cell of the edition that is followed: that its number holds is inferred, and its source spoke of another edition."""
        cell = self._cell(self._editions[edition].follows, passed)
        if cell.citation is None:
            return cell
        title = self._editions[edition]
        moved = replace(cell.citation, document=title.document, edition=edition, is_number_inferred=True, is_draft=title.is_draft)
        cited = replace(self._sources.seen_in(moved, moved.seen), is_unsure=moved.is_unsure)
        return replace(cell, citation=cited, values=dict(cell.values))

    def _base(self, place: str, edition: str, raw: Mapping[str, object], passed: tuple[str, ...]) -> _Base:
        """The cell that `as` names, or that of the edition followed where the table states some parts and no more."""
        name = raw.get("as")
        if name is None:
            follows = "" if "absent" in raw else self._editions[edition].follows
            cell = self._cell(follows, passed) if follows else None
            return _Base(cell=None if cell is None or cell.absent else cell, is_followed=True)
        has_cell = isinstance(self._tables.get(str(name)), dict) or (name in self._editions and self._editions[str(name)].follows)
        if str(name) in passed or not has_cell:
            why = "it leads back here" if str(name) in passed else "it has none"
            self.faults.append(f"{place}: `as` must name an edition that gives its own values, not {name!r}: {why}")
            return _Base()
        return _Base(cell=self._cell(str(name), passed))

    def _made(self, place: str, edition: str, raw: Mapping[str, object], base: _Base) -> EditionRow:
        parts, taken = self._parts, base.cell
        stated = read_stated(place, raw, parts, self.faults)
        values: dict[str, Value] = dict(taken.values) if taken else {}
        defaulted = {name for name, spec in parts.items() if spec.default is not None and name not in values.keys() | stated.keys()}
        defaulted |= (taken.defaulted if taken else frozenset()) - stated.keys()
        known = values | stated
        values = known | {name: default for name in defaulted if (default := parts[name].default_for(known)) is not None}
        without = ({} if taken is None else dict(taken.without)) | dict(table_of(raw, "without"))
        absent = str(raw.get("absent", taken.absent if taken else ""))
        missing = [name for name, spec in parts.items() if spec.decides and name not in values and name not in without]
        if missing and not absent:
            self.faults.append(f"{place}: no value for {', '.join(missing)}: give one or name the part in `without`")
        left_out = table_of(raw, "without")
        return EditionRow(
            absent=absent,
            values={} if absent else {name: values[name] for name in values if name not in left_out},
            without={name: str(why) for name, why in without.items() if name not in values or name in left_out},
            citation=self._citation(place, edition, raw, needed=not absent),
            seen_of=_kept_provenance(base, stated) | self._seen_of(place, raw),
            defaulted=frozenset(defaulted),
        )

    def _seen_of(self, place: str, raw: Mapping[str, object]) -> dict[str, str]:
        seen_of = {name: str(seen) for name, seen in table_of(raw, "seen_of").items()}
        for name, seen in seen_of.items():
            self.faults += [f"{place}, seen_of {name}: {fault}" for fault in self._sources.faults(seen)]
        return seen_of

    def _citation(self, place: str, edition: str, raw: Mapping[str, object], *, needed: bool) -> Citation | None:
        rule, seen = raw.get("rule"), raw.get("seen")
        if not isinstance(rule, str) or not isinstance(seen, str):
            if needed:
                self.faults.append(f"{place}: rule and seen are both needed")
            return None
        self.faults += [f"{place}: {fault}" for fault in self._sources.faults(seen)]
        citation = Citation(
            document=self._editions[edition].document,
            edition=edition,
            rule=rule.removeprefix("~"),
            seen=seen,
            is_number_inferred=rule.startswith("~"),
            is_draft=self._editions[edition].is_draft,
        )
        return replace(self._sources.seen_in(citation, seen), is_unsure=bool(raw.get("unsure", False)))


def _kept_provenance(base: _Base, stated: Mapping[str, Value]) -> dict[str, str]:
    """Where the parts were seen that an edition takes over from the one it follows: its own `seen` speaks of what it states."""
    cell = base.cell
    if cell is None or cell.citation is None or not base.is_followed:
        return {}
    seen = cell.citation.seen
    return {name: cell.seen_of.get(name, seen) for name in cell.values if name not in stated and name not in cell.defaulted}
