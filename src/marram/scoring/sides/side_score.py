"""The score of a side: one card off one handicap, or the best of its players' scores, hole by hole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from marram.core.citations import Citation, merged
from marram.core.terms import Form
from marram.handicaps.strokes_on_holes import strokes_by_hole
from marram.rulebook.book import Book
from marram.rulebook.form_of_play_words import Counts
from marram.scoring.cards.card import Card, CardStatus
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Sides, Terms
from marram.scoring.forms.card_score import CardScore, hole_again, named, score_card
from marram.scoring.forms.charges import Charge, Charged
from marram.scoring.forms.form_law import FormLaw
from marram.scoring.forms.handicap_law import HandicapLaw
from marram.scoring.forms.hole_value import HoleScore
from marram.scoring.forms.returned_card import OUT_SAID, UNSIGNED, CardDecision
from marram.scoring.forms.strokes_received import Strokes, received_as, strokes_received
from marram.scoring.sides.side import Side, handicap_of_side, is_one_ball, one_card

_ROW, _MUST_COUNT = "four-ball-side", "wrong_score_must_count"


@dataclass(frozen=True, slots=True, kw_only=True)
class Scoring:
    """What all cards of a competition are scored by.

    Attributes:
        book: The book.
        law: What it says of the form of play.
        terms: The terms of the competition.
        handicaps: How handicaps are played off; None in a gross competition.
        tees: Every tee that the competition is played from.
    """

    book: Book
    law: FormLaw
    terms: Terms
    handicaps: HandicapLaw | None
    tees: tuple[Tee, ...]


def score_side(by: Scoring, side: Side) -> CardScore:
    """Score a side in stroke play.

    Args:
        by: What it is scored by.
        side: The side with its cards of one round.

    Raises:
        CardError: A card cannot be scored.
    """
    if is_one_ball(by.terms, side):
        card = one_card(side)
        strokes = Strokes()
        if by.handicaps is not None:
            played = handicap_of_side(by.terms, by.handicaps, side)
            strokes = received_as(by.book, by.law, by.terms, by.handicaps, card, played, by.tees)
        return score_card(by.book, by.law, by.terms, card, strokes, partners=Form.FOURSOMES)
    if by.terms.sides is Sides.INDIVIDUAL:
        card = side.cards[0]
        return score_card(by.book, by.law, by.terms, card, strokes_received(by.book, by.law, by.terms, by.handicaps, card, by.tees))
    cards = _certified_as_one(by, side.cards)
    return _best_of(by, side, _spared(by, [_partner(by, card) for card in cards]))


def _certified_as_one(by: Scoring, cards: Sequence[Card]) -> tuple[Card, ...]:
    """The cards of partners who return one card: one of them is enough to certify it."""
    returned = [card for card in cards if card.status is CardStatus.RETURNED]
    if not _says_yes(by, "one_card") or not returned:
        return tuple(cards)
    by_player = any(card.is_certified_by_player for card in returned)
    by_marker = any(card.is_certified_by_marker for card in returned)
    return tuple(replace(card, is_certified_by_player=by_player, is_certified_by_marker=by_marker) for card in cards)


def _says_yes(by: Scoring, part: str) -> bool:
    return by.book.has(f"{_ROW}.{part}") and by.book.yes(f"{_ROW}.{part}").value


def _partner(by: Scoring, card: Card) -> CardScore:
    """One player's own score; strokes for the tee fall on holes too, since holes are compared."""
    strokes = strokes_received(by.book, by.law, by.terms, by.handicaps, card, by.tees)
    index = by.terms.tee_of(card.tee).stroke_index
    if strokes.added and index:
        strokes = replace(strokes, by_hole=strokes_by_hole(strokes.total, index), added=0)
    return score_card(by.book, by.law, by.terms, card, strokes, partners=Form.FOUR_BALL)


def _best_of(by: Scoring, side: Side, partners: Sequence[CardScore]) -> CardScore:
    """The side's score: on each hole the best of those who are not out of it."""
    charges = tuple(charge for partner in partners for charge in partner.charges)
    in_it = [partner for partner in partners if not _is_out(partner)]
    holes = tuple(_best_of_some(by, in_it, partners, place) for place in _places(partners))
    off_total = sum(charge.amount for charge in charges if charge.charged is Charged.OFF_TOTAL)
    why, cited = _why_none(by, partners, in_it, holes)
    values = sum(hole.value or 0 for hole in holes)
    return CardScore(
        card=replace(partners[0].card, player=side.name),
        tee=partners[0].tee,
        strokes=Strokes(
            says="; ".join(f"{one.card.player}: {one.strokes.says}" for one in partners if one.strokes.says),
            citations=merged(*(one.strokes.citations for one in partners)),
        ),
        holes=holes,
        charges=charges,
        decisions=_each_once(partners),
        status=CardStatus.DISQUALIFIED if why else CardStatus.RETURNED,
        why=why,
        total=None if why else values - off_total,
        gross=None if any(hole.counted is None for hole in holes) else sum(hole.counted or 0 for hole in holes),
        off_total=off_total,
        citations=cited if why else merged(by.law.citations, by.book.citations(_ROW) if by.book.has_row(_ROW) else ()),
    )


