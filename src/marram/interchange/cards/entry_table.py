"""A table of entries, one player a row, and a draw as the Committee lists it: every fault by row and column, in one pass."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from marram.core.errors import CardError
from marram.core.words import shortly
from marram.events.entry_list import Entry, find_doubles
from marram.events.event_terms import EventTerms
from marram.interchange.cards.card_table import COLUMNS_OF_PLAYER, CardReader
from marram.interchange.cards.plus_signs import check_handicaps
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import Table, read_rows, read_table
from marram.rulebook.book import Book

HINT = "See docs/formats/entries.md."
_COLUMNS = {**COLUMNS_OF_PLAYER, "division": ("class", "flight")}
_LISTED = {"player": ("name",), "group": ("match",)}
_MOST_ENTRIES = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class EntriesRead:
    """Entries as they were read.

    Attributes:
        entries: The entries.
        remarks: What is no fault and still worth a look.
    """

    entries: tuple[Entry, ...]
    remarks: tuple[str, ...]


def read_entries(path: Path, terms: EventTerms, handicapping: Book) -> EntriesRead:
    """Read a table of entries.

    Args:
        path: A CSV file or a workbook.
        terms: The terms that they are held against.
        handicapping: The book of handicapping.

    Raises:
        CardError: The file cannot be used; every fault is told with its row and column.
    """
    faults = Faults(where=path.name, error=CardError, hint=HINT)
    table = read_table(path, _COLUMNS, [("player",)], what="a table of entries", error=CardError, faults=faults)
    entries: list[Entry] = []
    read_rows(table, faults, lambda row: entries.append(_entry(row, terms, table)))
    if not entries:
        faults.add("the table", "there is no row below the heading")
    if len(entries) > _MOST_ENTRIES:
        faults.add("the table", f"it holds {len(entries)} rows; {_MOST_ENTRIES:,} at most are read")
    for first, again in find_doubles(entries):
        faults.add(f"row {again.row}, column player", f"{again.player} stands in row {first.row} already")
    of_handicaps = check_handicaps(terms.terms, handicapping, [entry.as_card() for entry in entries], faults)
    faults.refuse()
    unread = [f"Not read: column {name}." for name in table.not_read]
    return EntriesRead(entries=tuple(entries), remarks=(*unread, *of_handicaps))


def _entry(row: RowReader, terms: EventTerms, table: Table) -> Entry:
    cells = CardReader(row, terms.terms, 0, table)
    tee = cells.tee()
    division = row.text("division")
    if division and division not in terms.division_names:
        known = ", ".join(terms.division_names) or "none"
        row.fault("division", f"{shortly(division)} is no division of the terms; there are: {known}")
    together = row.text("side")
    if terms.team is not None and not together:
        row.fault("side", "the terms place teams, and no team stands here")
    return Entry(
        player=cells.player(),
        side="" if terms.team is not None else together,
        team=together if terms.team is not None else "",
        tee=tee.name if tee is not None else "",
        handicap_index=cells.index(tee),
        course_handicap=cells.handicap("course_handicap", decimals=None),
        playing_handicap=cells.whole_handicap("playing_handicap"),
        division=division,
        row=row.row.number,
    )


def read_draw_list(path: Path) -> tuple[tuple[str, str], ...]:
    """Read a draw as the Committee lists it.

    Args:
        path: A CSV file or a workbook with the columns ``player`` and, where groups are named, ``group``.

    Returns:
        Each player with the name of the group; empty where none is named.

    Raises:
        CardError: The file cannot be used; every fault is told with its row and column.
    """
    faults = Faults(where=path.name, error=CardError, hint=HINT)
    table = read_table(path, _LISTED, [("player",)], what="a draw as a list", error=CardError, faults=faults)
    found: list[tuple[str, str]] = []
    read_rows(table, faults, lambda row: found.append((row.text("player"), row.text("group"))))
    has_groups = any(group for _, group in found)
    for row, (player, group) in zip(table.rows, found, strict=True):
        if not player:
            faults.add(f"row {row.number}, column player", "a name is needed")
        if has_groups and not group:
            faults.add(f"row {row.number}, column group", "a group is needed, since others have one")
    faults.refuse()
    return tuple(found)
