"""That a stroke counts is told where a stroke is in question, and nowhere else.

Source: Rules of Golf 2016 and 2019, Definition of Stroke. Which acts make a stroke or touch one follows from what each act is.
"""

from __future__ import annotations

from functools import cache

import pytest
from click.testing import CliRunner

from marram.cli.act.command import act
from marram.cli.object.command import object_
from marram.interchange.books.book_files import read_book
from marram.rulebook.consequence_words import BallIs, BorneBy, HoleIs, OnlyIn, Out, StrokeIs
from marram.rulebook.consequences import Consequence
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.acts import FAMILY, ActAnswer, rule_on_act

EDITIONS = tuple(packaged_catalogue().editions)
ACTS = sorted(row.removeprefix(FAMILY) for row in packaged_catalogue().rows if row.startswith(FAMILY))


@cache
def answer(edition: str, name: str) -> ActAnswer:
    return rule_on_act(read_book(edition), name, {})


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_act_that_cancels_or_replays_a_stroke_has_one_in_question(edition: str) -> None:
    touching = {name for name in ACTS if any(case.stroke != "counts" for case in answer(edition, name).cases)}
    assert len(touching) > 10
    assert touching <= set(read_book(edition).words("acts-with-a-stroke.acts").value)


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_act_that_says_stroke_in_what_it_is_was_looked_at(edition: str) -> None:
    """Acts whose meaning names a stroke, and that make none that could count, stand here by hand."""
    none_in_question = {
        "caddie-behind-taking-stance", "club-laid-for-stance", "move-tee-marker", "object-laid-on-line-off-green",
        "boundary-object-moved-and-restored", "penalty-area-touch-water", "touch-line-of-putt-by-caddie-or-partner",
        "practice-stroke-during-hole", "practice-stroke-between-holes", "practice-between-holes-forbidden",
        "multiple-breaches-unrelated-acts", "exchanges-clubs", "teeing-area-surface-changed",
    }  # fmt: skip
    named = {
        name for name in ACTS if "stroke " in answer(edition, name).means.lower().replace("stroke-play", "").replace("stroke play", "")
    }
    named |= {name for name in ACTS if answer(edition, name).means.rstrip(".").lower().endswith("stroke")}
    in_question = set(read_book(edition).words("acts-with-a-stroke.acts").value)
    assert named - in_question - none_in_question == set()
    assert not none_in_question & in_question


@pytest.mark.parametrize(
    "name",
    [
        "push-scrape-scoop", "anchored-stroke", "shelter-during-stroke", "caddie-behind-at-stroke", "stand-astride-line-of-putt",
        "bunker-backswing-touch", "hand-on-flagstick", "incorrect-substitution", "wrong-place-minor", "drop-wrong-way-played",
        "placed-when-drop-required", "moved-or-lifted-ball-not-replaced", "replaced-by-wrong-person", "wrong-green-play",
        "provisional-not-announced", "provisional-played-past", "plays-on-when-opponent-stops", "flagstick-attended-hit",
        "flagstick-attendant-hit", "flagstick-on-ground-hit", "flagstick-off-centre", "ball-hits-ball-both-on-green",
        "ball-hits-ball-not-both-on-green", "deflect-own-side", "deflect-other-player", "remove-object-to-affect-moving-ball",
        "own-ball-rests-in-clothes-or-equipment", "altered-ball-played", "ball-moves-during-backswing", "re-tee-in-teeing-area",
    ],
)  # fmt: skip
@pytest.mark.parametrize("edition", EDITIONS)
def test_an_act_of_playing_or_of_a_ball_in_motion_has_a_stroke_in_question(edition: str, name: str) -> None:
    assert answer(edition, name).is_stroke_in_question


def test_a_bunker_smoothed_for_care_says_nothing_of_a_stroke() -> None:
    found = answer("2019", "bunker-smooth-for-care")
    assert found.case is not None
    assert "the stroke" not in found.says(found.case)


@pytest.mark.parametrize(
    ("name", "words"), [("double-hit", "the stroke counts"), ("ball-breaks-into-pieces", "cancelled and played again")]
)
def test_where_a_stroke_was_made_what_becomes_of_it_is_told(name: str, words: str) -> None:
    found = answer("2019", name)
    assert found.case is not None
    assert words in found.says(found.case)


def test_a_stroke_that_does_not_count_is_told_whatever_the_act() -> None:
    case = Consequence(strokes=2, hole=HoleIs.LOST, stroke=StrokeIs.CANCELLED, ball=BallIs.CORRECTED)
    said = case.in_words(is_stroke_in_question=False)
    right = "the mistake is put right by playing from the right place"
    assert said == f"two penalty strokes, in match play loss of hole; the stroke does not count, {right}."


def test_nothing_hangs_in_the_air_where_nothing_comes_after() -> None:
    assert Consequence().in_words(is_stroke_in_question=False) == "no penalty."


@pytest.mark.parametrize(
    ("case", "said"),
    [
        (Consequence(strokes=1, match_strokes=1), "one penalty stroke."),
        (Consequence(strokes=1), "one penalty stroke, in match play no penalty."),
        (Consequence(strokes=2, hole=HoleIs.LOST), "two penalty strokes, in match play loss of hole."),
        (Consequence(strokes=2, only_in=OnlyIn.STROKE_PLAY), "in stroke play two penalty strokes."),
        (Consequence(hole=HoleIs.LOST, who=BorneBy.OPPONENT, only_in=OnlyIn.MATCH_PLAY), "in match play loss of hole (opponent)."),
        (Consequence(strokes=1, match_strokes=1, per_hole=True), "one penalty stroke for each hole."),
        (Consequence(strokes=2, per_hole=True), "two penalty strokes for each hole, in match play a hole deducted for each hole."),
        (Consequence(out=Out.ALWAYS), "disqualified."),
        (Consequence(ball=BallIs.OTHER_REPLACED), "no penalty; the other ball is replaced."),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_both_forms_share_is_said_once_and_each_form_that_cannot_happen_not_at_all(case: Consequence, said: str) -> None:
    assert case.in_words(is_stroke_in_question=False) == said


@pytest.mark.parametrize("name", ["late-start-within-5", "too-many-clubs", "advice", "two-caddies", "score-too-low"])
def test_the_command_does_not_say_that_a_stroke_counts_where_there_is_none(name: str) -> None:
    printed = CliRunner().invoke(act, [name]).output
    assert "penalty" in printed or "disqualified" in printed
    assert "the stroke counts" not in " ".join(printed.split())


def test_moving_a_thing_says_nothing_of_a_stroke() -> None:
    printed = " ".join(CliRunner().invoke(object_, ["leaf", "--area", "bunker"]).output.split())
    moved, _, in_motion = printed.partition("Moved to affect a ball in motion")
    assert "two penalty strokes, in match play loss of hole" in moved
    assert "the stroke counts" not in moved
    assert "the stroke counts" in in_motion


def test_the_json_tells_the_stroke_of_every_act_as_before() -> None:
    printed = CliRunner().invoke(act, ["late-start-within-5", "--book", "2019", "--json"]).output
    assert '"stroke": "counts"' in printed
