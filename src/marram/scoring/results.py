"""Results of a competition: every card scored, rounds added up, ties decided, places with what decided each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from marram.core.citations import Citation, merged
from marram.core.errors import CardError
from marram.rulebook.book import Book
from marram.rulebook.form_of_play_words import Counts
from marram.scoring.cards.card import Card, CardStatus
from marram.scoring.competition.terms_of_competition import ONE_BALL, Fractions, OverHoles, Sides, Terms
from marram.scoring.forms.card_score import CardScore
from marram.scoring.forms.charges import Charge
from marram.scoring.forms.form_law import FAMILY, FormLaw, read_form
from marram.scoring.forms.handicap_law import read_handicap_law
from marram.scoring.forms.returned_card import CardDecision, certification_remark
from marram.scoring.match_results import rank_matches, refuse_all
from marram.scoring.ranked import Ranked, Results
from marram.scoring.sides.side import sides_of
from marram.scoring.sides.side_score import Scoring, score_side
from marram.scoring.ties.placing import Placed, place_all
from marram.scoring.ties.round_standing import Counting, RoundStanding, Standing

TIE_ROW, AFTER_PLAY = "deciding-ties", "holes-as-played"


def score_competition(book: Book, handicapping: Book, terms: Terms, cards: Sequence[Card], tees: Iterable[str] = ()) -> Results:
    """Score cards and give places.

    Args:
        book: The book.
        handicapping: The book of handicapping.
        terms: The terms of the competition.
        cards: The cards, in any order.
        tees: Tees that are played from though no card of them is in yet.

    Raises:
        CardError: A card cannot be scored.
    """
    row = f"{FAMILY}{terms.form.value}"
    if not book.has_row(row):
        return Results(book=book.name, stamp=book.stamp, why_none=book.why_absent(row), ranked=(), tie_citations=())
    cards = [card for card in cards if not terms.counted.is_cancelled(card.round)]
    by = scoring_by(book, handicapping, terms, cards, tees)
    if by.law.counts is Counts.HOLES:
        return rank_matches(by, cards)
    scored: dict[str, list[CardScore]] = {}
    faults: list[CardError] = []
    for number in sorted({card.round for card in cards}):
        for side in sides_of(terms, [card for card in cards if card.round == number]):
            try:
                scored.setdefault(side.name, []).append(score_side(by, side))
            except CardError as fault:
                faults.append(fault)
    refuse_all(faults)
    return rank(book, by.law, terms, {name: tuple(rounds) for name, rounds in scored.items()})


def scoring_by(book: Book, handicapping: Book, terms: Terms, cards: Sequence[Card], tees: Iterable[str] = ()) -> Scoring:
    """What the cards of a competition are scored by.

    Args:
        book: The book.
        handicapping: The book of handicapping.
        terms: The terms of the competition.
        cards: The cards.
        tees: Tees that are played from though no card of them is in yet.

    Raises:
        CardError: The terms state no allowance, and none is recommended for the format.
    """
    law = read_form(book, terms.form)
    players = Counter((card.match, card.round, card.side) for card in cards)
    handicaps = read_handicap_law(handicapping, terms, max(players.values(), default=1)) if terms.is_net else None
    played_from = tuple(terms.tee_of(name) for name in dict.fromkeys([*(card.tee for card in cards), *tees]))
    return Scoring(book=book, law=law, terms=terms, handicaps=handicaps, tees=played_from)


def rank(book: Book, law: FormLaw, terms: Terms, scored: Mapping[str, tuple[CardScore, ...]]) -> Results:
    """Add rounds up and give places.

    Args:
        book: The book.
        law: What it says of the form of play.
        terms: The terms of the competition.
        scored: The rounds of each player or side, in order.
    """
    unranked = {name: _without(law, terms, name, rounds) for name, rounds in scored.items()}
    standings = [_standing(law, terms, name, rounds) for name, rounds in scored.items() if unranked[name] is None]
    placed = place_all(standings, counting_of(book, law, terms), terms.ties)
    totals = {standing.name: standing.total for standing in standings}
    ranked = [_ranked(law, terms, place, totals[place.name], scored[place.name]) for place in placed]
    others = sorted(filter(None, unranked.values()), key=lambda one: (one.status is not CardStatus.MISSED_CUT, one.name))
    is_tied = any(place.compared or place.is_joint for place in placed)
    return Results(
        book=book.name,
        stamp=book.stamp,
        why_none="",
        ranked=(*ranked, *others),
        tie_citations=book.citations(TIE_ROW) if is_tied and TIE_ROW in book.catalogue.rows and book.has_row(TIE_ROW) else (),
        remarks=tuple(filter(None, [certification_remark(book, terms)])),
    )


def counting_of(book: Book, law: FormLaw, terms: Terms) -> Counting:
    """How equal results are compared, as the book's row on ties says; as the latest edition does where it has none.

    A share of the handicap comes off where strokes do not fall on holes in the event itself: net strokes of a player or of one ball.

    Args:
        book: The book.
        law: What it says of the form of play.
        terms: The terms of the competition.
    """
    falls = law.counts is not Counts.STROKES or terms.sides not in ONE_BALL | {Sides.INDIVIDUAL}
    usual = OverHoles.STROKES_AS_THEY_FALL if falls else OverHoles.SHARE_OF_HANDICAP
    part = "points_and_holes" if falls else "net_strokes"
    counted = terms.ties.counted or OverHoles(_of_ties(book, part, usual.value))
    return Counting(
        counts=law.counts,
        takes_share=terms.is_net and counted is OverHoles.SHARE_OF_HANDICAP and law.counts is Counts.STROKES,
        rounds_fractions=terms.ties.fractions is Fractions.ROUNDED,
        follows_play=_of_ties(book, "after_other_start", "") == AFTER_PLAY,
    )


def _of_ties(book: Book, part: str, otherwise: str) -> str:
    key = f"{TIE_ROW}.{part}"
    return book.word(key).value if book.has(key) else otherwise


def _standing(law: FormLaw, terms: Terms, name: str, rounds: Sequence[CardScore]) -> Standing:
    played = tuple(map(_round, rounds))
    is_against_par = terms.is_told_against_par and law.counts is Counts.STROKES
    par = sum(hole.par for one in rounds for hole in one.holes if hole.does_count) if is_against_par else 0
    return Standing(name=name, total=sum(one.total for one in played) - par, rounds=played)


def _round(one: CardScore) -> RoundStanding:
    """A round as it is compared, over the holes that count."""
    holes = [hole for hole in one.holes if hole.does_count]
    before = sum(hole.hole < one.card.start for hole in holes)
    return RoundStanding(
        total=one.total or 0,
        by_hole=tuple(hole.value or 0 for hole in holes),
        gross_by_hole=tuple(hole.counted or 0 for hole in holes),
        handicap=one.strokes.total,
        start=before % len(holes) + 1 if holes else 1,
    )


def _without(law: FormLaw, terms: Terms, name: str, rounds: Sequence[CardScore]) -> Ranked | None:
    """A player without a result; None where there is one."""
    out = next((one for one in rounds if one.total is None), None)
    if out is not None:
        why = f"round {out.card.round}, {out.why}" if terms.rounds > 1 else out.why
        return _unplaced(name, why, out.status, rounds, out.citations)
    last = terms.counted.out_after.get(name, terms.rounds)
    wanted = {number for number in range(1, min(last, terms.rounds) + 1) if not terms.counted.is_cancelled(number)}
    missing = sorted(wanted - {one.card.round for one in rounds})
    if not missing and last >= terms.rounds:
        return None
    if not missing:
        total = score_words(law, terms, _standing(law, terms, name, [one for one in rounds if one.card.round <= last]).total)
        return _unplaced(name, f"missed the cut after round {last}: {total}", CardStatus.MISSED_CUT, rounds, ())
    words = f"no card for round {', '.join(map(str, missing))}"
    return _unplaced(name, words, CardStatus.NOT_RETURNED, rounds, ())


def _unplaced(name: str, words: str, status: CardStatus, rounds: Sequence[CardScore], citations: tuple[Citation, ...]) -> Ranked:
    return Ranked(
        name=name,
        placed=None,
        total=None,
        words=words,
        status=status,
        rounds=tuple(rounds),
        charges=_charges(rounds),
        decisions=_decisions(rounds),
        citations=citations,
    )


def _charges(rounds: Sequence[CardScore]) -> tuple[Charge, ...]:
    return tuple(charge for one in rounds for charge in one.charges)


def _decisions(rounds: Sequence[CardScore]) -> tuple[CardDecision, ...]:
    return tuple(decision for one in rounds for decision in one.decisions)


def _ranked(law: FormLaw, terms: Terms, placed: Placed, total: int, rounds: Sequence[CardScore]) -> Ranked:
    return Ranked(
        name=placed.name,
        placed=placed,
        total=total,
        words=score_words(law, terms, total),
        status=CardStatus.RETURNED,
        rounds=tuple(rounds),
        charges=_charges(rounds),
        decisions=_decisions(rounds),
        citations=merged(*(one.citations for one in rounds)),
    )


def score_words(law: FormLaw, terms: Terms, total: int) -> str:
    """A result as it is told: ``net 73``, ``35 points``, ``2 up``, ``level``, ``3 over par``."""
    match law.counts:
        case Counts.POINTS:
            return f"{total} point{'s' * (total != 1)}"
        case Counts.HOLES_AGAINST_TARGET:
            return against_target_words(total)
        case _:
            if terms.is_told_against_par:
                return "level par" if total == 0 else f"{abs(total)} {'over' if total > 0 else 'under'} par"
            return f"{'net' if terms.is_net else 'gross'} {total}"


def against_target_words(holes: int) -> str:
    """Holes won less lost as they are told: ``2 up``, ``all square``, ``1 down``."""
    return "all square" if holes == 0 else f"{abs(holes)} {'up' if holes > 0 else 'down'}"
