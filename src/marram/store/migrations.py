"""Numbered migrations: each brings the store from the one before; none touches a row, so stamps stay."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import Connection

from marram.core.errors import StoreError

MIGRATIONS: Mapping[int, tuple[str, ...]] = {
    1: (
        "CREATE TABLE schema_version (number INTEGER NOT NULL PRIMARY KEY)",
        "CREATE TABLE journal (event VARCHAR NOT NULL, number INTEGER NOT NULL, kind VARCHAR NOT NULL, key VARCHAR NOT NULL,"
        " content TEXT NOT NULL, supersedes INTEGER, who VARCHAR NOT NULL, at VARCHAR NOT NULL, reason VARCHAR NOT NULL,"
        " stamp VARCHAR NOT NULL, PRIMARY KEY (event, number), CONSTRAINT superseded_once UNIQUE (event, supersedes))",
    ),
    2: (
        "CREATE UNIQUE INDEX one_first_row ON journal (event, kind, key) WHERE supersedes IS NULL",
        "CREATE TRIGGER no_row_is_changed BEFORE UPDATE ON journal BEGIN SELECT RAISE(ABORT, 'rows are superseded, not changed'); END",
        "CREATE TRIGGER no_row_is_taken BEFORE DELETE ON journal BEGIN SELECT RAISE(ABORT, 'rows are superseded, not deleted'); END",
    ),
}
LATEST = max(MIGRATIONS)
_HAS_TABLE = "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = 'schema_version'"


def version_of(connection: Connection) -> int:
    """The number of the last migration that was run; 0 for a new store."""
    if not connection.exec_driver_sql(_HAS_TABLE).scalar_one():
        return 0
    return int(connection.exec_driver_sql("SELECT coalesce(max(number), 0) FROM schema_version").scalar_one())


def migrate(connection: Connection, where: str) -> tuple[int, ...]:
    """Bring a store to the latest schema, within the transaction of the caller.

    Args:
        connection: The store.
        where: Its name, for messages.

    Returns:
        The migrations that were run.

    Raises:
        StoreError: The store is newer than this program, or it is another program's database.
    """
    found = version_of(connection)
    if found > LATEST:
        told = f"The store has schema {found}, and this program knows {LATEST} at most."
        raise StoreError(told, where=where, hint="Use the program that wrote it, or a later one.")
    tables = "SELECT count(*) FROM sqlite_master WHERE type = 'table'"
    if found == 0 and connection.exec_driver_sql(tables).scalar_one():
        raise StoreError("This is a database, but not one of events.", where=where, hint="Give another place for the store.")
    run = tuple(number for number in sorted(MIGRATIONS) if number > found)
    for number in run:
        for statement in MIGRATIONS[number]:
            connection.exec_driver_sql(statement)
        connection.exec_driver_sql("INSERT INTO schema_version (number) VALUES (?)", (number,))
    return run
