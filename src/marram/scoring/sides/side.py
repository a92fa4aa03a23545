"""Sides: the cards of those who play together, and one card of a side that plays one ball."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from marram.core.errors import CardError
from marram.core.words import counted
from marram.handicaps.playing_handicap import side_handicap
from marram.handicaps.rounding import Figure
from marram.scoring.cards.card import Card, CardStatus
from marram.scoring.competition.terms_of_competition import ONE_BALL, Sides, Terms
from marram.scoring.forms.handicap_law import HandicapLaw, course_figure
from marram.scoring.forms.strokes_received import Played

ALONE = frozenset({Sides.INDIVIDUAL, Sides.THREE_BALL})
"""Sides of one player each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """Those who play together in a round.

    Attributes:
        name: The side, or the player who plays alone.
        cards: Their cards.
    """

    name: str
    cards: tuple[Card, ...]


def sides_of(terms: Terms, cards: Sequence[Card]) -> tuple[Side, ...]:
    """The sides of some cards of one round or one match, in the order of the cards.

    Args:
        terms: The terms of the competition.
        cards: The cards.

    Raises:
        CardError: A card of a competition of sides names no side.
    """
    found: dict[str, list[Card]] = {}
    for card in cards:
        is_one_alone = terms.sides in ALONE or (terms.sides is Sides.BEST_BALL and not card.side)
        if not is_one_alone and not card.side:
            raise CardError("Who plays together is written in the column side.", where=f"row {card.row}, {card.player}, side")
        found.setdefault(card.player if is_one_alone else card.side, []).append(card)
    return tuple(Side(name=name, cards=tuple(of_side)) for name, of_side in found.items())


def is_one_ball(terms: Terms, side: Side) -> bool:
    """Whether a side plays one ball: the single player of a threesome plays his own."""
    return terms.sides in ONE_BALL and not (terms.sides is Sides.THREESOMES and len(side.cards) == 1)


def one_card(side: Side) -> Card:
    """The one card of a side that plays one ball: the row that holds the scores, with the penalties of all rows.

    Raises:
        CardError: Two rows of the side hold scores.
    """
    held = [card for card in side.cards if any(entry.is_played for entry in card.entries)]
    if len(held) > 1:
        rows = " and ".join(str(card.row) for card in held)
        raise CardError("A side that plays one ball has one score for a hole.", where=f"side {side.name}, rows {rows}")
    first = held[0] if held else side.cards[0]
    out = next((card for card in side.cards if card.status is not CardStatus.RETURNED), first)
    return replace(
        first,
        player=side.name,
        penalties=tuple(penalty for card in side.cards for penalty in card.penalties),
        corrections=tuple(found for card in side.cards for found in card.corrections),
        two_balls=tuple(found for card in side.cards for found in card.two_balls),
        is_certified_by_player=any(card.is_certified_by_player for card in side.cards),
        is_certified_by_marker=any(card.is_certified_by_marker for card in side.cards),
        status=out.status,
        why=out.why,
    )


def handicap_of_side(terms: Terms, handicaps: HandicapLaw, side: Side) -> Played:
    """The Playing Handicap of a side that plays one ball: stated, or the shares of its players added and rounded once.

    Args:
        terms: The terms of the competition.
        handicaps: How handicaps are played off.
        side: The side.

    Raises:
        CardError: A player states no handicap, or there are more players than shares.

    Source:
        Rules of Handicapping 2024, Rule 6.2a and Appendix C.
    """
    stated = [card.playing_handicap for card in side.cards if card.playing_handicap is not None]
    if len(stated) == 1:
        return Played(unrounded=Fraction(stated[0]), says="Playing Handicap of the side as stated")
    figures = [_figure(terms, handicaps, side, card) for card in side.cards]
    if len(figures) != len(handicaps.shares):
        told = f"The side has {counted(len(figures), 'player')}, and the allowance speaks of {len(handicaps.shares)}."
        raise CardError(told, where=f"side {side.name}")
    found = side_handicap(figures, handicaps.shares, handicaps.playing)
    shares = " and ".join(f"{float(share * 100):g}%" for share in handicaps.shares)
    says = f"{shares} of the Course Handicaps, the lowest first"
    return Played(unrounded=found.unrounded, says=says, citations=handicaps.citations)


def _figure(terms: Terms, handicaps: HandicapLaw, side: Side, card: Card) -> Figure:
    course = course_figure(handicaps, card, terms.tee_of(card.tee))
    if course is None:
        told = "A side's handicap comes from the Index or the Course Handicap of each player, or is stated once for the side."
        raise CardError(told, where=f"row {card.row}, {card.player}, side {side.name}")
    return course
