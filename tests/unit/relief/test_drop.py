"""The drop: every transition is taken, every state has an instruction and an end, and each edition goes its own way."""

from __future__ import annotations

import itertools
import json

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from marram.cli.drop import drop as drop_command
from marram.core.errors import DataError, RulingError
from marram.interchange.book_files import read_book
from marram.relief.drop import Drop, DropEvent, DropLaw, Stage, events_after, next_step
from marram.rulings.dropping import drop_law, guide_drop, read_events

EDITIONS = ("2016", "draft-2017", "2019", "2023")
E = DropEvent


def follow(book: str, events: str) -> Drop:
    return guide_drop(read_book(book), "", read_events(events)).drop


def reached(law: DropLaw) -> dict[Drop, set[DropEvent]]:
    """Every state that can be reached, loops of counted drops to three turns, with the events taken from it."""
    seen: dict[Drop, set[DropEvent]] = {}
    waiting = [Drop()]
    while waiting:
        drop = waiting.pop()
        if drop in seen or drop.counted > 3 or drop.penalty_strokes > 4:
            continue
        seen[drop] = set(events_after(drop, law))
        waiting += [next_step(drop, event, law) for event in seen[drop]]
    return seen


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_stage_is_reached_and_says_what_to_do(edition: str) -> None:
    book = read_book(edition)
    law = drop_law(book)
    states = reached(law)
    stages = {drop.stage for drop in states}
    expected = set(Stage) - ({Stage.TO_PLACE_AGAIN} if law.tries_on_spot < 2 else set())
    assert stages == expected
    assert {event for events in states.values() for event in events} >= set(E) - {E.NONE_WILL_STAY, E.STOPPED_WITHOUT_CHANCE}


@pytest.mark.parametrize("edition", EDITIONS)
def test_from_every_state_an_end_can_be_reached(edition: str) -> None:
    law = drop_law(read_book(edition))
    for drop in reached(law):
        assert _ends(drop, law, turns=8), drop


def _ends(drop: Drop, law: DropLaw, turns: int) -> bool:
    if drop.stage is Stage.PLAYED:
        return True
    return turns > 0 and any(_ends(next_step(drop, event, law), law, turns - 1) for event in events_after(drop, law))


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_path_of_four_events_has_an_instruction_or_names_what_can_follow(edition: str) -> None:
    book = read_book(edition)
    for path in itertools.product(E, repeat=3):
        try:
            answer = guide_drop(book, "", path)
        except RulingError as refused:
            assert "can follow" in refused.hint or "nothing follows" in refused.hint
        else:
            assert answer.instruction
            assert answer.citations
            assert answer.can_follow or answer.drop.stage is Stage.PLAYED


@given(st.sampled_from(EDITIONS), st.lists(st.sampled_from(list(E)), max_size=12))
def test_counts_and_penalties_never_fall(edition: str, events: list[DropEvent]) -> None:
    law, drop = drop_law(read_book(edition)), Drop()
    for event in events:
        if event not in events_after(drop, law):
            continue
        after = next_step(drop, event, law)
        assert after.counted - drop.counted in {0, 1}
        assert after.penalty_strokes >= drop.penalty_strokes
        assert law.drops is None or after.counted <= law.drops
        drop = after


ROLLS_OUT = "right-way,first-touch-inside,rests-outside"


@pytest.mark.parametrize("edition", ["2016", "2019", "2023"])
def test_after_two_drops_the_ball_is_placed(edition: str) -> None:
    drop = follow(edition, f"{ROLLS_OUT},{ROLLS_OUT}")
    assert (drop.stage, drop.counted) == (Stage.TO_PLACE, 2)
    assert follow(edition, f"{ROLLS_OUT},{ROLLS_OUT},placed-moves").stage is Stage.TO_PLACE_AGAIN
    assert follow(edition, f"{ROLLS_OUT},{ROLLS_OUT},placed-moves,placed-moves").stage is Stage.TO_PLACE_ELSEWHERE
    assert follow(edition, f"{ROLLS_OUT},{ROLLS_OUT},placed-stays,stroke").stage is Stage.PLAYED


