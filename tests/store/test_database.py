"""A store in PostgreSQL: what only a database shows, and that it gives the same rows as a file."""

from __future__ import annotations

import re
from pathlib import Path

import psycopg
import pytest

from marram.core.errors import StoreError
from marram.office.events.keep_store import back_up, restore, verify
from marram.store import postgresql_engine
from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.migrations import LATEST, MIGRATIONS, ON_POSTGRESQL
from marram.store.open_store import open_store
from marram.store.verify import verify_store
from tests.store.test_copies_and_schemas import FIRST_STAMP, run_sql
from tests.store.test_two_officials import TERMS
from tests.support.killed_writes import kill_many
from tests.support.postgresql import Cluster
from tests.support.running import marram

pytestmark = pytest.mark.postgresql
HAND = Hand(who="Rowan", clock=lambda: "2026-06-13T08:00:00.000+00:00")


def card(key: str) -> Writing:
    return Writing(kind=Kind.CARD, key=key, content="{}")


@pytest.fixture
def address(cluster: Cluster) -> str:
    return cluster.database()


def name_of(address: str) -> str:
    return address.rpartition("/tests@/")[2].partition("?")[0] if "/tests@/" in address else address.split("@/")[1].partition("?")[0]


def test_rows_have_the_stamps_that_they_have_in_a_file(address: str, tmp_path: Path) -> None:
    given = [card("0"), Writing(kind=Kind.OUT, key="Ñandú", content='{"x":"ø"}', reason="why")]
    rows = open_store(address, is_new=True).append("one", HAND, given)
    assert rows == open_store(str(tmp_path / "store.sqlite"), is_new=True).append("one", HAND, given)
    assert rows[0].stamp.startswith(FIRST_STAMP.replace(" ", ""))
    assert verify_store(open_store(address)).is_sound and verify_store(open_store(address)).schema == LATEST
    assert set(ON_POSTGRESQL) == set(MIGRATIONS)


def test_rows_can_be_neither_changed_nor_deleted(cluster: Cluster, address: str) -> None:
    open_store(address, is_new=True).append("one", HAND, [card("a")])
    for statement in ("UPDATE journal SET content = '2'", "DELETE FROM journal", "TRUNCATE journal"):
        with pytest.raises(psycopg.errors.RaiseException, match="superseded"):
            cluster.tell(name_of(address), statement)


def test_what_was_altered_is_found(cluster: Cluster, address: str) -> None:
    store = open_store(address, is_new=True)
    store.append("one", HAND, [card("a"), card("b")])
    cluster.tell(name_of(address), "DROP TRIGGER no_row_is_changed ON journal", "UPDATE journal SET who = 'Aster' WHERE number = 1")
    assert "row 1: it was altered" in verify_store(store).events[0].faults[0]


