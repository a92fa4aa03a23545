"""Rows that the pace of play must meet before any forecast is given: cycles of full holes, lone groups, and a published example."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from marram.core.errors import OwnFault
from marram.simulation.pace.days_played import play_days
from marram.simulation.pace.groups_on_a_hole import queue_of
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.starting_sheet import GroupStart

_CYCLES: tuple[tuple[int, bool, tuple[float, ...], float, float], ...] = (
    (3, False, (3.3, 2.2, 4.2), 9.7, 9.7),
    (3, True, (3.3, 2.2, 4.2), 7.5, 9.7),
    (4, False, (5, 3, 5), 8.0, 13.0),
    (4, False, (5, 2, 5), 7.0, 12.0),
    (5, False, (4, 2, 3, 2, 4), 7.0, 15.0),
    (5, False, (5, 2, 3, 2, 5), 7.0, 17.0),
)
"""Par, calling up, stages, then the interval of a full hole and the time of a lone group, minutes (exact, from the stage models)."""
_GROUPS, _WITHIN = 30, 1e-9


def refuse_failed_checks() -> None:
    """See that the pace of play meets its rows.

    Raises:
        OwnFault: It does not; every row is named, and no forecast is given.
    """
    failed = [*_failed_cycles(), *_failed_example()]
    if failed:
        raise OwnFault("\n  ".join(["The pace of play fails its own checks, so no forecast is given:", *failed]))


def _failed_cycles() -> Iterator[str]:
    for par, waves_up, stages, cycle, alone in _CYCLES:
        hole = PacedHole(number=1, par=par, walk_on_min=0, waves_up=waves_up)
        cleared = _cleared(hole, stages, _GROUPS)
        for what, found, wanted in (("full", cleared[-2] - cleared[-3], cycle), ("alone", _cleared(hole, stages, 1)[0], alone)):
            if not abs(found - wanted) < _WITHIN:
                yield f"par {par}{', calling up' * waves_up}, stages {stages}, {what}: {found:g} min, and {wanted:g} is exact"


def _cleared(hole: PacedHole, stages: tuple[float, ...], groups: int) -> list[float]:
    """When each of some equal groups that all wait at time 0 clears the green."""
    queue, times = queue_of(hole), np.array(stages, dtype=np.float64)[:, None]
    settled = [queue.follow(np.zeros(1), times, np.empty(1), np.empty(1)) for _ in range(groups)]
    return [float(one[0]) for one in (*settled, queue.end()) if one is not None]


def _failed_example() -> Iterator[str]:
    """Holes of 12, 12 and 9 minutes, groups every 8: group n waits n - 1 minutes on the third tee (Pace of Play Manual, 2016, 2.2a)."""
    holes = [PacedHole(number=number, par=par, walk_on_min=0) for number, par in enumerate((4, 4, 3), start=1)]
    stages = [np.tile(np.array(one, dtype=np.float64)[None, :, None], (4, 1, 1)) for one in ((5, 2, 5), (5, 2, 5), (3, 2, 4))]
    starts = [GroupStart(at_min=8.0 * number, place=0, size=3) for number in range(4)]
    waits = play_days(holes, stages, starts).waited_on_tee_min[2, :, 0].tolist()
    if not np.allclose(waits, [0, 1, 2, 3], atol=_WITHIN):
        yield f"the example of the manual: waits of {waits} min on the third tee, and 0, 1, 2, 3 are published"