def test_the_draft_counts_no_drops() -> None:
    assert follow("draft-2017", ",".join([ROLLS_OUT] * 5)).stage is Stage.TO_DROP
    assert follow("draft-2017", f"{ROLLS_OUT},none-will-stay").stage is Stage.TO_PLACE
    with pytest.raises(RulingError):
        follow("2023", f"{ROLLS_OUT},none-will-stay")


@pytest.mark.parametrize(
    ("edition", "before", "after"),
    [("2016", Stage.TO_DROP, Stage.TO_DROP), ("draft-2017", Stage.FALLING, Stage.ROLLING), ("2019", Stage.TO_DROP, Stage.ROLLING)],
)
def test_a_touch_of_a_person(edition: str, before: Stage, after: Stage) -> None:
    """Source: rules notes on a drop that touches a person: 2016 again without limit; the draft never; 2019 only before the ground."""
    assert follow(edition, "right-way,touched-person-before-ground").stage is before
    assert follow(edition, "right-way,first-touch-inside,touched-person-after-ground").stage is after
    assert follow(edition, "right-way,touched-person-before-ground").counted == 0


@pytest.mark.parametrize(("edition", "inside", "outside"), [("2016", 1, 2), ("2019", 1, 2), ("2023", 1, 2)])
def test_a_wrong_drop_that_is_played(edition: str, inside: int, outside: int) -> None:
    assert follow(edition, "wrong-way,rests-inside,stroke").penalty_strokes == inside
    assert follow(edition, "wrong-way,rests-outside,stroke").penalty_strokes == outside
    again = follow(edition, "wrong-way,rests-outside,right-way,first-touch-inside,rests-inside,stroke")
    assert (again.stage, again.penalty_strokes, again.counted) == (Stage.PLAYED, 0, 0)


def test_a_ball_stopped_on_purpose() -> None:
    fallen = "right-way,first-touch-inside"
    assert follow("2016", f"{fallen},stopped-on-purpose") == Drop(stage=Stage.IN_PLAY, penalty_strokes=2)
    stopped = follow("2023", f"{fallen},stopped-on-purpose")
    assert (stopped.stage, stopped.penalty_strokes, stopped.counted) == (Stage.TO_DROP, 2, 0)
    assert follow("2023", f"{fallen},stopped-by-another").penalty_strokes == 0
    assert follow("2023", f"{fallen},stopped-without-chance").counted == 1


def test_an_event_that_cannot_follow_is_refused_with_those_that_can() -> None:
    with pytest.raises(RulingError, match="placed-stays cannot follow") as refused:
        follow("2023", "right-way,placed-stays")
    assert "first-touch-inside" in refused.value.hint
    assert refused.value.where == "2023, event 2"
    with pytest.raises(DataError, match="rolls-in"):
        read_events("right-way,rolls-in")


def test_a_relief_that_is_not_dropped_is_refused() -> None:
    with pytest.raises(RulingError, match="Nothing is dropped"):
        guide_drop(read_book("2023"), "embedded-ball-putting-green", ())
    with pytest.raises(RulingError):
        guide_drop(read_book("2023"), "penalty-area-opposite-side", ())


def test_the_command_answers_under_every_book() -> None:
    done = CliRunner().invoke(drop_command, ["--procedure", "penalty-area-lateral-red", "--events", ROLLS_OUT, "--json"])
    assert done.exit_code == 0, done.output
    books = json.loads(done.stdout)["books"]
    assert [book["book"] for book in books] == list(EDITIONS)
    assert all({"state", "instruction", "drops_counted", "penalty_strokes", "citations"} <= set(book) for book in books)
    assert [book["state"] for book in books] == ["to-drop"] * 4
    assert [book["drops_counted"] for book in books] == [1] * 4
