"""What a trial adds to the rule data: situations, reliefs and conditions of its own, read as the rows of the rule data are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from marram.rulebook.catalogue import ADDED, Catalogue, ConditionKind, EditionRow, Row
from marram.rulebook.editions import EditionTitle
from marram.rulebook.facts import yes_no_facts
from marram.rulebook.reading.cell_reading import table_of
from marram.rulebook.reading.composition import faults_of_relief
from marram.rulebook.reading.row_reading import RowReader
from marram.rulebook.values import FACT, PartSpec, PartType, Value, nearest_names

_FORMS = {"situation": "situation", "relief": "relief procedure"}
"""Families of rows that a trial may add to, each with its form."""
_NOT_IN_A_ROW = ("in", "as", "form", "parts", "absent", "rule", "seen", "seen_of", "unsure")
_CONDITION_MEMBERS = {"means", "radius_m"}
_LARGEST_M = 200.0
_NOT_IN_THIS_BOOK = EditionRow(absent="not in this book", values={}, without={}, citation=None, seen_of={}, defaulted=frozenset())


@dataclass(frozen=True, slots=True, kw_only=True)
class Additions:
    """What one change adds.

    Attributes:
        rows: The rows, situations first.
        conditions: Kinds of condition that may be met.
    """

    rows: tuple[Row, ...] = ()
    conditions: tuple[ConditionKind, ...] = ()

    @property
    def head(self) -> tuple[str, Value]:
        """The key by which they are spoken of, with its value: the reliefs that a situation opens, or that a relief is given."""
        first = self.rows[0]
        part = "procedures" if "procedures" in first.added else "allowed"
        return f"{first.id}.{part}", first.added[part]


class AdditionReader:
    """Reads what the changes of a trial add, and collects every fault."""

    def __init__(self, name: str, catalogue: Catalogue) -> None:
        """Take the trial's short name and the rule data that it lies on."""
        self._title = EditionTitle(name=name, short="T", document=name, is_draft=True)
        self.catalogue = catalogue
        self.faults: list[str] = []

    def read(self, where: str, change: Mapping[str, object]) -> Additions | None:
        """Read what a change adds; None where it adds no row.

        Args:
            where: The change, for messages.
            change: Its table.
        """
        conditions = tuple(self._conditions(where, change))
        self.catalogue = self.catalogue.with_added({}, {kind.name: kind for kind in conditions})
        stated = {row_id: row for row_id in table_of(change, "add") if (row := self._row(where, row_id, change)) is not None}
        self.catalogue = self.catalogue.with_added(stated, {})
        rows = tuple(sorted(stated.values(), key=lambda row: not row.id.startswith("situation.")))
        self.faults += [fault for row in rows for fault in self._unknown_names(where, row)]
        return Additions(rows=rows, conditions=conditions) if rows else None

    def _conditions(self, where: str, change: Mapping[str, object]) -> Iterator[ConditionKind]:
        for name, raw in table_of(change, "conditions").items():
            place, table = f"{where}, conditions.{name}", raw if isinstance(raw, dict) else {}
            radius_m, means = table.get("radius_m"), table.get("means")
            if name in self.catalogue.condition_names:
                self.faults.append(f"{place}: there is such a kind of condition already; name it under `conditions` of the situation")
            elif not isinstance(means, str) or not means.strip() or table.keys() - _CONDITION_MEMBERS:
                self.faults.append(f"{place}: a table with means, and radius_m where it has a usual size, is expected")
            elif radius_m is not None and (not isinstance(radius_m, int | float) or not 0 < radius_m <= _LARGEST_M):
                self.faults.append(f"{place}, radius_m: {radius_m!r}; expected metres above zero, up to {_LARGEST_M:g}")
            else:
                yield ConditionKind(name=name, means=means, radius_m=None if radius_m is None else float(radius_m))

    def _row(self, where: str, row_id: str, change: Mapping[str, object]) -> Row | None:
        place, table, family = f"{where}, {row_id}", table_of(table_of(change, "add"), row_id), row_id.partition(".")[0]
        if family not in _FORMS or not row_id.partition(".")[2]:
            self.faults.append(f"{place}: a row that is added is called {' or '.join(f'{known}.NAME' for known in _FORMS)}, in quotes")
            return None
        if row_id in self.catalogue.rows:
            self.faults.append(f"{place}: there is such a row already; change its parts with key, was and now, or choose another name")
            return None
        barred = [name for name in _NOT_IN_A_ROW if name in table]
        if barred:
            self.faults.append(f"{place}: a row that is added has no {', '.join(barred)}; the trial itself is its rule and its source")
            return None
        return self._made(place, row_id, _FORMS[family], table)

    def _made(self, place: str, row_id: str, form: str, table: Mapping[str, object]) -> Row | None:
        """Read the row as one of an edition of its own, then keep what it says apart from the editions."""
        name = self._title.name
        forms = {form: {part: self._widened(spec) for part, spec in self.catalogue.forms[form].items()}}
        reader = RowReader({name: self._title}, forms, self.catalogue.sources)
        stated = {part: value for part, value in table.items() if part != "means"} | {"rule": name, "seen": "inferred"}
        raw = {"means": table.get("means", ""), "form": form, "in": {name: stated}}
        row = reader.read(ADDED, row_id, raw, where=place)
        cell = row.editions[name]
        missing = [part for part, spec in row.parts.items() if spec.type is PartType.TERM and part not in cell.values]
        told = [fault.replace(f", {name}: ", ": ", 1) for fault in reader.faults]
        told += [f"{place}: no value for {part}: {row.parts[part].means}" for part in missing]
        told += [] if told or form != _FORMS["relief"] else [f"{place}: {fault}" for fault in faults_of_relief(cell.values)]
        self.faults += told
        absent = dict.fromkeys(self.catalogue.editions, _NOT_IN_THIS_BOOK)
        return None if told else replace(row, editions=absent, added=cell.values)

    def _widened(self, spec: PartSpec) -> PartSpec:
        """A part that may name any fact of the catalogue, and any condition that may be met."""
        if spec.of == FACT:
            return replace(spec, words=yes_no_facts(self.catalogue.facts))
        if spec.name == "conditions":
            return replace(spec, words=self.catalogue.condition_names)
        return spec

    def _unknown_names(self, where: str, row: Row) -> Iterator[str]:
        """Rows that an added row names and that are not there."""
        for spec in (spec for spec in row.parts.values() if spec.type is PartType.ROWS):
            named = row.added.get(spec.name, ())
            for name in (f"{spec.of}.{name}" for name in named) if isinstance(named, tuple) else ():
                if name not in self.catalogue.rows:
                    near = nearest_names(name, list(self.catalogue.rows))
                    hint = f"; nearest: {', '.join(near)}" if near else ""
                    yield f"{where}, {row.id}: {spec.name} names {name}, and there is no such row{hint}"
