"""Cards and terms read together, so that the faults of both are told in one pass."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from marram.core.errors import CardError, RuleDataError
from marram.core.words import fault_list
from marram.events.event_terms import EventTerms
from marram.interchange.books.book_files import read_handicap_book
from marram.interchange.cards.card_table import HINT as CARDS_HINT
from marram.interchange.cards.card_table import CardsRead, read_cards
from marram.interchange.cards.event_terms_file import HINT as TERMS_HINT
from marram.interchange.cards.event_terms_file import read_terms, read_terms_text
from marram.interchange.cards.plus_signs import check_handicaps
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
from marram.interchange.tables.table_rows import Faults
from marram.interchange.tables.workbooks import Cell
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
    of_event = read_terms(terms_file, of_terms)
    terms = None if of_event is None else of_event.terms
    of_cards = Faults(where=cards_file.name, error=CardError, hint=CARDS_HINT)
    read = read_cards(cards_file, terms, of_cards)
    handicapping = read_handicapping(terms, of_terms)
    of_handicaps = check_handicaps(terms, handicapping, read.cards, of_cards) if terms is not None else ()
    if of_terms.told and of_cards.told:
        both = [f"{faults.where}: {fault}" for faults in (of_terms, of_cards) for fault in faults.told]
        raise CardError(f"There are {fault_list(both)}", where=f"{terms_file.name}, {cards_file.name}", hint=f"{TERMS_HINT} {CARDS_HINT}")
    of_terms.refuse()
    of_cards.refuse()
    assert terms is not None, "terms without a fault"
    return Competition(terms=terms, handicapping=handicapping, cards=read.cards, remarks=(*read.remarks, *of_handicaps))


def read_event(terms_file: Path) -> tuple[str, EventTerms, Book]:
    """Read the terms of an event.

    Args:
        terms_file: The terms.

    Returns:
        The text of the file, what it says, and the book of handicapping that it names, or the latest.

    Raises:
        CardError: The file cannot be used; every fault is told with its place.
    """
    faults = Faults(where=terms_file.name, error=CardError, hint=TERMS_HINT)
    text = read_text(terms_file, what="the terms of a competition", largest_bytes=LARGEST_TEXT_BYTES, error=CardError)
    terms = read_terms_text(text, terms_file.name, faults)
    handicapping = read_handicapping(None if terms is None else terms.terms, faults)
    faults.refuse()
    assert terms is not None, "terms without a fault"
    return text, terms, handicapping


def read_returned(cards_file: Path, terms: Terms, handicapping: Book, entered: Mapping[str, Mapping[str, Cell]]) -> CardsRead:
    """Read cards that come in to an event.

    Args:
        cards_file: A table with one round of one player a row.
        terms: The terms.
        handicapping: The book of handicapping.
        entered: What is known of each player already.

    Raises:
        CardError: The file cannot be used; every fault is told with its place.
    """
    faults = Faults(where=cards_file.name, error=CardError, hint=CARDS_HINT)
    read = read_cards(cards_file, terms, faults, entered)
    of_handicaps = check_handicaps(terms, handicapping, read.cards, faults)
    faults.refuse()
    return replace(read, remarks=(*read.remarks, *of_handicaps))


def read_handicapping(terms: Terms | None, faults: Faults) -> Book:
    """The book of handicapping that the terms name; the latest where they name none, or one that is not there.

    Args:
        terms: The terms; None where those cannot be used.
        faults: Where faults are noted.
    """
    latest = packaged_handicapping().latest
    try:
        return read_handicap_book((terms.handicapping if terms is not None else "") or latest)
    except RuleDataError as problem:
        faults.add("handicapping", f"{problem.message} {problem.hint}".strip())
        return read_handicap_book(latest)
