"""The third examination, of 88 questions on relief, search, drops and things in the way, question by question.

Source: third_examination.yaml beside this file, in which each question names its rule and what was read; its `about` keeps the figure
of the first run.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.published.examination import Question, faults_of, read_questions
from tests.support.yaml_text import read_yaml

CONTENT = read_yaml((Path(__file__).parent / "third_examination.yaml").read_text(encoding="utf-8"))
QUESTIONS = read_questions(CONTENT)


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda question: question.name)
def test_question_is_answered_right(question: Question) -> None:
    assert faults_of(question) == []


def test_every_question_is_there_with_its_source() -> None:
    assert len(QUESTIONS) == 88
    assert all(entry["rule"] and entry["source"] for entry in CONTENT["questions"])
