"""Score the cards of a competition under each book."""

from __future__ import annotations

from collections.abc import Sequence

from marram.interchange.cards.competition_files import Competition
from marram.rulebook.book import Book
from marram.scoring.ranked import Results
from marram.scoring.results import score_competition


def score_cards(books: Sequence[Book], competition: Competition) -> tuple[Results, ...]:
    """Score the cards of a competition and give places, under each book.

    Args:
        books: The books; one that has no such form of play says why.
        competition: Terms and cards.

    Raises:
        CardError: A card cannot be scored.
    """
    return tuple(score_competition(book, competition.handicapping, competition.terms, competition.cards) for book in books)
