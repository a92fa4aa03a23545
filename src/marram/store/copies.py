"""Backup and restore: a copy is whole, looked through, and takes its place in one step."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

from marram.core.errors import StoreError
from marram.store.open_store import Store, open_store
from marram.store.sqlite_engine import WAIT_S
from marram.store.verify import StoreVerified, verify_store

_PART = ".part"
_BESIDE = ("-wal", "-shm")


def backup_store(source: Path, target: Path) -> StoreVerified:
    """Copy a store while others may go on writing, and look through the copy.

    Args:
        source: The store.
        target: Where to; there must be nothing yet.

    Returns:
        What was found in the copy.

    Raises:
        StoreError: There is no store, something stands at the target, the disk is full, or the copy is not sound.
    """
    open_store(str(source))  # says what is wrong with it, and brings it to the latest schema
    return _copied(lambda part: _copy(source, part), source.name, target, "backup")


def backup_database(store: Store, target: Path) -> StoreVerified:
    """Copy the rows of a database into one file, as they stand at one moment, and look through the copy.

    Args:
        store: The store.
        target: The file to write; there must be nothing yet.

    Returns:
        What was found in the copy.

    Raises:
        StoreError: Something stands at the target, the disk is full, or the copy is not sound.
    """
    return _copied(lambda part: _copy_rows(store, part), store.where, target, "backup")


def restore_database(backup: Path, address: str) -> StoreVerified:
    """Put the rows of a backup into a database that is empty.

    Args:
        backup: The backup.
        address: The database.

    Returns:
        What was found in the database.

    Raises:
        StoreError: There is no backup, it is not sound, or the database holds rows.
    """
    _refuse_missing(backup)
    with TemporaryDirectory() as folder:
        part = Path(folder) / backup.name
        _copy(backup, part)  # an older backup is brought to the latest schema, and itself stays as it is
        read = open_store(str(part))
        _refuse_unsound(verify_store(read), backup.name, "store")
        store = open_store(address, is_new=True)
        store.take_over(read.all_rows())
    return verify_store(store)


def restore_store(backup: Path, target: Path) -> StoreVerified:
    """Put a backup in the place of a store that is lost.

    Args:
        backup: The backup.
        target: Where the store is to be; there must be nothing yet.

    Returns:
        What was found in the store.

    Raises:
        StoreError: There is no backup, it is not sound, or a store stands at the target.
    """
    _refuse_missing(backup)
    return _copied(lambda part: _copy(backup, part), backup.name, target, "store")


def _refuse_missing(backup: Path) -> None:
    if not backup.is_file():
        raise StoreError("There is no backup.", where=backup.name, hint="Give the file that a backup was written to.")


def _refuse_unsound(found: StoreVerified, where: str, called: str) -> None:
    if not found.is_sound:
        faults = [*found.faults, *(fault for event in found.events for fault in event.faults)]
        raise StoreError(f"It is not sound: {faults[0]}.", where=where, hint=f"The {called} was not made.")


def _copied(fill: Callable[[Path], None], where: str, target: Path, called: str) -> StoreVerified:
    if target.exists():
        hint = "Nothing was written. Give another place, or move what stands there away first."
        raise StoreError(f"There is something already where the {called} would go.", where=target.name, hint=hint)
    part = target.with_name(target.name + _PART)
    try:
        fill(part)
        found = verify_store(open_store(str(part)))
        _refuse_unsound(found, where, called)
        _bring_to_disk(part)
        part.replace(target)
    except OSError as problem:
        raise StoreError(
            f"The {called} cannot be written: {problem.strerror}.", where=target.name, hint="Give a place with room."
        ) from None
    finally:
        for left in (part, *(part.with_name(part.name + end) for end in _BESIDE)):
            left.unlink(missing_ok=True)
    return found


def _copy(source: Path, part: Path) -> None:
    part.unlink(missing_ok=True)
    try:
        uri = f"{source.resolve().as_uri()}?mode=ro"
        with closing(sqlite3.connect(uri, uri=True, timeout=WAIT_S)) as read, closing(sqlite3.connect(part)) as written:
            read.backup(written)
            written.execute("PRAGMA journal_mode = DELETE")  # the copy is one file
    except sqlite3.Error as problem:
        raise StoreError(f"The copy cannot be made: {problem}.", where=source.name, hint="Nothing was written.") from None


def _copy_rows(store: Store, part: Path) -> None:
    part.unlink(missing_ok=True)
    rows = store.all_rows()
    open_store(str(part), is_new=True).take_over(rows)
    with closing(sqlite3.connect(part)) as written:
        written.execute("PRAGMA journal_mode = DELETE")  # the copy is one file


def _bring_to_disk(path: Path) -> None:
    for one in (path, path.parent):
        handle = os.open(one, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
