"""What a forecast finds: each change, how it is played, its expected effects with error and range kept apart, and what was not modelled."""

from __future__ import annotations

from dataclasses import dataclass

from marram.simulation.assumed.assumptions import Assumed
from marram.simulation.settings.played_keys import HowPlayed

OF_THE_DAY, OF_A_LONE_GROUP = "the day", "a lone group"
"""What an effect on the time of a round is of: queues multiply it over the day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedEffect:
    """An effect that a change is expected to have.

    Attributes:
        outcome: The outcome in the catalogue.
        unit: Unit of the effect.
        of: Whether it is that of the day, or of a group that has the course to itself.
        present: The outcome under the present rules.
        proposed: The same under the proposed rules.
        estimate: The difference.
        monte_carlo_error: How far it may be off because days were drawn, as a standard deviation.
        range: What it lies between as each weak input, one at a time, goes from its low to its high value; chance is not in it.
        sd_of_difference: Standard deviation of the difference of two days of a pair; None where no spread was stated.
        days_needed: Days, half of them under each set of rules, that would show an effect so large; None where none would, or none is told.
        days_needed_range: The same for the larger and for the smaller end of the range; None where that end shows on no number of days.
    """

    outcome: str
    unit: str
    of: str
    present: float
    proposed: float
    estimate: float
    monte_carlo_error: float
    range: tuple[float, float]
    sd_of_difference: float | None = None
    days_needed: int | None = None
    days_needed_range: tuple[int | None, int | None] = (None, None)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrivenBy:
    """How much of an effect hangs on one weak input.

    Attributes:
        assumed: The input.
        at_low: The effect of the day on the time of a round at its low value, minutes.
        at_high: The same at its high value.
    """

    assumed: Assumed
    at_low: float
    at_high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastChange:
    """One change in a forecast.

    Attributes:
        number: Its number in the trial; None for what is proposed of the terms of the day.
        key: Its key; empty as above.
        told: The change in words.
        played: How it is played.
        by: The keys, or terms, by which it is played.
        changes: What of the game it changes; why nothing, where it is not played.
        assuming: What is taken for granted; empty where nothing is.
        effects: Its expected effects; none where it is not played.
        driven_by: What its effect on the day hangs on, the strongest first.
        not_shown: What it is expected or guarded to move and no part of the forecast tells.
    """

    number: int | None
    key: str
    told: str
    played: HowPlayed
    by: tuple[str, ...]
    changes: str
    assuming: str
    effects: tuple[ExpectedEffect, ...]
    driven_by: tuple[DrivenBy, ...]
    not_shown: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ByInterval:
    """The mean round of the day at another start interval.

    Attributes:
        interval_min: The interval.
        present_min: Mean round under the present rules.
        proposed_min: The same under all proposed changes.
    """

    interval_min: float
    present_min: float
    proposed_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureOfDay:
    """What pictures of the day are drawn from.

    Attributes:
        started_min: Starting time of each group, minutes after the first.
        present_min: Mean round of each group under the present rules.
        proposed_min: The same under all proposed changes.
        holes: Numbers of the holes.
        waiting_present_min: Mean waiting of a group for each hole under the present rules.
        waiting_proposed_min: The same under all proposed changes.
        by_interval: The mean round at other start intervals.
    """

    started_min: tuple[float, ...]
    present_min: tuple[float, ...]
    proposed_min: tuple[float, ...]
    holes: tuple[int, ...]
    waiting_present_min: tuple[float, ...]
    waiting_proposed_min: tuple[float, ...]
    by_interval: tuple[ByInterval, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """What a trial is expected to do.

    Attributes:
        trial: Title of the trial.
        trial_stamp: Its stamp.
        present: Name of the present book.
        present_stamp: Its stamp.
        proposed: Name of the proposed book.
        proposed_stamp: Its stamp.
        course: Name of the course.
        field: The field of the day in words.
        days: Days played under each set of rules.
        seed: Seed of all chance.
        timed: Which local timings tell the stage times; empty where those of the table are played.
        is_independent: Whether the rules were played on days of their own.
        changes: The changes.
        together: Effects of all changes together.
        not_modelled: What no part of the forecast plays.
        assumed: Every value that was assumed or stated.
        fixed: What is assumed besides and was not tried at other values.
        lacks_spread: Whether nobody stated how far days differ, so that days needed cannot be told.
        picture: What pictures are drawn from.
    """

    trial: str
    trial_stamp: str
    present: str
    present_stamp: str
    proposed: str
    proposed_stamp: str
    course: str
    field: str
    days: int
    seed: int
    timed: str
    is_independent: bool
    changes: tuple[ForecastChange, ...]
    together: tuple[ExpectedEffect, ...]
    not_modelled: tuple[str, ...]
    assumed: tuple[Assumed, ...]
    fixed: tuple[str, ...]
    lacks_spread: bool
    picture: PictureOfDay
