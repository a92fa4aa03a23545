"""Which of the proposed incidents are worth a ruling: people reach them best and most safely, and they lie apart."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from marram.rulebook.book import Book
from marram.rulebook.vocabulary import LineFrom
from marram.rulings.case.incident import Incident, Player
from marram.rulings.case.procedure import Procedure
from marram.showing.incidents import Candidate, propose, settle_facts, wants_conditions
from marram.showing.openings import chain_of
from marram.showing.standing import ShowingGround

TRIED_PER_FEATURE, TRIED_AT_MOST = 10, 120
"""How many spots are ruled on at one feature, and in all: those that people reach best and most safely."""
QUICK_PER_FEATURE, QUICK_AT_MOST = 40, 600
"""The same where a ruling searches for no nearest point and follows no line, and so takes a few milliseconds."""
SUPPOSED_AT_MOST = 18
"""The same where a condition is only supposed: one place of open ground is as good as another."""
TRIED_APART_M, TRIED_SHARE = 8.0, 0.08
"""Spots on one feature that are ruled on lie this far apart, or this share of its length where that is less."""


def choose_candidates(
    openings: Sequence[Procedure], ground: ShowingGround, books: Sequence[Book], player: Player
) -> list[tuple[Candidate, Incident]]:
    """The candidates worth a ruling: the best reached and safest of each feature, taken in turn.

    Args:
        openings: The ways of coming to the procedure that are tried together.
        ground: The course as ground to lead people over.
        books: The books under which it is to be shown.
        player: The player.

    Returns:
        Each candidate with its incident, facts settled.
    """
    ranked: list[tuple[int, int, Candidate, Incident]] = []
    for opening in openings:
        by_feature: dict[str, list[Candidate]] = {}
        for candidate in sorted(propose(opening, player), key=lambda candidate: _worth(candidate, ground)):
            by_feature.setdefault(candidate.spot.feature, []).append(candidate)
        for candidates in by_feature.values():
            most = QUICK_PER_FEATURE if _is_quick(opening) else TRIED_PER_FEATURE
            ranked += [(turn, len(ranked), *pair) for turn, pair in enumerate(_best_apart(candidates, books, most))]
    most = QUICK_AT_MOST if all(map(_is_quick, openings)) else TRIED_AT_MOST
    most = min(most, SUPPOSED_AT_MOST) if any(candidate.incident.conditions for _, _, candidate, _ in ranked) else most
    return [(candidate, incident) for _, _, candidate, incident in sorted(ranked, key=lambda entry: entry[:2])[:most]]


def _is_quick(opening: Procedure) -> bool:
    return not wants_conditions(opening) and opening.word("line_from") == LineFrom.NONE


def _best_apart(candidates: Sequence[Candidate], books: Sequence[Book], most: int) -> list[tuple[Candidate, Incident]]:
    """The first candidates of one feature that lie apart from each other and are not ruled out by the survey."""
    xs, ys = ([candidate.spot.ball.xy[axis] for candidate in candidates] for axis in (0, 1))
    apart_m = min(TRIED_APART_M, TRIED_SHARE * math.hypot(max(xs) - min(xs), max(ys) - min(ys)))
    kept: list[tuple[Candidate, Incident]] = []
    for candidate in candidates:
        if len(kept) == most:
            break
        if all(candidate.spot.ball.distance_m(other.spot.ball) >= apart_m for other, _ in kept):
            incident = settle_facts(candidate, books)
            kept += [] if incident is None else [(candidate, incident)]
    return kept


def _worth(candidate: Candidate, ground: ShowingGround) -> tuple[float, str, int, float, float]:
    standing, spot = ground.at(candidate.spot.ball), candidate.spot
    return (-round(standing.reach + standing.safe, 6), spot.feature, spot.hole, *spot.ball.xy)


def openings_in_turn(openings: Iterable[Procedure]) -> list[list[Procedure]]:
    """The openings in the turns in which they are tried, until one shows the procedure.

    Openings about a thing in the way are tried together, after those of each situation that is about none.
    """
    known = {(opening.case.incident.situation, tuple(row.id for row in chain_of(opening))): opening for opening in openings}
    turns: dict[str, list[Procedure]] = {}
    about = [opening for opening in known.values() if wants_conditions(opening)]
    for opening in known.values():
        if not wants_conditions(opening):
            turns.setdefault(opening.case.incident.situation, []).append(opening)
    return [*turns.values(), *([about] if about else [])]
