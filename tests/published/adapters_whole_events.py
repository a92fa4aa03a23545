"""Adapters for whole events: terms, entries and cards as tables, through the store, to places, charges and who is in no place."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from marram.events.event_results import PlaceList
from marram.office.events.event_standing import EventStanding, stand_of
from marram.office.events.run_event import DrawAsked, begin_event, draw_field, drawn_by, enter_players, give_times, take_cards
from marram.office.workroom import Workroom
from marram.store.kept_rows import Hand
from tests.published.adapter import Adapter

_EVENT = "by-hand"


def _run(inputs: Mapping[str, object]) -> EventStanding:
    """Run the event in a folder of its own, as the commands do."""
    with TemporaryDirectory() as folder:
        files = {name: Path(folder) / f"{name}.{end}" for name, end in (("terms", "toml"), ("entries", "csv"), ("cards", "csv"))}
        for name, path in files.items():
            path.write_text(str(inputs[name]), encoding="utf-8")
        room, hand = Workroom(), Hand(who="Rowan", clock=lambda: "2026-06-13T08:00:00.000+00:00")
        store = room.store(str(Path(folder) / "store.sqlite"), is_new=True)
        book = str(inputs["book"])
        begin_event(store, hand, _EVENT, room.event_terms(files["terms"]), (book, room.book(book)))
        enter_players(store, hand, room.event(store, _EVENT), room.entries(files["entries"], room.event(store, _EVENT)).entries)
        draw_field(store, hand, room.event(store, _EVENT), DrawAsked(by=drawn_by("random"), seed="1"))
        if room.event(store, _EVENT).terms.starting is not None:
            give_times(store, hand, room.event(store, _EVENT), None)
        event = room.event(store, _EVENT)
        take_cards(store, hand, event, room.returned_cards(files["cards"], event).cards, "cards.csv")
        return stand_of(room.event(store, _EVENT))


def _work_out(inputs: Mapping[str, object]) -> dict[str, object]:
    stands = _run(inputs)
    lists = {(one.division, one.is_net): one for one in stands.found.lists}
    found: dict[str, object] = {
        "places": _places(lists["", True]),
        "gross": _places(lists["", False]),
        "charges": [
            [ranked.name, charge.hole, charge.amount, charge.ruling] for ranked in lists["", True].ranked for charge in ranked.charges
        ],
        "without": [[ranked.name, ranked.status.value] for ranked in lists["", True].ranked if ranked.placed is None],
        "not_in": [player for player, _ in stands.found.not_in],
    }
    return found | {division.casefold(): _places(one) for (division, is_net), one in lists.items() if division and is_net}


def _places(one: PlaceList) -> list[list[object]]:
    return [
        [ranked.placed.place, ranked.name, ranked.total, ranked.placed.decided_by] for ranked in one.ranked if ranked.placed is not None
    ]


ADAPTERS = (Adapter(topic="event_by_hand", inputs=frozenset({"book", "terms", "entries", "cards"}), work_out=_work_out),)
