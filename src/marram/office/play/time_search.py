"""Time a search: whether a ball was found in time under each book, and what follows from a ball moved in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.office.play.stated_facts import Stated, know_facts
from marram.rulebook.book import Book
from marram.rulings.acts.acts import facts_not_read, refuse_unread
from marram.rulings.acts.moved_in_search import MovedInSearch, Mover, facts_of_moved, rule_on_moved
from marram.rulings.acts.search_clock import SearchAnswer, SearchEvent, follow_search, read_timed


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchTimed:
    """A search under one book.

    Attributes:
        answer: Where the search stands.
        moved: What follows from the ball moved in it; None where it was not.
        facts_not_read: Facts stated that the book does not read.
    """

    answer: SearchAnswer
    moved: MovedInSearch | None
    facts_not_read: tuple[str, ...]


def list_search_events() -> tuple[str, ...]:
    """Names of what may happen in a search."""
    return tuple(event.value for event in SearchEvent)


def last_second(events: str) -> int:
    """The second of the last event of a search; 0 where nothing has happened.

    Args:
        events: What happened and when, in order, separated by commas.

    Raises:
        DataError: An event is not known, or has no time.
    """
    timed = read_timed(events)
    return timed[-1][1] if timed else 0


def time_search(books: Sequence[Book], events: str = "", *, moved_by: str = "", stated: Stated = ()) -> tuple[SearchTimed, ...]:
    """Say where a search stands after its events, under each book.

    Args:
        books: The books.
        events: What happened and when, in order, separated by commas, such as ``start@0:00,found@2:40``.
        moved_by: Who moved the ball during the search, a word of ``Mover``; empty where nobody did.
        stated: Facts about how it was moved.

    Raises:
        DataError: An event, a mover or a fact is not known, or no book reads a fact that is stated.
    """
    timed, mover = read_timed(events), _known_mover(moved_by) if moved_by else None
    read_by = [() if mover is None else facts_of_moved(book, mover) for book in books]
    facts = know_facts(stated, books[0].catalogue.facts, read_by)
    refuse_unread(facts, read_by, f"a ball moved by the {moved_by}")
    return tuple(
        SearchTimed(
            answer=follow_search(book, timed),
            moved=None if mover is None else rule_on_moved(book, mover, facts),
            facts_not_read=facts_not_read(facts, read),
        )
        for book, read in zip(books, read_by, strict=True)
    )


def _known_mover(word: str) -> Mover:
    if word in list(Mover):
        return Mover(word)
    raise DataError(f"{word!r} moves no ball.", field=Field.MOVED_BY, hint=f"Give one of {', '.join(Mover)}.")
