"""What the rule data holds, for the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from textwrap import fill
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marram.office.books.audit_rules import RulesAudited
    from marram.office.books.list_rules import FactsListed, RulesListed
    from marram.rulebook.overlays.overlay import Overlay
    from marram.rulebook.sources import Source

_WIDTH = 100


def local_rules_text(local_rules: Sequence[Overlay]) -> str:
    """The local rules that come with Marram, with the editions that they fit."""
    width = max(len(overlay.name) for overlay in local_rules)
    return "\n".join(f"{overlay.name:<{width}}  {overlay.title} ({', '.join(overlay.on)})" for overlay in local_rules)


def list_text(listed: RulesListed) -> str:
    """Editions, local rules, and keys, grouped by section."""
    lines = [f"{entry.name:<12}{entry.document}" for entry in listed.editions]
    lines += ["", "Local rules that a Committee may add, as in --book 2023+preferred-lies", local_rules_text(listed.local_rules)]
    for situation in listed.situations:
        own = [entry for entry in listed.keys if entry.situation == situation]
        if own:
            lines += ["", situation.replace("_", " ").capitalize()]
            lines += [f"  {entry.key}  ({entry.type}{', ' + entry.unit if entry.unit else ''}): {entry.means}" for entry in own]
    return "\n".join(lines)


def facts_text(listed: FactsListed) -> str:
    """Every fact: the name as it is stated, and its question below."""
    parts = []
    for fact in listed.facts:
        excludes = f" Not together with {', '.join(fact.excludes)}." if fact.excludes else ""
        parts += [fact.name, fill(f"{fact.question}{excludes}", width=_WIDTH, initial_indent="   ", subsequent_indent="   ")]
    return "\n".join(parts)


def sources_text(sources: Iterable[Source]) -> str:
    """The catalogue of sources."""
    return "\n".join(fill(source.words, _WIDTH, subsequent_indent="   ") for source in sources)


def audit_text(found: RulesAudited) -> str:
    """The audit as a table."""
    head = f"{'edition':<12}{'section':<26}" + "".join(f"{kind:>16}" for kind in found.kinds)
    lines = [head]
    for (edition, situation), counter in sorted(found.counts.items()):
        if counter:
            numbers = "".join(f"{counter.get(kind, 0):>16}" for kind in found.kinds)
            lines.append(f"{edition:<12}{situation.replace('_', ' '):<26}{numbers}")
    lines.append(f"{'all':<38}" + "".join(f"{found.totals.get(kind, 0):>16}" for kind in found.kinds))
    lines += ["", f"{len(found.remarks)} remarks that decide nothing"]
    lines += [fill(f"{e.key} ({e.edition}): {e.text}", _WIDTH, subsequent_indent="    ") for e in found.remarks]
    return "\n".join(lines)
