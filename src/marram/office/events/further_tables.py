"""Teams and the bracket as tables of printed results."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marram.core.words import counted
from marram.events.knockout.match_bracket import BYE, MatchBracket, MatchPlace
from marram.events.team_places import PlayerScore, TeamPlace
from marram.sheets.pages.event_sheets import PlaceLine, PlaceTable

_LAST_ROUNDS = {1: "Final", 2: "Semi-finals", 4: "Quarter-finals"}


def further_tables(teams: Sequence[TeamPlace], bracket: MatchBracket | None) -> Iterator[PlaceTable]:
    """Tables of teams and of each round of a bracket; none where there is neither.

    Args:
        teams: The teams.
        bracket: The bracket; None where none is drawn.
    """
    if teams:
        yield _of_teams(teams)
    for one in bracket.rounds if bracket is not None else ():
        yield _of_round(one)


def _of_teams(teams: Sequence[TeamPlace]) -> PlaceTable:
    placed = sum(team.place is not None for team in teams)
    about = f"{counted(placed, 'place')}. Scores in brackets do not count"
    lines = tuple(
        _line("-" if team.place is None else str(team.place), team.team, _score(team), team.why or _team_words(team)) for team in teams
    )
    return PlaceTable(title="Teams", about=about, heads=(), score_head="Score", step_heads=(), lines=lines, player_head="Team")


def _score(team: TeamPlace) -> str:
    return "" if team.total is None else str(team.total)


def _team_words(team: TeamPlace) -> str:
    decided = "" if team.decided_by in {"", "score"} else f"{team.decided_by}: "
    return decided + "; ".join(map(_player_words, team.scores))


def _player_words(one: PlayerScore) -> str:
    told = f"{one.player} {one.score}"
    return told if one.does_count else f"({told})"


def _of_round(matches: Sequence[MatchPlace]) -> PlaceTable:
    title = _LAST_ROUNDS.get(len(matches), f"Round {matches[0].round}")
    lines = tuple(_line(str(match.number), _sides(match), "", _result(match)) for match in matches)
    return PlaceTable(title=title, about="", heads=(), score_head="", step_heads=(), lines=lines, place_head="Match", player_head="")


def _sides(match: MatchPlace) -> str:
    if match.told == BYE:
        return match.winner
    return " v ".join(name or "to be known" for name in match.sides)


def _result(match: MatchPlace) -> str:
    if match.told == BYE:
        return "has a bye"
    return f"{match.winner} {match.told}" if match.winner else "to be played"


def _line(place: str, name: str, score: str, decided: str) -> PlaceLine:
    return PlaceLine(place=place, player=name, figures=(), score=score, steps=(), decider=None, decided=decided, charges=(), bracket="")
