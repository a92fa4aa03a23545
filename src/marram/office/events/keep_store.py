"""Keeping a store: back it up, put a backup in its place, look through it."""

from __future__ import annotations

from pathlib import Path

from marram.store.copies import backup_database, backup_store, restore_database, restore_store
from marram.store.open_store import is_database, open_store, path_of
from marram.store.postgresql_engine import postgresql_engine
from marram.store.verify import StoreVerified, verify_store


def store_words(place: str) -> str:
    """A store as it is told: of an address without name and password.

    Args:
        place: The store.
    """
    return postgresql_engine(place)[1] if is_database(place) else place


def back_up(place: str, target: Path) -> StoreVerified:
    """Copy a store, and look through the copy.

    Args:
        place: The store.
        target: Where to.

    Raises:
        StoreError: There is no store, something stands at the target, or the copy is not sound.
    """
    if is_database(place):
        return backup_database(open_store(place), target)
    return backup_store(path_of(place), target)


def restore(backup: Path, place: str) -> StoreVerified:
    """Put a backup in the place of a store that is lost.

    Args:
        backup: The backup.
        place: Where the store is to be.

    Raises:
        StoreError: There is no backup, it is not sound, or a store stands there.
    """
    if is_database(place):
        return restore_database(backup, place)
    return restore_store(backup, path_of(place))


def verify(place: str) -> StoreVerified:
    """Look through a store.

    Args:
        place: The store.

    Raises:
        StoreError: There is none, or it cannot be read at all.
    """
    return verify_store(open_store(place))
