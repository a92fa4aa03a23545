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


@dataclass(frozen=True, slots=True, kw_only=True)
class HolePlayed:
    """One group on one hole, on each day.

    Attributes:
        waited_on_tee_min: From coming to the tee until the first stroke.
        waited_beyond_min: From being able to play a later stroke until the group ahead was out of the way.
        cleared: When the green was clear.
    """

    waited_on_tee_min: Times
    waited_beyond_min: Times
    cleared: Times


class HoleQueue(ABC):
    """The groups of a hole, taken in the order in which they play it."""

    @abstractmethod
    def follow(self, came: Times, stages: Times) -> HolePlayed | None:
        """The next group comes to the tee.

        Args:
            came: When it comes to the tee.
            stages: How long it needs for each stage; shape (stages, days).

        Returns:
            The group whose play of the hole is settled by that: itself, or where groups are called up the one ahead; None where none is.
        """

    def end(self) -> HolePlayed | None:
        """No group comes any more; the last one where that settles its play."""
        return None


class OneAtATime(HoleQueue):
    """A par 3 that one group plays at a time."""

    def __init__(self) -> None:
        self._cleared: Times | np.float64 = -NEVER

    def follow(self, came: Times, stages: Times) -> HolePlayed:
        """The group plays once the green is clear."""
        began = np.maximum(came, self._cleared)
        self._cleared = cleared = began + stages[0] + stages[1] + stages[2]
        return HolePlayed(waited_on_tee_min=began - came, waited_beyond_min=np.zeros_like(came), cleared=cleared)


@dataclass(frozen=True, slots=True, kw_only=True)
class _AtTheGreen:
    """The group ahead on a par 3: when it came to a clear green, how long it needs there, and what it waited for so far."""

    ready: Times
    putting_min: Times
    waited_on_tee_min: Times
    waited_for_green_min: Times

    def hole_out(self, called_min: Times | float) -> HolePlayed:
        """It waits for those whom it calls up, and holes out."""
        return HolePlayed(
            waited_on_tee_min=self.waited_on_tee_min,
            waited_beyond_min=self.waited_for_green_min + called_min,
            cleared=self.ready + called_min + self.putting_min,
        )


class CalledUp(HoleQueue):
    """A par 3 on which a group that waits is called up when the group ahead has come to a clear green."""

    def __init__(self) -> None:
        self._ahead: _AtTheGreen | None = None

    def follow(self, came: Times, stages: Times) -> HolePlayed | None:
        """The group is called up where it waits already when the group ahead comes to a clear green."""
        ahead = self._ahead
        if ahead is None:
            self._ahead = _walked_up(came, came, stages, -NEVER)
            return None
        is_called = came <= ahead.ready
        holed = ahead.hole_out(np.where(is_called, stages[0], 0.0))
        began = np.where(is_called, ahead.ready, np.maximum(came, holed.cleared))
        self._ahead = _walked_up(came, began, stages, holed.cleared)
        return holed

    def end(self) -> HolePlayed | None:
        """The last group holes out with nobody to call up."""
        return None if self._ahead is None else self._ahead.hole_out(0.0)


def _walked_up(came: Times, began: Times, stages: Times, cleared: Times | np.float64) -> _AtTheGreen:
    """A group of a par 3 that has played from the tee and walked to the green."""
    walked_up = began + stages[0] + stages[1]
    ready = np.maximum(walked_up, cleared)
    return _AtTheGreen(ready=ready, putting_min=stages[2], waited_on_tee_min=began - came, waited_for_green_min=ready - walked_up)


class TwoAtOnce(HoleQueue):
    """A par 4: the next group begins once the second strokes are played, and plays its own once the green is clear."""

    def __init__(self) -> None:
        self._played_second: Times | np.float64 = -NEVER
        self._cleared: Times | np.float64 = -NEVER

    def follow(self, came: Times, stages: Times) -> HolePlayed:
        """The group plays behind the one ahead."""
        began = np.maximum(came, self._played_second)
        at_balls = began + stages[0]
        free = np.maximum(at_balls, self._cleared)
        self._played_second = free + stages[1]
        self._cleared = cleared = self._played_second + stages[2]
        return HolePlayed(waited_on_tee_min=began - came, waited_beyond_min=free - at_balls, cleared=cleared)


class ThreeAtOnce(HoleQueue):
    """A par 5: a group begins once the second strokes ahead are played, plays those after the third, and the third on a clear green."""

    def __init__(self) -> None:
        self._played_second: Times | np.float64 = -NEVER
        self._played_third: Times | np.float64 = -NEVER
        self._cleared: Times | np.float64 = -NEVER

    def follow(self, came: Times, stages: Times) -> HolePlayed:
        """The group plays behind the one ahead."""
        began = np.maximum(came, self._played_second)
        at_second = began + stages[0]
        free_for_second = np.maximum(at_second, self._played_third)
        self._played_second = free_for_second + stages[1]
        at_third = self._played_second + stages[2]
        free_for_third = np.maximum(at_third, self._cleared)
        self._played_third = free_for_third + stages[3]
        self._cleared = cleared = self._played_third + stages[4]
        beyond = (free_for_second - at_second) + (free_for_third - at_third)
        return HolePlayed(waited_on_tee_min=began - came, waited_beyond_min=beyond, cleared=cleared)


def queue_of(hole: PacedHole) -> HoleQueue:
    """The groups of a hole, before the first has come."""
    if hole.par == 3:
        return CalledUp() if hole.waves_up else OneAtATime()
    return TwoAtOnce() if hole.par == 4 else ThreeAtOnce()
