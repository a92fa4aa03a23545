"""Groups that follow each other on one hole, for many days at once: who waits where, and when each green is clear.

Every time is an array with one entry for each day, minutes. Before the first group every time is minus infinity, so that it never waits.

Source: stage models of a par 3, 4 and 5 with k - 2 groups at once on a par-k hole, after *The maximum throughput on a golf course*, 2015
(properties seen in its abstract; the recursions from memory and derived anew).
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from marram.simulation.pace.hole_stages import PacedHole

Times: TypeAlias = NDArray[np.float64]
"""A time of each day, minutes, or of each stage and day."""
NEVER = np.float64(np.inf)


class HoleQueue(ABC):
    """The groups of a hole, taken in the order in which they play it."""

    @abstractmethod
    def follow(self, came: Times, stages: Times, on_tee: Times, beyond: Times) -> Times | None:
        """The next group comes to the tee.

        Args:
            came: When it comes to the tee.
            stages: How long it needs for each stage; shape (stages, days).
            on_tee: Filled with how long it waits from coming to the tee until its first stroke.
            beyond: Filled with how long it waits from being able to play a later stroke until the group ahead is out of the way.

        Returns:
            When the green was clear of the group whose play of the hole is settled by that: itself, or where groups are called up the one
            ahead; None where none is.
        """

    def end(self) -> Times | None:
        """No group comes any more; when the green was clear of the last one, where that settles its play."""
        return None


class OneAtATime(HoleQueue):
    """A par 3 that one group plays at a time."""

    def __init__(self) -> None:
        self._cleared: Times | np.float64 = -NEVER

    def follow(self, came: Times, stages: Times, on_tee: Times, beyond: Times) -> Times:
        """The group plays once the green is clear."""
        began = np.maximum(came, self._cleared)
        np.subtract(began, came, out=on_tee)
        beyond.fill(0.0)
        cleared: Times = began + stages[0] + stages[1] + stages[2]
        self._cleared = cleared
        return cleared


@dataclass(frozen=True, slots=True, kw_only=True)
class _AtTheGreen:
    """The group ahead on a par 3: when it came to a clear green, how long it needs there, and where its waiting is written."""

    ready: Times
    putting_min: Times
    beyond: Times

    def hole_out(self, called_min: Times | float) -> Times:
        """It waits for those whom it calls up, and holes out."""
        np.add(self.beyond, called_min, out=self.beyond)
        return np.asarray(self.ready + called_min + self.putting_min, dtype=np.float64)


class CalledUp(HoleQueue):
    """A par 3 on which a group that waits is called up when the group ahead has come to a clear green."""

    def __init__(self) -> None:
        self._ahead: _AtTheGreen | None = None

    def follow(self, came: Times, stages: Times, on_tee: Times, beyond: Times) -> Times | None:
        """The group is called up where it waits already when the group ahead comes to a clear green."""
        ahead, began, cleared = self._ahead, came, None
        if ahead is not None:
            is_called = came <= ahead.ready
            cleared = ahead.hole_out(np.where(is_called, stages[0], 0.0))
            began = np.where(is_called, ahead.ready, np.maximum(came, cleared))
        np.subtract(began, came, out=on_tee)
        walked_up = began + stages[0] + stages[1]
        ready = np.maximum(walked_up, -NEVER if cleared is None else cleared)
        np.subtract(ready, walked_up, out=beyond)
        self._ahead = _AtTheGreen(ready=ready, putting_min=stages[2], beyond=beyond)
        return cleared

    def end(self) -> Times | None:
        """The last group holes out with nobody to call up."""
        return None if self._ahead is None else self._ahead.hole_out(0.0)


class TwoAtOnce(HoleQueue):
    """A par 4: the next group begins once the second strokes are played, and plays its own once the green is clear."""

    def __init__(self) -> None:
        self._played_second: Times | np.float64 = -NEVER
        self._cleared: Times | np.float64 = -NEVER

    def follow(self, came: Times, stages: Times, on_tee: Times, beyond: Times) -> Times:
        """The group plays behind the one ahead."""
        began = np.maximum(came, self._played_second)
        np.subtract(began, came, out=on_tee)
        at_balls = began + stages[0]
        free = np.maximum(at_balls, self._cleared)
        np.subtract(free, at_balls, out=beyond)
        self._played_second = free + stages[1]
        cleared: Times = self._played_second + stages[2]
        self._cleared = cleared
        return cleared


class ThreeAtOnce(HoleQueue):
    """A par 5: a group begins once the second strokes ahead are played, plays those after the third, and the third on a clear green."""

    def __init__(self) -> None:
        self._played_second: Times | np.float64 = -NEVER
        self._played_third: Times | np.float64 = -NEVER
        self._cleared: Times | np.float64 = -NEVER

    def follow(self, came: Times, stages: Times, on_tee: Times, beyond: Times) -> Times:
        """The group plays behind the one ahead."""
        began = np.maximum(came, self._played_second)
        np.subtract(began, came, out=on_tee)
        at_second = began + stages[0]
        free_for_second = np.maximum(at_second, self._played_third)
        np.subtract(free_for_second, at_second, out=beyond)
        self._played_second = free_for_second + stages[1]
        at_third = self._played_second + stages[2]
        free_for_third = np.maximum(at_third, self._cleared)
        np.add(beyond, free_for_third - at_third, out=beyond)
        self._played_third = free_for_third + stages[3]
        cleared: Times = self._played_third + stages[4]
        self._cleared = cleared
        return cleared


def queue_of(hole: PacedHole) -> HoleQueue:
    """The groups of a hole, before the first has come."""
    if hole.par == 3:
        return CalledUp() if hole.waves_up else OneAtATime()
    return TwoAtOnce() if hole.par == 4 else ThreeAtOnce()
