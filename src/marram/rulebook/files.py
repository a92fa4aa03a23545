"""Strict reading of the rule data. Every fault of every file is told in one pass."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from importlib import resources
from importlib.resources.abc import Traversable

from marram.core.citations import Citation
from marram.core.errors import RuleDataError
from marram.rulebook.catalogue import Catalogue, EditionRow, EditionTitle, Row
from marram.rulebook.facts import parse_facts, unknown_fact
from marram.rulebook.sources import parse_sources
from marram.rulebook.values import FACT, UNITS, PartSpec, PartType, Value, facts_named, parse_value

_ROW_MEMBERS = {"means", "parts", "in", "form"}
_EDITION_MEMBERS = {"rule", "seen", "unsure", "as", "without", "seen_of", "absent"}
_EDITIONS_FILE = "editions.toml"
_FORMS_FILE = "forms.toml"
_FACTS_FILE = "facts.toml"
_SOURCES_FILE = "sources.toml"
_BRIEFLY_FILE = "told_briefly.toml"
_APART = {_EDITIONS_FILE, _FORMS_FILE, _FACTS_FILE, _SOURCES_FILE, _BRIEFLY_FILE}
"""Files that hold no rows."""


class _Reader:
    """Collects rows and faults; a fault never stops the reading."""

    def __init__(
        self,
        editions: Mapping[str, EditionTitle],
        forms: Mapping[str, object],
        facts: Mapping[str, object],
        sources: Mapping[str, object],
    ) -> None:
        self.editions = editions
        self.forms = forms
        self.sources, source_faults = parse_sources(sources, editions)
        self.rows: dict[str, Row] = {}
        self.facts, faults = parse_facts(facts, editions)
        self.faults = [f"{_FACTS_FILE}, {fault}" for fault in faults] + [f"{_SOURCES_FILE}, {fault}" for fault in source_faults]

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
                self.rows[row_id] = self._read_row(name.removesuffix(".toml"), row_id, raw)

    def check_row_names(self) -> None:
        """Find lists of rows that name a row which does not exist."""
        for row in self.rows.values():
            for spec in (spec for spec in row.parts.values() if spec.type is PartType.ROWS):
                for edition, cell in row.editions.items():
                    named = cell.values.get(spec.name, ())
                    for name in named if isinstance(named, tuple) else ():
                        if f"{spec.of}.{name}" not in self.rows:
                            self.fault(f"{row.id}, {edition}", f"{spec.name} names {spec.of}.{name}, and there is no such row")

    def check_facts(self) -> None:
        """Find facts that a case or a closed list names and the catalogue of facts does not hold."""
        for row in self.rows.values():
            where = f"{row.situation}.toml, {row.id}"
            for edition, cell in row.editions.items():
                self._check_named(f"{where}, {edition}", [name for value in cell.values.values() for name in facts_named(value)])
        for form in self.forms:
            for part, spec in _table(self.forms, form).items():
                listed = spec.get("words", []) if isinstance(spec, dict) and spec.get("of") == FACT else []
                self._check_named(f"{_FORMS_FILE}, {form}.{part}", listed)

    def read_briefly(self, text: str) -> dict[str, frozenset[str]]:
        """Read which rows each edition tells more briefly than it knows; a row or edition that is not there is a fault."""
        found = {}
        for edition, raw in tomllib.loads(text).items():
            named = [f"act.{name}" for name in _table({edition: raw}, edition).get("acts", ())]  # type: ignore[attr-defined]
            missing = [name for name in named if name not in self.rows] or ([] if edition in self.editions else [edition])
            for name in missing:
                self.fault(f"{_BRIEFLY_FILE}, {edition}", f"there is no {name}")
            found[edition] = frozenset(named)
        return found

    def _check_named(self, where: str, names: Iterable[str]) -> None:
        for name in dict.fromkeys(names):
            fault = unknown_fact(name, self.facts)
            if fault:
                self.fault(where, f"{fault}; a new fact needs its question there")

    def _read_row(self, situation: str, row_id: str, raw: Mapping[str, object]) -> Row:
        where = f"{situation}.toml, {row_id}"
        for member in raw.keys() - _ROW_MEMBERS:
            self.fault(where, f"unknown member {member!r}; a row has {', '.join(sorted(_ROW_MEMBERS))}")
        means = raw.get("means", "")
        if not isinstance(means, str) or not means:
            self.fault(where, "means is missing")
        form = _table(self.forms, str(raw["form"])) if "form" in raw else {}
        if "form" in raw and not form:
            self.fault(where, f"unknown form {raw['form']!r}; known: {', '.join(self.forms)}")
        own = dict(form) | dict(_table(raw, "parts"))
        parts = {name: self._read_part(f"{where}.{name}", name, part) for name, part in own.items()}
        tables = _table(raw, "in")
        for edition in tables.keys() - self.editions.keys():
            self.fault(where, f"unknown edition {edition!r}")
        editions: dict[str, EditionRow] = {}
        for edition in self.editions:
            if edition not in editions:  # an earlier `as` may have read it already
                self._read_edition(where, edition, tables, parts, editions)
        editions = {edition: editions[edition] for edition in self.editions}
        return Row(id=row_id, situation=situation, means=str(means), parts=parts, editions=editions)

    def _read_part(self, where: str, name: str, raw: object) -> PartSpec:
        table = raw if isinstance(raw, dict) else {}
        kind, words, unit = table.get("type"), table.get("words", []), table.get("unit", "")
        if kind not in list(PartType):
            self.fault(where, f"type must be one of {', '.join(PartType)}")
            kind = PartType.REMARK
        if (kind in {PartType.WORD, PartType.WORDS}) != bool(words):
            self.fault(where, "a word or words part needs its closed list `words`, and no other part has one")
        if (kind == PartType.NUMBER) != bool(unit) or (unit and unit not in UNITS):
            self.fault(where, f"a number needs a unit, one of {' '.join(UNITS)}, and no other part has one")
        if not table.get("means"):
            self.fault(where, "means is missing")
        spec = PartSpec(
            name=name,
            type=PartType(kind),
            means=str(table.get("means", "")),
            unit=str(unit),
            words=tuple(words),
            of=str(table.get("of", "")),
            says={str(word): str(said) for word, said in _table(table, "says").items()},
        )
        for word in spec.says.keys() - spec.answers:
            self.fault(where, f"says names {word!r}, which is no answer of the part")
        if "default" not in table:
            return spec
        default = parse_value(table["default"], spec)
        if default is None:
            self.fault(where, f"default is {table['default']!r}, expected {spec.expects}")
        return replace(spec, default=default)

    def _read_edition(
        self,
        where: str,
        edition: str,
        tables: Mapping[str, object],
        parts: Mapping[str, PartSpec],
        done: dict[str, EditionRow],
    ) -> None:
        place = f"{where}, {edition}"
        raw = tables.get(edition)
        if not isinstance(raw, dict):
            self.fault(place, "the cell is empty: give values, `as`, or `absent` with the reason")
            raw = {"absent": "empty"}
        base = self._base(place, raw, tables, parts, done, where)
        for member in raw.keys() - _EDITION_MEMBERS - parts.keys():
            self.fault(place, f"unknown part {member!r}")
        values: dict[str, Value] = dict(base.values) if base else {}
        stated = self._values(place, raw, parts)
        defaulted = {name for name, spec in parts.items() if spec.default is not None and name not in values.keys() | stated.keys()}
        defaulted |= (base.defaulted if base else frozenset()) - stated.keys()
        values |= {name: default for name in defaulted if (default := parts[name].default) is not None} | stated
        without = ({} if base is None else dict(base.without)) | dict(_table(raw, "without"))
        absent = str(raw.get("absent", base.absent if base else ""))
        missing = [name for name, spec in parts.items() if spec.decides and name not in values and name not in without]
        if missing and not absent:
            self.fault(place, f"no value for {', '.join(missing)}: give one or name the part in `without`")
        done[edition] = EditionRow(
            absent=absent,
            values={} if absent else {name: values[name] for name in values if name not in _table(raw, "without")},
            without={name: str(why) for name, why in without.items() if name not in values or name in _table(raw, "without")},
            citation=self._citation(place, edition, raw, needed=not absent),
            seen_of=self._seen_of(place, raw),
            defaulted=frozenset(defaulted),
        )

    def _seen_of(self, place: str, raw: Mapping[str, object]) -> dict[str, str]:
        seen_of = {name: str(seen) for name, seen in _table(raw, "seen_of").items()}
        for name, seen in seen_of.items():
            for fault in self.sources.faults(seen):
                self.fault(f"{place}, seen_of {name}", fault)
        return seen_of

    def _base(
        self,
        place: str,
        raw: Mapping[str, object],
        tables: Mapping[str, object],
        parts: Mapping[str, PartSpec],
        done: dict[str, EditionRow],
        where: str,
    ) -> EditionRow | None:
        name = raw.get("as")
        if name is None:
            return None
        target = tables.get(str(name))
        if not isinstance(target, dict) or "as" in target:
            self.fault(place, f"`as` must name an edition that gives its own values, not {name!r}")
            return None
        if str(name) not in done:
            self._read_edition(where, str(name), tables, parts, done)
        return done[str(name)]

    def _values(self, place: str, raw: Mapping[str, object], parts: Mapping[str, PartSpec]) -> dict[str, Value]:
        values: dict[str, Value] = {}
        for name in raw.keys() & parts.keys():
            value = parse_value(raw[name], parts[name])
            if value is None:
                self.fault(place, f"{name} is {raw[name]!r}, expected {parts[name].expects}")
            else:
                values[name] = value
        return values

    def _citation(self, place: str, edition: str, raw: Mapping[str, object], *, needed: bool) -> Citation | None:
        rule, seen = raw.get("rule"), raw.get("seen")
        if not isinstance(rule, str) or not isinstance(seen, str):
            if needed:
                self.fault(place, "rule and seen are both needed")
            return None
        for fault in self.sources.faults(seen):
            self.fault(place, fault)
        citation = Citation(
            document=self.editions[edition].document,
            edition=edition,
            rule=rule.removeprefix("~"),
            seen=seen,
            is_number_inferred=rule.startswith("~"),
            is_draft=self.editions[edition].is_draft,
        )
        return replace(self.sources.seen_in(citation, seen), is_unsure=bool(raw.get("unsure", False)))


def _table(raw: Mapping[str, object], name: str) -> Mapping[str, object]:
    table = raw.get(name, {})
    return table if isinstance(table, dict) else {}


def read_catalogue(folder: Traversable) -> Catalogue:
    """Read every rule file of a folder.

    Args:
        folder: Folder with ``editions.toml``, ``forms.toml``, ``sources.toml`` and one file for each situation.

    Raises:
        RuleDataError: Any file has a fault; the message lists all of them.
    """
    titles = tomllib.loads(folder.joinpath(_EDITIONS_FILE).read_text(encoding="utf-8"))
    forms = tomllib.loads(folder.joinpath(_FORMS_FILE).read_text(encoding="utf-8"))
    editions = {
        name: EditionTitle(name=name, short=raw["short"], document=raw["document"], is_draft=raw["draft"]) for name, raw in titles.items()
    }
    facts = tomllib.loads(folder.joinpath(_FACTS_FILE).read_text(encoding="utf-8"))
    sources = tomllib.loads(folder.joinpath(_SOURCES_FILE).read_text(encoding="utf-8"))
    reader = _Reader(editions, forms, facts, sources)
    for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if file.name.endswith(".toml") and file.name not in _APART:
            reader.read_file(file.name, file.read_text(encoding="utf-8"))
    reader.check_row_names()
    reader.check_facts()
    briefly = folder.joinpath(_BRIEFLY_FILE)
    told_briefly = reader.read_briefly(briefly.read_text(encoding="utf-8")) if briefly.is_file() else {}
    if reader.faults:
        listed = "\n  ".join(reader.faults)
        raise RuleDataError(f"The rule data has {len(reader.faults)} faults:\n  {listed}", where="rule data")
    return Catalogue(editions=editions, rows=reader.rows, facts=reader.facts, sources=reader.sources, told_briefly=told_briefly)


@lru_cache(maxsize=1)
def packaged_catalogue() -> Catalogue:
    """The rule data that comes with Marram, read once a process."""
    return read_catalogue(resources.files("marram.rulebook").joinpath("data"))
