"""Follow a drop: where it stands under each book, and what to do next."""

from __future__ import annotations

from collections.abc import Sequence

from marram.office.courses.find_places import known_procedure
from marram.rulebook.book import Book
from marram.rulings.drop.dropping import DropAnswer, guide_drop, read_events


def follow_drop(books: Sequence[Book], procedure: str = "", events: str = "") -> tuple[DropAnswer, ...]:
    """Say where a drop stands after its events, under each book.

    Args:
        books: The books.
        procedure: The relief that is dropped for; empty for none in particular.
        events: What happened, in order, separated by commas.

    Raises:
        DataError: There is no such relief or event, or an event cannot follow the one before it.
    """
    happened = read_events(events)
    name = known_procedure(procedure, books[0].catalogue) if procedure else ""
    return tuple(guide_drop(book, name, happened) for book in books)
