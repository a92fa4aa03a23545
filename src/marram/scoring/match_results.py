"""Results of matches: who won each, and how."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from marram.core.errors import CardError
from marram.core.words import fault_list
from marram.scoring.cards.card import Card, CardStatus
from marram.scoring.competition.terms_of_competition import Sides
from marram.scoring.forms.returned_card import CardDecision
from marram.scoring.matches.declared import DECLARED
from marram.scoring.matches.match_score import MatchScore, score_match
from marram.scoring.matches.state import Ended
from marram.scoring.ranked import Ranked, Results
from marram.scoring.sides.side import sides_of
from marram.scoring.sides.side_score import Scoring
from marram.scoring.ties.placing import Placed


def rank_matches(by: Scoring, cards: Sequence[Card]) -> Results:
    """Score matches; each is a result by itself.

    Args:
        by: What they are scored by.
        cards: The cards.

    Raises:
        CardError: A match has not two sides.
    """
    matches: list[MatchScore] = []
    faults: list[CardError] = []
    for name in dict.fromkeys(card.match for card in cards):
        sides = sides_of(by.terms, [card for card in cards if card.match == name])
        most = 3 if by.terms.sides is Sides.THREE_BALL else 2
        if not 2 <= len(sides) <= most:
            told = f"A match has two sides{', three-ball three players' * (most > 2)}; this has {len(sides)}."
            raise CardError(told, where=f"match {name or '(no name)'}")
        for pair in combinations(sides, 2):
            try:
                matches.append(score_match(by, name, pair))
            except CardError as fault:
                faults.append(fault)
    refuse_all(faults)
    ranked = tuple(ranked for match in matches for ranked in _both_sides(match))
    return Results(book=by.book.name, stamp=by.book.stamp, why_none="", ranked=ranked, matches=tuple(matches), tie_citations=())


def refuse_all(faults: Sequence[CardError]) -> None:
    """Tell what cannot be scored on any card, all at once.

    Args:
        faults: What was found, card by card.

    Raises:
        CardError: Something was.
    """
    if len(faults) == 1:
        raise faults[0]
    if faults:
        told = [f"{fault.where}: {fault.message}" for fault in faults]
        raise CardError(f"There are {fault_list(told)}", where="cards", hint="Correct these cards.")


def _both_sides(match: MatchScore) -> list[Ranked]:
    """The two sides of a match, the winner first."""
    course = match.course
    order = (1, 0) if course.winner < 0 else (0, 1)
    return [_of_match(match, side, first=place == 0) for place, side in enumerate(order)]


def _of_match(match: MatchScore, side: int, *, first: bool) -> Ranked:
    course, name = match.course, match.sides[side]
    balls = [ball for ball in match.balls if ball.side == side]
    is_over = course.ended is not Ended.NOT_OVER
    lead = (course.states[-1].lead if course.states else 0) * (1 if side == 0 else -1)
    place = 1 if first or not course.winner else 2
    placed = Placed(place=place, name=name, is_joint=not course.winner, decided_by=course.ended.value, compared=()) if is_over else None
    won = f"{'won' if first else 'lost'}: {course.told}" if course.winner else course.result if is_over else course.told_of(1 - 2 * side)
    return Ranked(
        name=name,
        placed=placed,
        total=lead,
        words=won,
        status=next((ball.card.status for ball in balls if ball.card.status is not CardStatus.RETURNED), CardStatus.RETURNED),
        rounds=(),
        charges=tuple(charge for ball in balls for charge in ball.charges),
        decisions=tuple(
            CardDecision(
                act=DECLARED, player=ball.name, is_out=ball.declared.is_out, says=ball.declared.says, citations=ball.declared.citations
            )
            for ball in balls
            if ball.declared is not None
        ),
        match=match.match,
        citations=match.citations,
    )
