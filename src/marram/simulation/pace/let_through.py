"""Play days on which a group that has lost its place lets the group behind it through, on the tee of a hole."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from marram.core.errors import StudyError
from marram.simulation.pace.days_played import DaysPlayed, days_of
from marram.simulation.pace.groups_on_a_hole import NEVER, Times, queue_of
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.starting_sheet import GroupStart


def play_letting_through(holes: Sequence[PacedHole], stages: Sequence[Times], starts: Sequence[GroupStart]) -> DaysPlayed:
    """Play days on given stage times, all groups from one tee, and let quicker groups through.

    A group lets the next one through on the tee of a hole, but not of the first, where the hole before it is clear when it comes there, so
    that it has fallen a hole behind, and the next group comes before it has played from the tee. It then follows that group. Where groups
    are called up nobody is let through besides.

    Args:
        holes: The holes in order.
        stages: Of each hole how long each group needs for each stage, minutes; shape (groups, stages, days).
        starts: When each group starts, all on the first hole.

    Raises:
        StudyError: Groups start elsewhere too, or the stage times do not fit the holes.
    """
    if any(start.place for start in starts):
        raise StudyError("Groups are let through where all start from one tee.", hint="Start from one tee, or let nobody through.")
    days = days_of(holes, stages, starts)
    shape = (len(holes), len(starts), days)
    on_tee, beyond, ended = np.empty(shape), np.empty(shape), np.empty(shape[1:])
    started = np.array([start.at_min for start in starts])
    order = np.argsort(started, kind="stable")
    who, came = np.tile(order[:, None], (1, days)), np.tile(started[order][:, None], (1, days))
    for place, hole in enumerate(holes):
        may_let = place > 0 and not hole.waves_up
        times = np.take_along_axis(stages[place], who[:, None, :], axis=0)
        cleared, waited = _played(hole, came, times, who, may_let=may_let)
        np.put_along_axis(on_tee[place], who, waited[0], axis=0)
        np.put_along_axis(beyond[place], who, waited[1], axis=0)
        came = cleared + hole.walk_on_min
    np.put_along_axis(ended, who, came - holes[-1].walk_on_min, axis=0)
    return DaysPlayed(started=started, waited_on_tee_min=on_tee, waited_beyond_min=beyond, ended=ended)


def _played(hole: PacedHole, came: Times, times: Times, who: NDArray[np.intp], *, may_let: bool) -> tuple[Times, Times]:
    """When each place of the order cleared the green, and how long it waited on the tee and beyond; `who` is turned as groups pass."""
    queue, waited, settled = queue_of(hole), np.empty((2, *came.shape)), []
    clear_ahead: Times | np.float64 = -NEVER
    for place in range(len(came)):
        if may_let and place + 1 < len(came):
            lets = (came[place] >= clear_ahead) & (came[place + 1] <= came[place] + times[place, 0])
            for turned in (came, who, times):
                _turn(turned, place, lets)
        green_clear = queue.follow(came[place], times[place], waited[0, place], waited[1, place])
        if green_clear is not None:
            settled.append(green_clear)
            clear_ahead = green_clear
    last = queue.end()
    return np.stack([*settled, *([] if last is None else [last])]), waited


def _turn(order: NDArray[np.float64] | NDArray[np.intp], place: int, lets: NDArray[np.bool_]) -> None:
    """Change two places of an order on the days on which one lets the other through."""
    first, second = np.where(lets, order[place + 1], order[place]), np.where(lets, order[place], order[place + 1])
    order[place], order[place + 1] = first, second
