"""Things met on a course: every one answered in every area under every edition; facts, cautions and bad input."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from marram.cli.object.command import object_
from marram.core.errors import DataError
from marram.core.terms import Area
from marram.interchange.books.book_files import read_book
from marram.rulebook import packaged_catalogue
from marram.rulings.acts.acts import refuse_unread
from marram.rulings.acts.objects import MayMove, facts_of_object, find_things, known_thing, rule_on_object
from tests.support.editions import ASKED_BY_NAME

EDITIONS = ("2016", "draft-2017", "2019", "2023")
THINGS = [row.removeprefix("thing.") for row in packaged_catalogue().rows if row.startswith("thing.")]
AREAS = [area for area in Area if area is not Area.OUT_OF_BOUNDS]


@pytest.mark.parametrize("edition", EDITIONS)
def test_everything_is_answered_everywhere_with_its_rule(edition: str) -> None:
    book = read_book(edition)
    for thing in THINGS:
        for area in AREAS:
            answer = rule_on_object(book, thing, area, {})
            assert answer.term
            assert answer.citations
            assert answer.may_be_moved is not MayMove.NO or (answer.moved is not None and answer.moved.case is not None), (thing, area)


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_fact_that_is_named_changes_what_the_thing_is(edition: str) -> None:
    book = read_book(edition)
    for thing in THINGS:
        before = rule_on_object(book, thing, Area.GENERAL_AREA, {})
        for fact in before.holds_unless:
            assert rule_on_object(book, thing, Area.GENERAL_AREA, {fact: True}).kind != before.kind
            assert fact not in rule_on_object(book, thing, Area.GENERAL_AREA, {fact: False}).holds_unless
            assert fact in facts_of_object(book, thing)


def test_animals_come_with_their_caution_first() -> None:
    for thing in ("dangerous-animal", "live-animal", "burrow"):
        assert rule_on_object(read_book("2023"), thing, Area.GENERAL_AREA, {}).cautions
    assert CliRunner().invoke(object_, ["dangerous-animal"]).output.startswith("Caution.")


def test_unknown_things_and_facts_tell_what_is_known() -> None:
    catalogue = packaged_catalogue()
    with pytest.raises(DataError, match="no thing 'rakke'") as told:
        known_thing(catalogue, "rakke")
    assert "rake" in told.value.hint
    with pytest.raises(DataError, match="reads the fact 'raining'") as unread:
        refuse_unread(["raining"], [facts_of_object(read_book("2023"), "rake")], "rake")
    assert "declared-integral" in unread.value.hint
    assert known_thing(catalogue, "Sprinkler head") == "sprinkler-head"
    assert find_things(catalogue, "hole made to air the turf")[0][0] == "aeration-hole"


def test_the_command_prints_one_object() -> None:
    done = CliRunner().invoke(object_, ["stone", "--area", "bunker", *ASKED_BY_NAME, "--json"])
    assert done.exit_code == 0, done.output
    books = json.loads(done.stdout)["books"]
    assert [book["may_be_moved"] for book in books] == ["no", "yes", "yes", "yes"]
    assert books[0]["if_moved"]["stroke_play"]["strokes"] == 2
    assert CliRunner().invoke(object_, []).exit_code == 2
