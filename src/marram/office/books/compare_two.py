"""Compare two books: every key that differs, told in sentences under headings of the game."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from marram.office.books.show_key import SideShown, side_shown
from marram.rulebook.book import Book
from marram.rulebook.differences.compare import compare_books
from marram.rulebook.differences.differences import ToldComparison, ToldDifference, sentences_of, tell_differences


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyApart:
    """A key on which two books differ.

    Attributes:
        key: The key.
        situation: The section of the rule data in which it stands.
        means: What it means.
        unit: Its unit; empty where it has none.
        first: What the first book says.
        second: What the second book says.
        told: The sentence that tells it.
    """

    key: str
    situation: str
    means: str
    unit: str
    first: SideShown
    second: SideShown
    told: ToldDifference


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """All that differs between two books.

    Attributes:
        books: The two books.
        told: The differences in sentences.
        keys: The keys that differ, in the order of the rule data.
    """

    books: tuple[Book, Book]
    told: ToldComparison
    keys: tuple[KeyApart, ...]


def compare_two(books: tuple[Book, Book]) -> Comparison:
    """Compare two books.

    Args:
        books: The books; what the first says is told first.
    """
    told = tell_differences(books)
    sentences = sentences_of(told)
    keys = tuple(
        KeyApart(
            key=entry.key,
            situation=entry.situation,
            means=entry.spec.means,
            unit=entry.spec.unit,
            first=side_shown(entry.first, entry.spec.unit),
            second=side_shown(entry.second, entry.spec.unit),
            told=sentences[entry.key],
        )
        for entry in compare_books(*books)
    )
    return Comparison(books=books, told=told, keys=keys)


def print_comparison(told: ToldComparison, form: Literal["html", "pdf"]) -> str | bytes:
    """The differences as a page for a screen, or set for paper.

    Args:
        told: The differences.
        form: ``html`` or ``pdf``.
    """
    from marram.sheets.pages.difference_sheet import differences_html, set_differences

    return differences_html(told) if form == "html" else set_differences(told)
