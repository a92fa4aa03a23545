"""What an act leads to where stroke play and match play differ in more than the cost, with nothing else known.

Sources: Rules of Golf 2016, Rules 10-1, 11-4 and 15-3; Rules of Golf 2019 and 2023, Rules 6.1b, 6.3c and 6.4; written down from memory
before any answer was looked at. In a match a stroke from outside the teeing area stands unless the opponent cancels it at once, and where
the hole is lost nothing is left to be put right.
"""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from marram.cli.act.command import act
from marram.rulebook.reading.files import packaged_catalogue

EDITIONS = tuple(packaged_catalogue().editions)
STROKE_PLAY = {
    "outside-teeing-area": ("cancelled", "corrected", "before-the-next-tee"),
    "wrong-ball": ("cancelled", "wrong-ball-corrected", "before-the-next-tee"),
    "out-of-turn": ("counts", "as-it-lies", ""),
}
MATCH_PLAY = {
    "outside-teeing-area": (0, "", "counts", "as-it-lies", ""),
    "wrong-ball": (0, "lost", "cancelled", "none", ""),
    "out-of-turn": (0, "", "counts", "as-it-lies", ""),
}


def told(*words: str) -> dict[str, dict[str, object]]:
    book: dict[str, dict[str, object]]
    (book,) = json.loads(CliRunner().invoke(act, [*words, "--json"]).output)["books"]
    return book


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", MATCH_PLAY)
def test_each_form_has_its_own_stroke_and_ball(name: str, edition: str) -> None:
    book = told(name, "--book", edition)
    assert tuple(book["stroke_play"][member] for member in ("stroke", "ball", "put_right")) == STROKE_PLAY[name]
    assert tuple(book["match_play"][member] for member in ("strokes", "hole", "stroke", "ball", "put_right")) == MATCH_PLAY[name]


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_stroke_that_the_opponent_cancels_is_played_again(edition: str) -> None:
    book = told("outside-teeing-area", "--book", edition, "--fact", "opponent_cancels=true")
    assert book["stroke_play"] is None
    assert (book["match_play"]["stroke"], book["match_play"]["ball"]) == ("replay", "teed-again")


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_stroke_that_the_opponent_does_not_cancel_stands(edition: str) -> None:
    book = told("outside-teeing-area", "--book", edition, "--fact", "opponent_cancels=false")
    assert (book["match_play"]["stroke"], book["match_play"]["put_right"]) == ("counts", "")


def test_the_words_tell_the_two_forms_apart() -> None:
    output = " ".join(CliRunner().invoke(act, ["outside-teeing-area", "--book", "2023"]).output.split())
    stroke, _, match = output.partition("In match play: ")
    assert "two penalty strokes; the stroke does not count" in stroke
    assert "no penalty; the stroke counts, the ball is played as it lies." in match
