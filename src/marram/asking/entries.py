"""What can be asked: every act, thing, situation, relief, form of play and local rule, the drop, the search, and play that is stopped."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from marram.asking.heard_words import data_tables
from marram.asking.index import Text
from marram.rulebook.catalogue import Catalogue, Row
from marram.rulebook.overlays.overlay import Overlay
from marram.rulebook.values import Value, cases_of

_NAME, _MEANS, _BESIDES = 1.5, 2.0, 0.3
"""Weights of the name of a row, of what it means, and of its advice and facts, beside 1 for a phrase of the asking data."""


class Kind(StrEnum):
    """What kind of thing an entry is."""

    ACT = "act"
    OBJECT = "object"
    SITUATION = "situation"
    RELIEF = "relief"
    DROP = "drop"
    SEARCH = "search"
    FORM = "form"
    SUSPENSION = "suspension"
    LOCAL_RULE = "local-rule"
    NOT_COVERED = "not-covered"


FAMILIES = {"act": Kind.ACT, "thing": Kind.OBJECT, "situation": Kind.SITUATION, "relief": Kind.RELIEF, "form": Kind.FORM}
"""Families of rows, and what kind of entry each of their rows is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """Something that can be asked.

    Attributes:
        id: Its name with its family, such as ``act.wrong-ball``.
        kind: What kind of thing it is.
        title: What it is about.
        situations: For a ruling on the course, the situations of the incidents that come to it; else empty.
        row: The row of the rule data behind it; empty where there is none.
        key: The key of the rule data to look at first, where there is nothing to be ruled on; else empty.
        editions: The editions that it is for; empty where the row says so.
    """

    id: str
    kind: Kind
    title: str
    situations: tuple[str, ...] = ()
    row: str = ""
    key: str = ""
    editions: tuple[str, ...] = ()


def list_entries(catalogue: Catalogue, local_rules: Sequence[Overlay]) -> Iterator[Entry]:
    """Everything that can be asked, and the subjects known not to be covered."""
    opened_by = _situations_of(catalogue)
    for row in catalogue.rows.values():
        family, _, name = row.id.partition(".")
        if family in FAMILIES:
            yield _row_entry(row, FAMILIES[family], name, opened_by.get(row.id, ()))
    for overlay in local_rules:
        yield Entry(
            id=f"{Kind.LOCAL_RULE}.{overlay.name}",
            kind=Kind.LOCAL_RULE,
            title=overlay.title,
            key=overlay.changes[0].key,
            editions=overlay.on,
        )
    for _, table in data_tables("places"):
        for name, place in table.items():
            if isinstance(place, dict):
                yield Entry(id=name, kind=Kind(str(place["kind"])), title=str(place["title"]))


def _row_entry(row: Row, kind: Kind, name: str, opened_by: Sequence[str]) -> Entry:
    if kind not in {Kind.SITUATION, Kind.RELIEF}:
        return Entry(id=row.id, kind=kind, title=row.means, row=row.id)
    situations = (name,) if kind is Kind.SITUATION else tuple(opened_by)
    key = "" if situations else f"{row.id}.{next(iter(row.parts))}"
    return Entry(id=row.id, kind=kind, title=row.means, situations=situations, row=row.id, key=key)


def _situations_of(catalogue: Catalogue) -> dict[str, tuple[str, ...]]:
    """For each relief, the situations that open it, by itself or through a relief that it carries out."""
    found: dict[str, dict[str, None]] = {}
    for row in catalogue.rows.values():
        if row.id.startswith("situation."):
            left = _named(row, "procedures")
            seen = set[str]()
            while left:
                relief = f"relief.{left.pop()}"
                if relief not in seen:
                    seen.add(relief)
                    found.setdefault(relief, {})[row.id.partition(".")[2]] = None
                    left += _named(catalogue.rows[relief], "follow")
    return {relief: tuple(situations) for relief, situations in found.items()}


def _named(row: Row, part: str) -> list[str]:
    values = [said.get(part, ()) for said in _all_said(row)]
    return list(dict.fromkeys(str(name) for names in values if isinstance(names, tuple) for name in names))


def _all_said(row: Row) -> Iterator[Mapping[str, Value]]:
    """What each edition, or the trial that adds the row, says in it."""
    yield from (cell.values for cell in row.editions.values())
    yield row.added


def texts_of(catalogue: Catalogue, entries: Mapping[str, Entry]) -> dict[str, list[Text]]:
    """The words by which each entry is found: its own, and the phrases of the asking data."""
    phrases = read_phrases()
    found = {}
    for name, entry in entries.items():
        texts = [Text(words=entry.title, weight=_MEANS), Text(words=_spoken_name(name), weight=_NAME)]
        texts += [Text(words=phrase) for phrase in phrases.get(name, ())]
        if entry.row:
            texts += [Text(words=words, weight=_BESIDES, is_phrase=False) for words in _besides(catalogue.rows[entry.row])]
        found[name] = texts
    return found


def _spoken_name(name: str) -> str:
    return name.partition(".")[2].replace("-", " ") or name


def _besides(row: Row) -> Iterator[str]:
    """Advice, titles of a relief, and facts that change the answer, each once."""
    told = dict[str, None]()
    for said in _all_said(row):
        told |= {value: None for part in ("advice", "title") if isinstance(value := said.get(part), str)}
        if (cases := said.get("cases")) is not None:
            told |= {fact.replace("_", " "): None for case in cases_of(cases) for fact in case.when}
    return iter(told)


def read_phrases() -> dict[str, tuple[str, ...]]:
    """For each entry, the ways in which it is put; entries that the rule data does not hold yet may stand here too."""
    found: dict[str, tuple[str, ...]] = {}
    for _, table in data_tables("phrases"):
        for name, phrases in table.items():
            found[name] = (*found.get(name, ()), *(str(phrase) for phrase in phrases)) if isinstance(phrases, list) else found.get(name, ())
    return found
