"""Rule books as lists: keys, values side by side, differences and the audit, as JSON objects and as text."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from textwrap import fill

from marram.answers.rules.ruling_answer import citation_object
from marram.core.citations import Citation
from marram.rulebook.audit import PROVENANCES, Audit
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.differences.compare import Side, look_up
from marram.rulebook.overlays.overlay import Overlay
from marram.rulebook.sources import Sources
from marram.rulebook.values import PartType, plain_value, value_words


def list_object(catalogue: Catalogue, local_rules: Sequence[Overlay]) -> dict[str, object]:
    """Editions, shipped local rules and keys."""
    return {
        "local_rules": [{"local_rule": overlay.name, "title": overlay.title, "on": list(overlay.on)} for overlay in local_rules],
        "editions": [{"edition": entry.name, "document": entry.document} for entry in catalogue.editions.values()],
        "keys": [
            {"key": key, "situation": row.situation, "type": spec.type.value, "unit": spec.unit, "means": spec.means}
            for key, (row, spec) in catalogue.keys.items()
            if spec.type is not PartType.TERM
        ],
    }


def local_rules_text(local_rules: Sequence[Overlay]) -> str:
    """The local rules that come with Marram, with the editions that they fit."""
    width = max(len(overlay.name) for overlay in local_rules)
    return "\n".join(f"{overlay.name:<{width}}  {overlay.title} ({', '.join(overlay.on)})" for overlay in local_rules)


def list_text(catalogue: Catalogue, local_rules: Sequence[Overlay]) -> str:
    """Editions, shipped local rules, and keys, grouped by situation."""
    lines = [f"{entry.name:<12}{entry.document}" for entry in catalogue.editions.values()]
    lines += ["", "Local rules that a Committee may add, as in --book 2023+preferred-lies", local_rules_text(local_rules)]
    for situation in catalogue.situations():
        rows = [row for row in catalogue.rows.values() if row.situation == situation]
        own = [(f"{row.id}.{spec.name}", spec) for row in rows for spec in row.parts.values()]
        own = [(key, spec) for key, spec in own if spec.type is not PartType.TERM]
        if own:
            lines += ["", situation.replace("_", " ").capitalize()]
            lines += [f"  {key}  ({spec.type.value}{', ' + spec.unit if spec.unit else ''}): {spec.means}" for key, spec in own]
    return "\n".join(lines)


def show_object(key: str, books: Sequence[Book]) -> dict[str, object]:
    """What each book says under a key."""
    row, spec = books[0].catalogue.find_key(key)
    return {
        "key": key,
        "row_means": row.means,
        "means": spec.means,
        "type": spec.type.value,
        "unit": spec.unit,
        "words": list(spec.words),
        "books": [{"book": book.name, "stamp": book.stamp} | side_object(look_up(book, key)) for book in books],
    }


def side_object(side: Side) -> dict[str, object]:
    """What one book says, with its rules."""
    return {
        "value": None if side.value is None else plain_value(side.value),
        "why_none": side.why_none,
        "citations": [citation_object(citation) for citation in side.citations],
    }


def show_text(key: str, books: Sequence[Book]) -> str:
    """What each book says under a key, as text."""
    row, spec = books[0].catalogue.find_key(key)
    lines = [f"{key}: {spec.means}", fill(row.means, 100)]
    if spec.words:
        lines.append(fill(f"Words: {', '.join(spec.words)}", 100, subsequent_indent="  "))
    for book in books:
        side = look_up(book, key)
        lines += ["", f"{book.name}  [{book.stamp}]", f"  {_side_words(side, spec.unit)}"]
        lines += [fill(line, 100, initial_indent="  ", subsequent_indent="    ") for line in _rules(side.citations)]
    return "\n".join(lines)


def _side_words(side: Side, unit: str) -> str:
    return f"none: {side.why_none}" if side.value is None else value_words(side.value, unit)


def _rules(citations: Sequence[Citation]) -> Iterator[str]:
    for citation in citations:
        yield f"{citation.reference} ({citation.provenance})"


def audit_object(found: Audit) -> dict[str, object]:
    """The audit."""
    return {
        "counts": [
            {"edition": edition, "situation": situation} | {kind: counter[kind] for kind in PROVENANCES}
            for (edition, situation), counter in found.counts.items()
        ],
        "totals": _totals(found),
        "remarks": [{"key": entry.key, "edition": entry.edition, "text": entry.text} for entry in found.remarks],
    }


def _totals(found: Audit) -> dict[str, int]:
    total: Counter[str] = Counter()
    for counter in found.counts.values():
        total.update(counter)
    return {kind: total[kind] for kind in PROVENANCES}


def audit_text(found: Audit) -> str:
    """The audit as a table."""
    head = f"{'edition':<12}{'section':<26}" + "".join(f"{kind:>16}" for kind in PROVENANCES)
    lines = [head]
    for (edition, situation), counter in sorted(found.counts.items()):
        if counter:
            numbers = "".join(f"{counter[kind]:>16}" for kind in PROVENANCES)
            lines.append(f"{edition:<12}{situation.replace('_', ' '):<26}{numbers}")
    totals = _totals(found)
    lines.append(f"{'all':<38}" + "".join(f"{totals[kind]:>16}" for kind in PROVENANCES))
    lines += ["", f"{len(found.remarks)} remarks that decide nothing"]
    lines += [fill(f"{e.key} ({e.edition}): {e.text}", 100, subsequent_indent="    ") for e in found.remarks]
    return "\n".join(lines)


def sources_object(sources: Sources) -> dict[str, object]:
    """The catalogue of sources."""
    return {
        "sources": [
            {"title": source.title, "year": source.year, "editions": list(source.editions), "kind": source.kind} for source in sources.all
        ]
    }


def sources_text(sources: Sources) -> str:
    """The catalogue of sources as text."""
    return "\n".join(fill(source.words, 100, subsequent_indent="   ") for source in sources.all)
