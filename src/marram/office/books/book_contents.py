"""What stands in a rule book: its situations, and every row under the headings of the game."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.citations import Citation
from marram.office.books.tell_row import row_title
from marram.office.books.tell_situation import situation_names, situation_title
from marram.rulebook.book import Book
from marram.rulebook.differences.differences import group_of, group_titles
from marram.rulebook.differences.told_change import first_sentence

_WORDING = "The book's own words"
_TOLD_TOGETHER = {
    "Wording": _WORDING,
    "Clauses": _WORDING,
    "Form words": _WORDING,
    "Guide words": _WORDING,
    "What names answer": _WORDING,
}
"""Headings of how things are said, which are told under one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RowListed:
    """A row in the contents.

    Attributes:
        row: Its name.
        title: What it is called.
        about: What it is about, where that says more than its title; else empty.
        is_given: Whether the book has it.
        citations: Its rules.
    """

    row: str
    title: str
    about: str
    is_given: bool
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadingListed:
    """A heading of the game with its rows."""

    title: str
    rows: tuple[RowListed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SituationListed:
    """A situation in the contents.

    Attributes:
        situation: Its name.
        title: What it is called.
        means: What it is.
        is_given: Whether the book has it.
        citations: Its rules.
    """

    situation: str
    title: str
    means: str
    is_given: bool
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BookContents:
    """What stands in a book.

    Attributes:
        situations: The situations, in their order.
        headings: Every row of the rule data, under its heading.
    """

    situations: tuple[SituationListed, ...]
    headings: tuple[HeadingListed, ...]


def book_contents(book: Book) -> BookContents:
    """List what stands in a book.

    Args:
        book: The book.
    """
    by_heading: dict[str, list[RowListed]] = {}
    for row in book.catalogue.rows.values():
        by_heading.setdefault(heading_of(book, row.id), []).append(_row(book, row.id, row.means))
    order = [*(title for title in group_titles() if title in by_heading), *(title for title in by_heading if title != _WORDING), _WORDING]
    return BookContents(
        situations=tuple(_situation(book, name) for name in situation_names(book)),
        headings=tuple(HeadingListed(title=title, rows=tuple(by_heading[title])) for title in dict.fromkeys(order)),
    )


def heading_of(book: Book, row_id: str) -> str:
    """The heading under which a row stands in the contents."""
    title = group_of(book.catalogue.rows[row_id])
    return _TOLD_TOGETHER.get(title, title)


def _row(book: Book, row_id: str, means: str) -> RowListed:
    title, about = row_title(book, row_id), first_sentence(means)
    return RowListed(
        row=row_id,
        title=title,
        about="" if about == title else f"{about}.",
        is_given=book.has_row(row_id),
        citations=book.citations(row_id),
    )


def _situation(book: Book, name: str) -> SituationListed:
    row = f"situation.{name}"
    return SituationListed(
        situation=name,
        title=situation_title(name),
        means=book.catalogue.rows[row].means,
        is_given=book.has_row(row),
        citations=book.citations(row),
    )
