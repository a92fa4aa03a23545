"""What an address of the rule book states: the books, and the situation, heading or rule that is looked at."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import parse_qsl

from marram.core.citations import Citation
from marram.core.errors import MarramError
from marram.desk.pages.case_address import ORDER, Address, address_of
from marram.desk.pages.page import Desk, Page, error_as_page, fill
from marram.desk.pages.shared_parts import head
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.stated_case import open_books
from marram.office.books.tell_sources import sources_told

if TYPE_CHECKING:
    from marram.office.books.compare_two import Comparison
    from marram.rulebook.book import Book

KNOWN = (*ORDER, "heading", "rule")
"""Names that an address of the rule book may hold."""
_LAID = ("edition", "overlay")
"""Fields of the form that puts a book together; the address holds the book."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BookAsked:
    """A book that is looked at.

    Attributes:
        desk: What pages are made with.
        address: What the address states, with the books that are meant.
        books: The books, opened together; the first is the one that is read.
    """

    desk: Desk
    address: Address
    books: tuple[Book, ...]

    @property
    def book(self) -> Book:
        """The book that is read."""
        return self.books[0]

    def compared(self, first: str, second: str) -> Comparison:
        """What differs from one book to another.

        Args:
            first: Name of the first book.
            second: Name of the second.

        Raises:
            DataError: There is no such book.
        """
        room = self.desk.room
        laid = [overlay.name for overlay in room.local_rules]
        return room.comparison(tuple(self.desk.folder.book_asked(name, laid) for name in (first, second)))

    @property
    def others(self) -> tuple[str, ...]:
        """Editions besides that of the book."""
        return tuple(name for name in self.desk.room.editions() if name != self.book.name)


def reading(make: Callable[[BookAsked], Page]) -> Callable[[Desk, str], Page]:
    """A job that reads a book: what is wrong with its address is told on a page.

    Args:
        make: Makes the page.
    """

    def job(desk: Desk, query: str) -> Page:
        address = Address(values={})
        try:
            address = address_of(_put_together(parse_qsl(query[:_LONGEST])), KNOWN)
            asked = address.put(book=address.all("book") or desk.books or (desk.room.catalogue.latest,))
            return make(BookAsked(desk=desk, address=asked, books=open_books(desk.room, desk.folder, asked.all("book"))))
        except MarramError as problem:
            return error_as_page(problem, address)

    return job


_LONGEST = 16_000


def _put_together(pairs: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """The pairs of an address; an edition and what is to be laid over it, as a form has them, are one book."""
    laid = [value for name, value in pairs if name in _LAID and value]
    rest = [(name, value) for name, value in pairs if name not in _LAID]
    return [("book", "+".join(laid)), *((name, value) for name, value in rest if name != "book")] if laid else rest


def book_page(template: str, asked: BookAsked, citations: Sequence[Citation] = (), **shown: object) -> Page:
    """A page of the rule book.

    Args:
        template: Its template.
        asked: The book that is looked at.
        citations: The rules whose sources are told at its foot.
        shown: What it shows.
    """
    room, folder = asked.desk.room, asked.desk.folder
    edition, *overlays = asked.book.name.split("+")
    return fill(
        f"books/{template}",
        asked.address,
        head=head(asked.desk, asked.address, asked.books),
        asked=asked,
        book=asked.book,
        edition=edition,
        overlays=overlays,
        editions=room.editions(),
        shorts={name: edition.short for name, edition in room.catalogue.editions.items()},
        local_rules=[rule for rule in room.local_rules if room.catalogue.is_for(edition, rule.on)],
        trials=folder.names(Holding.TRIAL),
        sources=sources_told(asked.book.catalogue, citations),
        **shown,
    )
