"""Values at the edge of what fits, names that come nearest, and sentences in which values of a book are filled."""

from __future__ import annotations

import pytest

from marram.core.errors import RuleDataError
from marram.core.terms import Area
from marram.rulebook import open_book, packaged_catalogue, read_overlay
from marram.rulebook.consequence_words import HoleIs
from marram.rulebook.consequences import Consequence
from marram.rulebook.overlays.honest_way import honest_way
from marram.rulebook.values import PartSpec, PartType, json_member, nearest_names, parse_value
from marram.rulebook.vocabulary import faults_of_words
from marram.rulebook.wording.explain import fill, tell

CATALOGUE = packaged_catalogue()
BOOK = open_book("2023", [], CATALOGUE)
MATTERS = (
    'expects = {{ outcome = "ball_found", direction = "down", matters = {} }}',
    'guards = [{{ outcome = "ball_found", margin = {} }}]',
)
NUMBER = PartSpec(name="limit", type=PartType.NUMBER, means="", unit="min")


@pytest.mark.parametrize(
    ("raw", "value"),
    [(0, 0), (2.5, 2.5), (1e9, 1e9), (-1, None), (1e9 + 1, None), (10**300, None), (True, None), ("3", None), (None, None)],
)
def test_a_number_is_zero_or_more_and_no_slip(raw: object, value: float | None) -> None:
    assert parse_value(raw, NUMBER) == value


def test_a_part_answers_by_its_closed_list_or_yes_and_no() -> None:
    assert PartSpec(name="a", type=PartType.YES_NO, means="").answers == ("yes", "no")
    assert PartSpec(name="a", type=PartType.WORD, means="", words=("walk", "run")).answers == ("walk", "run")
    assert NUMBER.answers == ()


def test_the_same_cases_are_written_with_the_same_bytes() -> None:
    assert json_member("act.a.cases", (Consequence(strokes=2, hole=HoleIs.LOST),)) == '"act.a.cases":[{"hole":"lost","strokes":2}]'


def test_the_nearest_name_is_the_one_with_most_in_whole_pieces() -> None:
    """Letters in common in order: abcdf, 2 × 5 / 12 = 83 %, and abcde, 2 × 5 / 13 = 77 %; in whole pieces: abc and f,
    2 × 4 / 12 = 67 %, and abcde, 77 %. The second is the nearest, though the first is looked at before it."""
    assert nearest_names("abcdef", ["abcfdf", "abcdexx"], 1) == ["abcdexx"]
    assert nearest_names("abcdef", ["zzzzzz"]) == []


def test_a_word_of_the_ground_that_no_logic_knows_is_told() -> None:
    spec = PartSpec(name="in_areas", type=PartType.WORDS, means="", words=(*Area, "moon"))
    (fault,) = faults_of_words({"relief procedure": {"in_areas": spec}})
    assert fault[0] == "relief procedure.in_areas" and fault[1].startswith("no logic knows the word 'moon'")


def test_a_value_of_a_book_is_told_in_a_sentence() -> None:
    """Rules of Golf 2023, Rule 18.2a(1): three minutes."""
    assert tell(BOOK, "search.limit_min") == "3 minutes"
    assert fill(BOOK, "Look for {search.limit_min}.") == "Look for 3 minutes."


def test_what_was_measured_stands_where_a_sentence_names_it() -> None:
    assert fill(BOOK, "It lies {gap} from the edge.", {"gap": "0.50 m"}) == "It lies 0.50 m from the edge."


@pytest.mark.parametrize(
    ("key", "ending"),
    [
        ("search.limit_min", "stated"),
        ("relief.lateral.size", "stated"),
        ("relief.unplayable-lateral.allowed", "yes"),
        ("drop-height.height", "knee-as-when-standing"),
        ("relief.unplayable-lateral.clear_of", "none"),
        ("relief.ground-condition-general-area.clear_of", "listed"),
    ],
)
def test_a_clause_is_chosen_by_what_the_book_holds(key: str, ending: str) -> None:
    """Rules of Golf 2023, Rules 14.3b(2), 16.1a, 18.2a, 19.2c: knee height; clear of lie, stance and swing; three minutes; lateral."""
    with pytest.raises(RuleDataError, match=rf"no clause 'nosuch'.*Expected: clauses\.nosuch-{ending}\."):
        fill(BOOK, f"{{{key}:nosuch}}")


def test_part_of_a_word_brings_the_word_that_holds_it_and_no_other() -> None:
    assert honest_way("knee", CATALOGUE.find_key("drop-height.height")[1]).endswith("Nearest: knee-as-when-standing.")


def change(more: str) -> str:
    return f'title = "T"\ndated = 2026-01-01\n[[change]]\nkey = "search.limit_min"\nwas = 3\nnow = 2\nbecause = "b"\n{more}\n'


def test_a_difference_that_matters_may_be_a_part_of_one() -> None:
    more = 'expects = { outcome = "ball_found", direction = "down", matters = 0.1 }\nguards = [{ outcome = "round_min", margin = 0.5 }]'
    (read,) = read_overlay(change(more), name="t", catalogue=CATALOGUE).changes
    assert read.expects is not None and read.expects.matters == 0.1
    assert [guard.margin for guard in read.guards] == [0.5]


@pytest.mark.parametrize("amount", ["1", "1.5"])
@pytest.mark.parametrize("more", MATTERS)
def test_a_share_changes_by_less_than_all(more: str, amount: str) -> None:
    with pytest.raises(RuleDataError, match="ball_found is a share of all"):
        read_overlay(change(more.format(amount)), name="t", catalogue=CATALOGUE)


@pytest.mark.parametrize("more", MATTERS)
@pytest.mark.parametrize("amount", ["0", "-1", "true", '"much"', "1e10"])
def test_what_matters_is_a_number_above_zero(more: str, amount: str) -> None:
    with pytest.raises(RuleDataError, match="expected a number above zero"):
        read_overlay(change(more.format(amount)), name="t", catalogue=CATALOGUE)


@pytest.mark.parametrize("title", ['""', '"  "', "3"])
def test_a_title_is_a_sentence(title: str) -> None:
    with pytest.raises(RuleDataError, match="title: a sentence is needed"):
        read_overlay(change("").replace('"T"', title, 1), name="t", catalogue=CATALOGUE)
