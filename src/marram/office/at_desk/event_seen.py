"""An event of the store beside the desk, looked at: who has entered, when groups start, how results stand, and what was written down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from marram.core.errors import EventError
from marram.events.entry_list import division_of
from marram.handicaps.written_handicaps import tell_handicap
from marram.office.at_desk.desk_folder import DeskFolder
from marram.office.events.event_papers import head_of, starting_sheet_of
from marram.office.events.event_standing import HistoryRow, stand_of, tell_history
from marram.office.events.printed_results import print_results
from marram.office.sheets.folder_papers import STORE
from marram.scoring.cards.card import CardStatus

if TYPE_CHECKING:
    from marram.events.entry_list import Entry
    from marram.office.events.kept_event import KeptEvent
    from marram.office.workroom import Workroom
    from marram.sheets.pages.event_sheets import EventHead, ResultSheets, StartingSheet


@dataclass(frozen=True, slots=True, kw_only=True)
class EntrySeen:
    """A player who has entered.

    Attributes:
        player: The name.
        side: The side; empty where the player plays alone.
        division: The division; empty where there are none.
        tee: The tee; empty where there is one only.
        index: Handicap Index; empty where none is stated.
        starts: Group and time; empty where there are none yet.
        state: What became of the card: ``in``, ``out`` for one that is awaited, else how the player left the event.
    """

    player: str
    side: str
    division: str
    tee: str
    index: str
    starts: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RowSeen:
    """A row of the log.

    Attributes:
        row: The row.
        about: Of whom or of what it is, as it was entered; empty where it is about the whole event.
    """

    row: HistoryRow
    about: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EventSeen:
    """An event.

    Attributes:
        name: Its name in the store.
        names: Every event of the store.
        head: What stands at the head of its papers.
        state: How far its results stand.
        entries: Who has entered, in the order of entry.
        starts: The starting list; None where there is none yet.
        results: The results; None where no card is in.
        why_no_results: Why there are none; empty where there are some.
        cards_in: How many cards are in.
        cards_out: How many are awaited.
        log: Every row that was written, the newest first.
    """

    name: str
    names: tuple[str, ...]
    head: EventHead
    state: str
    entries: tuple[EntrySeen, ...]
    starts: StartingSheet | None
    results: ResultSheets | None
    why_no_results: str
    cards_in: int
    cards_out: int
    log: tuple[RowSeen, ...]


def store_of(folder: DeskFolder) -> Path | None:
    """The store that stands beside the desk; None where there is none."""
    file = folder.root / STORE
    return file if file.is_file() else None


def see_event(room: Workroom, store_file: Path, asked: str) -> EventSeen:
    """Look at an event of a store.

    Args:
        room: The workroom.
        store_file: The store.
        asked: Name of the event; empty for the first of several.

    Raises:
        EventError: There is no such event, or a book has changed since it began.
        StoreError: The store cannot be read.
    """
    store = room.store(str(store_file))
    names = tuple(store.events())
    event = room.event(store, asked or next(iter(names), ""))
    results, why = _results(event)
    out = event.still_out()
    return EventSeen(
        name=event.name,
        names=names,
        head=head_of(event),
        state=stand_of(event).state if results is not None else "provisional",
        entries=tuple(_entry(event, entry) for entry in event.entries),
        starts=starting_sheet_of(event) if event.starts is not None else None,
        results=results,
        why_no_results=why,
        cards_in=len(event.cards),
        cards_out=len(out),
        log=tuple(_rows(event, tell_history(store, event.name))),
    )


def _rows(event: KeptEvent, rows: Sequence[HistoryRow]) -> Iterator[RowSeen]:
    """Rows, the newest first; whom one is about by the name under which he or she entered, with the round where there are several."""
    names = {entry.key: entry.player for entry in event.entries} | {
        entry.side.casefold(): entry.side for entry in event.entries if entry.side
    }
    for row in reversed(rows):
        key, _, rest = row.key.partition("|")
        played = f", round {rest}" if rest.isdecimal() and event.terms.terms.rounds > 1 else ""
        yield RowSeen(row=row, about=f"{names.get(key, key)}{played}")


def _results(event: KeptEvent) -> tuple[ResultSheets | None, str]:
    try:
        return print_results(event, head_of(event)), ""
    except EventError as problem:
        return None, problem.message


def _entry(event: KeptEvent, entry: Entry) -> EntrySeen:
    groups = () if event.starts is None else event.starts.groups
    group = next((group for group in groups if entry.player in group.players), None)
    return EntrySeen(
        player=entry.player,
        side=entry.side,
        division=division_of(event.terms, entry),
        tee=entry.tee if len(event.terms.terms.tees) > 1 else "",
        index="" if entry.handicap_index is None else tell_handicap(entry.handicap_index, 1),
        starts="" if group is None else f"{group.number}, {group.time}",
        state=_state(event, entry),
    )


def _state(event: KeptEvent, entry: Entry) -> str:
    """What became of a card: what was logged of a player goes before what is awaited, and that before what came in."""
    gone = event.out.get(entry.key)
    if gone is not None and gone.is_out:
        return gone.status.value
    awaited = {player for player, _ in event.still_out()}
    if entry.player in awaited or (entry.side and entry.side in awaited):
        return "out"
    statuses = [card.status for card in event.as_ruled() if card.player == entry.player]
    return next((status.value for status in statuses if status is not CardStatus.RETURNED), "in")
