"""One card scored: holes, charges, decisions, total, and what became of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from marram.core.citations import Citation, merged
from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulebook.form_of_play_words import Counts, NotHoledOut
from marram.scoring.cards.card import Card, CardStatus, HoleEntry
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Terms
from marram.scoring.forms.charges import Charge, Charged, charges_on
from marram.scoring.forms.form_law import FormLaw
from marram.scoring.forms.hole_value import HoleScore, HoleToScore, score_hole
from marram.scoring.forms.returned_card import CardDecision, certify, correct_hole
from marram.scoring.forms.strokes_received import Strokes, strokes_over
from marram.scoring.forms.two_balls import which_ball_counts


@dataclass(frozen=True, slots=True, kw_only=True)
class CardScore:
    """A card as it was scored.

    Attributes:
        card: The card.
        tee: The tee.
        strokes: The strokes received.
        holes: Each hole.
        charges: What penalties cost.
        decisions: What was decided of the card.
        status: What became of it.
        why: Why it does not count, in words.
        total: The result of the round: net or gross strokes, points, holes won less lost; None where there is none.
        gross: Strokes counted, before handicap strokes; None where a hole has no score.
        off_total: Points or holes taken off the total.
        citations: The rules that the result or its lack rests on.
    """

    card: Card
    tee: Tee
    strokes: Strokes
    holes: tuple[HoleScore, ...]
    charges: tuple[Charge, ...]
    decisions: tuple[CardDecision, ...]
    status: CardStatus
    why: str
    total: int | None
    gross: int | None
    off_total: int
    citations: tuple[Citation, ...]


def score_card(book: Book, law: FormLaw, terms: Terms, card: Card, strokes: Strokes, partners: Form | None = None) -> CardScore:
    """Score a card.

    Args:
        book: The book.
        law: What it says of the form of play.
        terms: The terms of the competition.
        card: The card.
        strokes: The strokes that it receives; none in a gross competition.
        partners: The form of partners that the player plays in; None for a player alone.

    Raises:
        CardError: A penalty cannot be charged.
    """
    tee = terms.tee_of(card.tee)
    counted = terms.counted.holes_of(card.round, tee.holes)
    strokes = strokes_over(law, terms, card.round, tee, strokes)
    charges = tuple(_where_it_counts(charge, counted) for charge in charges_on(book, law, card, partners))
    decisions = _decisions(book, law, terms, card, strokes)
    entries = _corrected(card, decisions, counted)
    holes = tuple(_hole(law, terms, card, tee, strokes, charges, entries, place) for place in range(tee.holes))
    decisions, holes = _spared(law, terms, card, decisions, holes)
    why, citations = _why_none(law, card, holes, charges, decisions)
    off_total = sum(charge.amount for charge in charges if charge.charged is Charged.OFF_TOTAL)
    return CardScore(
        card=card,
        tee=tee,
        strokes=strokes,
        holes=holes,
        charges=charges,
        decisions=decisions,
        status=card.status if card.status is not CardStatus.RETURNED else CardStatus.DISQUALIFIED if why else CardStatus.RETURNED,
        why=why,
        total=None if why else _total(law, holes, strokes, off_total),
        gross=None if any(hole.counted is None for hole in holes) else sum(hole.counted or 0 for hole in holes),
        off_total=off_total,
        citations=citations if why else law.citations,
    )


def _where_it_counts(charge: Charge, counted: Sequence[int]) -> Charge:
    """A charge on a hole that does not count costs nothing, unless it disqualifies."""
    if charge.hole is None or charge.hole in counted or charge.charged is Charged.DISQUALIFIED:
        return charge
    return replace(charge, charged=Charged.NOTHING, amount=0, says=f"{charge.says}; hole {charge.hole} does not count")


def _decisions(book: Book, law: FormLaw, terms: Terms, card: Card, strokes: Strokes) -> tuple[CardDecision, ...]:
    shown = {place + 1: entry.strokes for place, entry in enumerate(card.entries)}
    corrected = [correct_hole(book, law.form, found, shown.get(found.hole)) for found in card.corrections]
    balls = [which_ball_counts(book, law.form, hole) for hole in card.two_balls]
    of_card = (found for found in (certify(book, terms, card), strokes.decision) if found is not None)
    return tuple(replace(found, player=card.player, round=card.round) for found in (*balls, *corrected, *of_card))


def _corrected(card: Card, decisions: Sequence[CardDecision], counted: Sequence[int]) -> tuple[HoleEntry, ...]:
    """The entries as they stand after what was decided; strokes for a missing certification fall on the last hole that counts."""
    entries = list(card.entries)
    for decision in decisions:
        place = (decision.hole or max(counted, default=len(entries))) - 1
        held = entries[place].strokes
        score = decision.score if decision.score is not None else held
        if decision.has_no_score:
            entries[place] = replace(entries[place], strokes=None)
            continue
        if score is not None and not decision.is_out and (decision.strokes or decision.score is not None):
            entries[place] = replace(entries[place], strokes=score + decision.strokes)
    return tuple(entries)


def _hole(
    law: FormLaw,
    terms: Terms,
    card: Card,
    tee: Tee,
    strokes: Strokes,
    charges: Sequence[Charge],
    entries: Sequence[HoleEntry],
    place: int,
) -> HoleScore:
    hole, par = place + 1, tee.par[place]
    if hole not in terms.counted.holes_of(card.round, tee.holes):
        return HoleScore(hole=hole, par=par, received=0, strokes=entries[place].strokes, counted=0, value=0, does_count=False)
    received = strokes.by_hole[place] if strokes.by_hole else 0
    own = [charge for charge in charges if charge.hole == hole]
    itself = next((charge for charge in own if charge.charged is Charged.HOLE_ITSELF), None)
    entry = entries[place]
    made = None if entry.strokes is None or itself is not None else entry.strokes + sum(charge.strokes_on_hole for charge in own)
    why = itself.says if itself is not None else "picked up" if entry.is_picked_up else "no score"
    return score_hole(
        law, _to_score(law, terms, place=place, par=par, received=received, strokes=made, is_net=bool(strokes.by_hole), why=why)
    )


def _to_score(
    law: FormLaw, terms: Terms, *, place: int, par: int, received: int, strokes: int | None, is_net: bool, why: str
) -> HoleToScore:
    return HoleToScore(
        hole=place + 1,
        par=par,
        received=received,
        strokes=strokes,
        target=None if law.counts is Counts.STROKES else terms.target_of(place, par),
        maximum=None if terms.maximum is None else terms.maximum.of_hole(par, received),
        is_net=terms.is_net and is_net,
        why=why,
    )


def hole_again(law: FormLaw, terms: Terms, one: CardScore, place: int, strokes: int) -> HoleScore:
    """A hole of a card counted again with other strokes.

    Args:
        law: What the book says of the form of play.
        terms: The terms of the competition.
        one: The card as it was scored.
        place: The hole's place, from 0.
        strokes: The strokes.
    """
    received, has_index = one.strokes.by_hole[place] if one.strokes.by_hole else 0, bool(one.strokes.by_hole)
    par = one.tee.par[place]
    return score_hole(law, _to_score(law, terms, place=place, par=par, received=received, strokes=strokes, is_net=has_index, why=""))


def _spared(
    law: FormLaw, terms: Terms, card: Card, decisions: Sequence[CardDecision], holes: Sequence[HoleScore]
) -> tuple[tuple[CardDecision, ...], tuple[HoleScore, ...]]:
    """A score too low that changes the result of no hole costs nothing where the form says so."""
    if not law.low_score_is_free:
        return tuple(decisions), tuple(holes)
    found = []
    for decision in decisions:
        correction = next((entry for entry in card.corrections if entry.hole == decision.hole), None)
        if not decision.is_out or correction is None or decision.hole is None:
            found.append(decision)
            continue
        now = holes[decision.hole - 1]
        right = correction.actual + (correction.left_out or 0)
        known = _to_score(law, terms, place=now.hole - 1, par=now.par, received=now.received, strokes=right, is_net=terms.is_net, why="")
        is_same = not now.does_count or score_hole(law, known).value == now.value
        says = "lower than taken, without effect on the hole: no penalty"
        cited = merged(law.low_score_by, decision.citations)
        found.append(replace(decision, is_wrong_score=False, is_out=False, says=says, citations=cited) if is_same else decision)
    return tuple(found), tuple(holes)


def _why_none(
    law: FormLaw, card: Card, holes: Sequence[HoleScore], charges: Sequence[Charge], decisions: Sequence[CardDecision]
) -> tuple[str, tuple[Citation, ...]]:
    """Why a card has no result, with the rule; empty where it has one."""
    if card.status is not CardStatus.RETURNED:
        return card.why or card.status.value.replace("-", " "), ()
    out = [charge for charge in charges if charge.charged is Charged.DISQUALIFIED]
    if out:
        return named(out[0].says, out[0].hole), merged(*(charge.citations for charge in out))
    decided = [decision for decision in decisions if decision.is_out]
    if decided:
        return named(decided[0].says, decided[0].hole), merged(*(decision.citations for decision in decided))
    missing = [hole for hole in holes if hole.value is None]
    if missing and law.not_holed_out is NotHoledOut.DISQUALIFIED_UNLESS_PUT_RIGHT:
        return named(missing[0].why, missing[0].hole), law.unfinished_by
    return ("", ()) if not missing else (named(missing[0].why, missing[0].hole), law.unfinished_by)


def named(why: str, hole: int | None, player: str = "") -> str:
    """Why there is no result, with the hole and, of partners, the player.

    Args:
        why: It in words.
        hole: The hole; None for the round.
        player: The partner; empty where one plays alone.
    """
    at = ", ".join(told for told in (player, f"hole {hole}" if hole is not None and f"hole {hole}" not in why else "") if told)
    return f"{at}: {why}" if at else why


def _total(law: FormLaw, holes: Sequence[HoleScore], strokes: Strokes, off_total: int) -> int:
    values = sum(hole.value or 0 for hole in holes)
    if law.counts is not Counts.STROKES:
        return values - off_total
    on_holes = sum(hole.received for hole in holes)
    return values - (strokes.total - on_holes)
