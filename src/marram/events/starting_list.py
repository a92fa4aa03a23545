"""Who starts when and from which hole: from one tee, from two, or all at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import permutations

from marram.core.errors import EventError
from marram.events.event_terms import Starting, Way
from marram.events.starting_times import DAY_MIN, LEAST_INTERVAL_MIN, is_interval_long_enough, starting_sheet

_MOST_ON_A_HOLE = 2
_SHORT = 3
_NINE = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class StartingGroup:
    """A group on the starting list.

    Attributes:
        number: Its number in the draw, from 1.
        start_min: When it starts, in minutes from midnight.
        hole: The hole from which it starts.
        letter: A or B where two groups start from one hole of a shotgun start, A first; empty else.
        players: Names of the players.
    """

    number: int
    start_min: int
    hole: int
    letter: str = ""
    players: tuple[str, ...]

    @property
    def time(self) -> str:
        """When it starts, as it is written: ``08:10``."""
        return clock_words(self.start_min)


@dataclass(frozen=True, slots=True, kw_only=True)
class StartingList:
    """The starting list.

    Attributes:
        groups: The groups, by time and then by hole.
        empty: Times that stay empty for the starter, each with its hole.
        remarks: What is to be looked at.
    """

    groups: tuple[StartingGroup, ...]
    empty: tuple[tuple[int, int], ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def empty_words(self) -> tuple[tuple[str, int], ...]:
        """Times that stay empty as they are written, each with its hole."""
        return tuple((clock_words(minutes), hole) for minutes, hole in self.empty)


def set_times(groups: Sequence[Sequence[str]], starting: Starting, pars: Sequence[int], *, is_by_score: bool = False) -> StartingList:
    """Give each group its time and its hole.

    Args:
        groups: The draw, in the order in which groups start.
        starting: How the field starts.
        pars: Par of each hole of the course, from hole 1.
        is_by_score: Whether the leaders are drawn last; of two tees the better half then starts from the first.

    Raises:
        EventError: There are more groups than a shotgun start has room for, or the last would start on another day.

    Source: how groups go to two tees is common practice.
    """
    if starting.way is Way.SHOTGUN:
        return _shotgun(groups, starting, pars)
    tees = starting.holes
    found = list[StartingGroup]()
    empty = list[tuple[int, int]]()
    for place, hole in enumerate(tees):
        own = _of_tee(place, len(groups), len(tees), is_by_score=is_by_score)
        if not own:
            continue
        sheet = starting_sheet(len(own), first_min=starting.first_min, interval_min=starting.interval_min, gap_after=starting.gap_after)
        for number, start_min in zip(own, sheet.starts_min, strict=True):
            found.append(StartingGroup(number=number + 1, start_min=start_min, hole=hole, players=tuple(groups[number])))
        empty += [(start_min, hole) for start_min in sheet.empty_min]
    found.sort(key=lambda group: (group.start_min, group.number))
    remarks = (*_remarks(groups, starting), *_meetings(found, starting, len(pars)))
    return StartingList(groups=tuple(found), empty=tuple(sorted(empty)), remarks=remarks)


def _of_tee(place: int, groups: int, tees: int, *, is_by_score: bool) -> range:
    """Which groups start from a tee: every second one, so that the order of the draw is the order of the times, or a half by score."""
    if is_by_score and tees > 1:
        half = groups // tees
        return range(half, groups) if place == 0 else range(half)
    return range(place, groups, tees)


def _meetings(groups: Sequence[StartingGroup], starting: Starting, holes: int) -> Iterator[str]:
    """Where the first group from one tee reaches the other before the last group has started from it."""
    for tee, other in permutations(starting.holes, 2):
        own = [group.start_min for group in groups if group.hole == tee]
        theirs = [group.start_min for group in groups if group.hole == other]
        if not own or not theirs:
            continue
        there_min = min(own) + round((other - tee) % holes * starting.nine_min / _NINE)
        if there_min <= max(theirs):
            told = f"The first group from hole {tee} reaches hole {other} at about {clock_words(there_min % DAY_MIN)}"
            yield f"{told}, and the last group starts there at {clock_words(max(theirs))} ({starting.nine_min} min for nine holes)."


def _shotgun(groups: Sequence[Sequence[str]], starting: Starting, pars: Sequence[int]) -> StartingList:
    """All at once: a group on each hole, then second groups, on the short holes last.

    Source: common practice, since two groups on a short hole wait for each other.
    """
    holes = starting.holes
    room = len(holes) * _MOST_ON_A_HOLE
    if len(groups) > room:
        told = f"{len(groups)} groups cannot start at once from {len(holes)} holes, which have room for {room}."
        raise EventError(told, where="start.holes", hint="Use larger groups, or start by times.")
    second = sorted(holes, key=lambda hole: pars[hole - 1] == _SHORT)[: max(0, len(groups) - len(holes))]
    slots = [(hole, letter) for hole in holes for letter in (("A", "B") if hole in second else ("",))]
    found = tuple(
        StartingGroup(number=number, start_min=starting.first_min, hole=hole, letter=letter, players=tuple(players))
        for number, (players, (hole, letter)) in enumerate(zip(groups, slots, strict=False), start=1)
    )
    return StartingList(groups=found)


def _remarks(groups: Sequence[Sequence[str]], starting: Starting) -> Iterator[str]:
    short = sorted({len(group) for group in groups if len(group) in LEAST_INTERVAL_MIN})
    short = [size for size in short if not is_interval_long_enough(size, starting.interval_min)]
    for size in short:
        least = LEAST_INTERVAL_MIN[size]
        yield f"Groups of {size} start {starting.interval_min} min apart; at least {least} min is recommended (Committee Procedures 4A(1))."


def delay_times(starts: StartingList, minutes: int, from_min: int) -> StartingList:
    """Delay every time from a time of day on.

    Args:
        starts: The starting list.
        minutes: By how much.
        from_min: From which time on, in minutes from midnight.

    Raises:
        EventError: No group starts as late, or the last would start on another day.
    """
    late = [group for group in starts.groups if group.start_min >= from_min]
    if not late:
        raise EventError(f"No group starts at {clock_words(from_min)} or later.", where="starting times", hint="Give an earlier time.")
    if max(group.start_min for group in late) + minutes >= DAY_MIN:
        raise EventError("The last group would start on another day.", where="starting times", hint="Draw what is left for another day.")
    groups = tuple(replace(one, start_min=one.start_min + minutes) if one.start_min >= from_min else one for one in starts.groups)
    empty = tuple((time + minutes, hole) if time >= from_min else (time, hole) for time, hole in starts.empty)
    return replace(starts, groups=groups, empty=empty)


def clock_words(minutes: int) -> str:
    """A time of day as it is written: ``08:10``.

    Args:
        minutes: Minutes from midnight.
    """
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def hole_of(starts: StartingList | None, player: str) -> int | None:
    """The hole from which a player starts; None where no list says so.

    Args:
        starts: The starting list.
        player: The player, as on the list.
    """
    if starts is None:
        return None
    return next((group.hole for group in starts.groups if player in group.players), None)
