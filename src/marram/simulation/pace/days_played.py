"""Play days: every group over every hole, behind the group ahead, with waiting kept apart from playing."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from marram.core.errors import StudyError
from marram.simulation.pace.groups_on_a_hole import Times, queue_of
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.starting_sheet import GroupStart


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysPlayed:
    """Every group on every hole on every day.

    Attributes:
        started: Starting time of each group on the sheet, minutes; shape (groups,).
        waited_on_tee_min: Waiting on each tee; shape (holes, groups, days), holes in the order of the course.
        waited_beyond_min: Waiting between tee and green, of the same shape.
        ended: When each group cleared its last green; shape (groups, days).
    """

    started: Times
    waited_on_tee_min: Times
    waited_beyond_min: Times
    ended: Times

    @property
    def round_min(self) -> Times:
        """Time of each group for the round, from its starting time on the sheet; shape (groups, days)."""
        return self.ended - self.started[:, None]

    @property
    def waiting_min(self) -> Times:
        """Time that each group stood waiting; shape (groups, days)."""
        return np.asarray(self.waited_on_tee_min.sum(axis=0) + self.waited_beyond_min.sum(axis=0), dtype=np.float64)


def play_days(holes: Sequence[PacedHole], stages: Sequence[Times], starts: Sequence[GroupStart]) -> DaysPlayed:
    """Play days on given stage times.

    No group overtakes another: on each hole those that start there go first, in the order of the sheet, then those that come from the
    hole before, and so on round the course.

    Args:
        holes: The holes in order.
        stages: Of each hole how long each group needs for each stage, minutes; shape (groups, stages, days).
        starts: When and where each group starts.

    Raises:
        StudyError: The stage times do not fit the holes, or nobody can move: every hole waits for another.
    """
    days = days_of(holes, stages, starts)
    course = _CourseInPlay(holes, starts, days)
    while any(course.orders):
        if not any(course.play_on(place, stages[place]) for place in range(len(holes))):
            message = "With groups called up on every hole, each waits for the next round the course, and nobody can begin."
            raise StudyError(message, hint="Call groups up on par 3s only where the next hole is played otherwise.")
    started = np.array([start.at_min for start in starts])
    return DaysPlayed(started=started, waited_on_tee_min=course.tee, waited_beyond_min=course.beyond, ended=course.ended)


class _CourseInPlay:
    """The course while groups are on it: who comes to which tee when, and what is settled so far."""

    def __init__(self, holes: Sequence[PacedHole], starts: Sequence[GroupStart], days: int) -> None:
        self.holes, self.starts = holes, starts
        self.orders, self.queues = _orders(len(holes), starts), [queue_of(hole) for hole in holes]
        self.came = {(start.place, group): np.full(days, start.at_min) for group, start in enumerate(starts)}
        self.on_hole: list[deque[int]] = [deque() for _ in holes]
        shape = (len(holes), len(starts), days)
        self.tee, self.beyond, self.ended = np.empty(shape), np.empty(shape), np.empty(shape[1:])

    def play_on(self, place: int, stages: Times) -> bool:
        """Take groups to a hole as long as it is known when the next one comes; whether any came."""
        order, queue, came_any = self.orders[place], self.queues[place], False
        while order and (place, order[0]) in self.came:
            group = order.popleft()
            self.on_hole[place].append(group)
            came = self.came.pop((place, group))
            self._settle(place, queue.follow(came, stages[group], self.tee[place, group], self.beyond[place, group]))
            came_any = True
            if not order:
                self._settle(place, queue.end())
        return came_any

    def _settle(self, place: int, cleared: Times | None) -> None:
        """A group has cleared the green: send it on to the next tee."""
        if cleared is None:
            return
        group, following = self.on_hole[place].popleft(), (place + 1) % len(self.holes)
        if following == self.starts[group].place:
            self.ended[group] = cleared
        else:
            self.came[following, group] = cleared + self.holes[place].walk_on_min


def days_of(holes: Sequence[PacedHole], stages: Sequence[Times], starts: Sequence[GroupStart]) -> int:
    """How many days the stage times are of.

    Args:
        holes: The holes.
        stages: Of each hole how long each group needs for each stage.
        starts: The groups.

    Raises:
        StudyError: They do not fit each other.
    """
    if not holes or not starts or len(stages) != len(holes):
        raise StudyError("A day needs holes, groups, and stage times of each hole.", hint="Give all three.")
    days = stages[0].shape[-1]
    for hole, times in zip(holes, stages, strict=True):
        if times.shape != (len(starts), hole.stages, days):
            message = f"Its stage times are of shape {times.shape}, and {(len(starts), hole.stages, days)} is wanted."
            raise StudyError(message, where=f"hole {hole.number}")
    return int(days)


def _orders(holes: int, starts: Sequence[GroupStart]) -> list[deque[int]]:
    """Of each hole the groups in the order in which they play it."""
    by_sheet = sorted(range(len(starts)), key=lambda group: starts[group].at_min)
    return [deque(sorted(by_sheet, key=lambda group: (place - starts[group].place) % holes)) for place in range(holes)]
