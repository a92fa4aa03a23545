"""Cards as they are handed out: strokes where they fall, by hand.

Stroke indexes 9 5 17 11 1 7 15 3 13, 8 16 4 14 2 10 18 6 12. Nine strokes fall on indexes 1 to 9: holes 1, 2, 5, 6, 8, 10, 12, 14, 17.
A plus handicap of two gives strokes back from the highest index on: 18 and 17, holes 16 and 3 (Rules of Handicapping 2024, Appendix E).
"""

from __future__ import annotations

import pytest

from marram.core.terms import Form
from marram.events.blank_cards import BlankCard, make_cards
from marram.events.entry_list import Entry
from marram.events.event_terms import EventTerms
from marram.events.starting_list import StartingGroup, StartingList
from marram.interchange.books.book_files import read_book, read_handicap_book
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Sides, Terms
from tests.support.invented_field import PAR, STROKE_INDEX

TEE = Tee(name="white", par=PAR, stroke_index=STROKE_INDEX)


def made(
    *entries: Entry, starts: StartingList | None = None, sides: Sides = Sides.INDIVIDUAL, is_net: bool = True
) -> tuple[BlankCard, ...]:
    terms = Terms(title="Day", form=Form.STABLEFORD, tees={"white": TEE}, is_net=is_net, sides=sides)
    return make_cards(read_book("2023"), read_handicap_book("2024"), EventTerms(terms=terms), entries, starts)


@pytest.mark.parametrize(
    ("handicap", "received"),
    [
        (9, {1: 1, 2: 1, 5: 1, 6: 1, 8: 1, 10: 1, 12: 1, 14: 1, 17: 1}),
        (0, {}),
        (-2, {3: -1, 16: -1}),
        (20, {hole: 2 if hole in {5, 14} else 1 for hole in range(1, 19)}),
    ],
)
def test_strokes_fall_where_the_stroke_index_says(handicap: int, received: dict[int, int]) -> None:
    (card,) = made(Entry(player="Aster", playing_handicap=handicap))
    assert {hole.hole: hole.received for hole in card.holes if hole.received} == received
    assert card.strokes == handicap
    # a point for a net bogey: par, one over, and the strokes received
    assert [hole.stop_after for hole in card.holes] == [par + 1 + received.get(hole, 0) for hole, par in enumerate(PAR, start=1)]


def test_a_gross_competition_gives_no_strokes() -> None:
    (card,) = made(Entry(player="Aster"), is_net=False)
    assert card.strokes is None and {hole.received for hole in card.holes} == {0}


def test_cards_come_in_the_order_of_the_start_and_the_others_last() -> None:
    groups = (StartingGroup(number=1, start_min=480, hole=1, players=("Ivy", "Fern")),)
    cards = made(*(Entry(player=name, playing_handicap=1) for name in ("Aster", "Fern", "Ivy")), starts=StartingList(groups=groups))
    assert [card.names for card in cards] == [("Ivy",), ("Fern",), ("Aster",)]
    assert [card.group.number if card.group else None for card in cards] == [1, 1, None]


def test_partners_of_one_ball_have_one_card_off_half_of_both() -> None:
    # foursomes: 50 % of both Course Handicaps, half of 6 + 12 is 9
    entries = [Entry(player=name, side="A", course_handicap=value) for name, value in (("Aster", 6), ("Fern", 12))]  # type: ignore[arg-type]
    (card,) = made(*entries, sides=Sides.FOURSOMES)
    assert (card.names, card.side, card.strokes) == (("Aster", "Fern"), "A", 9)
