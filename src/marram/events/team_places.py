"""Places of teams whose best scores are added up: so many of each round, or of the whole event."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import groupby

from marram.core.words import counted

BY_SCORE, JOINT = "score", "joint"


class TeamStep(StrEnum):
    """Ways to decide between teams with equal results."""

    BEST_SCORE = "best-score"
    NEXT_SCORE = "next-score"


class BestOf(StrEnum):
    """Out of which scores the best are taken."""

    ROUND = "round"
    EVENT = "event"


@dataclass(frozen=True, slots=True, kw_only=True)
class TeamTerms:
    """How teams are placed.

    Attributes:
        best_of: So many scores count.
        each: Of each round, or of the whole event.
        ties: How equal results are decided, in order; none where a tie stands.
    """

    best_of: int
    each: BestOf = BestOf.ROUND
    ties: tuple[TeamStep, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayerScore:
    """A player's score for a team.

    Attributes:
        player: The player.
        round: Number of the round; 0 for the whole event.
        score: The score.
        does_count: Whether it is among the best that count.
    """

    player: str
    round: int
    score: int
    does_count: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TeamPlace:
    """A team in the results.

    Attributes:
        team: Its name.
        place: Its place, from 1; None where it has too few scores.
        total: Its result; None where it has none.
        scores: The scores of its players, by round, the best first.
        is_joint: Whether another has the same place.
        decided_by: What decided the place: ``score``, a step in words, or ``joint``; empty without a place.
        why: Why there is no result; empty where there is one.
    """

    team: str
    place: int | None
    total: int | None
    scores: tuple[PlayerScore, ...]
    is_joint: bool = False
    decided_by: str = ""
    why: str = ""


def place_teams(
    terms: TeamTerms, scores: Mapping[str, Sequence[PlayerScore]], rounds: Iterable[int], *, is_more_better: bool
) -> tuple[TeamPlace, ...]:
    """Give every team a place; those with too few scores come last.

    Args:
        terms: How teams are placed.
        scores: The scores of each team's players that can count.
        rounds: Numbers of the rounds that count.
        is_more_better: Whether the higher score is better.

    Source:
        Rules of Golf (January 2023), Rule 24.2: how a team's score is worked out is for the Committee to say.
    """
    sign = -1 if is_more_better else 1
    wanted = [0] if terms.each is BestOf.EVENT else list(rounds)
    known = [_scored(terms, team, given, wanted, sign) for team, given in scores.items()]
    have = sorted((team for team in known if team.total is not None), key=lambda team: (sign * (team.total or 0), team.team))
    placed: list[TeamPlace] = []
    for _, equal in groupby(have, key=lambda team: team.total):
        placed += _apart(list(equal), terms.ties, sign, first=len(placed) + 1, by=BY_SCORE)
    return (*placed, *sorted((team for team in known if team.total is None), key=lambda team: team.team))


def _scored(terms: TeamTerms, team: str, given: Sequence[PlayerScore], rounds: Sequence[int], sign: int) -> TeamPlace:
    found: list[PlayerScore] = []
    short: list[str] = []
    for number in rounds:
        own = sorted((one for one in given if one.round == number), key=lambda one: (sign * one.score, one.player))
        marked = [PlayerScore(player=one.player, round=number, score=one.score, does_count=True) for one in own[: terms.best_of]]
        found += [*marked, *own[terms.best_of :]]
        if len(marked) < terms.best_of:
            at = f"round {number}: " if number and len(rounds) > 1 else ""
            short.append(f"{at}{counted(len(marked), 'score')}, and {terms.best_of} count")
    total = None if short else sum(one.score for one in found if one.does_count)
    return TeamPlace(team=team, place=None, total=total, scores=tuple(found), why="; ".join(short))


def _apart(equal: Sequence[TeamPlace], steps: Sequence[TeamStep], sign: int, *, first: int, by: str) -> list[TeamPlace]:
    """Places among teams that are equal so far."""
    if len(equal) == 1:
        return [_placed(equal[0], first, by)]
    if not steps:
        return [_placed(team, first, JOINT) for team in equal]
    step, *left = steps
    values = {team.team: _value(team, step, sign) for team in equal}
    placed: list[TeamPlace] = []
    for _, still in groupby(sorted(equal, key=lambda team: (values[team.team], team.team)), key=lambda team: values[team.team]):
        placed += _apart(list(still), left, sign, first=first + len(placed), by=step.value.replace("-", " "))
    return placed


def _placed(team: TeamPlace, place: int, by: str) -> TeamPlace:
    return TeamPlace(team=team.team, place=place, total=team.total, scores=team.scores, is_joint=by == JOINT, decided_by=by)


def _value(team: TeamPlace, step: TeamStep, sign: int) -> tuple[bool, int]:
    """What a step compares, the lower the better; a team that has no such score comes after those that have one."""
    of_step = [sign * one.score for one in team.scores if one.does_count is (step is TeamStep.BEST_SCORE)]
    return (not of_step, min(of_step, default=0))
