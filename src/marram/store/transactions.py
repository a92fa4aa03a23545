"""Transactions that read and that write, whichever database holds the store."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager

from sqlalchemy import Connection, Engine

from marram.store.postgresql_engine import told_of_postgresql
from marram.store.sqlite_engine import READS, told_of_sqlite


@contextmanager
def reading(engine: Engine, where: str) -> Iterator[Connection]:
    """A transaction that reads.

    Args:
        engine: The store.
        where: Its name, for messages.

    Raises:
        StoreError: The store cannot be read.
    """
    with _told(engine, where), engine.connect().execution_options(**{READS: True}) as connection, connection.begin():
        yield connection


@contextmanager
def writing(engine: Engine, where: str) -> Iterator[Connection]:
    """A transaction that writes: all of it is on the disk when it ends, or none.

    Args:
        engine: The store.
        where: Its name, for messages.

    Raises:
        StoreError: The store cannot be written to, or somebody else was quicker.
    """
    with _told(engine, where), engine.begin() as connection:
        yield connection


def is_file(engine: Engine) -> bool:
    """Whether the store is a file, which can be copied and looked through as one."""
    return engine.dialect.name == "sqlite"


def _told(engine: Engine, where: str) -> AbstractContextManager[None]:
    return told_of_sqlite(where) if is_file(engine) else told_of_postgresql(where)
