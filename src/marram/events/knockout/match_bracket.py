"""A bracket with its players: who meets whom in each round, who has a bye, what was played, and who won."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from marram.core.errors import EventError
from marram.core.words import plain_name
from marram.events.bracket import draw_by_number
from marram.scoring.matches.state import ordinal

BYE = "bye"
_HOLES = re.compile(r"(?:by\s+)?(\d{1,2})\s*(?:&|and|/)\s*(\d{1,2})", re.IGNORECASE)
_UP = re.compile(r"([12])\s*up", re.IGNORECASE)
_EXTRA = re.compile(r"(?:at the\s+)?(\d{2})(?:st|nd|rd|th)?(?:\s+hole)?", re.IGNORECASE)
_OTHERWISE = {
    "walkover": "by a walkover",
    "concession": "by concession",
    "conceded": "by concession",
    "disqualification": "by disqualification",
    "disqualified": "by disqualification",
}
_EXPECTED = "Give 3 & 2, 1 up, 20th hole, walkover, concession or disqualification."


@dataclass(frozen=True, slots=True, kw_only=True)
class BracketDrawn:
    """A bracket as it was drawn.

    Attributes:
        by: What gave the numbers: order of entry, handicap, random or a list.
        seed: The seed of a draw at random; empty else.
        numbered: Players or sides by their numbers, 1 first.
    """

    by: str
    seed: str
    numbered: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchWon:
    """A match of a bracket as it was reported.

    Attributes:
        winner: Who goes on.
        loser: Who does not.
        told: The result behind the name of the winner, such as ``3 & 2`` or ``by a walkover``.
        round: Number of the round.
        is_struck: Whether it does not stand any more.
    """

    winner: str
    loser: str
    told: str
    round: int
    is_struck: bool = False

    @property
    def key(self) -> str:
        """What tells matches apart: the two who met."""
        return match_key(self.winner, self.loser)


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchPlace:
    """A match of a bracket.

    Attributes:
        round: Number of the round, from 1.
        number: Its number in the round, from the top.
        sides: The two, as far as they are known; empty where nobody is known yet, or nobody is there in the first round.
        winner: Who goes on; empty where that is open.
        told: The result, or ``bye``; empty where that is open.
    """

    round: int
    number: int
    sides: tuple[str, str]
    winner: str
    told: str

    @property
    def loser(self) -> str:
        """Who lost; empty where the match is open or was none."""
        if not self.winner or not all(self.sides):
            return ""
        return self.sides[1 - self.sides.index(self.winner)]


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchBracket:
    """A bracket as it stands.

    Attributes:
        drawn: How it was drawn.
        rounds: The matches of each round, from the top.
    """

    drawn: BracketDrawn
    rounds: tuple[tuple[MatchPlace, ...], ...]

    @property
    def winner(self) -> str:
        """Who won the last match; empty while that is open."""
        return self.rounds[-1][0].winner

    @property
    def byes(self) -> tuple[str, ...]:
        """Who goes to the second round without a match, the lowest number first."""
        free = {place.winner for place in self.rounds[0] if place.told == BYE}
        return tuple(name for name in self.drawn.numbered if name in free)

    @property
    def open(self) -> tuple[MatchPlace, ...]:
        """Matches of which both sides are known and no result is."""
        return tuple(place for one in self.rounds for place in one if all(place.sides) and not place.winner)


def match_key(one: str, other: str) -> str:
    """What tells the matches of a bracket apart: two meet once."""
    return "|".join(sorted((plain_name(one), plain_name(other))))


def follow_bracket(drawn: BracketDrawn, won: Iterable[MatchWon]) -> MatchBracket:
    """Follow a bracket from its draw through what was played.

    Args:
        drawn: How it was drawn.
        won: The matches that were reported, in any order.

    Raises:
        EventError: Fewer than two are in it, or too many.
    """
    known = {one.key: one for one in won if not one.is_struck}
    bracket = draw_by_number(len(drawn.numbered))
    names = [_name(drawn, number) for pair in bracket.pairs for number in pair]
    rounds: list[tuple[MatchPlace, ...]] = []
    while len(names) > 1:
        number = len(rounds) + 1
        pairs = list(zip(names[::2], names[1::2], strict=True))
        rounds.append(tuple(_place(number, at, pair, known) for at, pair in enumerate(pairs, start=1)))
        names = [place.winner for place in rounds[-1]]
    return MatchBracket(drawn=drawn, rounds=tuple(rounds))


def _name(drawn: BracketDrawn, number: int) -> str:
    return drawn.numbered[number - 1] if number <= len(drawn.numbered) else ""


def _place(number: int, at: int, pair: tuple[str, str], known: dict[str, MatchWon]) -> MatchPlace:
    if number == 1 and not all(pair):
        return MatchPlace(round=number, number=at, sides=pair, winner=pair[0] or pair[1], told=BYE)
    found = known.get(match_key(*pair)) if all(pair) else None
    if found is None:
        return MatchPlace(round=number, number=at, sides=pair, winner="", told="")
    winner = next(name for name in pair if plain_name(name) == plain_name(found.winner))
    return MatchPlace(round=number, number=at, sides=pair, winner=winner, told=found.told)


def find_match(bracket: MatchBracket, winner: str, loser: str) -> MatchPlace:
    """The match in which two meet.

    Args:
        bracket: The bracket.
        winner: One of them.
        loser: The other.

    Raises:
        EventError: Somebody is not in the bracket, or the two do not meet as it stands.
    """
    known = {plain_name(name): name for name in bracket.drawn.numbered}
    for name in (winner, loser):
        if plain_name(name) not in known:
            near = get_close_matches(plain_name(name), list(known), n=1, cutoff=0.75)
            hint = f"Is {known[near[0]]} meant?" if near else "Give the name as it stands in the bracket."
            raise EventError(f"{name} is not in the bracket.", where="bracket", hint=hint)
    wanted = {plain_name(winner), plain_name(loser)}
    for one in bracket.rounds:
        for place in one:
            if all(place.sides) and {plain_name(name) for name in place.sides} == wanted:
                return place
    told = "; ".join(" v ".join(place.sides) for place in bracket.open[:20]) or "none"
    raise EventError(f"{winner} and {loser} do not meet as the bracket stands.", where="bracket", hint=f"Matches that are open: {told}.")


def read_result(text: str, holes: int) -> str:
    """Read the result of a match as it is told behind the name of the winner.

    Args:
        text: What was reported, such as ``3 & 2``, ``1 up``, ``20th hole`` or ``walkover``.
        holes: How many holes a round has.

    Raises:
        EventError: It is no result, or one that cannot be.
    """
    given = text.strip()
    if given.casefold() in _OTHERWISE:
        return _OTHERWISE[given.casefold()]
    if (found := _HOLES.fullmatch(given)) is not None:
        up, left = int(found[1]), int(found[2])
        # the lead passes what is left by one where the last hole was tied or won from level with it, by two where it was won from dormie
        if not (left < up <= left + 2 and up + left <= holes and left > 0):
            raise EventError(f"{given!r} cannot be over {holes} holes.", where="result", hint="Up by one or two more than holes are left.")
        return f"{up} & {left}"
    if (found := _UP.fullmatch(given)) is not None:
        return f"{found[1]} up"
    if (found := _EXTRA.fullmatch(given)) is not None:
        if int(found[1]) <= holes:
            raise EventError(f"{given!r} is within the round.", where="result", hint=f"Extra holes begin with {holes + 1}.")
        return f"at the {ordinal(int(found[1]))} hole"
    raise EventError(f"{given!r} is no result of a match.", where="result", hint=_EXPECTED)


def later_results(bracket: MatchBracket, place: MatchPlace) -> Sequence[MatchPlace]:
    """Matches of later rounds that were played on the strength of one.

    Args:
        bracket: The bracket.
        place: The match.
    """
    return [
        later for one in bracket.rounds[place.round :] for later in one if place.winner and place.winner in later.sides and later.winner
    ]
