"""Play that is stopped: the caution first, what to do now, what it costs not to, how play goes on."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from marram.cli.suspension.command import suspension
from marram.interchange.books.book_files import read_book
from marram.rulings.acts.suspension import Signal, SuspensionAnswer, rule_on_suspension
from tests.support.editions import ASKED_BY_NAME

EDITIONS = ("2016", "draft-2017", "2019", "2023")


def answer(edition: str, signal: Signal, *, is_hole_begun: bool = True) -> SuspensionAnswer:
    return rule_on_suspension(read_book(edition), signal, is_hole_begun=is_hole_begun)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("signal", list(Signal))
def test_lightning_comes_first_and_defers_to_the_committee(edition: str, signal: Signal) -> None:
    (first,) = answer(edition, signal).cautions
    assert "shelter" in first.text
    assert "Committee" in first.text


@pytest.mark.parametrize("edition", EDITIONS)
def test_only_a_normal_suspension_lets_a_hole_begun_be_played_out(edition: str) -> None:
    """Source: Rules of Golf (January 2016), Rule 6-8b, from memory; Rules of Golf (January 2023), Rule 5.7b."""
    assert answer(edition, Signal.NORMAL).may_finish_hole
    assert not answer(edition, Signal.NORMAL, is_hole_begun=False).may_finish_hole
    assert not answer(edition, Signal.IMMEDIATE).may_finish_hole
    assert "no player begins the next one" in answer(edition, Signal.NORMAL, is_hole_begun=False).now[0]


@pytest.mark.parametrize(("edition", "minutes"), [("2016", ""), ("draft-2017", ""), ("2019", "2 minutes"), ("2023", "2 minutes")])
def test_the_time_to_choose_is_told_where_an_edition_gives_one(edition: str, minutes: str) -> None:
    """Source: Rules of Golf (January 2023), Rule 5.7b(2), printed page 56."""
    (now,) = answer(edition, Signal.NORMAL).now
    assert ("minutes" in now) is bool(minutes)
    assert minutes in now


def test_the_acts_that_break_a_suspension_carry_their_penalty() -> None:
    """Source: Rules of Golf (January 2023), Rule 5.7b(1) and (2), printed page 56."""
    acts = {act.act: act.case for act in answer("2023", Signal.IMMEDIATE).acts}
    assert (played := acts["plays-on-in-immediate-suspension"]) is not None
    assert played.out == "always"
    assert (alone := acts["plays-on-when-opponent-stops"]) is not None
    assert alone.hole == "lost"


@pytest.mark.parametrize("edition", EDITIONS)
def test_how_play_goes_on(edition: str) -> None:
    """Source: Rules of Golf (January 2016), Rule 6-8d; Rules of Golf (January 2019), Rule 5.7c and d; from memory."""
    told = " ".join(answer(edition, Signal.UNASKED).then)
    assert "where it stopped" in told
    assert "wind or water" in told


def test_the_command_prints_one_object() -> None:
    done = CliRunner().invoke(suspension, ["--signal", "normal", "--between-holes", *ASKED_BY_NAME, "--json"])
    assert done.exit_code == 0, done.output
    assert [book["may_finish_hole"] for book in json.loads(done.stdout)["books"]] == [False] * 4
    assert CliRunner().invoke(suspension, []).output.startswith("Caution. Lightning")
