"""Ask: everything that an official can ask, found by words, with what is asked about it under the books named."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from marram.asking.entries import Entry, Kind
from marram.asking.finding import COVERED, Answer, Found, Register, ask, open_register
from marram.interchange.books.book_files import local_rules
from marram.rulebook.book import Book, open_book
from marram.rulebook.reading.files import packaged_catalogue

__all__ = ["Entry", "Found", "Kind", "Lead", "Leads", "ask_under_books", "whole_register"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lead:
    """An entry that was found, and how to go on from it.

    Attributes:
        found: The entry, with its score.
        books: The books that have it, as they were asked about.
        missing: The books that do not have it, each with the reason.
    """

    found: Found
    books: tuple[str, ...]
    missing: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leads:
    """What was found for a question, under the books asked about.

    Attributes:
        answer: What was found.
        books: The books.
        found: What fits, the best first.
        nearest: Where nothing fits, what comes nearest.
        cautions: What comes before any answer.
    """

    answer: Answer
    books: tuple[Book, ...]
    found: tuple[Lead, ...]
    nearest: tuple[Lead, ...]
    cautions: tuple[str, ...]

    @property
    def says(self) -> str:
        """What is covered, where nothing fits; else empty."""
        return "" if self.answer.is_covered else COVERED


@lru_cache(maxsize=1)
def whole_register() -> Register:
    """Everything that can be asked, the local rules that come with Marram among it; gathered once a process."""
    return open_register(packaged_catalogue(), local_rules())


def ask_under_books(words: str, books: Sequence[Book] = (), asked_as: Sequence[str] = ()) -> Leads:
    """Find what a question is about, and how to go on under some books.

    Args:
        words: The question, as somebody puts it.
        books: The books, opened together; none for what any edition has.
        asked_as: How each was asked about, since a trial is opened by its file; none for their own names.
    """
    answer, names = ask(_register_of(books), words), tuple(asked_as) or tuple(book.name for book in books)
    return Leads(
        answer=answer,
        books=tuple(books),
        found=tuple(_lead(found, books, names) for found in answer.found),
        nearest=tuple(_lead(found, books, names) for found in answer.nearest),
        cautions=_cautions(answer, books),
    )


def _register_of(books: Sequence[Book]) -> Register:
    """Everything that can be asked, with what trials in the books add."""
    if not books or not books[0].catalogue.has_added:
        return whole_register()
    return open_register(books[0].catalogue, local_rules())


def _cautions(answer: Answer, books: Sequence[Book]) -> tuple[str, ...]:
    """The cautions of the words asked, as the books have them; with no book asked about, as the latest edition has them."""
    books = books or (open_book(packaged_catalogue().latest, [], packaged_catalogue()),)
    return tuple(dict.fromkeys(book.word(f"{row}.text").value for row in answer.cautions for book in books if book.has_row(row)))


def _lead(found: Found, books: Sequence[Book], asked_as: Sequence[str]) -> Lead:
    missing = tuple((book.name, why) for book in books if (why := _why_missing(found.entry, book)))
    without = {name for name, _ in missing}
    # As they were asked about: a trial is opened by its file, and a book knows only its short name.
    having = tuple(name for name, book in zip(asked_as, books, strict=True) if book.name not in without)
    return Lead(found=found, books=having, missing=missing)


def _why_missing(entry: Entry, book: Book) -> str:
    if not book.catalogue.is_for(book.edition, entry.editions):
        return f"written for {', '.join(entry.editions)}"
    return book.why_absent(entry.row) if entry.row else ""
