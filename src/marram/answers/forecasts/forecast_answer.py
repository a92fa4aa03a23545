"""What a trial is expected to do, as outsiders read it. Nothing in it was found on a course."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.office.forecasts.forecast_found import DrivenBy, ExpectedEffect, Forecast, ForecastChange, PictureOfDay
    from marram.simulation.assumed.assumptions import Assumed


class ExpectedEffectShape(Shape, frozen=True, kw_only=True):
    """An effect that a change is expected to have.

    Attributes:
        outcome: The outcome.
        unit: Unit of the effect.
        of: `the day`, or `a lone group` that has the course to itself.
        present: The outcome under the present rules.
        proposed: The same under the proposed rules.
        estimate: The difference: proposed less present.
        monte_carlo_error: How far it may be off because days were drawn, as a standard deviation.
        range: What it lies between as each weak input, one at a time, goes from its low to its high value; chance is not in it.
        sd_of_difference: Standard deviation of the difference of two days of a pair; null where no spread was stated.
        days_needed: Days, half of them under each set of rules, that would show an effect so large; null where none would, or none is told.
        days_needed_range: The same at the stronger and at the weaker end of the range.
    """

    outcome: str
    unit: str
    of: str
    present: float
    proposed: float
    estimate: float
    monte_carlo_error: float
    range: tuple[float, float]
    sd_of_difference: float | None
    days_needed: int | None
    days_needed_range: tuple[int | None, int | None]


class AssumedValueShape(Shape, frozen=True, kw_only=True):
    """A value that no rule states.

    Attributes:
        name: Its name, under which another may be stated.
        means: What it is.
        value: What was played.
        low: Least value that may well be meant.
        high: Largest such value.
        unit: Unit.
        provenance: Where it comes from: an assumption, memory, what was read, local timings, or stated for this forecast.
    """

    name: str
    means: str
    value: float
    low: float
    high: float
    unit: str
    provenance: str


class DrivenByShape(Shape, frozen=True, kw_only=True):
    """How much of the effect on the round of the day hangs on one weak input.

    Attributes:
        name: Name of the input.
        at_low_min: The effect at its low value.
        at_high_min: The effect at its high value.
    """

    name: str
    at_low_min: float
    at_high_min: float


class ForecastChangeShape(Shape, frozen=True, kw_only=True):
    """One change in a forecast.

    Attributes:
        change: Its number in the trial; null for what is proposed of the terms of the day.
        key: Its key; empty as above.
        told: The change in words.
        played: `played`, `played by an assumption` or `not played`.
        by: The keys, or terms, by which it is played.
        plays: What of the game it changes; why nothing, where it is not played.
        assuming: What is taken for granted; empty where nothing is.
        effects: Its expected effects; none where it is not played.
        driven_by: What its effect on the day hangs on, the strongest first.
        not_shown: What it is expected or guarded to move and no part of the forecast tells.
    """

    change: int | None
    key: str
    told: str
    played: str
    by: tuple[str, ...]
    plays: str
    assuming: str
    effects: tuple[ExpectedEffectShape, ...]
    driven_by: tuple[DrivenByShape, ...]
    not_shown: tuple[str, ...]


class ByIntervalShape(Shape, frozen=True, kw_only=True):
    """The mean round of the day at a start interval.

    Attributes:
        interval_min: The interval.
        present_min: Mean round under the present rules.
        proposed_min: The same under all proposed changes.
    """

    interval_min: float
    present_min: float
    proposed_min: float


class PictureOfDayShape(Shape, frozen=True, kw_only=True):
    """The day in figures.

    Attributes:
        started_min: Starting time of each group, minutes after the first.
        present_min: Mean round of each group under the present rules.
        proposed_min: The same under all proposed changes.
        holes: Numbers of the holes.
        waiting_present_min: Mean waiting of a group for each hole under the present rules.
        waiting_proposed_min: The same under all proposed changes.
        by_interval: The mean round at this and other start intervals.
    """

    started_min: tuple[float, ...]
    present_min: tuple[float, ...]
    proposed_min: tuple[float, ...]
    holes: tuple[int, ...]
    waiting_present_min: tuple[float, ...]
    waiting_proposed_min: tuple[float, ...]
    by_interval: tuple[ByIntervalShape, ...]


class ForecastAnswer(Answer, frozen=True, kw_only=True):
    """What a trial is expected to do.

    Attributes:
        schema: Name and version of this shape.
        is_simulated: True: nothing here was found on a course.
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
        timed: Which local timings tell the stage times; empty where those of the table were played.
        is_independent: Whether each set of rules was played on days of its own.
        changes: The changes.
        together: Effects of all changes together.
        not_modelled: What no part of the forecast plays.
        assumed: Every value that was assumed or stated.
        fixed: What is assumed besides and was not tried at other values, each with where it comes from.
        lacks_spread: Whether nobody stated how far days differ, so that days needed cannot be told.
        picture: The day in figures.
    """

    schema: Literal["marram.forecast/1"] = "marram.forecast/1"
    is_simulated: bool = True
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
    changes: tuple[ForecastChangeShape, ...]
    together: tuple[ExpectedEffectShape, ...]
    not_modelled: tuple[str, ...]
    assumed: tuple[AssumedValueShape, ...]
    fixed: tuple[str, ...]
    lacks_spread: bool
    picture: PictureOfDayShape


def forecast_answer(found: Forecast) -> ForecastAnswer:
    """A forecast as outsiders read it."""
    return ForecastAnswer(
        trial=found.trial,
        trial_stamp=found.trial_stamp,
        present=found.present,
        present_stamp=found.present_stamp,
        proposed=found.proposed,
        proposed_stamp=found.proposed_stamp,
        course=found.course,
        field=found.field,
        days=found.days,
        seed=found.seed,
        timed=found.timed,
        is_independent=found.is_independent,
        changes=tuple(map(_change, found.changes)),
        together=tuple(map(_effect, found.together)),
        not_modelled=found.not_modelled,
        assumed=tuple(map(assumed_shape, found.assumed)),
        fixed=found.fixed,
        lacks_spread=found.lacks_spread,
        picture=_picture(found.picture),
    )


def assumed_shape(one: Assumed) -> AssumedValueShape:
    """An assumed value as outsiders read it."""
    return AssumedValueShape(
        name=one.name, means=one.means, value=one.value, low=one.low, high=one.high, unit=one.unit, provenance=one.provenance
    )


def _change(one: ForecastChange) -> ForecastChangeShape:
    return ForecastChangeShape(
        change=one.number,
        key=one.key,
        told=one.told,
        played=one.played.value,
        by=one.by,
        plays=one.changes,
        assuming=one.assuming,
        effects=tuple(map(_effect, one.effects)),
        driven_by=tuple(map(_driven_by, one.driven_by)),
        not_shown=one.not_shown,
    )


def _effect(effect: ExpectedEffect) -> ExpectedEffectShape:
    low, high = effect.range
    return ExpectedEffectShape(
        outcome=effect.outcome,
        unit=effect.unit,
        of=effect.of,
        present=_told(effect.present),
        proposed=_told(effect.proposed),
        estimate=_told(effect.estimate),
        monte_carlo_error=_told(effect.monte_carlo_error),
        range=(_told(low), _told(high)),
        sd_of_difference=None if effect.sd_of_difference is None else _told(effect.sd_of_difference),
        days_needed=effect.days_needed,
        days_needed_range=effect.days_needed_range,
    )


def _driven_by(one: DrivenBy) -> DrivenByShape:
    return DrivenByShape(name=one.assumed.name, at_low_min=_told(one.at_low), at_high_min=_told(one.at_high))


def _picture(picture: PictureOfDay) -> PictureOfDayShape:
    return PictureOfDayShape(
        started_min=picture.started_min,
        present_min=tuple(map(_told, picture.present_min)),
        proposed_min=tuple(map(_told, picture.proposed_min)),
        holes=picture.holes,
        waiting_present_min=tuple(map(_told, picture.waiting_present_min)),
        waiting_proposed_min=tuple(map(_told, picture.waiting_proposed_min)),
        by_interval=tuple(
            ByIntervalShape(interval_min=one.interval_min, present_min=_told(one.present_min), proposed_min=_told(one.proposed_min))
            for one in picture.by_interval
        ),
    )


def _told(value: float) -> float:
    """A figure as it is told: more digits than it has meaning for, and none that differ between machines."""
    return round(value, 6) + 0.0
