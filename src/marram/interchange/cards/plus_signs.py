"""Handicaps of a card held against each other: what contradicts, and plus signs that a spreadsheet dropped, where that can be told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from marram.core.errors import CardError
from marram.handicaps.course_handicap import course_handicap, course_handicap_for_nine
from marram.handicaps.rounding import round_whole
from marram.handicaps.rules.course_rules import course_handicap_rules
from marram.handicaps.tees import Tee as RatedTee
from marram.handicaps.written_handicaps import tell_handicap
from marram.interchange.tables.table_rows import Faults
from marram.rulebook.book import Book
from marram.scoring.cards.card import Card
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import ONE_BALL, Terms
from marram.scoring.forms.handicap_law import HandicapLaw, read_handicap_law
from marram.scoring.forms.strokes_received import playing_handicap_of

_COLUMNS = {"handicap_index": 1, "course_handicap": 0, "playing_handicap": 0}
"""Columns of handicaps, with the decimals in which they are told."""
_MOST_TOLD, _NINE = 20, 9
_DROPPED = "a spreadsheet drops the plus unless the cell holds text"


def check_handicaps(terms: Terms, handicapping: Book, cards: Sequence[Card], faults: Faults) -> tuple[str, ...]:
    """Hold the handicaps of each card against each other, and those of one player in several rows.

    A plus that was lost is noted as a fault where another column shows it. A low handicap without a plus is no evidence of that.

    Args:
        terms: The terms of the competition.
        handicapping: The book of handicapping.
        cards: The cards.
        faults: Where faults are noted.

    Returns:
        What is no fault and still worth a look.
    """
    law = _law(terms, handicapping)
    told: list[str] = []
    for card in cards:
        tee = terms.tees.get(card.tee)
        if tee is None:
            continue
        if card.handicap_index is not None and card.course_handicap is not None and tee.is_rated:
            told += _Beside(card, tee, handicapping, card.handicap_index, card.course_handicap).check(faults)
        if law is not None and card.playing_handicap is not None:
            _check_playing(law, card, tee, faults)
    told += _with_and_without(cards)
    more = len(told) - _MOST_TOLD
    return (*told[:_MOST_TOLD], *([f"… and {more} more of the same kind."] if more > 0 else []))


def _law(terms: Terms, handicapping: Book) -> HandicapLaw | None:
    """How handicaps are played off, where each player plays off his own; None where that is not so or not known."""
    if not terms.is_net or terms.sides in ONE_BALL:
        return None
    try:
        return read_handicap_law(handicapping, terms)
    except CardError:
        return None  # no allowance is stated or recommended, which scoring tells


@dataclass(frozen=True, slots=True)
class _Beside:
    """An Index with the Course Handicap that stands beside it."""

    card: Card
    tee: Tee
    handicapping: Book
    index: Fraction
    stated: Fraction

    def check(self, faults: Faults) -> list[str]:
        """Note a plus that was lost; what contradicts otherwise comes back as a remark."""
        given, found, opposite = round_whole(self.stated), self._of(self.index), self._of(-self.index)
        if given == found:
            return []
        index = tell_handicap(self.index, 1)
        gives = f"{index} gives a Course Handicap of {tell_handicap(found)}"
        if self.index > 0 and given == opposite:
            self._lost(faults, "handicap_index", f"{gives}, and +{index} gives the {tell_handicap(given)} beside it")
        elif self.index > 0 and given == -opposite > 0:
            self._lost(
                faults, "handicap_index", f"{gives}, and +{index} gives {tell_handicap(opposite)}; the plus may be lost in both columns"
            )
        elif given == -found > 0:
            self._lost(faults, "course_handicap", f"{given}, and {tell_handicap(found)} follows from {index}")
        else:
            used = "the Playing Handicap" if self.card.playing_handicap is not None else tell_handicap(given)
            named = f" from the tee {self.tee.name}" if self.tee.name else ""
            return [
                f"Look at row {self.card.row}: an Index of {gives}{named}, and {tell_handicap(given)} stands beside it; {used} is used."
            ]
        return []

    def _lost(self, faults: Faults, column: str, told: str) -> None:
        faults.add(f"row {self.card.row}, column {column}", f"{told}; {_DROPPED}")

    def _of(self, index: Fraction) -> int:
        rules = course_handicap_rules(self.handicapping, for_nine=self.tee.holes == _NINE).value
        assert self.tee.slope_rating is not None
        rated = RatedTee(slope=self.tee.slope_rating, course_rating=self.tee.course_rating, par=self.tee.total_par)
        work_out = course_handicap_for_nine if self.tee.holes == _NINE else course_handicap
        return work_out(index, rated, rules).whole


def _check_playing(law: HandicapLaw, card: Card, tee: Tee, faults: Faults) -> None:
    """Note a Playing Handicap that has lost the plus of the Index or Course Handicap beside it."""
    if card.course_handicap is None and (card.handicap_index is None or not tee.is_rated):
        return
    found = playing_handicap_of(law, replace(card, playing_handicap=None), tee).strokes
    if card.playing_handicap == -found > 0:
        by_course = card.course_handicap is not None
        source = card.course_handicap if by_course else card.handicap_index
        follows = f"{tell_handicap(found)} follows from {tell_handicap(source or 0, 0 if by_course else 1)}"
        faults.add(f"row {card.row}, column playing_handicap", f"{card.playing_handicap}, and {follows}; {_DROPPED}")


def _with_and_without(cards: Sequence[Card]) -> Iterator[str]:
    """Players who have the same handicap with a plus in one row and without it in another."""
    for column, decimals in _COLUMNS.items():
        with_plus = {(card.player, -value): card.row for card in cards if (value := getattr(card, column)) is not None and value < 0}
        for card in cards:
            value = getattr(card, column)
            row = with_plus.get((card.player, value))
            if row is not None:
                told = tell_handicap(value, decimals)
                yield f"{card.player} has {told} in row {card.row} and +{told} in row {row}, column {column}: {_DROPPED}."
