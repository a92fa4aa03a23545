"""The strokes that a card receives: its Playing Handicap as stated or worked out, what its tee adds, and where they fall."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from marram.core.citations import Citation, merged
from marram.core.errors import CardError
from marram.handicaps.playing_handicap import taken_from
from marram.handicaps.rounding import round_half_up, round_whole
from marram.handicaps.strokes_on_holes import strokes_by_hole
from marram.handicaps.written_handicaps import tell_handicap
from marram.rulebook.book import Book
from marram.rulebook.form_of_play_words import Counts
from marram.rulebook.handicap_words import TeesDifferBy
from marram.scoring.cards.card import Card
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import ONE_BALL, ParDifference, Sides, Terms
from marram.scoring.forms.form_law import FormLaw
from marram.scoring.forms.handicap_law import HandicapLaw, course_figure, told_share
from marram.scoring.forms.returned_card import CardDecision, handicap_to_use


@dataclass(frozen=True, slots=True, kw_only=True)
class Strokes:
    """The strokes that a card receives.

    Attributes:
        total: Strokes over the round; below zero for a plus handicap.
        by_hole: Strokes on each hole; empty where they fall on none.
        added: Strokes for the tee, which are in the total and on no hole.
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Played:
    """A Playing Handicap before it is rounded.

    Attributes:
        unrounded: Its exact value.
        says: How it was worked out, in words.
        citations: The rules; none where it was stated.
    """

    unrounded: Fraction
    says: str
    citations: tuple[Citation, ...] = ()

    @property
    def strokes(self) -> int:
        """The Playing Handicap."""
        return round_whole(self.unrounded)


def strokes_received(book: Book, law: FormLaw, terms: Terms, handicaps: HandicapLaw | None, card: Card, tees: Sequence[Tee]) -> Strokes:
    """The strokes that a card receives.

    Args:
        book: The book.
        law: What it says of the form of play.
        terms: The terms of the competition.
        handicaps: How handicaps are played off; None in a gross competition.
        card: The card.
        tees: Every tee that the competition is played from.

    Raises:
        CardError: The card states no handicap in a net competition.
    """
    if handicaps is None:
        return Strokes()
    played = playing_handicap_of(handicaps, card, terms.tee_of(card.tee))
    return received_as(book, law, terms, handicaps, card, played, tees)


def received_as(book: Book, law: FormLaw, terms: Terms, handicaps: HandicapLaw, card: Card, played: Played, tees: Sequence[Tee]) -> Strokes:
    """The strokes that a card receives off a Playing Handicap, with what the card shows and what the tee adds.

    Args:
        book: The book.
        law: What it says of the form of play.
        terms: The terms of the competition.
        handicaps: How handicaps are played off.
        card: The card.
        played: The Playing Handicap of the player or the side.
        tees: Every tee that the competition is played from.
    """
    tee = terms.tee_of(card.tee)
    found = handicap_to_use(book, law.form, card, played.strokes)
    from_tee = _for_tee(law, terms, handicaps, tee, tees)
    is_own = found.strokes == played.strokes
    total = round_whole((played.unrounded if is_own else Fraction(found.strokes)) + from_tee)
    added = total - found.strokes
    return Strokes(
        total=total,
        by_hole=strokes_by_hole(found.strokes, tee.stroke_index) if tee.stroke_index else (),
        added=added,
        says=f"{played.says}: {tell_handicap(found.strokes)}" + (f", and {added} for the tee {tee.name}" if added else ""),
        decision=found.decision,
        citations=played.citations if not from_tee else merged(played.citations, handicaps.citations),
    )


def playing_handicap_of(handicaps: HandicapLaw, card: Card, tee: Tee) -> Played:
    """The Playing Handicap of a player: stated, or the first share of the Course Handicap.

    Args:
        handicaps: How handicaps are played off.
        card: The card.
        tee: Its tee.

    Raises:
        CardError: The card states no handicap.

    Source:
        Rules of Handicapping 2024, Rules 6.1, 6.2a and 6.2a/1 (rounded once).
    """
    if card.playing_handicap is not None:
        return Played(unrounded=Fraction(card.playing_handicap), says="Playing Handicap as stated")
    course = course_figure(handicaps, card, tee)
    if course is None:
        where = f"row {card.row}, {card.player}" if card.row else card.player
        raise CardError("A net competition needs a handicap, and the card states none.", where=f"{where}, playing_handicap")
    share = handicaps.shares[0]
    return Played(
        unrounded=taken_from(course, handicaps.playing) * share,
        says=told_share(handicaps, course, share),
        citations=handicaps.citations,
    )


def _for_tee(law: FormLaw, terms: Terms, handicaps: HandicapLaw, tee: Tee, tees: Sequence[Tee]) -> Fraction:
    """What a tee adds where totals are compared: its par, or its rating, above the lowest.

    Source:
        Rules of Handicapping 2020 and 2024, Rule 6.2b: none in points, against a target, or where results are told against par.
    """
    if law.counts is not Counts.STROKES or terms.is_told_against_par or not tees or terms.par_difference is ParDifference.NOTHING:
        return Fraction(0)
    by_rating = handicaps.playing.tees_differ_by is TeesDifferBy.COURSE_RATING and all(one.course_rating is not None for one in tees)
    levels = [one.course_rating or Fraction(0) if by_rating else Fraction(one.total_par) for one in (tee, *tees)]
    base = min(levels) if terms.par_difference is ParDifference.HIGHER_PAR_RECEIVES else max(levels)
    return round_half_up(levels[0] - base, 1)


def strokes_over(law: FormLaw, terms: Terms, number: int, tee: Tee, strokes: Strokes) -> Strokes:
    """The strokes of a round of which not every hole counts: a share of them, or those that fall on the holes that do.

    A share is taken where a total of strokes is compared, a half counting as one, unless the Committee counts them as they fall.

    Args:
        law: What the book says of the form of play.
        terms: The terms of the competition.
        number: Number of the round.
        tee: The tee.
        strokes: The strokes over the whole round.

    Source:
        Common practice, as for equal scores over some holes (Committee Procedures 5A(6)); the Rules leave it to the Committee.
    """
    counted = terms.counted.holes_of(number, tee.holes)
    if len(counted) == tee.holes:
        return strokes
    by_hole = tuple(received if hole in counted else 0 for hole, received in enumerate(strokes.by_hole, start=1))
    of_totals = law.counts is Counts.STROKES and terms.sides in ONE_BALL | {Sides.INDIVIDUAL}
    if by_hole and (not of_totals or number in terms.counted.as_they_fall):
        total = sum(by_hole)
    else:
        total = round_whole(Fraction(strokes.total * len(counted), tee.holes))
    says = f"{strokes.says}; over {len(counted)} of {tee.holes} holes {tell_handicap(total)}" if strokes.says else ""
    return replace(strokes, total=total, by_hole=by_hole, added=0, says=says)
