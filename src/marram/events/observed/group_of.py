"""Which group a player is in, and from which hole it started."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marram.core.words import plain_name
from marram.events.group_draw import GroupDraw
from marram.events.happened import LoggedRuling
from marram.events.observed.log_entry import LogEntry
from marram.events.starting_list import StartingList


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupFinder:
    """The groups of an event.

    Attributes:
        numbers: Number of the group by what tells players apart.
        starts: The hole from which each group started.
        players: The player of each logged ruling, by its name.
        names: Names as they were entered, by what tells players apart.
    """

    numbers: Mapping[str, int]
    starts: Mapping[int, int]
    players: Mapping[str, str]
    names: Mapping[str, str]

    def of_player(self, player: str) -> int | None:
        """Number of the group of a player; None where the player was not drawn."""
        return self.numbers.get(plain_name(player))

    def of_entry(self, entry: LogEntry) -> int | None:
        """Number of the group that an entry is about: as stated, or that of its player or of the player of its ruling."""
        return entry.group if entry.group is not None else self.of_player(self.player_of(entry))

    def player_of(self, entry: LogEntry) -> str:
        """The player that an entry is about, as entered; empty where it is about none."""
        named = entry.player or self.players.get(entry.ruling, "")
        return self.names.get(plain_name(named), named)

    def meant_by(self, group: int | None) -> tuple[int, ...]:
        """The group that is meant, or all of them.

        Args:
            group: Its number; None for all.
        """
        return tuple(sorted(self.starts)) if group is None else (group,)


def find_groups(draw: GroupDraw | None, starts: StartingList | None, names: Sequence[str], rulings: Sequence[LoggedRuling]) -> GroupFinder:
    """The groups of an event: those of the starting list, else those of the draw.

    Args:
        draw: The draw; None where there is none.
        starts: The starting list; None where there is none.
        names: Names as they were entered.
        rulings: The rulings that are logged.
    """
    lists = {group.number: (group.hole, group.players) for group in starts.groups} if starts is not None else {}
    if not lists and draw is not None:
        lists = {number: (1, players) for number, players in enumerate(draw.groups, start=1)}
    return GroupFinder(
        numbers={plain_name(player): number for number, (_, players) in lists.items() for player in players},
        starts={number: hole for number, (hole, _) in lists.items()},
        players={ruling.id: ruling.player for ruling in rulings},
        names={plain_name(name): name for name in names},
    )
