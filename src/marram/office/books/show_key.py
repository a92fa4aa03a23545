"""Show what books say under a key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.citations import Citation
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.differences.compare import Side, look_up
from marram.rulebook.values import Plain, plain_value, value_words
from marram.rulebook.wording.explain import ask

_QUESTIONS = "questions."
"""The questions were once a row of the rule data; their keys still answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SideShown:
    """What one book says under a key.

    Attributes:
        value: Its value as files write it; None where it has none.
        words: The value as an official reads it; empty where there is none.
        why_none: Why it has none.
        citations: Its rules.
    """

    value: Plain | None
    words: str
    why_none: str
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyShown:
    """What books say under a key.

    Attributes:
        key: The key.
        row_means: What its row is about.
        means: What the key means.
        type: What kind of value it takes.
        unit: Its unit; empty where it has none.
        words: The words that it takes; empty where it takes others.
        under: Each book asked, with what it says.
    """

    key: str
    row_means: str
    means: str
    type: str
    unit: str
    words: tuple[str, ...]
    under: tuple[tuple[Book, SideShown], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class QuestionShown:
    """How books ask for a fact.

    Attributes:
        key: The key that was asked for.
        fact: The fact whose question it names.
        under: Each book asked, with its question.
    """

    key: str
    fact: str
    under: tuple[tuple[Book, str], ...]


def show_key(key: str, books: Sequence[Book]) -> KeyShown | QuestionShown:
    """Show what each book says under a key, or, where the key is one of a question, how each asks it.

    Args:
        key: The key.
        books: The books.

    Raises:
        RuleDataError: There is no such key; the error names the nearest.
    """
    catalogue = books[0].catalogue
    if fact := fact_of_key(catalogue, key):
        return QuestionShown(key=key, fact=fact, under=tuple((book, ask(book, fact, {})) for book in books))
    row, spec = catalogue.find_key(key)
    return KeyShown(
        key=key,
        row_means=row.means,
        means=spec.means,
        type=spec.type.value,
        unit=spec.unit,
        words=tuple(spec.words),
        under=tuple((book, side_shown(look_up(book, key), spec.unit)) for book in books),
    )


def side_shown(side: Side, unit: str) -> SideShown:
    """What one book says, as files and officials write it."""
    if side.value is None:
        return SideShown(value=None, words="", why_none=side.why_none, citations=side.citations)
    words = value_words(side.value, unit)
    return SideShown(value=plain_value(side.value), words=words, why_none=side.why_none, citations=side.citations)


def fact_of_key(catalogue: Catalogue, key: str) -> str:
    """The fact whose question a key of the former row of questions names; empty where it names none."""
    name = key.removeprefix(_QUESTIONS)
    return name if key.startswith(_QUESTIONS) and name in catalogue.facts else ""
