"""The store appends and supersedes, in one transaction or not at all, and says in plain words why it does not."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import event as hooks

from marram.core.errors import StoreError
from marram.store import sqlite_engine
from marram.store.contents import read_back, written
from marram.store.kept_rows import Hand, Kind, Writing, short_stamp, stamp_of
from marram.store.open_store import Store, open_store, standing

ROOT = Path(__file__).resolve().parents[2]


def hand(at: str = "2026-06-13T08:00:00.000+00:00") -> Hand:
    return Hand(who="Rowan", clock=lambda: at)


def card(key: str, content: str = "{}", supersedes: int | None = None, reason: str = "") -> Writing:
    return Writing(kind=Kind.CARD, key=key, content=content, supersedes=supersedes, reason=reason)


@pytest.fixture
def in_file(tmp_path: Path) -> Store:
    return open_store(str(tmp_path / "store.sqlite"), is_new=True)


def test_rows_are_numbered_within_their_event_and_tied_to_the_row_before(store: Store) -> None:
    store.append("one", hand(), [card("a"), card("b")])
    store.append("two", hand(), [card("a")])
    store.append("one", hand(), [card("c")])
    rows = store.every_row("one")
    assert [(row.number, row.key) for row in rows] == [(1, "a"), (2, "b"), (3, "c")]
    assert [row.stamp for row in rows] == [
        stamp_of(before, row) for before, row in zip(["", *(row.stamp for row in rows)], rows, strict=False)
    ]
    assert store.every_row("two")[0].number == 1
    assert store.events() == ("one", "two")
    assert short_stamp("0123456789") == "0123 4567"


def test_every_part_of_a_row_is_in_its_stamp(store: Store) -> None:
    from dataclasses import replace

    (row,) = store.append("one", hand(), [card("a", '{"x":1}', reason="why")])
    others = [
        replace(row, event="two"),
        replace(row, number=2),
        replace(row, kind="entry"),
        replace(row, key="b"),
        replace(row, content='{"x":2}'),
        replace(row, supersedes=1),
        replace(row, who="Aster"),
        replace(row, at="2026-06-13T08:00:00.001+00:00"),
        replace(row, reason=""),
    ]
    assert len({stamp_of("", other) for other in (row, *others)}) == 10
    assert stamp_of("x", row) != stamp_of("", row)


def test_what_supersedes_stands_and_what_stood_is_kept(store: Store) -> None:
    store.append("one", hand(), [card("a", "1"), card("b", "2")])
    store.append("one", hand(), [card("a", "3", supersedes=1, reason="misread")])
    assert [(row.key, row.content) for row in standing(store.every_row("one"))] == [("a", "3"), ("b", "2")]
    assert [row.content for row in store.every_row("one")] == ["1", "2", "3"]


@pytest.mark.parametrize("again", [card("a"), card("a", supersedes=1)], ids=["first twice", "superseded twice"])
def test_who_comes_second_is_told_and_nothing_of_it_is_written(store: Store, again: Writing) -> None:
    store.append("one", hand(), [card("a")])
    store.append("one", hand(), [card("a", "2", supersedes=1)])
    with pytest.raises(StoreError, match="Somebody else has changed this") as told:
        store.append("one", hand(), [card("new"), again])
    assert told.value.exit_code == 5
    assert len(store.every_row("one")) == 2


def test_what_rests_on_all_rows_is_refused_when_one_has_come_since(store: Store) -> None:
    store.append("one", hand(), [card("a")], seen=0)
    with pytest.raises(StoreError, match="1 rows were written to the event since"):
        store.append("one", hand(), [card("b")], seen=0)
    store.append("one", hand(), [card("b")], seen=1)


def test_a_clock_that_runs_backwards_is_refused(store: Store) -> None:
    store.append("one", hand("2026-06-13T08:00:01.000+00:00"), [card("a")])
    with pytest.raises(StoreError, match=r"08:00:00.999.*08:00:01.000.*backwards"):
        store.append("one", hand("2026-06-13T08:00:00.999+00:00"), [card("b")])
    store.append("one", hand("2026-06-13T08:00:01.000+00:00"), [card("b")])
    store.append("two", hand("2026-06-13T07:00:00.000+00:00"), [card("b")])


def test_rows_can_be_neither_changed_nor_deleted(tmp_path: Path, in_file: Store) -> None:
    in_file.append("one", hand(), [card("a")])
    with sqlite3.connect(tmp_path / "store.sqlite") as connection:
        for statement in ("UPDATE journal SET content = '2'", "DELETE FROM journal"):
            with pytest.raises(sqlite3.IntegrityError, match="superseded"):
                connection.execute(statement)
    connection.close()


def test_what_is_kept_is_on_the_disk_before_it_is_said(tmp_path: Path, in_file: Store) -> None:
    with in_file._engine.connect() as connection:  # noqa: SLF001 - what no other door shows
        told = [connection.exec_driver_sql(f"PRAGMA {name}").scalar_one() for name in ("journal_mode", "synchronous", "foreign_keys")]
    assert told == ["wal", 2, 1]  # 2 is FULL


def test_a_second_process_that_writes_is_waited_for_and_then_told_of(
    tmp_path: Path, in_file: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    in_file.append("one", hand(), [card("a")])
    monkeypatch.setattr(sqlite_engine, "WAIT_S", 0.05)
    impatient = open_store(str(tmp_path / "store.sqlite"))
    other = sqlite3.connect(tmp_path / "store.sqlite", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(StoreError, match="Another process is writing"):
        impatient.append("one", hand(), [card("b")])
    assert [row.key for row in impatient.every_row("one")] == ["a"], "reading goes on"
    other.execute("ROLLBACK")
    other.close()
    impatient.append("one", hand(), [card("b")])


def test_a_full_disk_is_told_and_nothing_is_half_done(tmp_path: Path, in_file: Store) -> None:
    in_file.append("one", hand(), [card("a")])

    def no_more(connection: sqlite3.Connection, _: object) -> None:
        connection.execute("PRAGMA max_page_count = 9")

    hooks.listen(in_file._engine, "connect", no_more)  # noqa: SLF001 - a disk of nine pages
    with pytest.raises(StoreError, match="The disk is full"):
        in_file.append("one", hand(), [card(f"b{number}", '"' + "x" * 4000 + '"') for number in range(30)])
    assert [row.key for row in open_store(str(tmp_path / "store.sqlite")).every_row("one")] == ["a"]


LIMITED = """
import resource, signal, sys
from marram.core.errors import StoreError
from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import open_store
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
store = open_store(sys.argv[1])
resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, 60_000))
rows = [Writing(kind=Kind.CARD, key=str(number), content='"' + "x" * 4000 + '"') for number in range(40)]
try:
    store.append("one", Hand(who="Rowan", clock=lambda: "2026-06-13T09"), rows)
