"""The examination of 150 questions, question by question; what is still answered wrong is listed by id, and the list may only shrink.

Source: examination.yaml beside this file, in which each question names its rule and what was read for it; its `about` keeps the figure of
the first run.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.published.adapter import Unfit
from tests.published.examination import Question, faults_of, read_questions
from tests.published.run import main
from tests.support.yaml_text import read_yaml

CONTENT = read_yaml((Path(__file__).parent / "examination.yaml").read_text(encoding="utf-8"))
QUESTIONS = read_questions(CONTENT)
STILL_WRONG = {"q073"}


def _marked(question: Question) -> object:
    wrong = [pytest.mark.xfail(strict=True, reason="still answered wrong")] if question.name in STILL_WRONG else []
    return pytest.param(question, id=question.name, marks=wrong)


@pytest.mark.parametrize("question", [_marked(question) for question in QUESTIONS])
def test_question_is_answered_right(question: Question) -> None:
    assert faults_of(question) == []


def test_every_question_is_there_with_its_source() -> None:
    assert len(QUESTIONS) == 150
    assert {question.name for question in QUESTIONS} >= STILL_WRONG
    assert all(entry["rule"] and entry["source"] for entry in CONTENT["questions"])


def _question(ask: str, expected: str, edition: str = "2023") -> Question:
    entry = f"{{id: a, edition: '{edition}', question: x, rule: x, source: x, {ask}, expected: {expected}}}"
    (question,) = read_questions(read_yaml(f"questions:\n- {entry}"))
    return question


UMBRELLA, SEARCH = "ask: [act, shelter-during-stroke]", "ask: [search, --events, 'start@0:00,found@1:00']"
PATH_IN_WATER = "rule_on: {situation: immovable-obstruction, ball: [0, -55], crossed_at: [0, -70], facts: {}}"
WRONG_GREEN = "rule_on: {situation: wrong-green, ball: [-150, -100], facts: {}}"
CARRIED_OUT = "carried_out_as: [wrong-green-relief]"


@pytest.mark.parametrize(
    ("ask", "right", "wrong"),
    [
        (UMBRELLA, "{stroke_play_strokes: 2}", "{stroke_play_strokes: 1}"),
        (UMBRELLA, "{match_play_strokes: 0}", "{match_play_strokes: false}"),
        (UMBRELLA, "{match_play_hole: lost}", "{match_play_hole: ''}"),
        (UMBRELLA, "{disqualified_stroke_play: false}", "{disqualified_match_play: true}"),
        (UMBRELLA, "{stroke: [replay, counts]}", "{stroke: [cancelled, replay]}"),
        (UMBRELLA, "{told: [[umbrella, parasol]]}", "{told: [[umbrella], [brella]]}"),
        ("ask: [act, too-many-clubs, --holes, '3']", "{holes_deducted: 2}", "{holes_deducted: 3}"),
        ("ask: [act, too-many-clubs, --holes, '3']", "{stroke_play_strokes: 4}", "{stroke_play_strokes: 2}"),
        ("ask: [form, match-play, --happens, picked-up]", "{values: {picked_up: [hole-lost]}}", "{values: {picked_up: [maximum]}}"),
        ("ask: [object, rake]", "{may_be_moved: 'yes', if_moved: {strokes: 0}}", "{if_moved: {strokes: 1}}"),
        (SEARCH, "{searched_s: 60}", "{state: [lost]}"),
        (WRONG_GREEN, f"{{options: [{{{CARRIED_OUT}, penalty_strokes: 0}}]}}", f"{{options: [{{{CARRIED_OUT}, penalty_strokes: 1}}]}}"),
        (WRONG_GREEN, f"{{among_options: [{{{CARRIED_OUT}, size: [one club-length]}}]}}", "{among_options: [{carried_out_as: [x]}]}"),
        (PATH_IN_WATER, "{free_relief: false}", "{mandatory: true}"),
        (PATH_IN_WATER, "{free_relief: false}", "{which: [any]}"),
        (WRONG_GREEN, "{among_options: [{penalty_strokes: 0, size: [one club-length]}]}", "{among_options: [{penalty_strokes: 1}]}"),
        (WRONG_GREEN, "{which: [any], mandatory: true, free_relief: true}", "{free_relief: false}"),
        (WRONG_GREEN, f"{{options: [{{{CARRIED_OUT}, put: [drop]}}]}}", f"{{options: [{{{CARRIED_OUT}}}, {{{CARRIED_OUT}}}]}}"),
    ],
)
def test_a_check_tells_right_from_wrong(ask: str, right: str, wrong: str) -> None:
    assert faults_of(_question(ask, right)) == []
    assert faults_of(_question(ask, wrong)) != []


def test_a_hole_that_the_opponent_loses_is_won() -> None:
    ask = "ask: [act, wrong-ball, --fact, balls_exchanged=true, --fact, opponent_played_first=true]"
    assert faults_of(_question(ask, "{match_play_hole: lost}")) != []


def test_what_cannot_be_asked_is_wrong() -> None:
    (fault,) = faults_of(_question("ask: [act, no-such-act]", "{stroke: [counts]}"))
    assert fault.startswith("no answer:")


@pytest.mark.parametrize(
    "entry",
    [
        "- {id: a, edition: '2023', question: x, rule: x, source: x, expected: {stroke: [counts]}}",
        "- {id: a, edition: '2023', question: x, rule: x, source: x, ask: [act], expected: {strike: [counts]}}",
        "- {id: a, edition: '2023', question: x, rule: x, source: x, ask: [act], expected: {}}",
        "- {id: a, edition: '2023', question: x, source: x, ask: [act], expected: {stroke: [counts]}}",
    ],
)
def test_questions_that_do_not_hold_together_are_refused(entry: str) -> None:
    with pytest.raises(Unfit):
        read_questions(read_yaml(f"questions:\n{entry}"))


def test_a_file_of_questions_is_run_and_its_shares_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "examination.yaml"
    entry = "edition: '2023', question: x, rule: x, source: x, ask: [act, shelter-during-stroke]"
    file.write_text(
        f"questions:\n- {{id: a, {entry}, expected: {{stroke: [counts]}}}}\n- {{id: b, {entry}, expected: {{stroke: [replay]}}}}\n"
    )
    assert main([str(file)]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[:2] == ["passed  a", "FAILED  b"]
    assert lines[-2:] == ["2023: 1 of 2 right", "1 passed, 1 failed"]
