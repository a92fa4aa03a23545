"""The draw of a field into groups: at random by a seed that anybody can follow, by handicap, or as the Committee lists it."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from marram.core.errors import EventError
from marram.core.words import counted, plain_name
from marram.events.entry_list import Entry

LEAST_GROUP, MOST_GROUP = 1, 4


class DrawnBy(StrEnum):
    """What decides who plays with whom."""

    RANDOM = "random"
    HANDICAP = "handicap"
    LIST = "list"
    SCORE = "score"


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupDraw:
    """A field in groups.

    Attributes:
        by: What decided.
        seed: The seed of a draw at random, and of equal handicaps; empty for a list.
        groups: Names of the players of each group, in the order in which groups start.
    """

    by: DrawnBy
    seed: str
    groups: tuple[tuple[str, ...], ...]


def make_draw(entries: Sequence[Entry], *, by: DrawnBy, size: int, seed: str) -> GroupDraw:
    """Draw a field into groups, at random or by handicap. Partners of a side stay together.

    Args:
        entries: Who plays, in any order: the draw does not hang on it.
        by: What decides.
        size: How many play together.
        seed: What the draw at random, and the order of equal handicaps, is worked out from.

    Raises:
        EventError: Nobody has entered, or a group is not of one to four.
    """
    in_order = sorted(entries, key=lambda entry: _lot(seed, entry.side or entry.player, entry.player))
    if by is DrawnBy.HANDICAP:
        # a player without a handicap comes last; equal ones stay as they were drawn
        in_order.sort(key=lambda entry: (entry.handicap is None, entry.handicap or 0))
    units = _together(in_order)
    groups = list[tuple[str, ...]]()
    largest = max((len(unit) for unit in units), default=1)
    if largest > 1:
        per_group = max(1, size // largest)
        for count in group_sizes(len(units), per_group, least=1):
            groups.append(tuple(name for unit in units[:count] for name in unit))
            units = units[count:]
        return GroupDraw(by=by, seed=seed, groups=tuple(groups))
    names = [name for unit in units for name in unit]
    for count in group_sizes(len(names), size):
        groups.append(tuple(names[:count]))
        names = names[count:]
    return GroupDraw(by=by, seed=seed, groups=tuple(groups))


def draw_as_listed(entries: Sequence[Entry], listed: Sequence[tuple[str, str]], *, size: int) -> GroupDraw:
    """Take a draw as the Committee lists it.

    Args:
        entries: Who plays.
        listed: Each player with the name of the group; where no group is named, groups are made in the order of the list.
        size: How many play together where no group is named.

    Raises:
        EventError: Somebody is listed who has not entered, twice or not at all, or a group is too large; all of it is told.
    """
    known = {entry.key: entry.player for entry in entries}
    keys = [plain_name(player) for player, _ in listed]
    faults = [f"{player} has not entered" for player, _ in listed if plain_name(player) not in known]
    faults += [f"{known[key]} is listed {keys.count(key)} times" for key in dict.fromkeys(keys) if key in known and keys.count(key) > 1]
    faults += [f"{name} is not listed" for key, name in known.items() if key not in keys]
    groups = _groups_listed([(known.get(plain_name(player), player), group) for player, group in listed], size)
    faults += [f"group {number} has {len(group)} players" for number, group in enumerate(groups, start=1) if len(group) > MOST_GROUP]
    if faults:
        raise EventError(f"The list cannot be drawn: {'; '.join(faults[:40])}.", hint=f"Groups are of {MOST_GROUP} at most; list all once.")
    return GroupDraw(by=DrawnBy.LIST, seed="", groups=groups)


def group_sizes(players: int, size: int, *, least: int = 2) -> tuple[int, ...]:
    """How many play in each group: as even as can be, the smaller groups first, and nobody alone where that can be helped.

    Args:
        players: How many play.
        size: How many play together.
        least: The smallest group that is wanted.

    Raises:
        EventError: Nobody plays, or a group is not of one to four.

    Source: common practice, since a smaller group plays faster and is not held up by those behind it.
    """
    if not LEAST_GROUP <= size <= MOST_GROUP:
        raise EventError(f"A group of {size} cannot be drawn.", where="start.group_size", hint="Groups are of one to four.")
    if players < 1:
        raise EventError("Nobody has entered.", where="entries", hint="Enter players first.")
    count = -(-players // size)
    if count > 1 and size > 1 and players // count < least:
        count -= 1  # one more in a group rather than a player alone
    small, larger = divmod(players, count)
    return (small,) * (count - larger) + (small + 1,) * larger


def odd_groups(draw: GroupDraw, size: int) -> str:
    """Groups of another size than was asked for, in words; empty where there is none."""
    odd = [len(group) for group in draw.groups if len(group) != size]
    return f"{counted(len(odd), 'group')} of {', '.join(map(str, sorted(set(odd))))} instead of {size}." if odd else ""


def _lot(seed: str, unit: str, player: str) -> tuple[str, str]:
    """Where a player comes in a draw at random: by a digest of seed and name, so that nobody's place hangs on who else has entered."""
    return tuple(hashlib.sha256(f"{seed}\n{plain_name(name)}".encode()).hexdigest() for name in (unit, player))  # type: ignore[return-value]


def _together(entries: Sequence[Entry]) -> list[list[str]]:
    """Names by side, each side where its first partner comes."""
    units: dict[str, list[str]] = {}
    for entry in entries:
        units.setdefault(f"side {entry.side}" if entry.side else f"player {entry.key}", []).append(entry.player)
    return list(units.values())


def _groups_listed(listed: Sequence[tuple[str, str]], size: int) -> tuple[tuple[str, ...], ...]:
    if not any(group for _, group in listed):
        names = [player for player, _ in listed]
        return tuple(tuple(names[start : start + size]) for start in range(0, len(names), size))
    groups: dict[str, list[str]] = {}
    for player, group in listed:
        groups.setdefault(group, []).append(player)
    return tuple(map(tuple, groups.values()))
