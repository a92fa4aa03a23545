"""The drop: every transition is taken, every state has an instruction and an end, and each edition goes its own way."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from marram.cli.drop.command import drop as drop_command
from marram.core.errors import DataError, RulingError
from marram.interchange.books.book_files import read_book
from marram.rulebook import open_book, read_overlay
from marram.rulebook.wording.explain import cost_words
from marram.rulings.drop.dropping import guide_drop, read_events
from marram.rulings.drop.law import drop_law
from marram.rulings.drop.states import Drop, DropEvent, DropLaw, LastDrop, Stage
from marram.rulings.drop.steps import cost_of_stroke, events_after, next_step
from tests.support.editions import ASKED_BY_NAME

EDITIONS = ("2016", "draft-2017", "2019", "2023")
PROCEDURES = ("", "penalty-area-back-on-line", "immovable-obstruction-general-area")
"""Any relief; one under penalty and on the line; one without penalty and off the line."""
E = DropEvent
NOT_STAGES = {
    "2016": {Stage.TO_REPLACE},
    "draft-2017": {
        Stage.WRONG_PLACE,
        Stage.BESIDE_LINE,
        Stage.TO_PLACE_AGAIN,
        Stage.DROPPED_INSTEAD,
        Stage.DROPPED_ON_SPOT,
        Stage.TO_REPLACE,
    },
    "2019": {Stage.WRONG_PLACE, Stage.BESIDE_LINE, Stage.TO_REPLACE},
    "2023": {Stage.WRONG_PLACE, Stage.MOVED_AWAY},
}
"""Stages that an edition does not know."""
NOT_EVENTS = {
    "2016": {E.DROPPED_BY_PARTNER, E.OTHER_SPOT_ON_LINE, E.NONE_WILL_STAY, E.REPLACED, E.REPLACED_WITH_EQUIPMENT},
    "draft-2017": {
        E.DROPPED_BY_PARTNER,
        E.OTHER_OPTION,
        E.OTHER_SPOT_ON_LINE,
        E.STOPPED_WITHOUT_CHANCE,
        E.RESTS_ON_REQUIRED_SPOT,
        E.THIRD_DROP,
        E.REPLACED,
        E.REPLACED_WITH_EQUIPMENT,
    },
    "2019": {E.OTHER_SPOT_ON_LINE, E.NONE_WILL_STAY, E.REPLACED, E.REPLACED_WITH_EQUIPMENT},
    "2023": {E.NONE_WILL_STAY},
}
"""Events of which an edition, or the source seen, says nothing."""


def follow(book: str, events: str, procedure: str = "") -> Drop:
    return guide_drop(read_book(book), procedure, read_events(events)).drop


def reached(law: DropLaw) -> dict[Drop, set[DropEvent]]:
    """Every state that can be reached, loops of counted drops to three turns."""
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
def test_every_stage_is_reached_and_every_event_taken(edition: str) -> None:
    states = [state for procedure in PROCEDURES for state in reached(drop_law(read_book(edition), procedure)).items()]
    assert {drop.stage for drop, _ in states} == set(Stage) - NOT_STAGES[edition]
    assert {event for _, events in states for event in events} == set(E) - NOT_EVENTS[edition]


@pytest.mark.parametrize("procedure", PROCEDURES)
@pytest.mark.parametrize("edition", EDITIONS)
def test_from_every_state_an_end_can_be_reached(edition: str, procedure: str) -> None:
    law = drop_law(read_book(edition), procedure)
    states = reached(law)
    ending = {drop for drop in states if drop.stage is Stage.PLAYED}
    for _ in range(8):
        ending |= {drop for drop, events in states.items() if any(next_step(drop, event, law) in ending for event in events)}
    # A state at the edge of the loops that are followed has its end beyond that edge.
    inner = {drop for drop in states if drop.counted < 3 and drop.penalty_strokes < 2}
    assert inner
    assert inner <= ending


@pytest.mark.parametrize("procedure", PROCEDURES[1:])
@pytest.mark.parametrize("edition", EDITIONS)
def test_every_path_of_nine_events_has_an_instruction_or_names_what_can_follow(edition: str, procedure: str) -> None:
    """Each state is taken by its shortest path; from it each event is tried."""
    book = read_book(edition)
    seen: set[Drop] = set()
    paths: list[tuple[DropEvent, ...]] = [()]
    for _ in range(10):
        longer = []
        for path in paths:
            answer = guide_drop(book, procedure, path)
            if answer.drop in seen:
                continue
            seen.add(answer.drop)
            assert answer.instruction
            assert answer.citations
            assert answer.can_follow or answer.drop.stage is Stage.PLAYED
            for event in set(E) - set(answer.can_follow):
                with pytest.raises(RulingError) as refused:
                    guide_drop(book, procedure, (*path, event))
                assert "can follow" in refused.value.hint or "nothing follows" in refused.value.hint
            longer += [(*path, event) for event in answer.can_follow]
        paths = longer
    assert len(seen) > 25


@pytest.mark.parametrize("procedure", PROCEDURES)
@pytest.mark.parametrize("edition", EDITIONS)
def test_what_playing_anyway_costs_is_told_wherever_a_stroke_can_follow(edition: str, procedure: str) -> None:
    book = read_book(edition)
    law = drop_law(book, procedure)
    paths: dict[Drop, tuple[DropEvent, ...]] = {Drop(): ()}
    waiting = [Drop()]
    while waiting:
        drop = waiting.pop(0)
        for event in events_after(drop, law):
            after = next_step(drop, event, law)
            if after not in paths and after.counted < 3 and after.penalty_strokes < 3:
                paths[after] = (*paths[drop], event)
                waiting.append(after)
    told = 0
    for drop, path in paths.items():
        cost = cost_of_stroke(drop, law)
        assert (cost is not None) is (E.STROKE in events_after(drop, law))
        if cost is not None:
            answer = guide_drop(book, procedure, path)
            assert answer.if_played == cost
            assert cost.strokes == 0 or cost_words(cost) in answer.instruction, (path, answer.instruction)
            after = next_step(drop, E.STROKE, law)
            assert after.penalty_strokes - drop.penalty_strokes == cost.strokes
            assert after.loses_hole is (drop.loses_hole or cost.hole == "lost")
            told += cost.strokes > 0
    assert told > 3


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
    assert (again.stage, again.penalty_strokes, again.counted) == (Stage.PLAYED, 0, 1)


def test_a_ball_stopped_on_purpose() -> None:
    fallen = "right-way,first-touch-inside"
    assert follow("2016", f"{fallen},stopped-on-purpose") == Drop(stage=Stage.IN_PLAY, penalty_strokes=2, loses_hole=True)
    stopped = follow("2023", f"{fallen},stopped-on-purpose")
    assert (stopped.stage, stopped.penalty_strokes, stopped.counted) == (Stage.TO_DROP, 2, 0)
    assert follow("2023", f"{fallen},stopped-by-another").penalty_strokes == 0
    assert follow("2023", f"{fallen},stopped-without-chance").counted == 1
    draft = guide_drop(read_book("draft-2017"), "", read_events(f"{fallen},stopped-on-purpose"))
    assert (draft.drop.penalty_strokes, draft.drop.loses_hole) == (0, False)
    assert "No source seen says what it costs" in draft.instruction


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
    done = CliRunner().invoke(drop_command, ["--procedure", "penalty-area-lateral-red", "--events", ROLLS_OUT, *ASKED_BY_NAME, "--json"])
    assert done.exit_code == 0, done.output
    books = json.loads(done.stdout)["books"]
    assert [book["book"] for book in books] == list(EDITIONS)
    assert all({"state", "instruction", "drops_counted", "penalty_strokes", "citations"} <= set(book) for book in books)
    assert [book["state"] for book in books] == ["to-drop"] * 4
    assert [book["drops_counted"] for book in books] == [1] * 4
    assert all(book["if_played"]["stroke_play"]["strokes"] == 2 for book in books)
    assert all(book["if_played"]["match_play"]["hole"] == "lost" for book in books)


def test_what_the_last_drop_was_says_what_may_be_played() -> None:
    """A ball that touched the player first is a wrong drop since 2019, and one to be dropped again in 2016."""
    touched = "right-way,touched-person-before-ground"
    assert follow("2016", touched).last is LastDrop.NOT_COUNTED
    assert follow("2016", f"{touched},stroke").penalty_strokes == 2
    assert follow("2019", f"{touched},rests-inside,stroke").penalty_strokes == 1
    with pytest.raises(RulingError):
        follow("2019", f"{touched},stroke")
    with pytest.raises(RulingError):
        follow("2016", f"{touched},rests-inside")


def test_a_ball_that_may_not_be_put_in_is_put_right_or_paid_for_once() -> None:
    free = "immovable-obstruction-general-area"
    wrong = follow("2016", "other-ball,right-way,rests-inside", free)
    assert wrong.has_wrong_ball
    played = follow("2016", "other-ball,right-way,rests-inside,stroke", free)
    assert (played.penalty_strokes, played.loses_hole) == (2, True)
    right = follow("2016", "other-ball,right-way,rests-inside,corrected,right-way,rests-inside,stroke", free)
    assert (right.penalty_strokes, right.has_wrong_ball) == (0, False)
    assert follow("2016", "other-ball,wrong-way,rests-inside,stroke", free).penalty_strokes == 2
    assert not follow("2016", "other-ball-out-of-reach", free).has_wrong_ball
    movable = "movable-obstruction-ball-in-or-on"
    assert follow("2016", "other-ball", movable).has_wrong_ball
    assert not follow("2016", f"{ROLLS_OUT},other-ball-out-of-reach").has_wrong_ball
    assert not follow("2023", "other-ball,right-way,rests-inside", free).has_wrong_ball
    with pytest.raises(RulingError) as refused:
        follow("2016", "other-ball")
    assert "`procedure`" in refused.value.hint


def test_an_overlay_lets_an_authorised_person_drop() -> None:
    """The 2019 edition lets another person drop only where the Committee has adopted it."""
    assert follow("2019", "dropped-by-authorised").stage is Stage.WRONG_WAY
    catalogue = read_book("2019").catalogue
    change = '[[change]]\nkey = "drop-by-other-person-disability.adopted"\nwas = false\nnow = true\nbecause = "adopted"\n'
    overlay = read_overlay(f'title = "Modified Rules"\ndated = 2019-03-01\n{change}', name="modified", catalogue=catalogue)
    adopted = open_book("2019", [overlay], catalogue)
    assert guide_drop(adopted, "", (E.DROPPED_BY_AUTHORISED,)).drop.stage is Stage.FALLING


def test_nothing_follows_on_another_book_where_the_source_is_silent() -> None:
    with pytest.raises(RulingError, match="No source seen says what 2019 makes of it"):
        follow("2019", f"{ROLLS_OUT},other-spot-on-line", "penalty-area-back-on-line")
    with pytest.raises(RulingError, match="No source seen says what 2016 makes of it"):
        follow("2016", "dropped-by-partner")
    with pytest.raises(RulingError, match="No source seen says what that costs"):
        follow("draft-2017", "wrong-way,rests-outside,stroke")
    with pytest.raises(RulingError, match="what becomes of drops already counted"):
        follow("2023", f"{ROLLS_OUT},wrong-way,rests-outside,other-option")
    with pytest.raises(RulingError) as refused:
        follow("2023", "wrong-way,rests-outside,third-drop")
    assert "No source" not in refused.value.message


def test_a_drop_that_comes_to_rest_where_it_must_counts_and_one_of_a_wrong_ball_does_not() -> None:
    fallen = "right-way,first-touch-inside"
    assert follow("2023", f"{fallen},rests-inside").counted == 1
    assert follow("2023", f"{fallen},rests-outside,{fallen},rests-inside").counted == 2
    wrong = follow("2016", f"other-ball,{fallen},rests-inside", "immovable-obstruction-general-area")
    assert (wrong.has_wrong_ball, wrong.counted) == (True, 0)
