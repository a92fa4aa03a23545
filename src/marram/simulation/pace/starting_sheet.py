"""When and where the groups of a day start: from one tee, from two, or from every hole at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from marram.core.errors import StudyError
from marram.core.field_names import Field

_LONGEST_DAY_MIN = 960
_HALF_ROUND_MIN = 130
"""About when the first group comes across from the other tee (half of a round of 4 h 20 min, the published mean of 40,000 rounds)."""
MOST_PLAYERS = 400
GROUP_SIZES = (2, 3, 4)


class StartFrom(StrEnum):
    """Where groups start."""

    ONE_TEE = "one-tee"
    TWO_TEES = "two-tees"
    EVERY_HOLE = "every-hole"


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupStart:
    """Where and when a group starts.

    Attributes:
        at_min: Its starting time, minutes after the first.
        place: Place of its first hole in the round, from 0.
        size: Players.
    """

    at_min: float
    place: int
    size: int


def group_sizes(players: int, size: int) -> tuple[int, ...]:
    """The groups of a field: as few and as even as the size asked for allows, the smaller ones first.

    Args:
        players: Players of the field.
        size: Players of a group.

    Raises:
        StudyError: The field cannot be grouped.
    """
    if size not in GROUP_SIZES:
        raise StudyError(f"Groups of {size} cannot be played.", field=Field.GROUP_SIZE, hint="Give 2, 3 or 4.")
    if not 2 <= players <= MOST_PLAYERS:
        message = f"A field of {players} players cannot be played on a day."
        raise StudyError(message, field=Field.PLAYERS, hint=f"Give 2 to {MOST_PLAYERS}.")
    groups = -(-players // size)
    least, fuller = divmod(players, groups)
    if least < 2:
        raise StudyError(
            f"{players} players leave one alone in groups of {size}.", field=Field.PLAYERS, hint="Give an even number of players."
        )
    return (least,) * (groups - fuller) + (least + 1,) * fuller


def starting_sheet(sizes: Sequence[int], *, interval_min: float, holes: int, start_from: StartFrom) -> tuple[GroupStart, ...]:
    """The starting times of the groups, in order.

    Args:
        sizes: Players of each group.
        interval_min: Minutes between groups of one tee.
        holes: Holes of the round.
        start_from: Where they start.

    Raises:
        StudyError: The interval is no time, or the day is too short for the groups.
    """
    if start_from is StartFrom.EVERY_HOLE:
        return _from_every_hole(sizes, holes)
    if not 1 <= interval_min <= 60:
        message = f"A start interval of {interval_min:g} minutes cannot be played."
        raise StudyError(message, field=Field.INTERVAL, hint="Give 1 to 60 minutes.")
    tees = 1 if start_from is StartFrom.ONE_TEE else 2
    if tees == 2 and holes < 18:
        raise StudyError(f"A round of {holes} holes has no second tee to start from.", hint="Start from one tee, or from every hole.")
    last = (len(sizes) - 1) // tees * interval_min
    if last > _LONGEST_DAY_MIN:
        message = f"The last of {len(sizes)} groups would start {last / 60:.0f} hours after the first."
        raise StudyError(message, field=Field.INTERVAL, hint="Take fewer players, a shorter interval, or two tees.")
    if tees == 2 and last > _HALF_ROUND_MIN:
        message = f"The last groups would start {last:.0f} minutes after the first, which come across to the other tee before that."
        hint = f"Starts must be over before the first group comes across, after about {_HALF_ROUND_MIN} minutes."
        raise StudyError(message, field=Field.INTERVAL, hint=hint)
    return tuple(
        GroupStart(at_min=number // tees * interval_min, place=0 if number % tees == 0 else holes // 2, size=size)
        for number, size in enumerate(sizes)
    )


def _from_every_hole(sizes: Sequence[int], holes: int) -> tuple[GroupStart, ...]:
    if len(sizes) > 2 * holes:
        message = f"{len(sizes)} groups cannot all start at once on {holes} holes."
        raise StudyError(message, field=Field.PLAYERS, hint="Two groups a hole are the most.")
    return tuple(GroupStart(at_min=0.0, place=number % holes, size=size) for number, size in enumerate(sizes))
