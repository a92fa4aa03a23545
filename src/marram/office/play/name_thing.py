"""Name a thing met on the course: what it is under each book, whether it may be moved here and now, and what follows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.terms import Area
from marram.office.play.stated_facts import Stated, know_facts
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulings.acts import objects
from marram.rulings.acts.acts import facts_not_read, refuse_unread
from marram.rulings.acts.objects import ObjectAnswer, facts_of_object, known_thing, rule_on_object


@dataclass(frozen=True, slots=True, kw_only=True)
class ThingRuled:
    """A thing under one book.

    Attributes:
        answer: What the book says of it.
        facts_not_read: Facts stated that the book does not read.
    """

    answer: ObjectAnswer
    facts_not_read: tuple[str, ...]


def find_things(catalogue: Catalogue, words: str) -> tuple[tuple[str, str], ...]:
    """Things that speak of some words, those that fit best first, each with what it means."""
    return tuple(objects.find_things(catalogue, words))


def rule_on_thing(books: Sequence[Book], thing: str, *, area: Area = Area.GENERAL_AREA, stated: Stated = ()) -> tuple[ThingRuled, ...]:
    """Say what a thing is and whether it may be moved, under each book.

    Args:
        books: The books.
        thing: What it is called.
        area: Where it lies together with the ball.
        stated: Facts that are known.

    Raises:
        DataError: There is no such thing or fact, or no book reads a fact that is stated.
    """
    catalogue = books[0].catalogue
    name = known_thing(catalogue, thing)
    read_by = [facts_of_object(book, name) for book in books]
    facts = know_facts(stated, catalogue.facts, read_by)
    refuse_unread(facts, read_by, name)
    return tuple(
        ThingRuled(answer=rule_on_object(book, name, area, facts), facts_not_read=facts_not_read(facts, read))
        for book, read in zip(books, read_by, strict=True)
    )
