"""Two officials at one card: who comes second is told, and no score is lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.errors import CardError, StoreError
from marram.office.events.event_standing import tell_history
from marram.office.events.kept_event import KeptEvent
from marram.office.events.run_event import begin_event, enter_players, take_cards
from marram.office.workroom import Workroom
from marram.store.kept_rows import Hand
from marram.store.open_store import Store

TERMS = """title = "Two officials"
form = "stroke-play"
scores = "gross"
[[tee]]
name = "white"
par = [4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4]
"""
HEADING = "player," + ",".join(str(hole) for hole in range(1, 19)) + "\n"


def by(name: str) -> Hand:
    return Hand(who=name, clock=lambda: "2026-06-13T08:00:00.000+00:00")


def opened(room: Workroom, store: Store) -> KeptEvent:
    return room.event(store, "two")


@pytest.fixture
def room() -> Workroom:
    return Workroom()


@pytest.fixture
def begun(room: Workroom, store: Store, tmp_path: Path) -> Store:
    (tmp_path / "terms.toml").write_text(TERMS, encoding="utf-8")
    (tmp_path / "entries.csv").write_text("player\nAster\nDock\n", encoding="utf-8")
    begin_event(store, by("Rowan"), "two", room.event_terms(tmp_path / "terms.toml"), ("2023", room.book("2023")))
    enter_players(store, by("Rowan"), opened(room, store), room.entries(tmp_path / "entries.csv", opened(room, store)).entries)
    return store


def typed(room: Workroom, store: Store, folder: Path, name: str, first: int, reason: str = "", event: KeptEvent | None = None) -> None:
    """A card of Aster as one official types it, by what stood when it was begun."""
    seen = event or opened(room, store)
    table = folder / f"{name}.csv"
    table.write_text(f"{HEADING}Aster,{first}{',4' * 17}\n", encoding="utf-8")
    take_cards(store, by(name), seen, room.returned_cards(table, seen).cards, table.name, reason)


def test_who_is_second_at_a_new_card_is_told_and_the_first_stands(room: Workroom, begun: Store, tmp_path: Path) -> None:
    both_saw = opened(room, begun)
    typed(room, begun, tmp_path, "Rowan", 4, event=both_saw)
    with pytest.raises(StoreError, match="Somebody else has changed this since it was read"):
        typed(room, begun, tmp_path, "Willow", 5, event=both_saw)
    (card,) = opened(room, begun).cards.values()
    assert card.entries[0].strokes == 4
    with pytest.raises(CardError, match="has a card for round 1 already, and this one says something else"):
        typed(room, begun, tmp_path, "Willow", 5)
    typed(room, begun, tmp_path, "Willow", 5, "the marker says five")
    (card,) = opened(room, begun).cards.values()
    assert card.entries[0].strokes == 5
    cards = [row for row in tell_history(begun, "two", "Aster") if row.kind == "card"]
    assert [(row.who, row.superseded_by is not None) for row in cards] == [("Rowan", True), ("Willow", False)]


def test_of_two_who_put_one_card_right_the_second_is_told(room: Workroom, begun: Store, tmp_path: Path) -> None:
    typed(room, begun, tmp_path, "Rowan", 4)
    both_saw = opened(room, begun)
    typed(room, begun, tmp_path, "Willow", 5, "the marker says five", event=both_saw)
    with pytest.raises(StoreError, match="Look at what stands now"):
        typed(room, begun, tmp_path, "Rowan", 6, "the player says six", event=both_saw)
    (card,) = opened(room, begun).cards.values()
    assert card.entries[0].strokes == 5


def test_two_who_bring_different_cards_are_both_kept(room: Workroom, begun: Store, tmp_path: Path) -> None:
    both_saw = opened(room, begun)
    typed(room, begun, tmp_path, "Rowan", 4, event=both_saw)
    table = tmp_path / "other.csv"
    table.write_text(f"{HEADING}Dock{',5' * 18}\n", encoding="utf-8")
    take_cards(begun, by("Willow"), both_saw, room.returned_cards(table, both_saw).cards, "other.csv")
    assert len(opened(room, begun).cards) == 2
