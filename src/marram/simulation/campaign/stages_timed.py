"""Stage times of a course from local timings: groups that had a hole to themselves tell how long it takes without waiting."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean, stdev

from marram.core.errors import StudyError
from marram.records.timings import HoleTiming
from marram.simulation.pace.hole_stages import PacedHole

FEWEST_ALONE = 8
"""So many groups alone on a hole give it a time of its own; else all holes of its par are taken together, else all holes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedCourse:
    """What timings tell of a course.

    Attributes:
        means: Mean stage times of each hole for a group of three.
        visits: How many timings there were.
        alone: How many of them were of groups that had the hole to themselves.
        own: Numbers of the holes that have a time of their own.
        error_pct: How far the round's time may be off because so few were timed, as a standard deviation.
    """

    means: tuple[tuple[float, ...], ...]
    visits: int
    alone: int
    own: tuple[int, ...]
    error_pct: float

    @property
    def provenance(self) -> str:
        """Where the stage times come from, in words."""
        return f"local timings: {self.visits}, of which {self.alone} of groups that had the hole to themselves"


def alone_on(timings: Sequence[HoleTiming]) -> Mapping[int, list[float]]:
    """Of each hole the minutes of groups that began it when the group ahead had cleared its green: nothing there kept them waiting.

    The first group of a day that was timed on a hole is left out: nobody knows who was ahead of it.
    """
    found: dict[int, list[float]] = {}
    for day, hole in dict.fromkeys((one.day, one.hole) for one in timings):
        on_hole = sorted((one for one in timings if (one.day, one.hole) == (day, hole)), key=lambda one: one.began_s)
        for ahead, behind in zip(on_hole, on_hole[1:], strict=False):
            if behind.began_s >= ahead.cleared_s:
                found.setdefault(hole, []).append(behind.minutes)
    return found


def timed_course(
    holes: Sequence[PacedHole],
    means: Sequence[Sequence[float]],
    happens_min: Sequence[float],
    size_factor: float,
    timings: Sequence[HoleTiming],
) -> TimedCourse:
    """Stage times of a course by its timings: the table's stages, each hole drawn out or in to the time that groups alone needed.

    Args:
        holes: The holes.
        means: Mean stage times of the table for a group of three.
        happens_min: What happens on each hole besides, such as searches, in the mean; the timings hold it too.
        size_factor: How stage times go with the size of the groups that were timed.
        timings: The timings.

    Raises:
        StudyError: Too few groups had a hole to themselves.
    """
    alone = alone_on(timings)
    ratios = {
        hole.number: [(minutes - besides) / (sum(stages) * size_factor) for minutes in alone.get(hole.number, ())]
        for hole, stages, besides in zip(holes, means, happens_min, strict=True)
    }
    everywhere = [ratio for own in ratios.values() for ratio in own]
    if len(everywhere) < FEWEST_ALONE:
        message = (
            f"Of {len(timings)} timings {len(everywhere)} are of groups that had a hole to themselves: too few to tell stage times by."
        )
        raise StudyError(
            message, hint=f"Time until {FEWEST_ALONE} groups have begun a hole with nobody ahead on it, such as early in the day."
        )
    scales = [max(fmean(_ratios_for(hole, holes, ratios, everywhere)), 0.1) for hole in holes]
    return TimedCourse(
        means=tuple(tuple(stage * scale for stage in stages) for stages, scale in zip(means, scales, strict=True)),
        visits=len(timings),
        alone=len(everywhere),
        own=tuple(hole.number for hole in holes if len(ratios[hole.number]) >= FEWEST_ALONE),
        error_pct=100 * stdev(everywhere) / sqrt(len(everywhere)),
    )


def _ratios_for(hole: PacedHole, holes: Sequence[PacedHole], ratios: Mapping[int, list[float]], everywhere: list[float]) -> list[float]:
    of_par = [ratio for other in holes if other.par == hole.par for ratio in ratios[other.number]]
    return next((own for own in (ratios[hole.number], of_par) if len(own) >= FEWEST_ALONE), everywhere)
