"""Numbered migrations: each brings the store from the one before; none touches a row, so stamps stay."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import Connection, func, insert, inspect, select

from marram.core.errors import StoreError
from marram.store.journal_table import VERSION

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
_NO_CHANGE = """CREATE FUNCTION no_row_is_changed() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION 'rows are superseded, not changed or deleted'; END $$"""
ON_POSTGRESQL: Mapping[int, tuple[str, ...]] = {
    1: MIGRATIONS[1],
    2: (
        MIGRATIONS[2][0],
        _NO_CHANGE,
        "CREATE TRIGGER no_row_is_changed BEFORE UPDATE OR DELETE OR TRUNCATE ON journal EXECUTE FUNCTION no_row_is_changed()",
    ),
}
"""The same migrations as PostgreSQL takes them."""
LATEST = max(MIGRATIONS)


def version_of(connection: Connection) -> int:
    """The number of the last migration that was run; 0 for a new store."""
    if not inspect(connection).has_table(VERSION.name):
        return 0
    return int(connection.execute(select(func.coalesce(func.max(VERSION.c.number), 0))).scalar_one())


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
    if found == 0 and inspect(connection).get_table_names():
        raise StoreError("This is a database, but not one of events.", where=where, hint="Give another place for the store.")
    steps = MIGRATIONS if connection.dialect.name == "sqlite" else ON_POSTGRESQL
    run = tuple(number for number in sorted(steps) if number > found)
    for number in run:
        for statement in steps[number]:
            connection.exec_driver_sql(statement)
        connection.execute(insert(VERSION).values(number=number))
    return run