def test_a_second_process_that_writes_is_waited_for_and_then_told_of(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    store = open_store(address, is_new=True)
    store.append("one", HAND, [card("a")])
    monkeypatch.setattr(postgresql_engine, "WAIT_S", 0.05)
    with store._engine.begin():  # noqa: SLF001 - a writer that does not end
        with pytest.raises(StoreError, match="Another process is writing"):
            open_store(address).append("one", HAND, [card("b")])
        assert [row.key for row in store.every_row("one")] == ["a"], "reading goes on"
    open_store(address).append("one", HAND, [card("b")])


def test_what_is_kept_is_on_the_disk_before_it_is_said(cluster: Cluster, address: str) -> None:
    cluster.tell(name_of(address), f"ALTER DATABASE {name_of(address)} SET synchronous_commit = off")
    with open_store(address, is_new=True)._engine.begin() as connection:  # noqa: SLF001 - what no other door shows
        assert connection.exec_driver_sql("SHOW synchronous_commit").scalar_one() == "on"


def test_a_database_that_is_no_store_is_told(cluster: Cluster, address: str) -> None:
    with pytest.raises(StoreError, match="There is no store in this database"):
        open_store(address)
    with pytest.raises(StoreError, match="cannot be reached. See that it runs and is there"):
        open_store(cluster.address("nowhere"), is_new=True)
    cluster.tell(name_of(address), "CREATE TABLE members (name TEXT)")
    with pytest.raises(StoreError, match="not one of events"):
        open_store(address, is_new=True)
    later = cluster.database()
    open_store(later, is_new=True)
    cluster.tell(name_of(later), "INSERT INTO schema_version (number) VALUES (99)")
    with pytest.raises(StoreError, match="has schema 99"):
        open_store(later)


def test_what_the_database_does_not_let_is_told(cluster: Cluster, address: str) -> None:
    name = name_of(address)
    store = open_store(address, is_new=True)
    cluster.tell(name, f"ALTER DATABASE {name} SET default_transaction_read_only = on")
    with pytest.raises(StoreError, match="The store may only be read"):
        store.append("one", HAND, [card("a")])
    cluster.tell("template1", f"ALTER DATABASE {name} RESET default_transaction_read_only", "CREATE ROLE guest LOGIN")
    with pytest.raises(StoreError, match="may not be used by this name"):
        open_store(address.replace("tests@", "guest@")).append("one", HAND, [card("a")])
    stopping = f"SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = '{name}'"

    def stopped() -> str:
        cluster.tell("template1", stopping)
        return HAND.clock()

    with pytest.raises(StoreError, match="The database was stopped"):
        store.append("one", Hand(who="Rowan", clock=stopped), [card("a")])
    assert store.every_row("one") == ()


def test_no_message_tells_a_password(cluster: Cluster) -> None:
    secret = cluster.address("nowhere").replace("tests@", "tests:swordfish@")
    with pytest.raises(StoreError) as told:
        open_store(secret)
    assert "swordfish" not in f"{told.value} {told.value.where} {told.value.hint}"


def test_a_backup_is_a_file_and_goes_back_into_an_empty_database(cluster: Cluster, address: str, tmp_path: Path) -> None:
    store = open_store(address, is_new=True)
    store.append("one", HAND, [card(str(number)) for number in range(5)])
    store.append("/enquiries", HAND, [card("x")])
    made = back_up(address, tmp_path / "backup.sqlite")
    assert made.is_sound and [(event.event, event.rows) for event in made.events] == [("/enquiries", 1), ("one", 5)]
    assert [path.name for path in tmp_path.iterdir()] == ["backup.sqlite"]
    again = cluster.database()
    assert restore(tmp_path / "backup.sqlite", again).is_sound
    assert open_store(again).all_rows() == store.all_rows()
    with pytest.raises(StoreError, match="There are rows already"):
        restore(tmp_path / "backup.sqlite", again)
    with pytest.raises(StoreError, match="something already"):
        back_up(address, tmp_path / "backup.sqlite")
    run_sql(tmp_path / "backup.sqlite", "DROP TRIGGER no_row_is_taken", "DELETE FROM journal WHERE number = 2")
    with pytest.raises(StoreError, match="not sound: row 2 is missing"):
        restore(tmp_path / "backup.sqlite", cluster.database())
    assert verify(address).is_sound


def test_a_database_goes_by_the_command_line_too(address: str, tmp_path: Path) -> None:
    (tmp_path / "terms.toml").write_text(TERMS, encoding="utf-8")
    secret = address.replace("tests@", "tests:swordfish@")
    told = [
        marram("event", "new", "terms.toml", "--who", "Rowan", "--store", secret, cwd=tmp_path),
        marram("store", "verify", "--store", secret, cwd=tmp_path),
        marram("store", "backup", "-o", "backup.sqlite", "--store", secret, cwd=tmp_path),
        marram("event", "list", "--store", "backup.sqlite", cwd=tmp_path),
    ]
    assert [one.returncode for one in told] == [0, 0, 0, 0], told
    assert "sound, 1 event" in told[1].stdout and told[3].stdout == "two-officials\n"
    assert "swordfish" not in "".join(one.stdout + one.stderr for one in told)


def test_no_acknowledged_row_is_lost_when_writers_to_a_database_are_killed(address: str) -> None:
    told = kill_many(address, 20, 4711)
    assert re.fullmatch(r"20 killed, [1-9]\d* told of", told)
