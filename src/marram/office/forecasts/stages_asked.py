"""The stage times that a forecast plays: those of the table, or those that local timings tell."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from marram.office.forecasts.course_paced import WALKING_M_S
from marram.office.forecasts.forecast_asked import ForecastAsked
from marram.office.forecasts.ways_played import present_way
from marram.rulebook.book import Book
from marram.simulation.assumed.assumptions import Assumptions, usual_assumptions
from marram.simulation.campaign.drawn_days import draw_days
from marram.simulation.campaign.field_of_day import SIZE_FACTORS, STAGE_MEANS, FieldOfDay, stage_means
from marram.simulation.campaign.stages_timed import timed_course
from marram.simulation.campaign.what_happens import happens
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.starting_sheet import group_sizes, starting_sheet

_DAYS, _GROUP_OF = 25, 3
_SCALE = "stage_times_pct"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedCourse:
    """The course of a forecast, with its stage times and what else is assumed.

    Attributes:
        holes: The holes.
        means: Mean stage times of each hole for a group of three.
        assumed: What is assumed; with local timings the stage times are no longer.
        timed: Where the stage times come from; empty for the table.
    """

    holes: tuple[PacedHole, ...]
    means: tuple[tuple[float, ...], ...]
    assumed: Assumptions
    timed: str

    def field(self, asked: ForecastAsked, interval_min: float) -> FieldOfDay:
        """The field of a day at a start interval.

        Args:
            asked: What the forecast is asked with.
            interval_min: The start interval.

        Raises:
            StudyError: It cannot be played.
        """
        sizes = group_sizes(asked.players, asked.group_size)
        starts = starting_sheet(sizes, interval_min=interval_min, holes=len(self.holes), start_from=asked.start_from)
        return FieldOfDay(holes=self.holes, starts=starts, means=self.means, lets_through=asked.lets_through)


def played_course(holes: tuple[PacedHole, ...], base: Book, asked: ForecastAsked) -> PlayedCourse:
    """The course of a forecast; where there are local timings they take the place of the table.

    Args:
        holes: The holes.
        base: The present book, under which groups were timed.
        asked: What the forecast is asked with.

    Raises:
        StudyError: Too few groups were timed, or a stated value cannot be meant.
    """
    assumed = usual_assumptions().stated(asked.stated)
    of_table = PlayedCourse(holes=holes, means=stage_means(holes), assumed=assumed, timed="")
    if not asked.timings:
        return of_table
    timed = timed_course(holes, of_table.means, _happens_min(of_table, base, asked), SIZE_FACTORS[asked.group_size], asked.timings)
    if _SCALE not in asked.stated:
        assumed = assumed.known(_SCALE, error=2 * timed.error_pct, provenance=timed.provenance)
    return PlayedCourse(holes=holes, means=timed.means, assumed=assumed, timed=timed.provenance)


def taken_as_fixed(course: PlayedCourse) -> tuple[str, ...]:
    """What is assumed and not tried at other values, each with where it comes from."""
    table = ", ".join(f"par {par} {sum(means):g} min" for par, means in STAGE_MEANS.items())
    sizes = ", ".join(f"{size} players {factor:.2f}" for size, factor in SIZE_FACTORS.items() if size != _GROUP_OF)
    stages = f"how a hole's time falls into its stages, by par ({course.timed} tell how long it takes): assumption"
    return (
        stages
        if course.timed
        else f"time of a hole for a group of three without waiting: {table}: assumption, no stage times were published",
        f"times the time of a group of three: {sizes}: as start intervals of published guidance go (Pace of Play Manual, 2016), that stage "
        "times follow them is an assumption",
        f"walks from green to tee: straight, at {WALKING_M_S:g} m/s on level ground: assumption; the survey gives the places",
        "searches begin after tee shots on par 4s and 5s, groups and stages vary apart from each other: assumption",
    )


def _happens_min(course: PlayedCourse, base: Book, asked: ForecastAsked) -> list[float]:
    """What happens on each hole besides ordinary play under the present rules, in the mean of groups and days."""
    field = course.field(asked, asked.interval_min)
    rules, drawn = present_way(base, asked).arm(field, course.assumed, asked, _DAYS).rules, draw_days(field, asked.seed, range(_DAYS))
    found = [happens(rules, field, drawn, place) for place in range(len(course.holes))]
    return [float(np.mean(one.after_tee_min + one.on_the_way_min + one.on_green_min)) for one in found]
