"""What is recorded of a trial: its days, and what was observed on them. Field and simulation write the same rows."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

SIMULATED = "simulated"
"""What a day says `yes` to that nobody played: a forecast wrote it."""


class Arm(StrEnum):
    """Under which rules a day was played."""

    TRIAL = "trial"
    ORDINARY = "ordinary"


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialDay:
    """One day on one course under one book.

    Attributes:
        day: Its name, such as ``d03``.
        dated: The date.
        pair: Name of the pair of days that it belongs to, or of the event of two rounds; empty where it belongs to none.
        arm: Under which rules it was played; None where rules differ within the day.
        course: The course.
        period: Name of the span of time that it belongs to, such as the month; empty where none is meant.
        changes: Numbers of the changes that were on, where days differ in which of them were; None where all of the trial were.
        facts: What may confound and was written down: field size, start interval, wind, rain, green speed, hole locations.
    """

    day: str
    dated: date
    pair: str
    arm: Arm | None
    course: str
    facts: tuple[tuple[str, str], ...] = ()
    period: str = ""
    changes: tuple[int, ...] | None = None

    @property
    def is_simulated(self) -> bool:
        """Whether nobody played it: a forecast wrote it."""
        return (SIMULATED, "yes") in self.facts

    @property
    def event(self) -> str:
        """What it is held together by: its pair or event, else the day itself."""
        return self.pair or self.day


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One value of an outcome.

    Attributes:
        day: Name of the day.
        outcome: Name of the outcome in the catalogue.
        value: The value, in the unit of the outcome; yes is 1, no is 0.
        group: Name of the group; empty where none is meant.
        player: Pseudonym of the player; empty where none is meant.
        hole: Number of the hole; None for the round.
        change: Number of the change that it is about; None where it is about the day as a whole.
        form: Version of the form that an answer was given on; empty for what is no answer.
        question: Number of the question that was answered, among those that the change asks; None for what is no such answer.
        is_checked: Whether somebody looked at it again and says that it is right, odd as it is.
        round: Number of the round of the event; None where a day or an event has one.
        arm: Under which rules it was observed, where rules differ within a day; None where the day says it.
        period: Name of the part of the day or of the span of time, such as the wave; empty where none is meant.
        kind: What kind of player answered, such as a handicap band; empty where nobody wrote it down.
        recorder: Who recorded it, by a name without meaning outside the trial; empty where nobody is named.
        where: Where it stands in the table; empty where it stands in none.
    """

    day: str
    outcome: str
    value: float
    group: str = ""
    player: str = ""
    hole: int | None = None
    change: int | None = None
    form: str = ""
    question: int | None = None
    is_checked: bool = False
    round: int | None = None
    arm: Arm | None = None
    period: str = ""
    kind: str = ""
    recorder: str = ""
    where: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedPlayers:
    """How many players of one kind were asked for their answers.

    Attributes:
        kind: The kind, such as a handicap band; empty where kinds are not told apart.
        day: Name of the day; empty where all who were asked under the trial rules are meant together.
        asked: How many were asked, each as often as there was a day to ask about.
        where: Where it stands in the table; empty where it stands in none.
    """

    kind: str
    day: str
    asked: int
    where: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """What several people read of one and the same thing.

    Attributes:
        outcome: The outcome.
        values: Each recorder with what was read.
    """

    outcome: str
    values: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOutRow:
    """A row that was read and is not weighed.

    Attributes:
        where: Where it stands.
        reason: Why it is not weighed.
        day: Name of its day; empty where it stands for a whole pair.
        outcome: Its outcome; empty where it stands for several.
        is_query: Whether it is odd, and would be weighed if somebody said that it is right.
        rows: How many rows of the table it stands for.
        arm: Under which rules it was observed; None where that is not known.
    """

    where: str
    reason: str
    day: str = ""
    outcome: str = ""
    is_query: bool = False
    rows: int = 1
    arm: Arm | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialRecords:
    """Everything recorded of a trial.

    Attributes:
        days: The days, in order of date.
        observations: What was observed.
        left_out: Rows that are not weighed, counted and named.
        remarks: What is odd and does not keep anything from being weighed.
        asked: Who was asked for answers; none where nobody wrote that down.
        readings: What several people read of one thing; the value of it is their mean.
    """

    days: tuple[TrialDay, ...]
    observations: tuple[Observation, ...]
    left_out: tuple[LeftOutRow, ...] = ()
    remarks: tuple[str, ...] = field(default=())
    asked: tuple[AskedPlayers, ...] = ()
    readings: tuple[Readings, ...] = ()

    @property
    def is_simulated(self) -> bool:
        """Whether nobody played these days: a forecast wrote them."""
        return bool(self.days) and all(day.is_simulated for day in self.days)

    def kinds(self) -> Mapping[tuple[str, str], str]:
        """Of each player on each day the kind: it may stand in any row of that player and day."""
        return {(entry.day, entry.player): entry.kind for entry in self.observations if entry.player and entry.kind}

    def pairs(self) -> Sequence[tuple[str, TrialDay, TrialDay]]:
        """Each whole pair with its trial day and its ordinary day."""
        found = []
        for pair in dict.fromkeys(day.pair for day in self.days):
            by_arm = {day.arm: day for day in self.days if day.pair == pair and day.arm is not None}
            if len(by_arm) == len(Arm):
                found.append((pair, by_arm[Arm.TRIAL], by_arm[Arm.ORDINARY]))
        return found

    def arm_finder(self) -> Callable[[Observation], Arm | None]:
        """What tells of any value under which rules it was observed: as it says itself, else as its day says."""
        arms = {day.day: day.arm for day in self.days}
        return lambda entry: entry.arm or arms.get(entry.day)
