"""A ball moved while it is looked for: which acts and which situation speak of it, by who moved it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from marram.core.citations import Citation, Cited
from marram.rulebook.book import Book
from marram.rulings.acts.acts import ActAnswer, facts_read, rule_on_act

_ROW = "moved-in-search"


class Mover(StrEnum):
    """Who or what moved a ball that was looked for."""

    PLAYER = "player"
    OPPONENT = "opponent"
    OTHER_PLAYER = "other-player"
    OUTSIDE = "outside"


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedInSearch:
    """What a book says of it.

    Attributes:
        mover: Who or what moved it.
        acts: The acts that speak of it; none where a situation does.
        situations: The situations to rule on, for what no act speaks of.
        citations: The rules that sort it.
    """

    mover: Mover
    acts: tuple[ActAnswer, ...]
    situations: tuple[str, ...]
    citations: tuple[Citation, ...]


def rule_on_moved(book: Book, mover: Mover, facts: Mapping[str, bool]) -> MovedInSearch:
    """Say what follows from a ball moved in a search.

    Args:
        book: The book.
        mover: Who or what moved it.
        facts: Named facts that are known, true or false.
    """
    rows = _sorted(book, mover)
    is_situation = mover is Mover.OUTSIDE
    return MovedInSearch(
        mover=mover,
        acts=() if is_situation else tuple(rule_on_act(book, act, facts) for act in rows.value),
        situations=rows.value if is_situation else (),
        citations=rows.citations,
    )


def facts_of_moved(book: Book, mover: Mover) -> tuple[str, ...]:
    """Every fact that a book reads of a ball moved in a search."""
    acts = () if mover is Mover.OUTSIDE else _sorted(book, mover).value
    return tuple(dict.fromkeys(name for act in acts for name in facts_read([book], act)))


def _sorted(book: Book, mover: Mover) -> Cited[tuple[str, ...]]:
    return book.words(f"{_ROW}.{mover.value.replace('-', '_')}")
