"""Forecast a trial: play the day under the present and the proposed rules, and say what is expected, by how much, and what nobody knows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from marram.core.work import Work
from marram.course.course import Course
from marram.office.forecasts.course_paced import paced_holes
from marram.office.forecasts.days_to_find import days_to_find, sd_of_pair
from marram.office.forecasts.forecast_asked import ForecastAsked, refuse_asked
from marram.office.forecasts.forecast_found import (
    OF_A_LONE_GROUP,
    OF_THE_DAY,
    ByInterval,
    DrivenBy,
    ExpectedEffect,
    Forecast,
    ForecastChange,
    PictureOfDay,
)
from marram.office.forecasts.stages_asked import PlayedCourse, played_course, taken_as_fixed
from marram.office.forecasts.ways_played import (
    PRESENT,
    TOGETHER,
    ChangePlayed,
    WayPlayed,
    changes_played,
    present_way,
    together_way,
)
from marram.office.trials.planned_trial import trial_stamp
from marram.records.outcomes import outcomes
from marram.rulebook.book import Book
from marram.rulebook.overlays.overlay import Overlay
from marram.simulation.assumed.assumptions import Assumptions
from marram.simulation.campaign.arm_played import LONE_ROUND, ArmPlayed, first_days
from marram.simulation.campaign.days_at_work import ArmAsked, play_arms
from marram.simulation.campaign.effects_found import Effect, effect_of, spread_of_days
from marram.simulation.campaign.pace_checks import refuse_failed_checks
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.starting_sheet import StartFrom, group_sizes
from marram.simulation.settings.played_keys import NOT_MODELLED

_ROUND = "round_min"
_RANGE_DAYS = 50
"""Days on which the ends of the range are played: a difference of differences on equal days needs few."""
_LEAST_INTERVAL_MIN = 5.0


def forecast_trial(trial: Overlay, base: Book, course: Course, asked: ForecastAsked, work: Work | None = None) -> Forecast:
    """Forecast a trial on a course.

    Args:
        trial: The trial.
        base: The present book, for which the trial is written.
        course: The course.
        asked: What the forecast is asked with.
        work: Told how far it is.

    Raises:
        StudyError: The day or a number cannot be meant.
        SurveyError: The course lacks what a day needs.
        OwnFault: The pace of play fails its own checks.
    """
    holes = paced_holes(course, waves_up=asked.waves_up)
    return forecast_on(trial, base, course.name, holes, asked, work)


def forecast_on(
    trial: Overlay, base: Book, course_name: str, holes: tuple[PacedHole, ...], asked: ForecastAsked, work: Work | None = None
) -> Forecast:
    """Forecast a trial on holes that are given as the pace of play knows them: see `forecast_trial`."""
    refuse_asked(asked)
    refuse_failed_checks()
    course = played_course(holes, base, asked)
    changes = changes_played(trial, base, asked)
    together, book = together_way(trial, base, asked, changes)
    ways = [present_way(base, asked), *(one.way for one in changes if one.way), together]
    played = play_arms(dict(_arms(ways, course, asked)), workers=asked.workers, work=work)
    finder = _Finder(played, course.assumed, asked)
    return Forecast(
        trial=trial.title,
        trial_stamp=trial_stamp(trial),
        present=base.name,
        present_stamp=base.stamp,
        proposed=book.name,
        proposed_stamp=book.stamp,
        course=course_name,
        field=_field_words(holes, asked),
        days=asked.days,
        seed=asked.seed,
        timed=course.timed,
        is_independent=asked.is_independent,
        changes=tuple(finder.change(one) for one in changes),
        together=finder.effects(together, _shown(changes)),
        not_modelled=NOT_MODELLED,
        assumed=tuple(course.assumed),
        fixed=taken_as_fixed(course),
        lacks_spread=not asked.spread,
        picture=_picture(played, course, asked),
    )


def _arms(ways: list[WayPlayed], course: PlayedCourse, asked: ForecastAsked) -> Iterator[tuple[str, ArmAsked]]:
    """All days that are played: every way, and the ways that hang on a weak input at both its ends."""
    assumed = course.assumed
    fields = {minutes: course.field(asked, minutes) for minutes in {way.interval_min for way in ways}}
    few = min(_RANGE_DAYS, asked.days)
    for way in ways:
        yield way.name, way.arm(fields[way.interval_min], assumed, asked, asked.days)
    for one in assumed:
        if not one.is_weak:
            continue
        for end, value in (("low", one.low), ("high", one.high)):
            at_end = assumed.at(one.name, value)
            for way in ways:
                if way.name == PRESENT or one.name in way.rests_on:
                    yield _at(one.name, end, way.name), way.arm(fields[way.interval_min], at_end, asked, few)
    for minutes in _other_intervals(asked):
        field = course.field(asked, minutes)
        for way in (ways[0], ways[-1]):
            yield _at("interval", f"{minutes:g}", way.name), way.arm(field, assumed, asked, few)


def _at(what: str, end: str, way: str) -> str:
    return f"{way} at {what} {end}"


def _other_intervals(asked: ForecastAsked) -> tuple[float, ...]:
    """Start intervals a minute and two from the present one; none where all start at once or another interval is proposed."""
    if asked.start_from is StartFrom.EVERY_HOLE or asked.proposed_interval_min is not None:
        return ()
    near = (asked.interval_min + minutes for minutes in (-2, -1, 1, 2))
    return tuple(minutes for minutes in near if minutes >= _LEAST_INTERVAL_MIN)


class _Finder:
    """Finds effects in the days that were played."""

    def __init__(self, played: Mapping[str, ArmPlayed], assumed: Assumptions, asked: ForecastAsked) -> None:
        self.played, self.assumed, self.asked = played, assumed, asked

    def change(self, one: ChangePlayed) -> ForecastChange:
        """What a change is expected to do."""
        shows = one.how.shows if one.how is not None and one.way is not None else ()
        assuming = one.how.assuming if one.how is not None and one.way is not None else ""
        return ForecastChange(
            number=one.number,
            key=one.change.key if one.change else "",
            told=one.told,
            played=one.played,
            by=one.by,
            changes=one.why_not or (one.how.what if one.how else ""),
            assuming=assuming,
            effects=self.effects(one.way, shows) if one.way else (),
            driven_by=self._driven_by(one.way) if one.way else (),
            not_shown=_not_shown(one, shows),
        )

    def effects(self, way: WayPlayed, shows: Iterable[str]) -> tuple[ExpectedEffect, ...]:
        """The effects of a way of playing the days."""
        named = [(_ROUND, OF_THE_DAY), (LONE_ROUND, OF_A_LONE_GROUP), ("waiting_min", OF_THE_DAY), *((name, OF_THE_DAY) for name in shows)]
        return tuple(self._effect(way, name, of) for name, of in named)

    def _effect(self, way: WayPlayed, name: str, of: str) -> ExpectedEffect:
        present, proposed = self.played[PRESENT], self.played[way.name]
        found = effect_of(present, proposed, name)
        ends = [found.estimate, *(found.estimate + shift for one in self._weak(way) for shift in self._shifts(way, one, name))]
        outcome = _ROUND if name == LONE_ROUND else name
        expected = ExpectedEffect(
            outcome=outcome,
            unit=outcomes()[outcome].effect_unit,
            of=of,
            present=found.present,
            proposed=found.proposed,
            estimate=found.estimate,
            monte_carlo_error=found.monte_carlo_error,
            range=(min(ends), max(ends)),
        )
        spread = self.asked.spread.get(outcome)
        return (
            expected if spread is None or of == OF_A_LONE_GROUP else _with_days(expected, sd_of_pair(spread, spread_of_days(present, name)))
        )

    def _weak(self, way: WayPlayed) -> list[str]:
        return [one.name for one in self.assumed if one.is_weak and one.name in way.rests_on]

    def _shifts(self, way: WayPlayed, weak: str, name: str) -> tuple[float, float]:
        """By how much the effect moves as a weak input goes to its low and to its high value, on equal days."""
        few = min(_RANGE_DAYS, self.asked.days)
        middle = effect_of(first_days(self.played[PRESENT], few), first_days(self.played[way.name], few), name)
        low, high = (self._at_end(way, weak, end, name).estimate - middle.estimate for end in ("low", "high"))
        return low, high

    def _at_end(self, way: WayPlayed, weak: str, end: str, name: str) -> Effect:
        return effect_of(self.played[_at(weak, end, PRESENT)], self.played[_at(weak, end, way.name)], name)

    def _driven_by(self, way: WayPlayed) -> tuple[DrivenBy, ...]:
        """What the effect on the round of the day hangs on, the strongest first."""
        middle = effect_of(self.played[PRESENT], self.played[way.name], _ROUND).estimate
        found = [(self.assumed.by_name[name], self._shifts(way, name, _ROUND)) for name in self._weak(way)]
        driven = [DrivenBy(assumed=one, at_low=middle + low, at_high=middle + high) for one, (low, high) in found if low or high]
        return tuple(sorted(driven, key=lambda one: -abs(one.at_high - one.at_low)))


def _with_days(effect: ExpectedEffect, sd: float) -> ExpectedEffect:
    """The effect with the days that would show it, and its ends: the larger end shows on fewer days."""
    low, high = effect.range
    larger, smaller = (high, low) if abs(high) >= abs(low) else (low, high)
    crosses = low < 0 < high
    return replace(
        effect,
        sd_of_difference=sd,
        days_needed=days_to_find(effect.estimate, sd),
        days_needed_range=(days_to_find(larger, sd), None if crosses else days_to_find(smaller, sd)),
    )


def _shown(changes: Iterable[ChangePlayed]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for one in changes if one.how is not None and one.way is not None for name in one.how.shows))


def _not_shown(one: ChangePlayed, shows: Iterable[str]) -> tuple[str, ...]:
    """What a change is expected or guarded to move and no part of the forecast tells, in words."""
    if one.change is None:
        return ()
    told = {_ROUND, "waiting_min", *shows} if one.way else set()
    wanted = [one.change.expects.outcome] if one.change.expects else []
    wanted += [guard.outcome for guard in one.change.guards]
    return tuple(outcomes()[name].called for name in dict.fromkeys(wanted) if name not in told)


def _field_words(holes: tuple[PacedHole, ...], asked: ForecastAsked) -> str:
    sizes = group_sizes(asked.players, asked.group_size)
    groups = (
        f"{asked.players} players in {len(sizes)} groups of {asked.group_size if len(set(sizes)) == 1 else f'up to {asked.group_size}'}"
    )
    starts = {
        StartFrom.ONE_TEE: f"from one tee every {asked.interval_min:g} minutes",
        StartFrom.TWO_TEES: f"from two tees every {asked.interval_min:g} minutes",
        StartFrom.EVERY_HOLE: "from every hole at once",
    }
    calling = "; groups are called up on par 3s" if asked.waves_up else ""
    letting = "; who has lost a hole lets the next group through" if asked.lets_through else ""
    return f"{groups}, {starts[asked.start_from]}, {len(holes)} holes{calling}{letting}"


def _picture(played: Mapping[str, ArmPlayed], course: PlayedCourse, asked: ForecastAsked) -> PictureOfDay:
    present, proposed = played[PRESENT], played[TOGETHER]
    by_interval = [
        ByInterval(
            interval_min=minutes,
            present_min=played[_at("interval", f"{minutes:g}", PRESENT)].sums[_ROUND].mean,
            proposed_min=played[_at("interval", f"{minutes:g}", TOGETHER)].sums[_ROUND].mean,
        )
        for minutes in _other_intervals(asked)
    ]
    here = ByInterval(interval_min=asked.interval_min, present_min=present.sums[_ROUND].mean, proposed_min=proposed.sums[_ROUND].mean)
    starts = course.field(asked, asked.interval_min).starts
    return PictureOfDay(
        started_min=tuple(start.at_min for start in starts),
        present_min=tuple(present.by_group_min.mean(axis=1).tolist()),
        proposed_min=tuple(proposed.by_group_min.mean(axis=1).tolist()),
        holes=tuple(hole.number for hole in course.holes),
        waiting_present_min=tuple(present.waiting_by_hole_min.mean(axis=1).tolist()),
        waiting_proposed_min=tuple(proposed.waiting_by_hole_min.mean(axis=1).tolist()),
        by_interval=tuple(sorted([*by_interval, here], key=lambda one: one.interval_min)) if by_interval else (),
    )
