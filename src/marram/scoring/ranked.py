"""Who is where in the results, with all that it rests on."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.scoring.cards.card import CardStatus
from marram.scoring.forms.card_score import CardScore
from marram.scoring.forms.charges import Charge
from marram.scoring.forms.returned_card import CardDecision
from marram.scoring.matches.match_score import MatchScore
from marram.scoring.ties.placing import Placed


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """A player or side in the results.

    Attributes:
        name: The player or side.
        placed: The place; None where there is no result.
        total: The result; None where there is none.
        words: The result in words, such as ``net 73``, ``35 points``, ``1 down``, or why there is none.
        status: What became of the cards.
        rounds: The cards as they were scored; none in a match.
        charges: What penalties cost.
        decisions: What was decided of the cards.
        match: The match; empty in stroke play.
        citations: The rules that the result, or its lack, rests on.
    """

    name: str
    placed: Placed | None
    total: int | None
    words: str
    status: CardStatus
    rounds: tuple[CardScore, ...]
    charges: tuple[Charge, ...]
    decisions: tuple[CardDecision, ...]
    match: str = ""
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Results:
    """The results of a competition under a book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        why_none: Why the book cannot score it; empty where it can.
        ranked: Players or sides, the first place first; those without a result last. In match play the two sides of each match.
        matches: The matches; none in stroke play.
        tie_citations: The rules by which ties are decided; empty where no tie was.
        remarks: What of the terms the book does not know, in sentences.
    """

    book: str
    stamp: str
    why_none: str
    ranked: tuple[Ranked, ...]
    matches: tuple[MatchScore, ...] = ()
    tie_citations: tuple[Citation, ...]
    remarks: tuple[str, ...] = ()


def citations_of(ranked: Ranked) -> tuple[Citation, ...]:
    """Every rule behind a result, its charges and its decisions."""
    charges = (charge.citations for charge in ranked.charges)
    decisions = (decision.citations for decision in ranked.decisions)
    handicaps = (one.strokes.citations for one in ranked.rounds)
    return merged(ranked.citations, *charges, *decisions, *handicaps)
