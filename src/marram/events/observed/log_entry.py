"""An entry of the log of an event: something that was observed, what was measured of it, and what was watched for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from marram.records.outcomes import Outcome, Per, outcomes

_MINUTE_S = 60


class Thing(StrEnum):
    """What an entry is about."""

    ROUND = "round"
    HOLE = "hole"
    RULING = "ruling"
    SEARCH = "search"
    DROP = "drop"
    PUTT = "putt"
    ANSWER = "answer"


class Mark(StrEnum):
    """Where a group was at a time that was written down."""

    TEE = "tee"
    APPROACH = "approach"
    GREEN = "green"
    IN = "in"


_THINGS: Mapping[Per, Thing] = {
    Per.GROUP_ROUND: Thing.ROUND,
    Per.PLAYER_ROUND: Thing.ROUND,
    Per.GROUP_HOLE: Thing.HOLE,
    Per.RULING: Thing.RULING,
    Per.SEARCH: Thing.SEARCH,
    Per.DROP: Thing.DROP,
    Per.PUTT: Thing.PUTT,
    Per.ANSWER: Thing.ANSWER,
}
SUMMED: Mapping[str, Thing] = {"waiting_min": Thing.HOLE, "disputes": Thing.RULING}
"""Outcomes of a round that are also written down part by part, and of what."""
COUNTED: Mapping[str, Thing] = {"searches": Thing.SEARCH, "rulings": Thing.RULING}
"""Outcomes of a round that count entries, and of what."""
WATCHED_FOR = (*COUNTED, *SUMMED)
"""Outcomes of which a group has no value unless somebody watched it for them all round."""


def may_be_measured_of(thing: Thing) -> tuple[Outcome, ...]:
    """The outcomes that may be measured of something.

    Args:
        thing: What.
    """
    return tuple(one for key, one in outcomes().items() if _THINGS[one.per] is thing or SUMMED.get(key) is thing)


@dataclass(frozen=True, slots=True, kw_only=True)
class LogEntry:
    """Something that was observed.

    Attributes:
        id: Its name in the log, such as ``L12``.
        thing: What it is.
        group: Number of the group in the draw; None where only the player is named, or nobody.
        player: The player; empty where none is meant.
        hole: The hole; None for the round.
        round: Number of the round.
        ruling: The ruling that it is about, such as ``R3``; empty where it is about none that is logged.
        act: The act of the rule data, or the situation; empty where nobody says.
        spot: Where it was, in words.
        feature: Id of the thing on the course where it was; empty where nobody says.
        x_m: Where it was, in metres of the survey; None where nobody measured.
        y_m: The same.
        at_s: When, in seconds from midnight; None where nobody says.
        times_s: When the group was where, in seconds from midnight.
        values: What was measured, by outcome, in its unit; yes is 1, no is 0.
        change: Number of the change; None where the outcome says it.
        question: Number of the question that was answered; None where there is one.
        form: Version of the form that was answered on.
        kind: What kind of player answered.
        recorder: Who observed it; empty for who wrote the row.
        says: What happened, in words.
        is_checked: Whether somebody looked again at an odd value and says that it is right.
        is_struck: Whether it does not stand any more.
    """

    id: str
    thing: Thing
    group: int | None = None
    player: str = ""
    hole: int | None = None
    round: int = 1
    ruling: str = ""
    act: str = ""
    spot: str = ""
    feature: str = ""
    x_m: float | None = None
    y_m: float | None = None
    at_s: int | None = None
    times_s: Mapping[Mark, int] = field(default_factory=dict)
    values: Mapping[str, float] = field(default_factory=dict)
    change: int | None = None
    question: int | None = None
    form: str = ""
    kind: str = ""
    recorder: str = ""
    says: str = ""
    is_checked: bool = False
    is_struck: bool = False

    @property
    def took_min(self) -> float | None:
        """Minutes from the first stroke on the tee to the last holed out; None where one of them is not known."""
        tee, last = self.times_s.get(Mark.TEE), self.times_s.get(Mark.IN)
        return None if tee is None or last is None else (last - tee) / _MINUTE_S


@dataclass(frozen=True, slots=True, kw_only=True)
class Watched:
    """That somebody watched for something all round, so that where nothing is logged nothing happened.

    Attributes:
        outcome: What was watched for.
        group: Number of the group; None for all.
        round: Number of the round.
        is_struck: Whether it does not stand any more.
    """

    outcome: str
    group: int | None = None
    round: int = 1
    is_struck: bool = False

    @property
    def key(self) -> str:
        """What tells such statements apart."""
        return f"{self.outcome}|{'' if self.group is None else self.group}|{self.round}"
