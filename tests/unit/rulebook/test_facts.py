"""The catalogue of facts: every fact that the rule data names has its question, and exclusions stand on both sides."""

from __future__ import annotations

import json
import string

import pytest
from click.testing import CliRunner

from marram.cli.book.command import book
from marram.core.errors import RuleDataError
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.facts import parse_facts, yes_no_facts
from marram.rulebook.overlays.overlay import read_overlay
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.values import facts_named

IN_CODE = {
    "on_fairway_height",
    "ball_elsewhere",
    "as_near_as_possible",
    "after_a_stroke_or_being_told",
    "with_a_ball_that_does_not_count",
}
"""Facts on where ball and thing lie, where a ball was dropped and how acts stand to each other: in no list of the rule data."""
NOT_TERMS = {"condition"}


def named_in_rule_data(catalogue: Catalogue) -> set[str]:
    """Every fact that a case, a list of facts or a thing's `if_…` names."""
    found: set[str] = set()
    for row in catalogue.rows.values():
        for spec in row.parts.values():
            if spec.of == "fact":
                found |= set(spec.words)
            if row.id.startswith("thing.") and spec.name.startswith("if_"):
                found.add(spec.name.removeprefix("if_"))
        found |= {name for cell in row.editions.values() for value in cell.values.values() for name in facts_named(value)}
    return found


def test_every_fact_that_the_rule_data_names_has_a_question_and_the_reverse() -> None:
    named = named_in_rule_data(packaged_catalogue()) | IN_CODE
    assert len(named) > 100, "no facts were found: the check would pass without looking at anything"
    assert named == set(yes_no_facts(packaged_catalogue().facts))


def test_every_question_ends_as_one_and_fills_only_terms() -> None:
    catalogue = packaged_catalogue()
    terms = set(catalogue.rows["terms"].parts) | NOT_TERMS
    for fact in catalogue.facts.values():
        for question in (fact.question, *fact.by_edition.values()):
            assert question.endswith("?")
            assert question[0].isupper()
            assert "_" not in "".join(text for text, *_ in string.Formatter().parse(question))
            assert {name for _, name, *_ in string.Formatter().parse(question) if name} <= terms


def test_exclusions_stand_on_both_sides() -> None:
    facts = packaged_catalogue().facts
    pairs = {(fact.name, other) for fact in facts.values() for other in fact.excludes}
    assert ("second_breach", "third_breach") in pairs
    assert pairs == {(other, name) for name, other in pairs}


@pytest.mark.parametrize(
    ("entry", "fault"),
    [
        ({"question": "Is it?"}, "name is missing"),
        ({"name": "a", "question": "It is."}, "a question that ends with ? is needed"),
        ({"name": "a", "question": "Is it?", "excludes": ["b"]}, "a: excludes b, and there is no such fact"),
        ({"name": "a", "question": "Is it?", "excludes": ["a"]}, "a: excludes a, and a does not exclude it"),
        ({"name": "a", "question": "Is it?", "in": {"older": "Was it?"}}, "unknown edition 'older'"),
        ({"name": "a", "question": "Is it?", "answer": "perhaps"}, "answer must be one of yes-no"),
        ({"name": "a", "question": "Is it?", "asks": "it"}, "unknown member 'asks'"),
    ],
)
def test_faults_of_a_fact_are_told(entry: dict[str, object], fault: str) -> None:
    _, faults = parse_facts({"fact": [entry]}, ["old"])
    assert any(fault in told for told in faults), faults


def test_a_one_sided_exclusion_and_a_double_are_told() -> None:
    one = {"name": "a", "question": "Is it?", "excludes": ["b"]}
    other = {"name": "b", "question": "Is it?"}
    assert parse_facts({"fact": [one, other]}, [])[1] == ["a: excludes b, and b does not exclude it"]
    assert parse_facts({"fact": [other, other]}, [])[1] == ["b: it stands twice"]


def test_an_edition_may_ask_otherwise() -> None:
    facts, faults = parse_facts({"fact": [{"name": "a", "question": "Is it?", "in": {"old": "Was it?"}}]}, ["old", "new"])
    assert faults == []
    assert (facts["a"].asked_in("old"), facts["a"].asked_in("new")) == ("Was it?", "Is it?")


def test_an_overlay_cannot_turn_on_a_misspelt_fact() -> None:
    text = """
title = "Trial"
dated = 2026-03-01
on = ["2023"]
[[change]]
key = "act.unreasonable-delay.cases"
was = "was"
now = [{ when = ["secnd_breach"], strokes = 2 }, { strokes = 1 }]
because = "to see"
"""
    with pytest.raises(RuleDataError, match=r"now: there is no fact 'secnd_breach' in facts\.toml; nearest: second_breach"):
        read_overlay(text, name="trial", catalogue=packaged_catalogue())


def test_the_command_lists_every_fact_with_a_filled_question() -> None:
    done = CliRunner().invoke(book, ["facts", "--json", "--book", "2016"])
    assert done.exit_code == 0, done.output
    told = {fact["name"]: fact for fact in json.loads(done.stdout)["facts"]}
    assert set(told) == set(packaged_catalogue().facts)
    assert told["moving_in_water"]["question"] == "Was the ball moving in water in a water hazard?"
    assert told["third_breach"]["excludes"] == ["second_breach"]
    assert all("{" not in fact["question"] for fact in told.values())
    text = CliRunner().invoke(book, ["facts"]).output
    assert "second_breach\n   Is it the player's second breach of this kind? Not together with third_breach." in text
