"""The search clock: limits of each edition, pauses, balls found in time, identified later, or found too late."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from marram.cli.search.command import search
from marram.core.errors import DataError, RulingError
from marram.interchange.books.book_files import read_book
from marram.rulings.acts.moved_in_search import Mover, facts_of_moved, rule_on_moved
from marram.rulings.acts.search_clock import OtherBall, SearchAnswer, SearchEvent, SearchState, follow_search, read_timed
from tests.support.editions import ASKED_BY_NAME

EDITIONS = ("2016", "draft-2017", "2019", "2023")


def answer(edition: str, events: str) -> SearchAnswer:
    return follow_search(read_book(edition), read_timed(events))


@pytest.mark.parametrize(("edition", "limit_s"), [("2016", 300), ("draft-2017", 180), ("2019", 180), ("2023", 180)])
def test_the_limit_is_the_editions_own(edition: str, limit_s: int) -> None:
    """Source: Rules of Golf (January 2016), Definition of Lost Ball; Rules of Golf (January 2019), Rule 18.2a(1)."""
    assert answer(edition, f"start@0,found@{limit_s}").state is SearchState.FOUND
    assert answer(edition, f"start@0,found@{limit_s + 1}").state is SearchState.FOUND_TOO_LATE
    assert answer(edition, f"start@0,now@{limit_s}").state is SearchState.SEARCHING
    assert answer(edition, f"start@0,now@{limit_s + 1}").state is SearchState.LOST


def test_a_ball_found_in_time_may_be_identified_later() -> None:
    given_ = answer("2023", "start@0:00,found@2:50,identified@4:10")
    assert given_.state is SearchState.IDENTIFIED
    assert given_.left_s == 10


def test_a_ball_found_after_it_was_lost_is_told_how_late() -> None:
    late = answer("2023", "start@0:00,now@3:30,found@5:00")
    assert late.state is SearchState.FOUND_TOO_LATE
    assert "2 min 00 s" in late.says


def test_the_time_it_takes_to_see_that_a_ball_is_another_one_counts() -> None:
    """Found at 2:30, known to be another ball at 3:30: no time is left. Source: questions and answers on Clarification 18.2a(1)/3."""
    given_ = answer("2023", "start@0:00,found@1:00,another-ball@1:30,now@2:00")
    assert (given_.state, given_.searched_s) == (SearchState.SEARCHING, 120)
    late = answer("2023", "start@0:00,found@2:30,another-ball@3:30")
    assert (late.state, late.left_s) == (SearchState.LOST, 0)
    unstated = answer("2016", "start@0:00,found@2:30,another-ball@3:30")
    assert (unstated.state, unstated.searched_s) == (SearchState.SEARCHING, 210)
    assert "another one" in unstated.not_stated[0]


def test_the_clock_stands_still_while_play_is_suspended() -> None:
    paused = answer("2019", "start@0:00,suspended@2:00,resumed@30:00,found@30:59")
    assert (paused.state, paused.searched_s) == (SearchState.FOUND, 179)
    unknown = answer("2016", "start@0:00,suspended@2:00,now@4:00")
    assert unknown.searched_s == 240
    assert unknown.not_stated


@pytest.mark.parametrize(("edition", "last_s"), [("2016", 480), ("2019", 360), ("2023", 360)])
def test_time_at_a_wrong_ball_does_not_count(edition: str, last_s: int) -> None:
    """Three minutes at a ball mistaken for the player's are left out of the five or three.

    Source: Rules of Golf 2012-2015 pocket edition, Definition of Lost Ball; Rules of Golf 2019, official Polish text, Definition of Lost.
    """
    events = "start@0:00,wrong-ball-played@2:00,wrong-ball-done@5:00"
    assert answer(edition, f"{events},found@{last_s}").state is SearchState.FOUND
    assert answer(edition, f"{events},found@{last_s + 1}").state is SearchState.FOUND_TOO_LATE
    assert not answer(edition, f"{events},found@{last_s}").not_stated


def test_where_no_source_speaks_of_a_wrong_ball_its_time_counts_and_that_is_told() -> None:
    draft = answer("draft-2017", "start@0:00,wrong-ball-played@1:00,wrong-ball-done@2:00,found@2:50")
    assert (draft.state, draft.searched_s) == (SearchState.FOUND, 170)
    assert draft.not_stated


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_standing_aside_for_another_player_stops_the_clock(edition: str) -> None:
    """The times before and after are added to three minutes in all. Source: Definition of Lost."""
    events = "start@0:00,interrupted@1:00,resumed@4:00"
    assert answer(edition, f"{events},found@6:00").state is SearchState.FOUND
    assert answer(edition, f"{events},found@6:01").state is SearchState.FOUND_TOO_LATE
    assert answer(edition, "start@0:00,interrupted@1:00").state is SearchState.STANDING_STILL
    assert answer("2016", "start@0:00,interrupted@1:00,now@3:00").not_stated


@given(st.sampled_from(EDITIONS), st.lists(st.tuples(st.sampled_from(list(SearchEvent)), st.integers(0, 400)), max_size=10))
def test_time_left_and_time_searched_agree(edition: str, events: list[tuple[SearchEvent, int]]) -> None:
    book = read_book(edition)
    timed = sorted(events, key=lambda entry: entry[1])
    try:
        given_ = follow_search(book, timed)
    except RulingError as refused:
        assert "What can follow" in refused.hint
        return
    assert given_.left_s == max(0, given_.limit_s - given_.searched_s)
    assert (given_.left_s == 0 and given_.searched_s > given_.limit_s) or given_.state not in {SearchState.LOST, SearchState.FOUND_TOO_LATE}
    assert given_.says


@pytest.mark.parametrize(
    ("events", "words"),
    [("begin@0", "Nearest"), ("start", "no time"), ("start@0:75", "no time"), ("start@100,found@50", "backwards"), ("start@x", "no time")],
)
def test_what_cannot_be_read_is_told(events: str, words: str) -> None:
    with pytest.raises(DataError) as told:
        read_timed(events)
    assert words in str(told.value)


def test_an_event_that_cannot_follow_names_those_that_can() -> None:
    with pytest.raises(RulingError, match="found cannot follow") as refused:
        answer("2023", "found@10")
    assert "start" in refused.value.hint


def test_the_command_answers_under_every_edition() -> None:
    done = CliRunner().invoke(search, ["--events", "start@0:00,found@4:00", *ASKED_BY_NAME, "--json"])
    assert done.exit_code == 0, done.output
    assert [book["state"] for book in json.loads(done.stdout)["books"]] == ["found", "found-too-late", "found-too-late", "found-too-late"]


@pytest.mark.parametrize(
    ("edition", "state", "other_ball", "strokes"),
    [
        ("2016", SearchState.ANOTHER_IN_PLAY, OtherBall.IN_PLAY, 1),
        ("draft-2017", SearchState.SEARCHING, OtherBall.PROVISIONAL, 0),
        ("2019", SearchState.SEARCHING, OtherBall.PROVISIONAL, 0),
        ("2023", SearchState.SEARCHING, OtherBall.PROVISIONAL, 0),
    ],
)
def test_a_second_ball_after_going_forward(edition: str, state: SearchState, other_ball: OtherBall, strokes: int) -> None:
    """Source: Decisions on the Rules of Golf 2016, Decision 27-2a/1.5; Rules of Golf (January 2019), Rule 18.3a."""
    given_ = answer(edition, "start@0:00,gone-forward@0:10,provisional@1:00,now@2:00")
    assert (given_.state, given_.other_ball, given_.penalty_strokes) == (state, other_ball, strokes)


@pytest.mark.parametrize("edition", EDITIONS)
def test_what_becomes_of_a_provisional_ball(edition: str) -> None:
    """Source: Rules of Golf (January 2016), Rule 27-2; Rules of Golf (January 2019), Rule 18.3c."""
    assert answer(edition, "provisional@0:00,start@1:00,found@2:00,identified@2:10").other_ball is OtherBall.ABANDONED
    assert answer(edition, "provisional@0:00,start@1:00,found@2:00").other_ball is OtherBall.PROVISIONAL
    lost = answer(edition, "provisional@0:00,start@1:00,now@7:00")
    assert (lost.state, lost.other_ball, lost.penalty_strokes) == (SearchState.LOST, OtherBall.IN_PLAY, 1)
    nearer = answer(edition, "provisional@0:00,start@1:00,provisional-from-nearer@1:30,now@2:00")
    assert (nearer.state, nearer.other_ball, nearer.penalty_strokes) == (SearchState.ANOTHER_IN_PLAY, OtherBall.IN_PLAY, 1)


def test_a_second_ball_played_after_the_time_is_the_ball_in_play() -> None:
    late = answer("2023", "start@0:00,now@3:30,provisional@5:00")
    assert (late.state, late.other_ball) == (SearchState.ANOTHER_IN_PLAY, OtherBall.IN_PLAY)
    with pytest.raises(RulingError, match="provisional cannot follow"):
        answer("2023", "provisional@0,start@1,provisional@2")


@pytest.mark.parametrize(("edition", "strokes"), [("2016", 1), ("draft-2017", 0), ("2019", 0), ("2023", 0)])
def test_the_players_own_move_in_a_search(edition: str, strokes: int) -> None:
    """Source: Rules of Golf (January 2016), Rule 18-2; Rules of Golf (January 2019), Rule 7.4."""
    moved = rule_on_moved(read_book(edition), Mover.PLAYER, {})
    case = moved.acts[0].case
    assert case is not None
    assert (case.strokes, case.match_strokes, case.ball) == (strokes, strokes, "replaced")


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("mover", [Mover.OPPONENT, Mover.OTHER_PLAYER])
def test_somebody_elses_move_in_a_search_costs_nobody_anything(edition: str, mover: Mover) -> None:
    """Source: Rules of Golf (January 2016), Rules 18-3a, 18-4; Rules of Golf (January 2019), Rules 7.4, 9.6."""
    for act in rule_on_moved(read_book(edition), mover, {}).acts:
        assert act.case is not None
        assert (act.case.strokes, act.case.match_strokes, act.case.hole, act.case.ball) == (0, 0, "", "replaced")


def test_what_nobody_moved_goes_to_a_situation_that_reads_no_fact_of_an_act() -> None:
    assert rule_on_moved(read_book("2023"), Mover.OUTSIDE, {}).situations == ("moved-by-outside-influence",)
    assert facts_of_moved(read_book("2023"), Mover.OUTSIDE) == ()
    assert "probing_in_water" in facts_of_moved(read_book("2016"), Mover.PLAYER)


def test_the_command_tells_of_a_ball_moved_in_the_search() -> None:
    done = CliRunner().invoke(search, ["--book", "2016", "--events", "start@0", "--moved-by", "player", "--json"])
    (book,) = json.loads(done.stdout)["books"]
    assert book["moved"]["acts"][0]["stroke_play"]["strokes"] == 1
    told = CliRunner().invoke(search, ["--events", "start@0", "--fact", "raining=true"])
    assert told.exit_code == 2
    assert "--moved-by" in told.output


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("before", ["", "start@0,", "start@0,found@60,", "start@0,found@60,identified@80,", "start@0,now@400,"])
def test_a_ball_put_in_play_under_stroke_and_distance_ends_it_at_any_time(edition: str, before: str) -> None:
    """Source: Rules of Golf, effective January 2023, Rule 6.3b(2), printed page 64, and Rule 18.1."""
    given_ = answer(edition, f"{before}stroke-and-distance@400,found@410")
    assert (given_.state, given_.other_ball, given_.penalty_strokes) == (SearchState.ANOTHER_IN_PLAY, OtherBall.IN_PLAY, 1)
    assert "must not be played" in given_.says
    with pytest.raises(RulingError, match="cannot follow"):
        answer(edition, f"{before}stroke-and-distance@400,stroke-and-distance@410")
