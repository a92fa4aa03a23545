"""Backup, restore, verify, and a store of every past schema brought to today's with equal stamps."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from marram.core.errors import StoreError
from marram.store.copies import backup_store, restore_store
from marram.store.kept_rows import Hand, Kind, Writing, short_stamp, stamp_of
from marram.store.migrations import LATEST, MIGRATIONS
from marram.store.open_store import Store, open_store
from marram.store.verify import find_row_faults, refuse_altered, verify_store

HAND = Hand(who="Rowan", clock=lambda: "2026-06-13T08:00:00.000+00:00")
FIRST_STAMP = "217a 76d4"
"""Worked out apart from the program: SHA-256 of ["","one",1,"card","0","{}",null,"Rowan","2026-06-13T08:00:00.000+00:00",""]."""


def filled(place: Path, count: int = 5) -> Store:
    store = open_store(str(place), is_new=True)
    store.append("one", HAND, [Writing(kind=Kind.CARD, key=str(number), content="{}") for number in range(count)])
    return store


def run_sql(place: Path, *statements: str) -> None:
    with closing(sqlite3.connect(place)) as connection:
        for statement in statements:
            connection.execute(statement)
        connection.commit()


def of_schema(place: Path, schema: int) -> None:
    """A store as a program of that schema left it, with three rows."""
    run_sql(place, *(statement for number in range(1, schema + 1) for statement in MIGRATIONS[number]))
    run_sql(place, *(f"INSERT INTO schema_version (number) VALUES ({number})" for number in range(1, schema + 1)))
    rows = filled(place.with_name("today.sqlite"), 3).every_row("one")
    with closing(sqlite3.connect(place)) as connection:
        for row in rows:
            given = (row.event, row.number, row.kind, row.key, row.content, row.supersedes, row.who, row.at, row.reason, row.stamp)
            connection.execute(f"INSERT INTO journal VALUES ({','.join('?' * 10)})", given)
        connection.commit()


def test_a_stamp_is_what_the_page_of_the_store_says(tmp_path: Path) -> None:
    (row, *_) = filled(tmp_path / "store.sqlite", 1).every_row("one")
    assert short_stamp(row.stamp) == FIRST_STAMP


@pytest.mark.parametrize("schema", sorted(MIGRATIONS))
def test_a_store_of_every_past_schema_comes_to_today_s_with_equal_stamps(tmp_path: Path, schema: int) -> None:
    place = tmp_path / "old.sqlite"
    of_schema(place, schema)
    store = open_store(str(place))
    found = verify_store(store)
    assert found.is_sound and found.schema == LATEST
    assert store.every_row("one") == open_store(str(tmp_path / "today.sqlite")).every_row("one")
    with closing(sqlite3.connect(place)) as old, closing(sqlite3.connect(tmp_path / "today.sqlite")) as new:
        asked = "SELECT name, sql FROM sqlite_master ORDER BY name"
        assert old.execute(asked).fetchall() == new.execute(asked).fetchall()
        assert old.execute("SELECT number FROM schema_version ORDER BY number").fetchall() == [(n,) for n in sorted(MIGRATIONS)]


def test_a_migration_that_fails_leaves_the_store_as_it_was(tmp_path: Path) -> None:
    place = tmp_path / "old.sqlite"
    of_schema(place, 1)
    run_sql(place, "INSERT INTO journal SELECT event, 9, kind, key, content, NULL, who, at, reason, stamp FROM journal WHERE number = 1")
    with pytest.raises(StoreError):
        open_store(str(place))
    with closing(sqlite3.connect(place)) as connection:
        assert connection.execute("SELECT max(number) FROM schema_version").fetchone() == (1,)


_UNGUARDED = ("DROP TRIGGER no_row_is_changed", "DROP TRIGGER no_row_is_taken", "DROP INDEX one_first_row")


@pytest.mark.parametrize(
    ("damage", "told"),
    [
        ("UPDATE journal SET content = '{\"x\":1}' WHERE number = 3", "row 3: it was altered"),
        ("UPDATE journal SET who = 'Aster' WHERE number = 1", "row 1: it was altered"),
        ("DELETE FROM journal WHERE number = 2", "row 2 is missing"),
        ("UPDATE journal SET number = 7 WHERE number = 5", "row 5 is missing"),
    ],
)
def test_verify_finds_what_was_altered(tmp_path: Path, damage: str, told: str) -> None:
    place = tmp_path / "store.sqlite"
    store = filled(place)
    assert verify_store(store).is_sound
    run_sql(place, *_UNGUARDED, damage)
    found = verify_store(store)
    assert not found.is_sound
    assert told in found.events[0].faults[0]


def test_verify_finds_a_row_that_supersedes_what_does_not_stand(tmp_path: Path) -> None:
    store = filled(tmp_path / "store.sqlite", 1)
    store.append("one", HAND, [Writing(kind=Kind.CARD, key="new", content="{}", supersedes=77)])
    assert "row 2: it does not follow" in verify_store(store).events[0].faults[0]


def test_the_last_stamp_tells_whether_rows_were_taken_from_the_end(tmp_path: Path) -> None:
    place = tmp_path / "store.sqlite"
    store = filled(place)
    before = verify_store(store).events[0].stamp
    run_sql(place, *_UNGUARDED, "DELETE FROM journal WHERE number = 5")
    found = verify_store(store)
    assert found.is_sound, "nothing in the file itself tells it"
    assert found.events[0].stamp != before


def test_a_backup_is_one_file_and_restores_to_equal_rows(tmp_path: Path) -> None:
    store = filled(tmp_path / "store.sqlite")
    made = backup_store(tmp_path / "store.sqlite", tmp_path / "backup.sqlite")
    assert made.is_sound and made.events[0].rows == 5
    assert sorted(path.name for path in tmp_path.iterdir() if "backup" in path.name) == ["backup.sqlite"]
    store.append("one", HAND, [Writing(kind=Kind.CARD, key="later", content="{}")])
    restore_store(tmp_path / "backup.sqlite", tmp_path / "again.sqlite")
    again = open_store(str(tmp_path / "again.sqlite"))
    assert again.every_row("one") == store.every_row("one")[:5]
    again.append("one", HAND, [Writing(kind=Kind.CARD, key="other", content="{}")])


def test_nothing_that_stands_is_written_over(tmp_path: Path) -> None:
    filled(tmp_path / "store.sqlite")
    (tmp_path / "there").write_text("kept", encoding="utf-8")
    for job in (backup_store, restore_store):
        with pytest.raises(StoreError, match="something already"):
            job(tmp_path / "store.sqlite", tmp_path / "there")
    assert (tmp_path / "there").read_text(encoding="utf-8") == "kept"


def test_a_backup_that_is_not_sound_is_not_restored(tmp_path: Path) -> None:
    filled(tmp_path / "store.sqlite")
    backup_store(tmp_path / "store.sqlite", tmp_path / "backup.sqlite")
    run_sql(tmp_path / "backup.sqlite", *_UNGUARDED, "DELETE FROM journal WHERE number = 2")
    with pytest.raises(StoreError, match="not sound: row 2 is missing"):
        restore_store(tmp_path / "backup.sqlite", tmp_path / "again.sqlite")
    (tmp_path / "text").write_text("no database " * 100, encoding="utf-8")
    with pytest.raises(StoreError):
        restore_store(tmp_path / "text", tmp_path / "again.sqlite")
    with pytest.raises(StoreError, match="There is no backup"):
        restore_store(tmp_path / "none", tmp_path / "again.sqlite")
    assert not [path.name for path in tmp_path.iterdir() if path.name.startswith("again")]


def test_verify_finds_a_row_written_before_the_one_above_it(tmp_path: Path) -> None:
    place = tmp_path / "store.sqlite"
    first, second = filled(place, 2).every_row("one")
    earlier = replace(second, at="2026-06-13T07:00:00.000+00:00")
    stamp = stamp_of(first.stamp, earlier)
    run_sql(place, *_UNGUARDED, f"UPDATE journal SET at = '{earlier.at}', stamp = '{stamp}' WHERE number = 2")
    (fault,) = verify_store(open_store(str(place))).events[0].faults
    assert "row 2: it was written at 2026-06-13T07:00" in fault


def test_an_event_without_rows_is_not_sound() -> None:
    assert list(find_row_faults(())) == ["none of its rows can be found"]
    with pytest.raises(StoreError, match="The store is damaged: none of its rows can be found"):
        refuse_altered((), "day.sqlite")
