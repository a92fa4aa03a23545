"""The catalogue of facts as JSON and text."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill

from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.wording.explain import ask

_WIDTH = 100
_QUESTIONS = "questions."
"""The questions were once a row of the rule data; their keys still answer."""


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


def fact_of_key(catalogue: Catalogue, key: str) -> str:
    """The fact whose question a key of the former row of questions names; empty where it names none."""
    name = key.removeprefix(_QUESTIONS)
    return name if key.startswith(_QUESTIONS) and name in catalogue.facts else ""


def question_object(key: str, fact: str, books: Sequence[Book]) -> dict[str, object]:
    """How each book asks for a fact, as outsiders read it."""
    asked = [{"book": book.name, "stamp": book.stamp, "question": ask(book, fact, {})} for book in books]
    return {"key": key, "fact": fact, "books": asked}


def question_text(key: str, fact: str, books: Sequence[Book]) -> str:
    """The same for the terminal."""
    asked = (fill(f"{book.name}  {ask(book, fact, {})}", width=_WIDTH, subsequent_indent="   ") for book in books)
    return "\n".join([f"{key}: the question that settles the fact {fact} (marram book facts)", *asked])
