"""The state of a match, hole after hole, and its result in the words of the trade."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from marram.core.words import counted

_DECIDED_OTHERWISE = {"disqualified": "by disqualification", "conceded": "by concession", "walkover": "by a walkover"}


class Ended(StrEnum):
    """How a match came to its end."""

    BY_HOLES = "by-holes"
    TIED = "tied"
    CONCEDED = "conceded"
    DISQUALIFIED = "disqualified"
    NOT_OVER = "not-over"


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """Where a match stands.

    Attributes:
        played: So many holes were played, in the order of play.
        lead: Holes by which the first side leads; below zero where the second does.
        left: Holes of the round that are left; none in extra holes.
    """

    played: int
    lead: int
    left: int

    @property
    def is_dormie(self) -> bool:
        """Whether the leader is up by as many holes as are left, and cannot lose within the round."""
        return self.lead != 0 and abs(self.lead) == self.left

    @property
    def is_won(self) -> bool:
        """Whether the leader is up by more holes than are left."""
        return self.lead != 0 and abs(self.lead) > self.left

    @property
    def words(self) -> str:
        """The state as it is told: ``all square``, ``2 up``, ``2 up, dormie``; of the leader."""
        if self.lead == 0:
            return "all square"
        return f"{abs(self.lead)} up" + (", dormie" if self.is_dormie else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchCourse:
    """How a match went.

    Attributes:
        states: The state after each hole that was played.
        winner: 1 where the first side won, -1 where the second did, 0 where nobody did.
        ended: How it came to its end.
        ended_on: The number of holes played, extra holes included.
        result: The result in words, such as ``3 & 2``, ``1 up``, ``20th hole`` or ``tied``.
        dormie_after: After how many holes a side was first dormie and stayed ahead; None where none was.
    """

    states: tuple[State, ...]
    winner: int
    ended: Ended
    ended_on: int
    result: str
    dormie_after: int | None

    @property
    def told(self) -> str:
        """The result or the state as an official would say it behind the name of the winner or the leader.

        Such as ``3 & 2``, ``at the 20th hole``, ``by concession``, ``2 up after 16 holes, dormie``.
        """
        match self.ended:
            case Ended.CONCEDED | Ended.DISQUALIFIED if self.winner:
                return _DECIDED_OTHERWISE.get(self.result, self.result)
            case Ended.BY_HOLES:
                return f"at the {self.result}" if self.result.endswith(" hole") else self.result
            case Ended.NOT_OVER:
                return self._standing(abs(self.states[-1].lead)) if self.states else "not begun"
        return self.result

    def told_of(self, sign: int) -> str:
        """The state of a match that is not over, of one of its sides: ``2 down after 16 holes``.

        Args:
            sign: 1 for the first side, -1 for the second.
        """
        return self._standing(sign * self.states[-1].lead) if self.states else "not begun"

    def _standing(self, lead: int) -> str:
        last = self.states[-1]
        stands = "all square" if lead == 0 else f"{abs(lead)} {'up' if lead > 0 else 'down'}"
        dormie = ", dormie" if last.is_dormie and lead > 0 else ""
        goes_on = ", and the match goes on" if last.left == 0 else ""
        return f"{stands} after {counted(last.played, 'hole')}{dormie}{goes_on}"


def follow_match(outcomes: Sequence[int], holes: int, off: Mapping[int, int] | None = None, *, may_end_tied: bool = False) -> MatchCourse:
    """Follow a match from hole to hole until it is won.

    Args:
        outcomes: For each hole in the order of play 1 where the first side won it, -1 where the second did, 0 where it was tied; extra
            holes follow those of the round.
        holes: Holes of the round.
        off: Holes that are taken off the match after a hole, by the number of that hole in the order of play: how far the lead moves
            toward the first side.
        may_end_tied: Whether a tie stands after the round.

    Source:
        Rules of Golf (January 2023), Rules 3.2a(3), 3.2a(4) and 4.1b(4); dormie and the words of results are usage.
    """
    states: list[State] = []
    lead = 0
    for played, outcome in enumerate(outcomes, start=1):
        lead += outcome + (off or {}).get(played, 0)
        states.append(State(played=played, lead=lead, left=max(0, holes - played)))
        if states[-1].is_won and played <= holes:
            break
        if played >= holes and (lead or (may_end_tied and played == holes)):
            break
    return _ended(states, holes, may_end_tied=may_end_tied)


def _ended(states: Sequence[State], holes: int, *, may_end_tied: bool) -> MatchCourse:
    last = states[-1] if states else State(played=0, lead=0, left=holes)
    is_won = last.is_won
    is_tied = not is_won and last.played >= holes and last.lead == 0
    ended = Ended.BY_HOLES if is_won else Ended.TIED if is_tied and may_end_tied else Ended.NOT_OVER
    return MatchCourse(
        states=tuple(states),
        winner=((last.lead > 0) - (last.lead < 0)) if is_won else 0,
        ended=ended,
        ended_on=last.played,
        result=_result(last, holes) if is_won else "tied" if ended is Ended.TIED else last.words,
        dormie_after=_dormie_after(states),
    )


def _result(last: State, holes: int) -> str:
    """A match that was won: *X & Y* with holes left, *X up* on the last, the hole where extra holes decided."""
    if last.played > holes:
        return f"{ordinal(last.played)} hole"
    return f"{abs(last.lead)} & {last.left}" if last.left else f"{abs(last.lead)} up"


def _dormie_after(states: Sequence[State]) -> int | None:
    """The first hole after which a side was dormie."""
    return next((state.played for state in states if state.is_dormie), None)


def ordinal(number: int) -> str:
    """A number in order, such as ``19th`` or ``21st``."""
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th") if number % 100 not in {11, 12, 13} else "th"
    return f"{number}{ending}"
