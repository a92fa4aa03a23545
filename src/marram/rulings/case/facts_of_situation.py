"""Which facts a book reads of a situation: what its procedures, and those that carry them out, ask for."""

from __future__ import annotations

from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.values import FACT, PartType
from marram.rulebook.vocabulary import LiesOn

_SPOKEN_OF = ("only_if", "unless")
_RELIEF, _FAIRWAY = "relief.", NamedFact.ON_FAIRWAY_HEIGHT
_GROUND_FACTS = frozenset({_FAIRWAY, NamedFact.AS_NEAR_AS_POSSIBLE})


def known_facts(catalogue: Catalogue) -> frozenset[str]:
    """Names of all yes-or-no facts that a ruling on a ball may turn on."""
    return _GROUND_FACTS | catalogue.facts_named


def facts_of_situation(book: Book, situation: str) -> tuple[str, ...]:
    """Every fact that a ruling on a situation may turn on under a book, whatever the ground.

    Args:
        book: The book.
        situation: Name of the situation, without its family.
    """
    row = f"situation.{situation}"
    if not book.has_row(row):
        return ()
    found = list(_named(book, row))
    for procedure in _procedures(book, row):
        is_open = _is_open(book, procedure)
        found += _named(book, procedure) if is_open else [name for part in _SPOKEN_OF for name in book.words(f"{procedure}.{part}").value]
        if is_open and book.word(f"{procedure}.lies_on").value == LiesOn.FAIRWAY_HEIGHT:
            found.append(_FAIRWAY)
    found += [fact for test in _tests(book) if book.word(f"{test}.fact").value in found for fact in _named(book, test)]
    found += [fact for caution in book.catalogue.rows if caution.startswith("caution.") for fact in _named(book, caution)]
    return tuple(dict.fromkeys(found))


def _named(book: Book, row: str) -> list[str]:
    """The facts that the lists of a row name."""
    found: list[str] = []
    for spec in book.catalogue.rows[row].parts.values():
        key = f"{row}.{spec.name}"
        if spec.of == FACT and book.has(key):
            found += [book.word(key).value] if spec.type is PartType.WORD else book.words(key).value
    return found


def _procedures(book: Book, row: str) -> list[str]:
    """The rows of all procedures that a situation opens, through their families too."""
    found: dict[str, None] = {}
    left = list(book.words(f"{row}.procedures").value)
    while left:
        name = f"{_RELIEF}{left.pop(0)}"
        if name not in found and book.has_row(name):
            found[name] = None
            left += book.words(f"{name}.follow").value if _is_open(book, name) else ()
    return list(found)


def _is_open(book: Book, procedure: str) -> bool:
    """Whether a book gives a procedure at all: one that it closes asks for nothing but whether it is spoken of."""
    is_adopted = not book.yes(f"{procedure}.by_local_rule").value or book.yes(f"{procedure}.adopted").value
    return book.yes(f"{procedure}.allowed").value and is_adopted


def _tests(book: Book) -> list[str]:
    """The rows that settle a fact by others."""
    return [row.id for row in book.catalogue.rows.values() if "all_of" in row.parts and book.has_row(row.id)]
