"""One line of sensitivity: what another way of reckoning says of the same values. It never changes a word."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marram.evidence.effects import Interval


class Way(StrEnum):
    """Another way of reckoning."""

    ROWS = "rows"
    TRIMMED = "trimmed days"
    WITHOUT_ONE = "without one pair"
    FILLED = "missing filled in"
    EVENTS = "events by themselves"
    WITHIN_PLAYERS = "within players"
    COURSES = "course by course"
    RANKS = "days by rank"
    TWO_LOTS = "days as two lots"


class Scale(StrEnum):
    """On which scale it says it; of every ratio, 1 is no difference."""

    DIFFERENCE = "difference"
    TIMES_RATIO = "ratio of times"
    RATES_RATIO = "ratio of rates"
    ODDS_RATIO = "ratio of odds"
    CHANCE = "chance of a higher value"


@dataclass(frozen=True, slots=True, kw_only=True)
class SensitivityLine:
    """What another way of reckoning says.

    Attributes:
        way: The way.
        outcome: Key of the outcome.
        question: The question that was answered; empty for what is no answer.
        scale: On which scale it is said.
        estimate: What it says; None where it cannot be worked out.
        interval95: Its 95 % interval; without one pair, the range over all pairs. None where there is none.
        rows: How many values it rests on.
        model: What was fitted, in words.
        p: One-sided p, where that is what is told; None elsewhere.
        why_none: Why it cannot be worked out; empty where it can.
    """

    way: Way
    outcome: str
    question: str = ""
    scale: Scale
    estimate: float | None
    interval95: Interval | None
    rows: int
    model: str
    p: float | None = None
    why_none: str = ""
