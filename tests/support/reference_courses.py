"""Reference courses for the pace of play: pars, stage means and the law of the stages, all invented for checks (derived)."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from marram.simulation.pace.days_played import DaysPlayed, play_days
from marram.simulation.pace.groups_on_a_hole import Times, queue_of
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.pace_draws import stage_times
from marram.simulation.pace.starting_sheet import StartFrom, starting_sheet

PARS = (4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5)
MEANS: dict[int, tuple[float, ...]] = {3: (3.3, 2.2, 4.2), 4: (5, 3, 5), 5: (5, 2, 3, 2, 5)}
GROUPS = 54


def reference_holes(*, waves_up: bool = False) -> tuple[PacedHole, ...]:
    return tuple(PacedHole(number=number, par=par, walk_on_min=1.0, waves_up=waves_up) for number, par in enumerate(PARS, start=1))


def reference_days(
    interval_min: float, days: Sequence[int], *, waves_up: bool = False, lost_min: float = 0.0, groups: int = GROUPS
) -> DaysPlayed:
    """The first reference course; with `lost_min` the second: each first stage of a par 4 or 5 is longer by so much one time in ten."""
    holes = reference_holes(waves_up=waves_up)
    stages = stage_times(holes, [MEANS[par] for par in PARS], groups, 7, days)
    if lost_min:
        rng = np.random.default_rng([3, days[0]])
        for hole, times in zip(holes, stages, strict=True):
            if hole.par != 3:
                times[:, 0] += lost_min * (rng.random((groups, len(days))) < 0.1)
    starts = starting_sheet([3] * groups, interval_min=interval_min, holes=18, start_from=StartFrom.ONE_TEE)
    return play_days(holes, stages, starts)


def green_clear_times(hole: PacedHole, stages: Times) -> Times:
    """When each of many groups that all wait at time 0 clears the green; shape (groups, days)."""
    queue, spare = queue_of(hole), np.empty((2, stages.shape[-1]))
    settled = [queue.follow(np.zeros(stages.shape[-1]), one, spare[0].copy(), spare[1].copy()) for one in stages]
    return np.stack([cleared for cleared in (*settled, queue.end()) if cleared is not None])


def in_chunks(play: Callable[[range], DaysPlayed], days: int, at_once: int = 250) -> Times:
    """Round times of many days, worked out some at a time; shape (groups, days)."""
    return np.concatenate([play(range(first, first + at_once)).round_min for first in range(0, days, at_once)], axis=1)
