"""Days of play on given stage times, beside the same network of queues played event by event with SimPy.

The network of SimPy has one resource for each piece of a hole that one group holds at a time: of a par 3 the hole; of a par 4 the tee until
the second strokes are played, and the green; of a par 5 the tee, the ground between and the green. Both give the same times (the largest
difference is held below a thousand millionth of a minute). Drawing the stage times is a job of its own and told apart.
"""

from __future__ import annotations

from collections.abc import Generator, Sequence

import numpy as np
import simpy

from benchmarks.timing import Row, row, side_by_side
from marram.simulation.campaign.field_of_day import stage_means
from marram.simulation.pace.days_played import play_days
from marram.simulation.pace.groups_on_a_hole import Times
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.pace_draws import stage_times
from marram.simulation.pace.starting_sheet import GroupStart, StartFrom, starting_sheet

PARS = (4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5)
GROUPS, DAYS, ROUNDS = 54, 2000, 5
Day = Generator[simpy.events.Event, None, None]
_PIECES = {3: 1, 4: 2, 5: 3}


def event_by_event(holes: Sequence[PacedHole], stages: Sequence[list[list[float]]], starts: Sequence[GroupStart]) -> list[float]:
    """When each group ends, on one day; stages of each hole and group in plain numbers."""
    world = simpy.Environment()
    pieces = [[simpy.Resource(world) for _ in range(_PIECES[hole.par])] for hole in holes]
    ended = [0.0] * len(starts)

    def group(number: int) -> Day:
        yield world.timeout(starts[number].at_min)
        for place, hole in enumerate(holes):
            times, held = stages[place][number], pieces[place][0].request()
            yield held
            yield world.timeout(times[0])
            for piece in pieces[place][1:]:
                ahead = piece.request()
                yield ahead
                # from here the group holds the piece ahead; the one behind is free once the strokes there are played
                at = pieces[place].index(piece)
                yield world.timeout(times[2 * at - 1])
                pieces[place][at - 1].release(held)
                held = ahead
                yield world.timeout(times[2 * at])
            if hole.par == PARS[2]:
                yield world.timeout(times[1] + times[2])
            pieces[place][-1].release(held)
            ended[number] = world.now
            yield world.timeout(hole.walk_on_min)

    for number in range(len(starts)):
        world.process(group(number))
    world.run()
    return ended


def measure() -> list[Row]:
    """Days a second, ours and event by event, on the same stage times."""
    holes = tuple(PacedHole(number=number, par=par, walk_on_min=1.0) for number, par in enumerate(PARS, start=1))
    starts = starting_sheet([3] * GROUPS, interval_min=10, holes=len(holes), start_from=StartFrom.ONE_TEE)
    stages = stage_times(holes, stage_means(holes), GROUPS, 7, range(DAYS))
    one_day = [times[:, :, 0].tolist() for times in stages]
    ended = play_days(holes, stages, starts).ended[:, 0]
    assert np.abs(ended - event_by_event(holes, one_day, starts)).max() < 1e-9

    def ours() -> Times:
        return play_days(holes, stages, starts).ended

    found = side_by_side(
        {
            "ours": ours,
            "events": lambda: event_by_event(holes, one_day, starts),
            "drawing": lambda: stage_times(holes, stage_means(holes), GROUPS, 7, range(DAYS)),
        },
        ROUNDS,
    )
    return [
        row("a day of 54 groups on 18 holes", found["ours"] / DAYS, "the same network in SimPy", found["events"], GROUPS * len(PARS)),
        row("drawing its stage times", found["drawing"] / DAYS, "the same network in SimPy", found["events"], GROUPS * len(PARS)),
    ]


if __name__ == "__main__":
    measure()
