"""A starting list on which a player is moved to another group, starts in a new one, or is taken off; also one who entered late."""

from __future__ import annotations

from dataclasses import dataclass, replace

from marram.core.errors import EventError
from marram.events.group_draw import MOST_GROUP, GroupDraw
from marram.events.starting_list import StartingGroup, StartingList


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """Where a player goes.

    Attributes:
        player: The player, as entered.
        to: Number of the group; None for a new group, or for none.
        start_min: When a new group starts, in minutes from midnight; None where there is none.
        hole: The hole from which it starts.
    """

    player: str
    to: int | None = None
    start_min: int | None = None
    hole: int = 1


def move_player(starts: StartingList, move: Move) -> StartingList:
    """The starting list after a move.

    Args:
        starts: The starting list.
        move: Who goes where.

    Raises:
        EventError: There is no such group, it is full, the player is in it, or is to be taken off and not on the list.
    """
    was = next((group.number for group in starts.groups if move.player in group.players), None)
    if move.to is None and move.start_min is None and was is None:
        raise EventError(f"{move.player} is on no starting list.", where="regroup", hint="Nothing was written.")
    if move.to is not None and move.to == was:
        raise EventError(f"{move.player} plays in group {was} already.", where="regroup", hint="Nothing was written.")
    groups = [replace(group, players=tuple(one for one in group.players if one != move.player)) for group in starts.groups]
    if move.to is not None:
        groups = [_joined(group, move.player) if group.number == move.to else group for group in groups]
        if move.to not in {group.number for group in groups}:
            known = ", ".join(str(group.number) for group in groups[:40])
            raise EventError(f"There is no group {move.to}.", where="regroup", hint=f"There are: {known}.")
    elif move.start_min is not None:
        number = max(group.number for group in groups) + 1
        groups.append(StartingGroup(number=number, start_min=move.start_min, hole=move.hole, players=(move.player,)))
    left = sorted((group for group in groups if group.players), key=lambda group: (group.start_min, group.number))
    empty = tuple(slot for slot in starts.empty if slot != (move.start_min, move.hole))
    return replace(starts, groups=tuple(left), empty=empty)


def _joined(group: StartingGroup, player: str) -> StartingGroup:
    if len(group.players) >= MOST_GROUP:
        told = f"Group {group.number} has {len(group.players)} players."
        raise EventError(told, where="regroup", hint=f"Groups are of {MOST_GROUP} at most; name another, or a new one.")
    return replace(group, players=(*group.players, player))


def draw_as_regrouped(draw: GroupDraw, starts: StartingList) -> GroupDraw:
    """The draw with the groups of a starting list, in the order of their numbers.

    Args:
        draw: How the groups were drawn.
        starts: The starting list.
    """
    groups = sorted(starts.groups, key=lambda group: group.number)
    return replace(draw, groups=tuple(group.players for group in groups))
