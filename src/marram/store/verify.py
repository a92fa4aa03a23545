"""Whether a store is sound: the file itself, and every row by its number, its stamp and what it supersedes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marram.core.errors import StoreError
from marram.core.words import counted
from marram.store.kept_rows import KeptRow, short_stamp, stamp_of
from marram.store.migrations import version_of
from marram.store.open_store import Store
from marram.store.transactions import reading


@dataclass(frozen=True, slots=True, kw_only=True)
class EventVerified:
    """An event as its rows were found.

    Attributes:
        event: The event.
        rows: How many rows it has.
        stamp: The stamp of the last one, as it is printed: whoever noted it can see that none was taken away.
        faults: What is wrong; empty where all is sound.
    """

    event: str
    rows: int
    stamp: str
    faults: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StoreVerified:
    """A store as it was found.

    Attributes:
        schema: Number of its last migration.
        events: Its events.
        faults: What is wrong with the file itself.
    """

    schema: int
    events: tuple[EventVerified, ...]
    faults: tuple[str, ...]

    @property
    def is_sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.faults and not any(event.faults for event in self.events)


def verify_store(store: Store) -> StoreVerified:
    """Look through a store.

    Args:
        store: The store.

    Raises:
        StoreError: It cannot be read at all.
    """
    with reading(store._engine, store.where) as connection:  # noqa: SLF001 - of the same room
        looked = connection.exec_driver_sql("PRAGMA integrity_check").scalars() if store.is_file else ()
        found = [str(line) for line in looked]
        schema = version_of(connection)
    events = tuple(_verified(event, store.every_row(event)) for event in store.journals())
    return StoreVerified(schema=schema, events=events, faults=tuple(line for line in found if line != "ok"))


def _verified(event: str, rows: Sequence[KeptRow]) -> EventVerified:
    return EventVerified(
        event=event, rows=len(rows), stamp=short_stamp(rows[-1].stamp if rows else ""), faults=tuple(find_row_faults(rows))
    )


def refuse_altered(rows: Sequence[KeptRow], where: str) -> None:
    """See that nothing is worked out from rows that were altered.

    Args:
        rows: Every row of an event.
        where: The store, for messages.

    Raises:
        StoreError: A row was altered, or is missing.
    """
    fault = next(find_row_faults(rows), "")
    if fault:
        raise StoreError(
            f"The store is damaged: {fault}.", where=where, hint="Keep the file, and restore a backup; `verify_store()` tells more."
        )


def find_row_faults(rows: Sequence[KeptRow]) -> Iterator[str]:
    """What is wrong with the rows of an event, one after the other.

    Args:
        rows: Every row, in order.
    """
    if not rows:
        yield "none of its rows can be found"
    stamp, at, stands = "", "", dict[tuple[str, str], int]()
    for place, row in enumerate(rows, start=1):
        if row.number != place:
            yield f"row {place} is missing; the next is {row.number}"
            return
        if row.stamp != stamp_of(stamp, row):
            yield f"row {row.number}: it was altered, or a row before it was; {counted(len(rows) - place + 1, 'row')} cannot be trusted"
            return
        if row.supersedes != stands.get((row.kind, row.key)):
            yield f"row {row.number}: it does not follow on the row of {row.kind} {row.key} before it".replace("  ", " ")
        if row.at < at:
            yield f"row {row.number}: it was written at {row.at}, before the row above it"
        stamp, at, stands[row.kind, row.key] = row.stamp, row.at, row.number
