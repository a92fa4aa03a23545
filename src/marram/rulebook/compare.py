"""Differences between two books, computed from their values."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.citations import Citation
from marram.rulebook.book import Book
from marram.rulebook.values import PartSpec, PartType, SizeOf, Value


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """What one book says.

    Attributes:
        value: Its value; None where it has none.
        why_none: Why it has none.
        citations: Its rules.
    """

    value: Value | None
    why_none: str
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """A key on which two books differ."""

    key: str
    situation: str
    spec: PartSpec
    first: Side
    second: Side


def look_up(book: Book, key: str) -> Side:
    """What a book says under a key, or why it says nothing."""
    row, spec = book.catalogue.find_key(key)
    if book.has(key):
        found = book.size(key) if spec.type is PartType.SIZE else book.cited(key)
        return Side(value=found.value, why_none="", citations=found.citations)
    if key in book.changed:
        return Side(value=None, why_none=f"taken away by {book.changed[key][0].name}", citations=book.citations(row.id))
    cell = row.editions[book.edition]
    why = cell.absent or cell.without.get(spec.name, "nothing is stated")
    return Side(value=None, why_none=why, citations=book.citations(row.id))


def compare_books(first: Book, second: Book) -> tuple[Difference, ...]:
    """Every key that decides something and whose value differs, in the order of the rule data.

    A size that follows another key counts once, under the key that holds it.
    """
    found = []
    for key, (row, spec) in first.catalogue.keys.items():
        if not spec.decides:
            continue
        sides = look_up(first, key), look_up(second, key)
        if sides[0].value != sides[1].value and not _follows_in_both(first, second, key):
            found.append(Difference(key=key, situation=row.situation, spec=spec, first=sides[0], second=sides[1]))
    return tuple(found)


def _follows_in_both(first: Book, second: Book, key: str) -> bool:
    held = [book.cited(key).value if book.has(key) else None for book in (first, second)]
    return isinstance(held[0], SizeOf) and held[0] == held[1]
