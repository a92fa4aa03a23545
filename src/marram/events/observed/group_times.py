"""How long groups were on the course: from the first stroke of the round to the last holed out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.events.observed.group_of import GroupFinder
from marram.events.observed.log_entry import LogEntry, Mark, Thing

_MINUTE_S = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedRound:
    """A round of a group between two times that were written down.

    Attributes:
        group: Number of the group.
        round: Number of the round.
        first_s: When it started, in seconds from midnight.
        last_s: When the last player holed out on its last hole.
    """

    group: int
    round: int
    first_s: int
    last_s: int

    @property
    def took_min(self) -> float:
        """Minutes between the two."""
        return (self.last_s - self.first_s) / _MINUTE_S


def rounds_timed(entries: Sequence[LogEntry], groups: GroupFinder, holes: int) -> tuple[TimedRound, ...]:
    """Rounds of which start and end were written down: for the round itself, or on the first and the last hole of the group.

    Args:
        entries: The log.
        groups: The groups.
        holes: Holes of a round.
    """
    first: dict[tuple[int, int], int] = {}
    last: dict[tuple[int, int], int] = {}
    # what was written down for the round itself goes before what follows from its holes
    for entry in sorted(entries, key=lambda one: one.thing is not Thing.ROUND):
        group = groups.of_entry(entry)
        if group is None or entry.thing not in {Thing.ROUND, Thing.HOLE}:
            continue
        start = groups.starts.get(group, 1)
        end = (start - 2) % holes + 1
        if Mark.TEE in entry.times_s and (entry.thing is Thing.ROUND or entry.hole == start):
            first.setdefault((group, entry.round), entry.times_s[Mark.TEE])
        if Mark.IN in entry.times_s and (entry.thing is Thing.ROUND or entry.hole == end):
            last.setdefault((group, entry.round), entry.times_s[Mark.IN])
    return tuple(
        TimedRound(group=group, round=number, first_s=first[group, number], last_s=last[group, number])
        for group, number in sorted(first)
        if (group, number) in last
    )