def _each_once(partners: Sequence[CardScore]) -> tuple[CardDecision, ...]:
    """What was decided of the cards; that the one card of partners was not certified, once and of the side."""
    found = [decision for partner in partners for decision in partner.decisions]
    return tuple(dict.fromkeys(replace(one, player="") if one.act == UNSIGNED else one for one in found))


def _spared(by: Scoring, partners: Sequence[CardScore]) -> tuple[CardScore, ...]:
    """The partners, a wrong score of one costing nothing where it does not count for the side, or the other has the same.

    Source:
        Rules of Golf (January 2023), Rule 23.2b(2); Rules of Golf 2016, Rule 31-7a.
    """
    if not _says_yes(by, _MUST_COUNT):
        return tuple(partners)
    cited = by.book.cited(f"{_ROW}.{_MUST_COUNT}").citations
    return tuple(
        replace(partner, decisions=tuple(_without_effect(by, partners, decision, cited) for decision in partner.decisions))
        for partner in partners
    )


def _without_effect(by: Scoring, partners: Sequence[CardScore], decision: CardDecision, cited: tuple[Citation, ...]) -> CardDecision:
    if not decision.is_wrong_score or decision.hole is None:
        return decision
    place = decision.hole - 1
    in_it = [partner for partner in partners if not _is_out(partner)]
    right = [one for one in in_it if not any(found.is_wrong_score and found.hole == decision.hole for found in one.decisions)]
    of_right, of_all = (_best_of_some(by, some, partners, place).value for some in (right, in_it))
    if of_right != of_all:
        return decision
    says = f"{decision.says.removesuffix(OUT_SAID)}: the score does not count for the side, so no penalty"
    return replace(decision, is_wrong_score=False, is_out=False, says=says, citations=merged(decision.citations, cited))


def _best_of_some(by: Scoring, some: Sequence[CardScore], partners: Sequence[CardScore], place: int) -> HoleScore:
    if not partners[0].holes[place].does_count:
        return replace(partners[0].holes[place], strokes=None)
    return _best_on_hole(by, [_with_partners(by, one, partners, place) for one in some], place)


def _places(partners: Sequence[CardScore]) -> range:
    return range(partners[0].tee.holes)


def _is_out(partner: CardScore) -> bool:
    """Whether a player is out of the round: disqualified alone, or not there; a partner may represent the side."""
    return partner.card.status is not CardStatus.RETURNED or any(charge.charged is Charged.DISQUALIFIED for charge in partner.charges)


def _with_partners(by: Scoring, own: CardScore, partners: Sequence[CardScore], place: int) -> HoleScore:
    """A player's hole with what a partner's breach costs him too."""
    hole = own.holes[place]
    theirs = [charge for other in partners if other is not own for charge in other.charges if _touches(charge, hole.hole)]
    added = sum(charge.amount for charge in theirs if charge.charged is Charged.ON_HOLE)
    if any(charge.charged is Charged.HOLE_ITSELF for charge in theirs):
        return replace(hole, strokes=None, counted=None, value=None, why="lost by a breach of the partner")
    if not added or hole.strokes is None:
        return hole
    return hole_again(by.law, by.terms, own, place, hole.strokes + added)


def _touches(charge: Charge, hole: int) -> bool:
    return charge.bears_partner and charge.hole == hole


def _best_on_hole(by: Scoring, scores: Sequence[HoleScore], place: int) -> HoleScore:
    """The best scores of the side on a hole, as many as count, added up."""
    wanted = by.terms.best_of
    sign = 1 if by.law.counts is Counts.STROKES else -1
    counting = sorted((score for score in scores if score.value is not None), key=lambda score: sign * (score.value or 0))[:wanted]
    par = scores[0].par if scores else next(iter(by.terms.tees.values())).par[place]
    if len(counting) < wanted:
        return HoleScore(hole=place + 1, par=par, received=0, strokes=None, counted=None, value=None, why="no score of the side")
    have = [score.strokes for score in counting if score.strokes is not None]
    counted = [score.counted for score in counting if score.counted is not None]
    return HoleScore(
        hole=place + 1,
        par=par,
        received=sum(score.received for score in counting),
        strokes=sum(have) if len(have) == wanted else None,
        counted=sum(counted) if len(counted) == wanted else None,
        value=sum(score.value or 0 for score in counting),
    )


def _why_none(
    by: Scoring, partners: Sequence[CardScore], in_it: Sequence[CardScore], holes: Sequence[HoleScore]
) -> tuple[str, tuple[Citation, ...]]:
    out = [charge for partner in partners for charge in partner.charges if charge.charged is Charged.DISQUALIFIED]
    if any(charge.bears_partner for charge in out) or (not in_it and out):
        return named(out[0].says, out[0].hole, out[0].player), merged(*(charge.citations for charge in out))
    decided = [decision for decision in _each_once(partners) if decision.is_out]
    if decided:
        return named(decided[0].says, decided[0].hole, decided[0].player), merged(*(decision.citations for decision in decided))
    if not in_it:
        return partners[0].why, ()
    missing = next((hole for hole in holes if hole.value is None), None)
    return ("", ()) if missing is None else (f"hole {missing.hole}: {missing.why}", by.law.unfinished_by)
