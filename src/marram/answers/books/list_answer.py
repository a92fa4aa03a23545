"""What the rule data holds, as outsiders read it: editions, local rules, keys, facts, sources."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.office.books.list_rules import FactsListed, RulesListed
    from marram.rulebook.sources import Source


class EditionShape(Shape, frozen=True, kw_only=True):
    """An edition of the Rules.

    Attributes:
        edition: Its name.
        document: Title of the document.
    """

    edition: str
    document: str


class LocalRuleShape(Shape, frozen=True, kw_only=True):
    """A local rule that comes with Marram.

    Attributes:
        local_rule: Its name, as in `2023+preferred-lies`.
        title: Its title.
        on: The editions that it fits.
    """

    local_rule: str
    title: str
    on: tuple[str, ...]


class KeyShape(Shape, frozen=True, kw_only=True):
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


class BookListAnswer(Answer, frozen=True, kw_only=True):
    """Every edition, every local rule and every key.

    Attributes:
        schema: Name and version of this shape.
        editions: The editions, the oldest first.
        local_rules: The local rules that come with Marram.
        keys: The keys, in the order of the rule data.
    """

    schema: Literal["marram.book-list/1"] = "marram.book-list/1"
    editions: tuple[EditionShape, ...]
    local_rules: tuple[LocalRuleShape, ...]
    keys: tuple[KeyShape, ...]


class FactShape(Shape, frozen=True, kw_only=True):
    """A fact that an answer may turn on.

    Attributes:
        name: Its name.
        question: The question that settles it.
        excludes: Facts that cannot be true together with it.
        answer: How it is answered.
    """

    name: str
    question: str
    excludes: tuple[str, ...]
    answer: str


class BookFactsAnswer(Answer, frozen=True, kw_only=True):
    """Every fact that an answer may turn on, asked in the terms of a book.

    Attributes:
        schema: Name and version of this shape.
        book: The book.
        facts: The facts.
    """

    schema: Literal["marram.book-facts/1"] = "marram.book-facts/1"
    book: str
    facts: tuple[FactShape, ...]


class SourceShape(Shape, frozen=True, kw_only=True):
    """A published source.

    Attributes:
        title: What it calls itself.
        year: Year in which it appeared; null where it is undated.
        editions: The editions of which it speaks.
        kind: Official text, official explanation, reprint or secondary.
    """

    title: str
    year: int | None
    editions: tuple[str, ...]
    kind: str


class BookSourcesAnswer(Answer, frozen=True, kw_only=True):
    """Every source that a value was seen in.

    Attributes:
        schema: Name and version of this shape.
        sources: The sources.
    """

    schema: Literal["marram.book-sources/1"] = "marram.book-sources/1"
    sources: tuple[SourceShape, ...]


def book_list_answer(listed: RulesListed) -> BookListAnswer:
    """Editions, local rules and keys."""
    return BookListAnswer(
        editions=tuple(EditionShape(edition=entry.name, document=entry.document) for entry in listed.editions),
        local_rules=tuple(LocalRuleShape(local_rule=rule.name, title=rule.title, on=tuple(rule.on)) for rule in listed.local_rules),
        keys=tuple(
            KeyShape(key=entry.key, situation=entry.situation, type=entry.type, unit=entry.unit, means=entry.means) for entry in listed.keys
        ),
    )


def book_facts_answer(listed: FactsListed) -> BookFactsAnswer:
    """Every fact with its question in a book's terms and what it excludes."""
    facts = (FactShape(name=fact.name, question=fact.question, excludes=fact.excludes, answer=fact.answer) for fact in listed.facts)
    return BookFactsAnswer(book=listed.book, facts=tuple(facts))


def book_sources_answer(sources: Iterable[Source]) -> BookSourcesAnswer:
    """The catalogue of sources."""
    return BookSourcesAnswer(
        sources=tuple(SourceShape(title=each.title, year=each.year, editions=tuple(each.editions), kind=each.kind) for each in sources)
    )
