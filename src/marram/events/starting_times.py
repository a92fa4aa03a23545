"""Starting times: how many groups, when each starts, which times stay empty, and whether the interval leaves room."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from marram.core.errors import EventError

DAY_MIN = 24 * 60
LEAST_INTERVAL_MIN: Mapping[int, int] = {2: 8, 3: 10, 4: 11}
"""The shortest interval by the size of the groups that is recommended. Source: Committee Procedures (2023), 4A(1)."""

_NO_TIMES = "These are no starting times."
_ABOVE_ZERO = "How many, the interval and the gap are whole numbers above zero."


@dataclass(frozen=True, slots=True, kw_only=True)
class StartingSheet:
    """The times of one tee, in minutes from midnight.

    Attributes:
        starts_min: When each group starts, in order.
        empty_min: Times that stay empty so that the field can catch up.
    """

    starts_min: tuple[int, ...]
    empty_min: tuple[int, ...]


def groups_of(players: int, size: int) -> int:
    """How many groups a field makes.

    Raises:
        EventError: Nobody plays, or a group is not of two to four.
    """
    _refuse_size(size)
    if players < 1:
        raise EventError(f"{players} players make no group.", where="players", hint="Give how many start.")
    return -(-players // size)


def starting_sheet(groups: int, *, first_min: int, interval_min: int, gap_after: int | None = None) -> StartingSheet:
    """The times at which groups start from one tee.

    Args:
        groups: How many groups start.
        first_min: When the first starts, in minutes from midnight.
        interval_min: Minutes from one time to the next.
        gap_after: After so many groups one time stays empty; None where none does.

    Raises:
        EventError: There is no group, the interval is not above zero, or the last would start on another day.
    """
    if groups < 1 or interval_min < 1 or (gap_after is not None and gap_after < 1):
        raise EventError(
            "These are no starting times.", where="starting times", hint="Groups, interval and gap are whole numbers above zero."
        )
    round_of = groups if gap_after is None else gap_after
    times = [first_min + (group + group // round_of) * interval_min for group in range(groups)]
    gaps = [first_min + (number * (round_of + 1) - 1) * interval_min for number in range(1, (groups - 1) // round_of + 1)]
    if first_min < 0 or times[-1] >= DAY_MIN:
        raise EventError("The last group would start on another day.", where="starting times", hint="Start earlier, or use two tees.")
    return StartingSheet(starts_min=tuple(times), empty_min=tuple(gaps))


def empty_times(times: int, *, interval_min: int, gap_after: int) -> tuple[int, ...]:
    """Which of so many times stay empty, in minutes after the first, where one does after so many groups."""
    if times < 1 or interval_min < 1 or gap_after < 1:
        raise EventError(
            "These are no starting times.", where="starting times", hint="Times, interval and gap are whole numbers above zero."
        )
    return tuple(place * interval_min for place in range(gap_after, times, gap_after + 1))


def is_interval_long_enough(size: int, interval_min: float) -> bool:
    """Whether an interval leaves groups of a size the room that is recommended.

    Raises:
        EventError: A group is not of two to four.

    Source: Committee Procedures (2023), 4A(1).
    """
    _refuse_size(size)
    return interval_min >= LEAST_INTERVAL_MIN[size]


def _refuse_size(size: int) -> None:
    if size not in LEAST_INTERVAL_MIN:
        raise EventError(
            f"A group of {size} is none that starts in stroke play.", where="group size", hint="Groups are of two, three or four."
        )
