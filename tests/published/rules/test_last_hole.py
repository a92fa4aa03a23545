"""Until when a mistake is put right on the last hole, where there is no next tee to come.

Source: Rules of Golf 2016, Rules 3-2, 11-4b, 15-3b, 20-7c and 29-3 (before the putting green is left; 3-2 apart, it is enough to say so);
Rules of Golf 2019 and 2023, Rules 6.1b(2), 6.3c, 14.7b and 22.3 (before the score card is returned).
"""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from marram.cli.act.command import act as act_command
from marram.rulings.acts.acts import rule_on_act
from tests.support.editions import WRITTEN_FOR
from tests.support.told_keys import base, changed_book

LATE_ACTS = ("wrong-ball", "wrong-place-serious", "outside-teeing-area", "wrong-order-foursomes", "ball-found-after-time-played")
BY_EDITION = {
    "2016": ("before-leaving-the-green", "put right, or the player says that it will be, before the putting green is left"),
    "draft-2017": ("before-the-card", "put right before the score card is returned"),
    "2019": ("before-the-card", "put right before the score card is returned"),
    "2023": ("before-the-card", "put right before the score card is returned"),
}


def test_no_edition_is_left_out_that_this_was_written_for() -> None:
    assert tuple(BY_EDITION) == WRITTEN_FOR


@pytest.mark.parametrize("edition", WRITTEN_FOR)
@pytest.mark.parametrize("act", LATE_ACTS)
def test_an_act_put_right_before_the_next_tee_has_a_time_on_the_last_hole(edition: str, act: str) -> None:
    word, words = BY_EDITION[edition]
    answer = rule_on_act(base(edition), act, {})
    assert answer.case is not None
    assert answer.last_hole_of(answer.case.put_right) == word
    assert answer.last_hole_words == f"On the last hole it is {words}."
    assert "last hole" not in answer.advice


@pytest.mark.parametrize(("act", "facts"), [("drop-wrong-way-played", {}), ("wrong-ball", {"not_put_right_in_time": True})])
def test_nothing_is_said_of_the_last_hole_where_nothing_is_put_right_before_a_next_tee(act: str, facts: dict[str, bool]) -> None:
    known = facts | {"balls_exchanged": False, "opponent_played_first": False, "not_known_who_was_first": False}
    answer = rule_on_act(base("2023"), act, known if facts else {})
    assert answer.last_hole_words == ""
    assert answer.case is not None
    assert answer.last_hole_of(answer.case.put_right) == ""


def test_a_trial_of_the_last_hole_is_told_and_cited() -> None:
    answer = rule_on_act(changed_book("2023", "put-right.last_hole", "before-leaving-the-green"), "wrong-ball", {})
    assert "before the putting green is left" in answer.last_hole_words
    assert any(citation.overlay for citation in answer.citations)


@pytest.mark.parametrize(("edition", "word"), [(edition, word) for edition, (word, _) in BY_EDITION.items()])
def test_it_stands_in_the_answer_for_programs(edition: str, word: str) -> None:
    (book,) = json.loads(CliRunner().invoke(act_command, ["wrong-place-serious", "--book", edition, "--json"]).output)["books"]
    # Once the time is over it is no use any more, and in a match the hole is lost.
    assert book["put_right_last_hole"] == word
    assert book["stroke_play"]["put_right_last_hole"] == word
    assert book["match_play"]["put_right_last_hole"] == ""
    assert [turn["then"]["put_right_last_hole"] for turn in book["depends_on"]] == [""]


@pytest.mark.parametrize("edition", WRITTEN_FOR)
def test_a_hole_not_finished_has_the_same_time(edition: str) -> None:
    place = {"before-leaving-the-green": "putting green is left", "before-the-card": "score card is returned"}[BY_EDITION[edition][0]]
    assert place in rule_on_act(base(edition), "hole-not-finished", {}).advice
