"""Results of a competition: every card scored, rounds added up, ties decided, places with what decided each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.rulebook.book import Book
from marram.rulebook.form_of_play_words import Counts
from marram.scoring.cards.card import Card, CardStatus
from marram.scoring.competition.terms_of_competition import Fractions, OverHoles, Terms
from marram.scoring.forms.card_score import CardScore, score_card
from marram.scoring.forms.form_law import FAMILY, FormLaw, read_form
from marram.scoring.forms.handicap_law import read_handicap_law
from marram.scoring.forms.strokes_received import strokes_received
from marram.scoring.ties.placing import Placed, place_all
from marram.scoring.ties.round_standing import Counting, RoundStanding, Standing

TIE_ROW = "deciding-ties"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """A player or side in the results.

    Attributes:
        name: The player or side.
        placed: The place; None where there is no result.
        total: The result; None where there is none.
        words: The result in words, such as ``net 73``, ``35 points``, ``1 down``, or why there is none.
        status: What became of the cards.
        rounds: The cards as they were scored.
        citations: The rules that the result, or its lack, rests on.
    """

    name: str
    placed: Placed | None
    total: int | None
    words: str
    status: CardStatus
    rounds: tuple[CardScore, ...]
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Results:
    """The results of a competition under a book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        why_none: Why the book cannot score it; empty where it can.
        ranked: Players or sides, the first place first; those without a result last.
        tie_citations: The rules by which ties are decided; empty where no tie was.
    """

    book: str
    stamp: str
    why_none: str
    ranked: tuple[Ranked, ...]
    tie_citations: tuple[Citation, ...]


def score_competition(book: Book, handicapping: Book, terms: Terms, cards: Sequence[Card]) -> Results:
    """Score cards and give places.

    Args:
        book: The book.
        handicapping: The book of handicapping.
        terms: The terms of the competition.
        cards: The cards, in any order.

    Raises:
        CardError: A card cannot be scored.
    """
    row = f"{FAMILY}{terms.form.value}"
    if not book.has_row(row):
        return Results(book=book.name, stamp=book.stamp, why_none=book.why_absent(row), ranked=(), tie_citations=())
    law = read_form(book, terms.form)
    scored: dict[str, list[CardScore]] = {}
    handicaps = read_handicap_law(handicapping, terms) if terms.is_net else None
    tees = [terms.tee_of(name) for name in dict.fromkeys(card.tee for card in cards)]
    for card in cards:
        strokes = strokes_received(book, law, terms, handicaps, card, tees)
        scored.setdefault(card.player, []).append(score_card(book, law, terms, card, strokes))
    return rank(book, law, terms, {name: tuple(sorted(rounds, key=lambda one: one.card.round)) for name, rounds in scored.items()})


def rank(book: Book, law: FormLaw, terms: Terms, scored: Mapping[str, tuple[CardScore, ...]]) -> Results:
    """Add rounds up and give places.

    Args:
        book: The book.
        law: What it says of the form of play.
        terms: The terms of the competition.
        scored: The rounds of each player or side, in order.
    """
    unranked = {name: _without(terms, name, rounds) for name, rounds in scored.items()}
    standings = [_standing(law, terms, name, rounds) for name, rounds in scored.items() if unranked[name] is None]
    placed = place_all(standings, counting_of(law, terms), terms.ties)
    totals = {standing.name: standing.total for standing in standings}
    ranked = [_ranked(law, terms, place, totals[place.name], scored[place.name]) for place in placed]
    others = [one for _, one in sorted(unranked.items()) if one is not None]
    is_tied = any(place.compared or place.is_joint for place in placed)
    return Results(
        book=book.name,
        stamp=book.stamp,
        why_none="",
        ranked=(*ranked, *others),
        tie_citations=book.citations(TIE_ROW) if is_tied and TIE_ROW in book.catalogue.rows and book.has_row(TIE_ROW) else (),
    )


def counting_of(law: FormLaw, terms: Terms) -> Counting:
    """How results are compared: a share of the handicap comes off where strokes do not fall on holes in the event itself.

    Source:
        Rules of Golf 2016, Appendix I Part C 10; Committee Procedures 5A(6) of 2019 and 2023 (from memory).
    """
    usual = OverHoles.SHARE_OF_HANDICAP if law.counts is Counts.STROKES else OverHoles.STROKES_AS_THEY_FALL
    counted = terms.ties.counted or usual
    is_share = terms.is_net and counted is OverHoles.SHARE_OF_HANDICAP and law.counts is Counts.STROKES
    return Counting(counts=law.counts, takes_share=is_share, rounds_fractions=terms.ties.fractions is Fractions.ROUNDED)


def _standing(law: FormLaw, terms: Terms, name: str, rounds: Sequence[CardScore]) -> Standing:
    played = tuple(
        RoundStanding(
            total=one.total or 0,
            by_hole=tuple(hole.value or 0 for hole in one.holes),
            gross_by_hole=tuple(hole.counted or 0 for hole in one.holes),
            handicap=one.strokes.total,
        )
        for one in rounds
    )
    par = sum(one.tee.total_par for one in rounds) if terms.is_told_against_par and law.counts is Counts.STROKES else 0
    return Standing(name=name, total=sum(one.total for one in played) - par, rounds=played)


def _without(terms: Terms, name: str, rounds: Sequence[CardScore]) -> Ranked | None:
    """A player without a result; None where there is one."""
    out = next((one for one in rounds if one.total is None), None)
    if out is not None:
        return Ranked(name=name, placed=None, total=None, words=out.why, status=out.status, rounds=tuple(rounds), citations=out.citations)
    missing = sorted(set(range(1, terms.rounds + 1)) - {one.card.round for one in rounds})
    if not missing:
        return None
    words = f"no card for round {', '.join(map(str, missing))}"
    return Ranked(name=name, placed=None, total=None, words=words, status=CardStatus.NOT_RETURNED, rounds=tuple(rounds), citations=())


def _ranked(law: FormLaw, terms: Terms, placed: Placed, total: int, rounds: Sequence[CardScore]) -> Ranked:
    return Ranked(
        name=placed.name,
        placed=placed,
        total=total,
        words=score_words(law, terms, total),
        status=CardStatus.RETURNED,
        rounds=tuple(rounds),
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


def citations_of(ranked: Ranked) -> tuple[Citation, ...]:
    """Every rule behind a result, its charges and its decisions."""
    charges = (charge.citations for one in ranked.rounds for charge in one.charges)
    decisions = (decision.citations for one in ranked.rounds for decision in one.decisions)
    points = (one.strokes.citations for one in ranked.rounds)
    return merged(ranked.citations, *charges, *decisions, *points)
