"""Acts asked under each edition, compared with answers written down from the sources before the rule data was asked.

Source: tests/published/rules/added_acts.yaml, whose lines each name the Rule and the title in which it was read, or say that it is from
memory (Rules of Golf 2016, 2019 and 2023, Decisions 2016, Model Local Rules).
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

from marram.interchange.books.book_files import read_book
from marram.rulebook.consequences import Consequence
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.acts import ActAnswer, rule_on_act
from tests.support.yaml_text import read_yaml

HERE = Path(__file__).parent
EDITIONS = ("2016", "2019", "2023")
HOLES = {"hole-lost": "lost", "first-hole-lost": "first-lost", "next-hole-lost": "next-lost"}


class Question(NamedTuple):
    """One line of the file."""

    edition: str
    act: str
    facts: tuple[str, ...]
    stroke_play: int | str | None
    match_play: int | str | None
    each_hole: bool
    capped: bool | None
    stroke: str
    ball: str
    put_right: str
    allowed: bool
    rule: str
    source: str


def read_questions() -> list[Question]:
    lines = read_yaml((HERE / "added_acts.yaml").read_text(encoding="utf-8"))["questions"]
    usual = {"facts": (), "each_hole": False, "capped": None, "stroke": "", "ball": "none", "put_right": "", "allowed": True}
    each = [line | {"edition": edition} for line in lines for edition in editions_of(line)]
    return [Question(**(usual | line | {"facts": tuple(line.get("facts", ()))})) for line in each]


def editions_of(line: dict[str, object]) -> list[str]:
    """The editions of a line: one, or a list of those that answer alike."""
    named = line["edition"]
    return [str(entry) for entry in named] if isinstance(named, list) else [str(named)]


QUESTIONS = read_questions()


@cache
def answer(question: Question) -> ActAnswer:
    return rule_on_act(read_book(question.edition), question.act, dict.fromkeys(question.facts, True))


def strokes_in(case: Consequence) -> int | str | None:
    told = case.in_stroke_play
    if told is None:
        return None
    return "disqualified" if told.is_out else told.strokes


def match_in(case: Consequence) -> int | str | None:
    told = case.in_match_play
    if told is None:
        return None
    if told.is_out:
        return "disqualified"
    if case.hole:
        return {short: long for long, short in HOLES.items()}[case.hole]
    return "hole-deducted" if case.per_hole and not case.match_strokes else case.match_strokes


def case_of(question: Question) -> Consequence:
    case = answer(question).case
    assert case is not None, answer(question).why_none
    return case


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda asked: f"{asked.edition}-{asked.act}-{'+'.join(asked.facts)}")
def test_an_act_leads_to_what_the_sources_say(question: Question) -> None:
    case = case_of(question)
    assert (strokes_in(case), match_in(case)) == (question.stroke_play, question.match_play)
    assert (case.per_hole, case.ball, case.put_right) == (question.each_hole, question.ball, question.put_right)
    assert question.capped in {None, case.capped}
    assert question.stroke in {"", case.stroke}
    assert case.allowed is question.allowed


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda asked: f"{asked.edition}-{asked.act}-{'+'.join(asked.facts)}")
def test_the_answer_cites_the_rule_of_its_edition(question: Question) -> None:
    assert answer(question).citations[0].rule.startswith(question.rule)


def test_every_act_is_asked_about_under_each_published_edition_and_with_no_fact() -> None:
    asked = {(question.act, question.edition) for question in QUESTIONS}
    acts = {act for act, _ in asked}
    assert len(acts) == 35
    assert len(QUESTIONS) >= 250
    plain = Counter(question.act for question in QUESTIONS if not question.facts)
    assert set(plain) == acts
    assert {(act, edition) for act in acts for edition in EDITIONS} == asked


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_case_of_an_act_is_the_answer_to_some_question(edition: str) -> None:
    told = {(question.act, case_of(question)) for question in QUESTIONS if question.edition == edition}
    book = read_book(edition)
    cases = {(act, case) for act in {question.act for question in QUESTIONS} for case in book.cases(f"act.{act}.cases").value}
    assert len(cases) > 60
    assert not cases - told


@pytest.mark.parametrize("act", sorted({question.act for question in QUESTIONS}))
def test_the_draft_answers_as_one_of_the_editions_beside_it_or_says_that_it_does_not(act: str) -> None:
    draft = rule_on_act(read_book("draft-2017"), act, {})
    beside = [rule_on_act(read_book(edition), act, {}).cases for edition in ("2016", "2019")]
    assert draft.cases in beside or draft.why_none.startswith("no source")


def test_every_act_of_the_rule_data_is_in_one_of_the_two_files() -> None:
    elder = {act["id"] for act in read_yaml((HERE / "acts.yaml").read_text(encoding="utf-8"))["acts"]}
    added = {question.act for question in QUESTIONS}
    assert not elder & added
    assert {f"act.{act}" for act in elder | added} == {row for row in packaged_catalogue().rows if row.startswith("act.")}
