"""Plus signs that a spreadsheet dropped: what can be told of them from a table of cards."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from marram.handicaps.course_handicap import course_handicap, course_handicap_for_nine
from marram.handicaps.rounding import round_whole
from marram.handicaps.rules.course_rules import course_handicap_rules
from marram.handicaps.tees import Tee as RatedTee
from marram.handicaps.written_handicaps import tell_handicap
from marram.interchange.tables.table_rows import Faults
from marram.rulebook.book import Book
from marram.scoring.cards.card import Card
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Terms

_COLUMNS = ("handicap_index", "course_handicap", "playing_handicap")
_MOST, _SHOWN, _NINE = Fraction(5), 20, 9
"""Hardly a plus handicap is better than +5; so many rows are named."""


def maybe_lost(cards: Sequence[Card], columns: Iterable[str]) -> list[str]:
    """What can be told of a column alone: no handicap has a plus, and some are low enough to want one.

    Args:
        cards: The cards.
        columns: The columns that the table has.
    """
    told = []
    for column in (name for name in _COLUMNS if name in set(columns)):
        values = [(card, getattr(card, column)) for card in cards if getattr(card, column) is not None]
        low = [str(card.row) for card, value in values if 0 < value <= _MOST]
        if low and not any(value < 0 for _, value in values):
            rows = f"row{'s' * (len(low) > 1)} {', '.join(low[:_SHOWN])}{', …' * (len(low) > _SHOWN)}"
            told.append(f"No {column} has a plus sign. A spreadsheet drops it from +2 unless the cell holds text: look at {rows}.")
    return told


def find_lost(terms: Terms, handicapping: Book, cards: Sequence[Card], faults: Faults) -> None:
    """Note each Index from which the Course Handicap beside it follows only with a plus sign.

    Args:
        terms: The terms of the competition.
        handicapping: The book of handicapping.
        cards: The cards.
        faults: Where faults are noted.
    """
    for card in cards:
        tee = terms.tees.get(card.tee) if card.tee in terms.tees else None
        if tee is None or not tee.is_rated or card.handicap_index is None or card.course_handicap is None or card.handicap_index <= 0:
            continue
        stated = round_whole(card.course_handicap)
        as_it_stands, with_plus = (_course_handicap(handicapping, tee, sign * card.handicap_index) for sign in (1, -1))
        if stated == with_plus != as_it_stands:
            index, given = tell_handicap(card.handicap_index, 1), tell_handicap(stated)
            faults.add(
                f"row {card.row}, column handicap_index",
                f"{index} gives a Course Handicap of {tell_handicap(as_it_stands)}, and +{index} gives the {given} beside it; "
                "a spreadsheet drops the plus unless the cell holds text",
            )


def _course_handicap(handicapping: Book, tee: Tee, index: Fraction) -> int:
    rules = course_handicap_rules(handicapping, for_nine=tee.holes == _NINE).value
    assert tee.slope_rating is not None
    rated = RatedTee(slope=tee.slope_rating, course_rating=tee.course_rating, par=tee.total_par)
    work_out = course_handicap_for_nine if tee.holes == _NINE else course_handicap
    return work_out(index, rated, rules).whole
