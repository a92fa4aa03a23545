"""Who is in which division, and which cards cannot be taken in."""

from __future__ import annotations

from fractions import Fraction

import pytest

from marram.core.terms import Form
from marram.events.entry_list import Entry, by_key, division_of, find_doubles
from marram.events.event_terms import Division, EventTerms
from marram.events.returns import card_key, find_return_faults, is_same_card
from marram.scoring.cards.card import Card, HoleEntry
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Terms

TEES = {name: Tee(name=name, par=(4,) * 9) for name in ("white", "red")}
TERMS = EventTerms(
    terms=Terms(title="Nine", form=Form.STROKE_PLAY, tees=TEES),
    divisions=(
        Division(name="Red", tees=("red",)),
        Division(name="Low", most_index=Fraction(124, 10)),
        Division(name="High", least_index=Fraction(125, 10), most_index=Fraction(36)),
    ),
)


@pytest.mark.parametrize(
    ("entry", "division"),
    [
        (Entry(player="A", tee="white", handicap_index=Fraction(124, 10)), "Low"),
        (Entry(player="A", tee="white", handicap_index=Fraction(125, 10)), "High"),
        (Entry(player="A", tee="white", handicap_index=Fraction(36)), "High"),
        (Entry(player="A", tee="white", handicap_index=Fraction(361, 10)), ""),
        (Entry(player="A", tee="white", handicap_index=Fraction(-2)), "Low"),
        (Entry(player="A", tee="white"), ""),
        (Entry(player="A", tee="red"), "Red"),
        (Entry(player="A", tee="red", handicap_index=Fraction(5), division="High"), "High"),
    ],
)
def test_the_first_division_that_takes_a_player(entry: Entry, division: str) -> None:
    assert division_of(TERMS, entry) == division


def test_players_are_told_apart_by_name_without_capitals_and_spaces() -> None:
    entries = [Entry(player="Aster  Blue"), Entry(player="aster blue"), Entry(player="Aster"), Entry(player=""), Entry(player="")]
    assert [(first.player, again.player) for first, again in find_doubles(entries)] == [("Aster  Blue", "aster blue")]


def card(player: str = "Aster", **more: object) -> Card:
    return Card(**{"player": player, "entries": (HoleEntry(strokes=4),) * 9, "tee": "white", "row": 2, **more})  # type: ignore[arg-type]


ENTRIES = by_key([Entry(player="Aster", tee="white", handicap_index=Fraction(12)), Entry(player="Fern", tee="red")])


def faults(*cards: Card, held: tuple[Card, ...] = ()) -> list[tuple[str, str]]:
    kept = {card_key(one): one for one in held}
    return [(fault.column, fault.message) for fault in find_return_faults(cards, ENTRIES, {}, kept)]


def test_a_sound_card_has_no_fault() -> None:
    assert faults(card(handicap_index=Fraction(12)), card("fern", tee="red")) == []


def test_each_fault_of_a_card_stands_under_its_column() -> None:
    assert faults(card("Heather")) == [("player", "'Heather' has not entered")]
    assert faults(card("Astre"))[0][1].endswith("is Aster meant?")
    assert faults(card(tee="red"))[0][0] == "tee"
    assert faults(card(handicap_index=Fraction(-12))) == [
        ("handicap_index", "+12.0 stands here, and 12.0 was entered; put the entry right first, or leave the cell empty")
    ]


def test_a_second_card_that_says_the_same_is_none_and_another_is_a_fault() -> None:
    held = (card(),)
    assert faults(card(row=9), held=held) == []
    assert is_same_card(card(), card(row=9))
    assert "something else" in faults(card(entries=(HoleEntry(strokes=5),) * 9), held=held)[0][1]
    assert faults(card(round=2, entries=(HoleEntry(strokes=5),) * 9), held=held) == []
