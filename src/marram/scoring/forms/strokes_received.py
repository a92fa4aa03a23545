"""The strokes that a card receives: its Playing Handicap as stated or worked out, what its tee adds, and where they fall."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from marram.core.citations import Citation
from marram.core.errors import CardError
from marram.handicaps.rounding import round_whole
from marram.handicaps.strokes_on_holes import strokes_by_hole
from marram.handicaps.written_handicaps import tell_handicap
from marram.rulebook.book import Book
from marram.rulebook.form_of_play_words import Counts
from marram.scoring.cards.card import Card
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import ParDifference, Terms
from marram.scoring.forms.form_law import FormLaw
from marram.scoring.forms.returned_card import CardDecision, handicap_to_use


@dataclass(frozen=True, slots=True, kw_only=True)
class Strokes:
    """The strokes that a card receives.

    Attributes:
        total: Strokes over the round; below zero for a plus handicap.
        by_hole: Strokes on each hole; empty where they fall on none.
        added: Strokes for the par of the tee, which are in the total and on no hole.
        says: How they were worked out, in words; empty where there are none.
        decision: What was decided of the handicap that the card shows; None where there was nothing to decide.
        citations: The rules of handicapping.
    """

    total: int = 0
    by_hole: tuple[int, ...] = ()
    added: int = 0
    says: str = ""
    decision: CardDecision | None = None
    citations: tuple[Citation, ...] = ()


def strokes_received(book: Book, law: FormLaw, terms: Terms, card: Card, pars: Sequence[int]) -> Strokes:
    """The strokes that a card receives.

    Args:
        book: The book.
        law: What it says of the form of play.
        terms: The terms of the competition.
        card: The card.
        pars: Par of every tee that the competition is played from.

    Raises:
        CardError: The card states no handicap in a net competition.
    """
    if not terms.is_net:
        return Strokes()
    tee = terms.tee_of(card.tee)
    right, says = playing_handicap(terms, card)
    found = handicap_to_use(book, law.form, card, right)
    added = _for_par(law, terms, tee, pars)
    return Strokes(
        total=found.strokes + added,
        by_hole=strokes_by_hole(found.strokes, tee.stroke_index) if tee.stroke_index else (),
        added=added,
        says=says + (f", and {added} for the par of the {tee.name} tee" if added else ""),
        decision=found.decision,
    )


def playing_handicap(terms: Terms, card: Card) -> tuple[int, str]:
    """The Playing Handicap of a card, with how it was worked out.

    Raises:
        CardError: The card states no handicap.
    """
    if card.playing_handicap is not None:
        return card.playing_handicap, f"Playing Handicap {tell_handicap(card.playing_handicap)} as stated"
    if card.course_handicap is None:
        where = f"row {card.row}, {card.player}" if card.row else card.player
        raise CardError("A net competition needs a handicap, and the card states none.", where=f"{where}, playing_handicap")
    part = terms.allowances[0] if terms.allowances else Fraction(1)
    found = round_whole(card.course_handicap * part)
    return found, f"Course Handicap {tell_handicap(card.course_handicap, 1)} x {part * 100}%: {tell_handicap(found)}"


def _for_par(law: FormLaw, terms: Terms, tee: Tee, pars: Sequence[int]) -> int:
    """What a tee of another par adds where totals are compared.

    Source:
        Rules of Handicapping 2020 and 2024, Rule 6.2b: none in points, against a target, or where results are told against par.
    """
    if law.counts is not Counts.STROKES or terms.is_told_against_par or not pars:
        return 0
    match terms.par_difference:
        case ParDifference.HIGHER_PAR_RECEIVES:
            return tee.total_par - min(pars)
        case ParDifference.LOWER_PAR_GIVES:
            return tee.total_par - max(pars)
        case ParDifference.NOTHING:
            return 0
