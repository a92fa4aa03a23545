"""The one place that opens SQLite: what is acknowledged is on the disk, and only one process writes at a time."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.exc import DatabaseError, IntegrityError
from sqlalchemy.pool import ConnectionPoolEntry, NullPool

from marram.core.errors import StoreError

WAIT_S = 5.0
"""So long a process waits for another that writes before it says so."""
READS = "marram_reads"
"""Option of a connection that only reads."""
QUICKER = ("Somebody else has changed this since it was read.", "Nothing was written. Look at what stands now, and do it again.")
_DAMAGED, _KEEP = "The store is damaged.", "Keep the file, and restore a backup."
_HINTS = {
    "SQLITE_BUSY": ("Another process is writing to the store.", "Nothing was written. Try again when it has ended."),
    "SQLITE_LOCKED": ("Another process is writing to the store.", "Nothing was written. Try again when it has ended."),
    "SQLITE_FULL": ("The disk is full.", "Nothing was written. Make room and do it again."),
    "SQLITE_READONLY": ("The store may only be read.", "Nothing was written. See who may write to the file and its folder."),
    "SQLITE_CANTOPEN": ("The store cannot be opened.", "See that its folder is there and may be written to."),
    "SQLITE_NOTADB": ("This is no store: the file is no SQLite database.", "Give the store, or restore a backup."),
    "SQLITE_CORRUPT": (_DAMAGED, _KEEP),
    "SQLITE_IOERR": ("The disk could not be written or read.", "Nothing was written. See that there is room and the disk is sound."),
}


def sqlite_engine(path: Path) -> Engine:
    """An engine for a file.

    Args:
        path: The file.
    """
    # Each connection is closed when its work is done: nothing stays open that a backup or another process would meet.
    engine = create_engine(URL.create("sqlite", database=str(path)), poolclass=NullPool, connect_args={"timeout": WAIT_S})
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _prepare(connection: sqlite3.Connection, _: ConnectionPoolEntry) -> None:
    connection.isolation_level = None  # transactions are begun below, and not by the driver
    cursor = connection.cursor()
    try:
        cursor.execute("PRAGMA journal_mode = WAL")
        cursor.execute("PRAGMA synchronous = FULL")
        cursor.execute("PRAGMA foreign_keys = ON")
    finally:
        cursor.close()


def _begin(connection: Connection) -> None:
    # A writer takes the lock at once, so that what it reads first is what stands when it writes.
    connection.exec_driver_sql("BEGIN" if connection.get_execution_options().get(READS) else "BEGIN IMMEDIATE")


@contextmanager
def told_of_sqlite(where: str) -> Iterator[None]:
    """What the database complains of, in an official's words.

    Args:
        where: The store.

    Raises:
        StoreError: It complained.
    """
    try:
        yield
    except IntegrityError as problem:
        raise StoreError(QUICKER[0], where=where, hint=QUICKER[1]) from problem
    except DatabaseError as problem:
        raise _as_told(problem.orig, where) from problem
    except (sqlite3.Error, UnicodeDecodeError) as problem:
        raise _as_told(problem, where) from problem


def _as_told(problem: BaseException | None, where: str) -> StoreError:
    name = str(getattr(problem, "sqlite_errorname", ""))
    told, hint = next((said for start, said in _HINTS.items() if name.startswith(start)), ("", ""))
    return StoreError(told or _DAMAGED, where=where, hint=hint or _KEEP)
