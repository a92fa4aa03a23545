"""Cards and terms read together, so that the faults of both are told in one pass."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from marram.core.errors import CardError, RuleDataError
from marram.core.words import fault_list
from marram.interchange.books.book_files import read_handicap_book
from marram.interchange.cards.card_table import HINT as CARDS_HINT
from marram.interchange.cards.card_table import read_cards
from marram.interchange.cards.plus_signs import check_handicaps
from marram.interchange.cards.terms_file import HINT as TERMS_HINT
from marram.interchange.cards.terms_file import read_terms
from marram.interchange.tables.table_rows import Faults
from marram.rulebook.book import Book
from marram.rulebook.reading.files import packaged_handicapping
from marram.scoring.cards.card import Card
from marram.scoring.competition.terms_of_competition import Terms


@dataclass(frozen=True, slots=True, kw_only=True)
class Competition:
    """A competition as it was brought in.

    Attributes:
        terms: The terms.
        handicapping: The book of handicapping that they name, or the latest.
        cards: The cards.
        remarks: What is no fault and still worth a look.
    """

    terms: Terms
    handicapping: Book
    cards: tuple[Card, ...]
    remarks: tuple[str, ...]


def read_competition(cards_file: Path, terms_file: Path) -> Competition:
    """Read the cards and the terms of a competition.

    Args:
        cards_file: A table with one round of one player a row.
        terms_file: The terms.

    Raises:
        CardError: A file cannot be used; every fault of both is told with its place.
    """
    of_terms = Faults(where=terms_file.name, error=CardError, hint=TERMS_HINT)
    terms = read_terms(terms_file, of_terms)
    of_cards = Faults(where=cards_file.name, error=CardError, hint=CARDS_HINT)
    read = read_cards(cards_file, terms, of_cards)
    handicapping = _handicapping(terms, of_terms)
    of_handicaps = check_handicaps(terms, handicapping, read.cards, of_cards) if terms is not None else ()
    if of_terms.told and of_cards.told:
        both = [f"{faults.where}: {fault}" for faults in (of_terms, of_cards) for fault in faults.told]
        raise CardError(f"There are {fault_list(both)}", where=f"{terms_file.name}, {cards_file.name}", hint=f"{TERMS_HINT} {CARDS_HINT}")
    of_terms.refuse()
    of_cards.refuse()
    assert terms is not None, "terms without a fault"
    return Competition(terms=terms, handicapping=handicapping, cards=read.cards, remarks=(*read.remarks, *of_handicaps))


def _handicapping(terms: Terms | None, faults: Faults) -> Book:
    """The book of handicapping that the terms name; the latest where they name none, or one that is not there."""
    latest = packaged_handicapping().latest
    try:
        return read_handicap_book((terms.handicapping if terms is not None else "") or latest)
    except RuleDataError as problem:
        faults.add("handicapping", f"{problem.message} {problem.hint}".strip())
        return read_handicap_book(latest)