except StoreError as problem:
    print(problem)
"""


def test_a_file_that_may_not_grow_is_told_and_nothing_is_half_done(tmp_path: Path, in_file: Store) -> None:
    in_file.append("one", hand(), [card("a")])
    place = str(tmp_path / "store.sqlite")
    done = subprocess.run([sys.executable, "-c", LIMITED, place], cwd=ROOT, capture_output=True, text=True, check=False)
    assert "Nothing was written" in done.stdout, done.stdout + done.stderr
    assert [row.key for row in open_store(place).every_row("one")] == ["a"]


def no_store(folder: Path) -> str:
    return str(folder / "none.sqlite")


def a_folder(folder: Path) -> str:
    return str(folder)


def another_program(folder: Path) -> str:
    with sqlite3.connect(folder / "other.sqlite") as connection:
        connection.execute("CREATE TABLE members (name TEXT)")
    connection.close()
    return str(folder / "other.sqlite")


def no_database(folder: Path) -> str:
    (folder / "text.sqlite").write_text("These are no rows. " * 300, encoding="utf-8")
    return str(folder / "text.sqlite")


def later_program(folder: Path) -> str:
    open_store(str(folder / "later.sqlite"), is_new=True)
    with sqlite3.connect(folder / "later.sqlite") as connection:
        connection.execute("INSERT INTO schema_version (number) VALUES (99)")
    connection.close()
    return str(folder / "later.sqlite")


@pytest.mark.parametrize(
    ("made", "told"),
    [
        (no_store, "There is no store"),
        (a_folder, "This is a folder"),
        (another_program, "not one of events"),
        (no_database, "no SQLite database"),
        (later_program, "has schema 99"),
        (lambda folder: str(folder / "away" / "x.sqlite"), "There is no store"),
        (lambda _: "mysql://host/events", "mysql:// cannot be opened"),
        (lambda _: "postgresql://nobody@127.0.0.1:1/events", "127.0.0.1/events: The database cannot be reached"),
        (lambda _: "postgresql+psycopg://name@host:port/events", "no address of a database"),
    ],
)
def test_what_is_no_store_is_told(tmp_path: Path, made: Callable[[Path], str], told: str) -> None:
    with pytest.raises(StoreError, match=told):
        open_store(made(tmp_path))


def test_a_store_is_not_made_where_none_is_asked_for(tmp_path: Path) -> None:
    with pytest.raises(StoreError):
        open_store(str(tmp_path / "none.sqlite"))
    assert list(tmp_path.iterdir()) == []
    with pytest.raises(StoreError, match="folder of the store is not there"):
        open_store(str(tmp_path / "away" / "x.sqlite"), is_new=True)
    assert open_store(f"sqlite:///{tmp_path / 'x.sqlite'}", is_new=True).events() == ()


def values() -> Iterator[object]:
    from fractions import Fraction

    from marram.events.entry_list import Entry
    from marram.scoring.cards.card import Card, HoleEntry, Penalty

    yield Entry(player="Ñandú", handicap_index=Fraction(-12, 10), course_handicap=Fraction(41, 8))
    yield Card(
        player="Aster",
        entries=(HoleEntry(strokes=3), HoleEntry(is_picked_up=True), HoleEntry()),
        penalties=(Penalty(hole=3, act="too-many-clubs", facts=frozenset({"b", "a"}), ruling="R1"),),
    )


@pytest.mark.parametrize("value", list(values()), ids=lambda value: type(value).__name__)
def test_a_value_comes_back_as_it_was(value: object) -> None:
    text = written(value)
    assert read_back(text, type(value), "here") == value
    assert written(read_back(text, type(value), "here")) == text
    with pytest.raises(StoreError, match="here: The row cannot be read"):
        read_back("{}", type(value), "here")
