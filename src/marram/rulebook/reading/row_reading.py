"""Strict reading of a row of the rule data: its parts, and what each edition says. Faults are collected and never stop the reading."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from marram.rulebook.catalogue import Row
from marram.rulebook.editions import Editions
from marram.rulebook.facts import Facts, unknown_fact
from marram.rulebook.reading.cell_reading import CellReader, table_of
from marram.rulebook.sources import Sources
from marram.rulebook.values import UNITS, PartSpec, PartType, Value, parse_value

_MEMBERS = {"means", "parts", "in", "form"}
Forms = Mapping[str, Mapping[str, PartSpec]]


def read_parts(where: str, raw: Mapping[str, object], faults: list[str]) -> dict[str, PartSpec]:
    """The parts that a row or a form says may stand in it.

    Args:
        where: The row or form, for messages.
        raw: Its table of parts.
        faults: Takes what is wrong.
    """
    parts = {name: _read_part(f"{where}.{name}", name, part, faults) for name, part in raw.items()}
    for name, spec in parts.items():
        faults += [f"{where}.{name}: {fault}" for fault in _faults_of_defaults(spec, parts)]
    return parts


def _faults_of_defaults(spec: PartSpec, parts: Mapping[str, PartSpec]) -> list[str]:
    """What does not fit in the defaults of a part that hang on another part."""
    if not spec.default_by and not spec.defaults:
        return []
    other = parts.get(spec.default_by)
    if other is None or other.type is not PartType.WORD:
        return [f"defaults need default_by, the name of a word part beside it, not {spec.default_by!r}"]
    unknown = sorted(spec.defaults.keys() - set(other.words))
    return [f"defaults names {word!r}, which is no word of {spec.default_by}" for word in unknown]


def _read_part(where: str, name: str, raw: object, faults: list[str]) -> PartSpec:
    table = raw if isinstance(raw, dict) else {}
    kind, words, unit = table.get("type"), table.get("words", []), table.get("unit", "")
    if kind not in list(PartType):
        faults.append(f"{where}: type must be one of {', '.join(PartType)}")
        kind = PartType.REMARK
    if (kind in {PartType.WORD, PartType.WORDS}) != bool(words):
        faults.append(f"{where}: a word or words part needs its closed list `words`, and no other part has one")
    if (kind == PartType.NUMBER) != bool(unit) or (unit and unit not in UNITS):
        faults.append(f"{where}: a number needs a unit, one of {' '.join(UNITS)}, and no other part has one")
    if not table.get("means"):
        faults.append(f"{where}: means is missing")
    spec = PartSpec(
        name=name,
        type=PartType(kind),
        means=str(table.get("means", "")),
        unit=str(unit),
        words=tuple(words),
        of=str(table.get("of", "")),
        says={str(word): str(said) for word, said in table_of(table, "says").items()},
    )
    faults += [f"{where}: says names {word!r}, which is no answer of the part" for word in sorted(spec.says.keys() - spec.answers)]
    return _with_default(where, table, spec, faults)


def _with_default(where: str, table: Mapping[str, object], spec: PartSpec, faults: list[str]) -> PartSpec:
    if "default" not in table:
        faults += [f"{where}: {member} needs a default besides" for member in ("default_by", "defaults") if member in table]
        return spec
    default = _read_default(where, table["default"], spec, faults)
    hanging = {word: _read_default(where, raw, spec, faults) for word, raw in table_of(table, "defaults").items()}
    defaults = {word: value for word, value in hanging.items() if value is not None}
    return replace(spec, default=default, default_by=str(table.get("default_by", "")), defaults=defaults)


def _read_default(where: str, raw: object, spec: PartSpec, faults: list[str]) -> Value | None:
    default = parse_value(raw, spec)
    if default is None:
        faults.append(f"{where}: default is {raw!r}, expected {spec.expects}")
    return default


class RowReader:
    """Reads rows that may have a form."""

    def __init__(self, editions: Editions, forms: Forms, sources: Sources) -> None:
        """Take what rows refer to."""
        self._editions, self._forms, self._sources = editions, forms, sources
        self.faults: list[str] = []

    def read(self, situation: str, row_id: str, raw: Mapping[str, object], *, where: str = "") -> Row:
        """Read a row.

        Args:
            situation: Name of the file that holds it.
            row_id: Name of the row.
            raw: Its table.
            where: The row, for messages; empty for its file and name.
        """
        where = where or f"{situation}.toml, {row_id}"
        for member in sorted(raw.keys() - _MEMBERS):
            self.faults.append(f"{where}: unknown member {member!r}; a row has {', '.join(sorted(_MEMBERS))}")
        means = raw.get("means", "")
        if not isinstance(means, str) or not means:
            self.faults.append(f"{where}: means is missing")
        parts = {**self._form(where, raw), **read_parts(where, table_of(raw, "parts"), self.faults)}
        cells = CellReader(where, table_of(raw, "in"), parts, self._editions, self._sources)
        editions = cells.read()
        self.faults += cells.faults
        return Row(id=row_id, situation=situation, means=str(means), parts=parts, editions=editions)

    def _form(self, where: str, raw: Mapping[str, object]) -> Mapping[str, PartSpec]:
        form = raw.get("form")
        if form is not None and form not in self._forms:
            self.faults.append(f"{where}: unknown form {form!r}; known: {', '.join(self._forms)}")
        return self._forms.get(str(form), {})


def unknown_facts(names: Iterable[str], facts: Facts) -> list[str]:
    """What to say of names that are no facts."""
    found = (unknown_fact(name, facts) for name in dict.fromkeys(names))
    return [f"{fault}; a new fact needs its question there" for fault in found if fault]
