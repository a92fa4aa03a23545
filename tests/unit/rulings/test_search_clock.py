"""The search clock: limits of each edition, pauses, balls found in time, identified later, or found too late."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from marram.cli.search import search
from marram.core.errors import DataError, RulingError
from marram.interchange.book_files import read_book
from marram.rulings.search_clock import SearchAnswer, SearchEvent, SearchState, follow_search, read_timed

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


def test_another_ball_lets_the_search_go_on() -> None:
    given_ = answer("2023", "start@0:00,found@1:00,another-ball@1:30,now@2:00")
    assert given_.state is SearchState.SEARCHING
    assert given_.searched_s == 90


def test_the_clock_stands_still_while_play_is_suspended() -> None:
    paused = answer("2019", "start@0:00,suspended@2:00,resumed@30:00,found@30:59")
    assert (paused.state, paused.searched_s) == (SearchState.FOUND, 179)
    unknown = answer("2016", "start@0:00,suspended@2:00,now@4:00")
    assert unknown.searched_s == 240
    assert unknown.not_stated


def test_time_at_a_wrong_ball_does_not_count_in_the_edition_that_says_so() -> None:
    assert answer("2016", "start@0:00,wrong-ball-played@2:00,wrong-ball-done@5:00,found@7:59").state is SearchState.FOUND
    assert answer("2023", "start@0:00,wrong-ball-played@2:00,wrong-ball-done@5:00,found@7:59").state is not SearchState.FOUND


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
    done = CliRunner().invoke(search, ["--events", "start@0:00,found@4:00", "--json"])
    assert done.exit_code == 0, done.output
    assert [book["state"] for book in json.loads(done.stdout)["books"]] == ["found", "found-too-late", "found-too-late", "found-too-late"]
