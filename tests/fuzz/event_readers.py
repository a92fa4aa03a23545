"""Readers of an event's files: terms, entries, cards, a draw as a list, and a store; each with its sound seeds."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from functools import cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from marram.office.events.event_standing import stand_of, tell_history
from marram.office.events.kept_event import KeptEvent
from marram.office.events.run_event import DrawAsked, begin_event, draw_field, drawn_by, enter_players, give_times, take_cards
from marram.office.workroom import Workroom
from marram.store.kept_rows import Hand
from marram.store.open_store import open_store
from marram.store.verify import verify_store
from tests.support import invented_field as field

_PLAYERS = field.PLAYERS[:9]
_HAND = Hand(who="Rowan", clock=lambda: "2026-06-13T08:00:00.000+00:00")
_EVENT = "day"
TERMS = field.terms_text("stableford").encode()
ENTRIES = field.entries_text(_PLAYERS).encode()
CARDS = field.cards_text(_PLAYERS).encode()
LISTED = ("player,group\n" + "".join(f"{name},{place // 3}\n" for place, name in enumerate(_PLAYERS))).encode()


@cache
def store_bytes() -> bytes:
    """A store with an event from its terms to its cards, as one file."""
    with TemporaryDirectory() as folder:
        files = {name: Path(folder) / name for name in ("terms.toml", "entries.csv", "cards.csv", "day.sqlite")}
        for name, data in (("terms.toml", TERMS), ("entries.csv", ENTRIES), ("cards.csv", CARDS)):
            files[name].write_bytes(data)
        room = Workroom()
        store = room.store(str(files["day.sqlite"]), is_new=True)
        begin_event(store, _HAND, _EVENT, room.event_terms(files["terms.toml"]), ("2023", room.book("2023")))
        enter_players(store, _HAND, room.event(store, ""), room.entries(files["entries.csv"], room.event(store, "")).entries)
        draw_field(store, _HAND, room.event(store, ""), DrawAsked(by=drawn_by("random"), seed="7"))
        give_times(store, _HAND, room.event(store, ""), None)
        take_cards(store, _HAND, room.event(store, ""), room.returned_cards(files["cards.csv"], room.event(store, "")).cards, "cards.csv")
        with closing(sqlite3.connect(files["day.sqlite"])) as connection:
            connection.execute("PRAGMA journal_mode = DELETE")
        return files["day.sqlite"].read_bytes()


@cache
def event() -> KeptEvent:
    """The event of that store."""
    with TemporaryDirectory() as folder:
        place = Path(folder) / "day.sqlite"
        place.write_bytes(store_bytes())
        room = Workroom()
        return room.event(room.store(str(place)), _EVENT)


def read_event_terms(path: Path) -> None:
    Workroom().event_terms(path)


def read_entries(path: Path) -> None:
    Workroom().entries(path, event())


def read_cards(path: Path) -> None:
    Workroom().returned_cards(path, event())


def read_list(path: Path) -> None:
    Workroom().draw_list(path)


def read_store(path: Path) -> None:
    """A store is looked through, its history told and its event scored, each as far as it goes."""
    for beside in ("-wal", "-shm"):
        path.with_name(path.name + beside).unlink(missing_ok=True)
    store, room = open_store(str(path)), Workroom()
    verify_store(store)
    for name in store.events():
        tell_history(store, name)
        stand_of(room.event(store, name))


def strike_bytes(random: Random, data: bytes) -> bytes:
    """Some bytes changed, a part cut out, or the end cut off."""
    struck = bytearray(data)
    for _ in range(random.randint(1, 12)):
        struck[random.randrange(len(struck))] = random.randrange(256)
    if random.random() < 0.2:
        return bytes(struck[: random.randrange(len(struck))])
    if random.random() < 0.2:
        start = random.randrange(len(struck))
        del struck[start : start + random.randrange(1, 5000)]
    return bytes(struck)
