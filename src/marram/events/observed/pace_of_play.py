"""Pace of play on a day: time by hole, the gap to the group ahead, and who is out of position against a time par that the official sets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marram.events.observed.group_of import GroupFinder
from marram.events.observed.log_entry import LogEntry, Mark, Thing
from marram.events.starting_list import StartingList

_MINUTE_S = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class TimePar:
    """The time in which a round should be played, as the official sets it.

    Attributes:
        holes_min: Minutes for each hole, from hole 1, with the way to the next tee.
        gap_min: A group whose last hole was finished more minutes after the group ahead finished it has lost its position.
    """

    holes_min: tuple[float, ...]
    gap_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HolePace:
    """A group on a hole.

    Attributes:
        hole: The hole.
        took_min: Minutes from its first stroke on the tee to the last holed out; None where one of them is not known.
        waited_min: Minutes of waiting there; None where nobody wrote them down.
        behind_min: Minutes behind the time par when the hole was finished, less than nothing when ahead; None without a time par.
        gap_min: Minutes after the group ahead when the hole was finished; None where there is none, or its time is not known.
        is_out_of_position: Whether it was behind the time par with too large a gap to the group ahead; None where that cannot be told.
    """

    hole: int
    took_min: float | None
    waited_min: float | None
    behind_min: float | None
    gap_min: float | None
    is_out_of_position: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupPace:
    """A group through its round.

    Attributes:
        group: Number of the group.
        starts_min: When it was to start, in minutes from midnight; None where there is no starting list.
        holes: The holes of which something is known, in the order in which they were played.
    """

    group: int
    starts_min: int | None
    holes: tuple[HolePace, ...]

    @property
    def last(self) -> HolePace | None:
        """The last hole that was finished; None where none is known."""
        return next((one for one in reversed(self.holes) if one.behind_min is not None or one.gap_min is not None), None)


Times = Mapping[tuple[int, int], Mapping[Mark, int]]


def pace_of(
    entries: Sequence[LogEntry], groups: GroupFinder, starts: StartingList | None, holes: int, par: TimePar | None, number: int = 1
) -> tuple[GroupPace, ...]:
    """Work out the pace of each group of which times of holes were written down.

    Out of position is a group that is behind its time par and has too large a gap to the group ahead; the first group, and any with nobody
    ahead of it, is held against the time par alone. Waiting is told beside it and never held against a group.

    Source: common practice; the Committee sets time par and gap (Rules of Golf 2023, Rule 5.6b(3), leaves the policy to it).

    Args:
        entries: The log.
        groups: The groups.
        starts: The starting list; None where there is none.
        holes: Holes of a round.
        par: The time par; None where none is set.
        number: Number of the round.
    """
    of_holes = [one for one in entries if one.thing is Thing.HOLE and one.hole is not None and one.round == number]
    times: dict[tuple[int, int], Mapping[Mark, int]] = {}
    waited: dict[tuple[int, int], float] = {}
    for entry in of_holes:
        group = groups.of_entry(entry)
        if group is not None and entry.hole is not None:
            times[group, entry.hole] = {**times.get((group, entry.hole), {}), **entry.times_s}
            if "waiting_min" in entry.values:
                waited[group, entry.hole] = entry.values["waiting_min"]
    start_min = {one.number: one.start_min for one in starts.groups} if starts is not None else {}
    ahead = _ahead(starts)
    found = []
    for group in sorted({group for group, _ in times}):
        order = [(groups.starts.get(group, 1) - 1 + place) % holes + 1 for place in range(holes)]
        paced = tuple(
            _hole(group, hole, order[: order.index(hole) + 1], times, waited, start_min.get(group), ahead.get(group), par)
            for hole in order
            if (group, hole) in times
        )
        found.append(GroupPace(group=group, starts_min=start_min.get(group), holes=paced))
    return tuple(found)


def _ahead(starts: StartingList | None) -> Mapping[int, int]:
    """The group ahead of each: the one before it from the same tee."""
    found: dict[int, int] = {}
    last: dict[int, int] = {}
    for one in sorted(starts.groups, key=lambda group: (group.start_min, group.letter, group.number)) if starts is not None else ():
        if one.hole in last:
            found[one.number] = last[one.hole]
        last[one.hole] = one.number
    return found


def _hole(
    group: int,
    hole: int,
    played: Sequence[int],
    times: Times,
    waited: Mapping[tuple[int, int], float],
    start_min: int | None,
    ahead: int | None,
    par: TimePar | None,
) -> HolePace:
    own = times[group, hole]
    tee, end = own.get(Mark.TEE), own.get(Mark.IN)
    before = None if ahead is None else times.get((ahead, hole), {}).get(Mark.IN)
    gap_min = None if end is None or before is None else (end - before) / _MINUTE_S
    behind_min = None
    if par is not None and end is not None and start_min is not None:
        behind_min = end / _MINUTE_S - start_min - sum(par.holes_min[one - 1] for one in played)
    return HolePace(
        hole=hole,
        took_min=None if tee is None or end is None else (end - tee) / _MINUTE_S,
        waited_min=waited.get((group, hole)),
        behind_min=behind_min,
        gap_min=gap_min,
        is_out_of_position=_is_out(behind_min, gap_min, ahead, par),
    )


def _is_out(behind_min: float | None, gap_min: float | None, ahead: int | None, par: TimePar | None) -> bool | None:
    if par is None or behind_min is None or (ahead is not None and gap_min is None):
        return None
    return behind_min > 0 and (gap_min is None or gap_min > par.gap_min)
