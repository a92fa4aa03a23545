"""The catalogue of facts as JSON and text."""

from __future__ import annotations

from textwrap import fill

from marram.rulebook.book import Book
from marram.rulings.explain import ask

_WIDTH = 100


def facts_object(book: Book) -> dict[str, object]:
    """Every fact with its question in a book's terms and what it excludes, as outsiders read it."""
    return {
        "book": book.name,
        "facts": [
            {"name": fact.name, "question": ask(book, fact.name, {}), "excludes": list(fact.excludes), "answer": fact.answer.value}
            for fact in book.catalogue.facts.values()
        ],
    }


def facts_text(book: Book) -> str:
    """The same for the terminal: the name as it is stated, and its question below."""
    parts = []
    for fact in book.catalogue.facts.values():
        excludes = f" Not together with {', '.join(fact.excludes)}." if fact.excludes else ""
        parts += [fact.name, fill(f"{ask(book, fact.name, {})}{excludes}", width=_WIDTH, initial_indent="   ", subsequent_indent="   ")]
    return "\n".join(parts)
