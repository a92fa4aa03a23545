"""Differences between two books, computed from their values."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from marram.core.citations import Citation
from marram.rulebook.book import Book, know_each_other
from marram.rulebook.consequences import Cases
from marram.rulebook.differences.compare_cases import cases_that_differ, facts_of
from marram.rulebook.values import PartSpec, PartType, SizeOf, Value, cases_of

_SILENT = ("no source", "not stated", "the source", "nothing is stated", "no value")
"""How a reason begins that says no more than that no source was found."""


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
    """Every key that decides something and that leads to different things in two books, in the order of the rule data.

    A size that follows another key counts once, under the key that holds it. What an act leads to is compared for every combination of
    facts. A value for which no source was found in one of the books is no difference: see ``stated_for_one``.
    """
    first, second = know_each_other((first, second))
    return tuple(entry for entry in _unlike(first, second) if not _is_silent(first, second, entry))


def stated_for_one(first: Book, second: Book) -> tuple[Difference, ...]:
    """Every key that only one of two books states, because no source was found for the other, which may well say the same."""
    first, second = know_each_other((first, second))
    return tuple(entry for entry in _unlike(first, second) if _is_silent(first, second, entry))


def cases_apart_in(first: Book, second: Book, key: str, sides: tuple[Cases, Cases]) -> tuple[tuple[int, int], ...]:
    """Places of the cases under a key that hold of the same facts in two books and lead to different things.

    Facts that only one of the books reads are not looked at where the other tells the act more briefly than it knows.
    """
    read = [facts_of(cases) for cases in sides]
    row_id = key.rpartition(".")[0]
    briefly = [row_id in book.catalogue.told_briefly.get(book.edition, frozenset()) and key not in book.changed for book in (first, second)]
    never = (read[1] - read[0] if briefly[0] else frozenset()) | (read[0] - read[1] if briefly[1] else frozenset())
    return cases_that_differ(*sides, facts=first.catalogue.facts, never=never)


def _unlike(first: Book, second: Book) -> Iterator[Difference]:
    for key, (row, spec) in first.catalogue.keys.items():
        if not spec.decides:
            continue
        sides = look_up(first, key), look_up(second, key)
        if sides[0].value == sides[1].value or _follows_in_both(first, second, key):
            continue
        cases = [() if side.value is None else cases_of(side.value) for side in sides]
        if cases[0] and cases[1] and not cases_apart_in(first, second, key, (cases[0], cases[1])):
            continue
        yield Difference(key=key, situation=row.situation, spec=spec, first=sides[0], second=sides[1])


def _is_silent(first: Book, second: Book, entry: Difference) -> bool:
    """Whether one side has no value only because no source was found; what an overlay changes is never so."""
    if any(entry.key in book.changed for book in (first, second)):
        return False
    return any(side.value is None and side.why_none.lower().startswith(_SILENT) for side in (entry.first, entry.second))


def _follows_in_both(first: Book, second: Book, key: str) -> bool:
    held = [book.cited(key).value if book.has(key) else None for book in (first, second)]
    return isinstance(held[0], SizeOf) and held[0] == held[1]
