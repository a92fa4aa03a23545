"""Timings of groups on holes, as an observer or a recorder at the green writes them down."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleTiming:
    """A group on a hole.

    Attributes:
        day: Name of the day.
        group: Name of the group.
        hole: Number of the hole.
        began_s: When its first tee shot was played, seconds from midnight.
        cleared_s: When it had cleared the green.
    """

    day: str
    group: str
    hole: int
    began_s: int
    cleared_s: int

    @property
    def minutes(self) -> float:
        """How long it was on the hole, minutes."""
        return (self.cleared_s - self.began_s) / 60
