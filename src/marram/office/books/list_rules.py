"""List what the rule data holds: editions, local rules, keys, facts and sources."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.editions import EditionTitle
from marram.rulebook.overlays.overlay import Overlay
from marram.rulebook.sources import Source
from marram.rulebook.values import PartType
from marram.rulebook.wording.explain import ask


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyListed:
    """A key of the rule data.

    Attributes:
        key: The key.
        situation: The section of the rule data in which it stands.
        type: What kind of value it takes.
        unit: Its unit; empty where it has none.
        means: What it means.
    """

    key: str
    situation: str
    type: str
    unit: str
    means: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RulesListed:
    """What the rule data holds.

    Attributes:
        editions: The editions, the oldest first.
        local_rules: The local rules that come with Marram.
        situations: The sections of the rule data, in their order.
        keys: Every key, in the order of the rule data.
    """

    editions: tuple[EditionTitle, ...]
    local_rules: tuple[Overlay, ...]
    situations: tuple[str, ...]
    keys: tuple[KeyListed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FactListed:
    """A fact that an answer may turn on.

    Attributes:
        name: Its name.
        question: The question that settles it, in the book's terms.
        excludes: Facts that cannot be true together with it.
        answer: How it is answered.
    """

    name: str
    question: str
    excludes: tuple[str, ...]
    answer: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FactsListed:
    """Every fact, asked in the terms of one book."""

    book: str
    facts: tuple[FactListed, ...]


def list_rules(catalogue: Catalogue, local_rules: Sequence[Overlay]) -> RulesListed:
    """List every edition, every local rule that comes with Marram, and every key.

    Args:
        catalogue: The rule data.
        local_rules: The local rules.
    """
    return RulesListed(
        editions=tuple(catalogue.editions.values()),
        local_rules=tuple(local_rules),
        situations=tuple(catalogue.situations()),
        keys=tuple(
            KeyListed(key=key, situation=row.situation, type=spec.type.value, unit=spec.unit, means=spec.means)
            for key, (row, spec) in catalogue.keys.items()
            if spec.type is not PartType.TERM
        ),
    )


def list_facts(book: Book) -> FactsListed:
    """List every fact with the question that settles it, in the terms of a book."""
    return FactsListed(
        book=book.name,
        facts=tuple(
            FactListed(name=fact.name, question=ask(book, fact.name, {}), excludes=tuple(fact.excludes), answer=fact.answer.value)
            for fact in book.catalogue.facts.values()
        ),
    )


def list_sources(catalogue: Catalogue) -> tuple[Source, ...]:
    """List every source that a value was seen in."""
    return catalogue.sources.all
