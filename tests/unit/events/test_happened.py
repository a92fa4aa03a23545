"""What is logged of an event, laid on its cards: each penalty once, by its ruling; players who are out; partners of one ball."""

from __future__ import annotations

from marram.core.terms import Form
from marram.events.entry_list import Entry
from marram.events.event_results import cards_not_in
from marram.events.event_terms import EventTerms
from marram.events.happened import LoggedRuling, PlayerOut, cards_as_ruled
from marram.scoring.cards.card import Card, CardStatus, HoleEntry, Penalty
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Sides, Terms

PLAYED = tuple(HoleEntry(strokes=4) for _ in range(9))
BLANK = tuple(HoleEntry() for _ in range(9))


def terms(*, rounds: int = 1, sides: Sides = Sides.INDIVIDUAL) -> EventTerms:
    tee = Tee(name="white", par=(4,) * 9)
    return EventTerms(terms=Terms(title="Nine", form=Form.STROKE_PLAY, tees={"white": tee}, rounds=rounds, sides=sides))


def ruling(name: str, strokes: int, *, number: int = 1, is_struck: bool = False) -> LoggedRuling:
    penalty = Penalty(hole=1, strokes=strokes, ruling=name)
    return LoggedRuling(id=name, player="ASTER", round=number, penalty=penalty, is_struck=is_struck)


def charged(*rulings: LoggedRuling, card: Card | None = None) -> list[tuple[str, int | None]]:
    given = card or Card(player="Aster", entries=PLAYED)
    (found,) = cards_as_ruled(terms(rounds=2), [Entry(player="Aster")], [given], {}, rulings)
    return [(penalty.ruling, penalty.strokes) for penalty in found.penalties]


def test_each_ruling_is_charged_once_and_a_struck_one_not_at_all() -> None:
    own = Card(player="Aster", entries=PLAYED, penalties=(Penalty(hole=2, strokes=1, ruling="R1"), Penalty(hole=3, strokes=1)))
    assert charged(ruling("R2", 2), card=own) == [("R1", 1), ("", 1), ("R2", 2)]
    assert charged(ruling("R1", 2), card=own) == [("", 1), ("R1", 2)]
    assert charged(ruling("R1", 2, is_struck=True), card=own) == [("", 1)]
    assert charged(LoggedRuling(id="R3", player="Aster")) == []


def test_a_ruling_is_of_one_round() -> None:
    assert charged(ruling("R1", 2, number=2)) == []
    assert charged(ruling("R1", 2, number=2), card=Card(player="Aster", entries=PLAYED, round=2)) == [("R1", 2)]


def test_a_player_who_is_out_has_a_card_and_one_who_is_back_has_the_old_one() -> None:
    entries = [Entry(player="Aster"), Entry(player="Fern")]
    out = {
        name.casefold(): PlayerOut(player=name, status=status, why="ill")
        for name, status in (("Aster", CardStatus.WITHDRAWN), ("Fern", CardStatus.DID_NOT_START))
    }
    first, second = cards_as_ruled(terms(), entries, [Card(player="Aster", entries=PLAYED)], out, [])
    assert (first.status, first.why, first.entries) == (CardStatus.WITHDRAWN, "withdrawn: ill", PLAYED)
    assert (second.player, second.status, second.entries) == ("Fern", CardStatus.DID_NOT_START, BLANK)
    back = {name: PlayerOut(player=name, status=CardStatus.RETURNED, why="no") for name in out}
    assert cards_as_ruled(terms(), entries, [Card(player="Aster", entries=PLAYED)], back, []) == (Card(player="Aster", entries=PLAYED),)


def test_no_card_is_awaited_of_who_is_out_nor_of_a_partner_whose_side_has_one() -> None:
    entries = [Entry(player=name, side=side) for name, side in (("Aster", "A"), ("Fern", "A"), ("Gorse", "B"), ("Ivy", "B"))]
    held = [Card(player="Aster", entries=PLAYED, side="A")]
    assert cards_not_in(terms(), entries, held) == [("Fern", 1), ("Gorse", 1), ("Ivy", 1)]
    assert cards_not_in(terms(sides=Sides.FOURSOMES), entries, held) == [("Gorse", 1), ("Ivy", 1)]
    withdrawn = [Card(player="Aster", entries=PLAYED, status=CardStatus.WITHDRAWN)]
    assert cards_not_in(terms(rounds=2), entries[:2], withdrawn) == [("Fern", 1), ("Fern", 2)]


def test_the_handicap_of_a_side_that_plays_one_ball_is_of_both_partners_whichever_row_came_in() -> None:
    entries = [Entry(player="Aster", side="A", playing_handicap=4), Entry(player="Fern", side="A", playing_handicap=10)]
    held = [Card(player="Fern", entries=PLAYED, side="A", playing_handicap=10)]
    found = cards_as_ruled(terms(sides=Sides.FOURSOMES), entries, held, {}, [])
    assert [(card.player, card.playing_handicap, card.entries == BLANK) for card in found] == [("Fern", 10, False), ("Aster", 4, True)]
    assert len(cards_as_ruled(terms(sides=Sides.FOUR_BALL), entries, held, {}, [])) == 1
