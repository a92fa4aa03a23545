"""The terms of an event: those of the competition, and what entries, draw and starting times need besides."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction

from marram.events.decided.cut_terms import CutTerms
from marram.events.team_places import TeamTerms
from marram.scoring.competition.terms_of_competition import Terms

NINE_MIN = 120
"""Half of a round of four hours, as three players are often given; common practice. The terms may say otherwise."""


class Way(StrEnum):
    """How a field starts."""

    TIMES = "times"
    SHOTGUN = "shotgun"


@dataclass(frozen=True, slots=True, kw_only=True)
class Starting:
    """How the field starts.

    Attributes:
        first_min: When the first group starts, in minutes from midnight.
        interval_min: Minutes from one starting time to the next; between two groups on one hole of a shotgun start.
        group_size: How many play together.
        holes: Holes from which groups start: one or two, or those of a shotgun start.
        way: One after the other, or all at once.
        gap_after: After so many groups of a tee one time stays empty; None where none does.
        nine_min: So long a group takes for nine holes.
    """

    first_min: int
    interval_min: int
    group_size: int
    holes: tuple[int, ...] = (1,)
    way: Way = Way.TIMES
    gap_after: int | None = None
    nine_min: int = NINE_MIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Division:
    """A part of the field with places of its own.

    Attributes:
        name: Its name.
        least_index: The lowest Handicap Index in it; None where there is no limit.
        most_index: The highest; None where there is no limit.
        tees: Tees that it plays from; none where any may be.
    """

    name: str
    least_index: Fraction | None = None
    most_index: Fraction | None = None
    tees: tuple[str, ...] = ()

    def takes(self, tee: str, index: Fraction | None) -> bool:
        """Whether a player belongs to it.

        Args:
            tee: The tee that is played from.
            index: The Handicap Index; None where none is stated.
        """
        if self.tees and tee not in self.tees:
            return False
        if self.least_index is None and self.most_index is None:
            return True
        if index is None:
            return False
        return (self.least_index is None or self.least_index <= index) and (self.most_index is None or index <= self.most_index)


@dataclass(frozen=True, slots=True, kw_only=True)
class EventTerms:
    """The terms of an event.

    Attributes:
        terms: What cards are scored by.
        course: Name of the course; empty where none is stated.
        day: The day, the first of several; None where none is stated.
        days: The day of each round, where the terms state them one by one; empty else.
        book: The book that is played by; empty for the edition in force.
        divisions: Parts of the field with places of their own.
        starting: How the field starts; None where that is not stated.
        cut: The cut; None where everybody plays every round.
        team: How teams are placed; None where there are none.
    """

    terms: Terms
    course: str = ""
    day: date | None = None
    days: tuple[date, ...] = ()
    book: str = ""
    divisions: tuple[Division, ...] = ()
    starting: Starting | None = None
    cut: CutTerms | None = None
    team: TeamTerms | None = None

    def day_of(self, number: int) -> date | None:
        """The day of a round; None where none is stated.

        Args:
            number: Number of the round.
        """
        return self.days[number - 1] if number <= len(self.days) else self.day

    @property
    def division_names(self) -> Mapping[str, Division]:
        """The divisions by name."""
        return {division.name: division for division in self.divisions}
