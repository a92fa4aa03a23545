"""A case is read out with its penalty in both forms of play, once where they agree, and with what becomes of stroke and ball."""

from __future__ import annotations

import pytest

from marram.rulebook.consequence_words import BallIs, HoleIs, OnlyIn, Out, StrokeIs
from marram.rulebook.consequences import Consequence

GENERAL = Consequence(strokes=2, hole=HoleIs.LOST)


@pytest.mark.parametrize(
    ("case", "stroke_play", "match_play"),
    [
        (Consequence(), "no penalty", "no penalty"),
        (Consequence(strokes=1, match_strokes=1), "one penalty stroke", "one penalty stroke"),
        (GENERAL, "two penalty strokes", "loss of hole"),
        # Rules of Golf 2019, Rule 4.1b: two strokes for each hole, in a match one hole deducted for each hole.
        (Consequence(strokes=2, per_hole=True), "two penalty strokes for each hole", "a hole deducted for each hole"),
        (Consequence(strokes=2, match_strokes=2, per_hole=True), "two penalty strokes for each hole", "2 penalty strokes for each hole"),
        (Consequence(strokes=2, match_strokes=2), "two penalty strokes", "2 penalty strokes"),
        (Consequence(out=Out.STROKE_PLAY), "disqualified", "no penalty"),
        (Consequence(allowed=False), "not allowed, without a stated penalty", "not allowed, without a stated penalty"),
    ],
)
def test_what_a_case_costs_in_each_form_of_play(case: Consequence, stroke_play: str, match_play: str) -> None:
    assert (case.stroke_play_words, case.match_play_words) == (stroke_play, match_play)


@pytest.mark.parametrize(
    ("case", "is_stroke_in_question", "said"),
    [
        (GENERAL, False, "two penalty strokes, in match play loss of hole."),
        (GENERAL, True, "two penalty strokes, in match play loss of hole; the stroke counts."),
        (Consequence(ball=BallIs.REPLACED), False, "no penalty; the ball is replaced."),
        (
            Consequence(stroke=StrokeIs.CANCELLED, ball=BallIs.REPLACED),
            False,
            "no penalty; the stroke does not count, the ball is replaced.",
        ),
        (Consequence(strokes=2, only_in=OnlyIn.STROKE_PLAY), False, "in stroke play two penalty strokes."),
        (Consequence(hole=HoleIs.LOST, only_in=OnlyIn.MATCH_PLAY), False, "in match play loss of hole."),
        (
            Consequence(ball=BallIs.REPLACED, match_ball=BallIs.AS_IT_LIES),
            False,
            "no penalty, the stroke counts, the ball is replaced; "
            "in match play no penalty, the stroke counts, the ball is played as it lies.",
        ),
        (
            Consequence(strokes=2, match_stroke=StrokeIs.CANCELLED, only_in=OnlyIn.STROKE_PLAY),
            False,
            "in stroke play two penalty strokes.",
        ),
    ],
)
def test_a_case_is_read_out(case: Consequence, is_stroke_in_question: bool, said: str) -> None:  # noqa: FBT001
    assert case.in_words(is_stroke_in_question=is_stroke_in_question) == said


@pytest.mark.parametrize(
    ("case", "words"),
    [
        (Consequence(), "no penalty"),
        (Consequence(allowed=False), "not allowed, without a stated penalty"),
        (GENERAL, "stroke play 2 hole lost (player)"),
        (Consequence(match_strokes=1), "match play 1 (player)"),
        (Consequence(out=Out.ALWAYS), "disqualified: always"),
        (Consequence(when=("ball_on_green",), ball=BallIs.REPLACED), "where ball on green: no penalty ball replaced"),
    ],
)
def test_a_case_in_short_words(case: Consequence, words: str) -> None:
    assert case.words == words


def test_a_disqualification_from_a_net_event_is_one_in_stroke_play_alone() -> None:
    """Rules of Golf 2016, Rule 6-2b: disqualified from the handicap competition; in a match it is another matter."""
    case = Consequence(out=Out.NET_EVENT, only_in=OnlyIn.STROKE_PLAY)
    assert case.in_stroke_play is not None and case.in_stroke_play.is_out
    assert case.in_match_play is None
    assert case.stroke_play_words == "disqualified from a net event"
    both = Consequence(out=Out.NET_EVENT)
    assert both.in_match_play is not None and not both.in_match_play.is_out
