"""The table of the store as it stands today; how an older one comes to it is written in the migrations."""

from __future__ import annotations

from sqlalchemy import Column, Integer, MetaData, PrimaryKeyConstraint, String, Table, Text, UniqueConstraint

METADATA = MetaData()

VERSION = Table("schema_version", METADATA, Column("number", Integer, primary_key=True))
"""One row for each migration that was run."""

JOURNAL = Table(
    "journal",
    METADATA,
    Column("event", String, nullable=False),
    Column("number", Integer, nullable=False),
    Column("kind", String, nullable=False),
    Column("key", String, nullable=False),
    Column("content", Text, nullable=False),
    Column("supersedes", Integer),
    Column("who", String, nullable=False),
    Column("at", String, nullable=False),
    Column("reason", String, nullable=False),
    Column("stamp", String, nullable=False),
    PrimaryKeyConstraint("event", "number"),
    UniqueConstraint("event", "supersedes", name="superseded_once"),
)
"""Every row that was ever written, numbered from 1 within its event. A row may be superseded once; who comes second is told of it."""
