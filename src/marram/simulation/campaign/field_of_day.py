"""The field of a day: the holes, the groups with their starting times, and how long each stage takes them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from marram.simulation.pace.groups_on_a_hole import Times
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.starting_sheet import GroupStart

STAGE_MEANS: Mapping[int, tuple[float, ...]] = {3: (3.3, 2.2, 4.2), 4: (5.0, 3.0, 5.0), 5: (5.0, 2.0, 3.0, 2.0, 5.0)}
"""Mean stage times of a group of three by par, minutes (assumption: no stage times were published; see docs/accuracy.md)."""
STROKES: Mapping[int, tuple[float, ...]] = {3: (1.0, 0.0, 2.6), 4: (1.0, 1.0, 2.6), 5: (1.0, 1.0, 0.0, 1.0, 2.6)}
"""Strokes of a player in each stage (assumption: a bogey round)."""
SIZE_FACTORS: Mapping[int, float] = {2: 8 / 10.5, 3: 1.0, 4: 11.5 / 10.5}
"""How stage times go with the size of a group: as the start intervals of published guidance do, 8, 10 to 11, 11 to 12 minutes
(Pace of Play Manual, 2016, and the committee guidance page on pace; that stage times follow them is an assumption)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldOfDay:
    """The field of a day.

    Attributes:
        holes: The holes in order.
        starts: The groups with their starting times.
        lets_through: Whether a group that has lost its place lets the next one through.
        means: Mean time of each stage of each hole for a group of three, minutes.
    """

    holes: tuple[PacedHole, ...]
    starts: tuple[GroupStart, ...]
    means: tuple[tuple[float, ...], ...]
    lets_through: bool = False

    @property
    def sizes(self) -> Times:
        """Players of each group; shape (groups, 1)."""
        return np.array([[float(start.size)] for start in self.starts])

    @property
    def size_factors(self) -> Times:
        """How each group's stage times go with its size; shape (groups, 1, 1)."""
        return np.array([[[SIZE_FACTORS[start.size]]] for start in self.starts])

    @property
    def walks_min(self) -> float:
        """Walks between the holes that every group walks: all but the one from its last hole, in the mean over the groups."""
        whole = sum(hole.walk_on_min for hole in self.holes)
        last = [self.holes[start.place - 1].walk_on_min for start in self.starts]
        return whole - sum(last) / len(last)


def stage_means(holes: tuple[PacedHole, ...]) -> tuple[tuple[float, ...], ...]:
    """Mean stage times of the table, for each hole by its par."""
    return tuple(STAGE_MEANS[hole.par] for hole in holes)
