"""Names without meaning: drawn once, kept with the store, other ones in another trial."""

from __future__ import annotations

from pathlib import Path

from marram.office.event_records.pseudonyms import pseudonyms_of
from marram.store.kept_rows import Hand
from marram.store.open_store import open_store

HAND = Hand(who="Rowan", clock=lambda: "2026-06-13T08:00:00.000+00:00")


def test_a_number_that_is_taken_is_drawn_again_and_a_name_keeps_its_number(tmp_path: Path) -> None:
    store = open_store(str(tmp_path / "store.sqlite"), is_new=True)
    drawn = iter([7, 7, 8, 7])
    asked: list[int] = []

    def draw(below: int) -> int:
        asked.append(below)
        return next(drawn)

    found = pseudonyms_of(store, HAND, "One", {"player": ["Dock", "Aster", "ASTER ", ""], "recorder": ["Aster"]}, draw)
    assert found == {("player", "aster"): "p007", ("player", "dock"): "p008", ("recorder", "aster"): "w007"}
    assert set(asked) == {1000}
    again = pseudonyms_of(store, HAND, "One", {"player": ["aster"]}, lambda _: 999)
    assert again == {("player", "aster"): "p007"}
    assert len(store.every_row("/pseudonyms")) == 3
    other = pseudonyms_of(store, HAND, "Two", {"player": ["aster"]}, lambda _: 7)
    assert other == {("player", "aster"): "p007"}, "a number of another trial is not taken in this one"
    assert store.events() == () and store.journals() == ("/pseudonyms",)


def test_there_is_room_to_draw_from_however_many_play(tmp_path: Path) -> None:
    store = open_store(str(tmp_path / "store.sqlite"), is_new=True)
    names = [f"Player {number}" for number in range(300)]
    found = pseudonyms_of(store, HAND, "One", {"player": names})
    assert len(set(found.values())) == 300
    assert {len(name) for name in found.values()} == {5}
