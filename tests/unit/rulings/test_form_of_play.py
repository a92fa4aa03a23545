"""Forms of play told in words: every form under every edition, what is not stated, and bad input."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from marram.cli.act.command import act
from marram.cli.form.command import form
from marram.core.errors import DataError
from marram.core.terms import Form
from marram.interchange.books.book_files import read_book
from marram.rulings.acts.form_of_play import Happening, describe_form, known_form, known_happening
from tests.support.editions import ASKED_BY_NAME

EDITIONS = ("2016", "draft-2017", "2019", "2023")


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("named", list(Form))
def test_everything_is_told_or_called_not_stated(edition: str, named: Form) -> None:
    answer = describe_form(read_book(edition), named)
    if answer.why_none:
        assert (edition, named) == ("2016", Form.MAXIMUM_SCORE)
        assert not answer.lines
        return
    assert {line.happening for line in answer.lines} | set(answer.not_stated) == set(Happening)
    for line in answer.lines:
        assert line.says
        assert line.citations
        assert "{" not in line.says


def test_a_value_without_words_is_told_by_none() -> None:
    """Every value that a form holds of a part that is told has its words."""
    book = read_book("2023")
    said = {line.happening: line.says for line in describe_form(book, Form.STROKE_PLAY).lines}
    assert said[Happening.PICKED_UP].startswith("A ball picked up is put back")
    assert said[Happening.CONCEDED] == "Nothing can be conceded."


def test_unknown_names_tell_the_nearest() -> None:
    with pytest.raises(DataError, match="no form of play 'stablefort'") as told:
        known_form("stablefort")
    assert "stableford" in told.value.hint
    with pytest.raises(DataError, match="cannot be asked") as asked:
        known_happening("pick-up")
    assert "picked-up" in asked.value.hint


def test_the_command_answers_one_thing_under_every_edition() -> None:
    done = CliRunner().invoke(form, ["stableford", "--happens", "picked-up", *ASKED_BY_NAME, "--json"])
    assert done.exit_code == 0, done.output
    books = json.loads(done.stdout)["books"]
    assert [book["lines"][0]["values"] for book in books] == [{"picked_up": "no-points"}] * 4
    assert "three-ball" in CliRunner().invoke(form, ["--list"]).output


def test_an_act_reads_in_a_form() -> None:
    done = CliRunner().invoke(act, ["hole-not-finished", "--form", "stableford", "--book", "2019", "--json"])
    (book,) = json.loads(done.stdout)["books"]
    assert (book["reads"]["hole"], book["reads"]["disqualified"]) == ("no-points", False)
    told = CliRunner().invoke(act, ["out-of-turn", "--form", "match-play", "--book", "2019"]).output
    assert "2019, in match play: It depends." in told and "No: No penalty." in " ".join(told.split())


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_three_matches_are_played_as_match_play_but_for_what_is_their_own(edition: str) -> None:
    """Source: Rules of Golf, effective January 2023, Rule 21.4a and 21.4b, printed page 187."""
    book = read_book(edition)
    three, match = ({line.happening: line for line in describe_form(book, named).lines} for named in (Form.THREE_BALL, Form.MATCH_PLAY))
    assert three[Happening.CONCEDED].says == match[Happening.CONCEDED].says
    assert three[Happening.LOST].says == match[Happening.LOST].says
    assert three[Happening.OUT_OF_TURN].values == {"out_of_turn": "may-be-recalled", "recalled_in_one": "two-balls-to-finish-hole"}
    assert "separate ball" in three[Happening.OUT_OF_TURN].says
    assert "separate ball" not in match[Happening.OUT_OF_TURN].says


def test_a_form_that_is_no_match_takes_nothing_from_match_play() -> None:
    book = read_book("2023")
    assert "conceded, and" not in describe_form(book, Form.STABLEFORD, (Happening.CONCEDED,)).lines[0].says
    assert describe_form(book, Form.FOUR_BALL, (Happening.CONCEDED,)).not_stated == (Happening.CONCEDED,)
