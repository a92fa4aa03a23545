"""What a trial says besides its changes: what would show that they work, what they must not change, when it is played."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Status(StrEnum):
    """Where a trial stands."""

    DRAFT = "draft"
    OPEN = "open"
    CLOSED = "closed"
    DECIDED = "decided"


class Direction(StrEnum):
    """Which way an outcome should go."""

    DOWN = "down"
    UP = "up"


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """What a change should do: an outcome, which way, and the smallest effect that matters."""

    outcome: str
    direction: Direction
    matters: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Guard:
    """What a change must not make worse.

    Attributes:
        outcome: The outcome.
        margin: By how much it may still get worse, in the unit of the outcome.
        worse: Which way is worse: `up`, `down`, or `either` where it must not change at all; empty for what the outcome itself says.
    """

    outcome: str
    margin: float
    worse: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clarification:
    """A dated explanation of a change, or of the whole trial where no change is named."""

    dated: date
    text: str
    change: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Life:
    """When a trial is played and where it stands.

    Attributes:
        status: Where it stands.
        first_day: First day on which it is played; None where none is set yet, as for each day here.
        last_day: Last day.
        answers_until: Last day on which answers of players are taken.
        in_force_from: Day from which the change holds for good, once that is decided.
        clarifications: Dated explanations, in order.
    """

    status: Status = Status.DRAFT
    first_day: date | None = None
    last_day: date | None = None
    answers_until: date | None = None
    in_force_from: date | None = None
    clarifications: tuple[Clarification, ...] = ()

    def holds_on(self, day: date) -> bool:
        """Whether a round of that day lies in the window of the trial; a day that is not set bounds nothing."""
        return (self.first_day is None or self.first_day <= day) and (self.last_day is None or day <= self.last_day)
