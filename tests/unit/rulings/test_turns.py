"""What a verdict turns on is asked before the verdict; a stated fact is read by each book, or the book says that it does not."""

from __future__ import annotations

import json
import re
from itertools import product

import pytest
from click.testing import CliRunner, Result

from marram.cli.act.command import act
from marram.cli.object.command import object_
from marram.cli.search.command import search
from marram.cli.verdict import asked_lines, verdict_lines
from marram.core.terms import Form
from marram.interchange.books.book_files import read_book
from marram.rulebook.facts import yes_no_facts
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.acts import ActAnswer, acts_of, facts_read, rule_on_act
from tests.support.editions import ASKED_BY_NAME

CATALOGUE = packaged_catalogue()
BOOKS = {edition: read_book(edition) for edition in CATALOGUE.editions}
ACTS = list(acts_of(CATALOGUE))


def asked(*words: str) -> Result:
    return CliRunner().invoke(act, list(words))


def verdict(answer: ActAnswer) -> list[object]:
    """What an official is told in stroke play and in match play; None where it cannot happen there."""
    case = answer.case
    assert case is not None
    there = ((form, "match-play" if form is Form.STROKE_PLAY else "stroke-play") for form in answer.turns_in)
    return [None if case.only_in == other else (answer.says_in(form, case), case.capped) for form, other in there]


@pytest.mark.parametrize("edition", BOOKS)
def test_every_fact_that_would_change_the_verdict_is_among_what_it_turns_on(edition: str) -> None:
    """Tried from outside: each fact of the catalogue, and each pair that one case names, is stated true and the act asked again."""
    turning = 0
    for name in ACTS:
        before = rule_on_act(BOOKS[edition], name, {})
        if before.case is None:
            assert before.turns == ()
            continue
        tried = {case.when for case in before.cases if case.when} | {(fact,) for fact in facts_read([BOOKS[edition]], name)}
        for facts in tried:
            after = rule_on_act(BOOKS[edition], name, dict.fromkeys(facts, True))
            both = zip(verdict(before), verdict(after), strict=True)
            if any(was != now for was, now in both if was is not None and now is not None):
                assert any(set(turn.facts) <= set(facts) for turn in before.turns), (name, facts)
                turning += 1
    assert turning > 10


@pytest.mark.parametrize("edition", BOOKS)
def test_the_last_question_always_changes_the_verdict(edition: str) -> None:
    for name in ACTS:
        answer = rule_on_act(BOOKS[edition], name, {})
        if answer.turns:
            after = rule_on_act(BOOKS[edition], name, dict.fromkeys(answer.turns[-1].facts, True))
            assert verdict(after) != verdict(answer), name


def test_what_is_settled_is_not_asked_again() -> None:
    book = BOOKS["2023"]
    assert [turn.facts for turn in rule_on_act(book, "unreasonable-delay", {"second_breach": True}).turns] == [("between_two_holes",)]
    assert rule_on_act(book, "unreasonable-delay", {"second_breach": False, "third_breach": False}).turns == ()
    assert rule_on_act(book, "agree-to-waive-rules", {"cancelled_before_anyone_started": True}).turns == ()


def test_a_case_of_the_same_verdict_is_asked_where_it_keeps_another_from_deciding() -> None:
    turns = rule_on_act(BOOKS["2023"], "agree-to-waive-rules", {}).turns
    settling = ("cancelled_before_anyone_started", "they_knew_the_rule")
    assert [turn.facts for turn in turns] == [(fact,) for fact in settling]


@pytest.mark.parametrize(("name", "edition"), [*product(["repair-spike-mark", "hole-not-finished"], BOOKS)])
def test_no_question_stands_where_nothing_is_open(name: str, edition: str) -> None:
    answer = rule_on_act(BOOKS[edition], name, {"corrected_in_time": False})
    assert answer.turns == ()


def test_the_headline_asks_what_decides() -> None:
    told = " ".join(asked("deflect-from-green-animal-or-person", "--book", "2023").output.split())
    headline = told[told.index("2023:") :]
    assert headline.startswith("2023: It depends. Is the ball known to have hit the person or animal? Yes: no penalty")
    assert headline.index("played again") < headline.index("Otherwise: no penalty")
    assert "--fact" in told


def test_lines_that_ask_are_short_and_in_order() -> None:
    assert asked_lines([], "free.") == ["free."]
    assert asked_lines([(["Was it A?"], "lost.")], "free.") == ["It depends. Was it A? Yes: lost. No: free."]
    assert asked_lines([(["Was it A?"], "lost."), (["Was it B?"], "lost.")], "free.") == [
        "It depends. Was it A? Was it B? Yes to any: lost. Otherwise: free."
    ]
    assert asked_lines([(["Was it A?", "Was it B?"], "lost.")], "free.") == [
        "It depends. Was it A? And: Was it B? Yes to all: lost. Otherwise: free."
    ]
    assert asked_lines([(["Was it A?", "Was it B?"], "lost."), (["Was it A?"], "won.")], "free.") == [
        "It depends.",
        "Was it A? Yes: won. Then: Was it B? Yes: lost.",
        "Otherwise: free.",
    ]
    assert asked_lines([(["Was it A?", "Was it B?", "Was it C?"], "lost."), (["Was it A?"], "won.")], "free.")[1] == (
        "Was it A? Yes: won. Then: Was it B? And: Was it C? Yes to all: lost."
    )
    # An exception to A is none to D, though both lead to the same.
    assert asked_lines([(["Was it A?", "Was it B?"], "lost."), (["Was it A?"], "won."), (["Was it D?"], "won.")], "free.")[1:3] == [
        "Was it A? Yes: won. Then: Was it B? Yes: lost.",
        "Was it D? Yes: won.",
    ]
    assert asked_lines([(["Was it A?", "Was it B?"], "lost."), (["Was it C?"], "won.")], "free.") == [
        "It depends; the first yes decides.",
        "Was it A? And: Was it B? Yes to all: lost.",
        "Was it C? Yes: won.",
        "Otherwise: free.",
    ]


def test_json_holds_question_and_consequence() -> None:
    (book,) = json.loads(asked("deflect-from-green-animal-or-person", "--book", "2023", "--json").stdout)["books"]
    first, second = book["depends_on"]
    assert (first["fact"], [more["fact"] for more in first["and"]]) == ("known_to_have_hit", ["not_replayed"])
    assert first["then"]["stroke_play"]["strokes"] == 2
    assert second["question"] == "Is the ball known to have hit the person or animal?"
    assert (second["then"]["stroke"], book["stroke"]) == ("replay", "counts")


def test_every_stated_fact_is_read_or_named_as_not_read() -> None:
    """Every fact that some book reads of an act is stated; each book names it in its cases or as not read."""
    differing = 0
    for name in ACTS:
        facts = facts_read(BOOKS.values(), name)
        done = asked(name, "--json", *(f"--fact={fact}=false" for fact in facts))
        assert done.exit_code == 0, done.output
        for book in json.loads(done.stdout)["books"]:
            in_cases = {fact for case in book["cases"] for fact in case.get("when", [])}
            assert set(facts) - in_cases == set(book["facts_not_read"]), (name, book["book"])
            differing += bool(book["facts_not_read"])
    assert differing > 20


def test_the_text_says_what_a_book_does_not_read() -> None:
    done = asked("distance-device", "--fact", "Second-breach=TRUE")
    assert "2023 does not read: second-breach." in done.output
    assert "2016 does not read" not in done.output


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        (["secnd_breach=true"], ("no fact 'secnd_breach'", "Nearest: second-breach", "`list_facts()`")),
        (["second_breach=true", "third-breach=true"], ("second-breach and third-breach cannot both be true",)),
        (["second_breach=true", "Second-Breach=false"], ("second_breach is stated true and false",)),
        (["second_breach"], ("states no fact", "NAME=true or NAME=false")),
        (["known_to_have_hit=true"], ("No book asked reads the fact 'known-to-have-hit'", "second-breach")),
    ],
)
def test_facts_that_cannot_be_used_are_refused_in_words(facts: list[str], words: tuple[str, ...]) -> None:
    done = asked("unreasonable-delay", *(f"--fact={fact}" for fact in facts))
    assert done.exit_code != 0
    told = str(done.exception)
    hint = getattr(done.exception, "hint", "")
    assert all(word in told + hint for word in words), told + hint


def test_things_ask_what_decides_and_say_what_they_do_not_read() -> None:
    told = " ".join(CliRunner().invoke(object_, ["stone", "--book", "2023"]).output.split())
    assert "2023: It depends. Is it solidly embedded? Yes: part of the course. It may not be moved." in told
    assert "No: loose impediment. It may be moved." in told
    done = CliRunner().invoke(object_, ["stone", "--fact", "was_equipment_or_held_or_removed_flagstick=true", *ASKED_BY_NAME, "--json"])
    books = json.loads(done.stdout)["books"]
    assert [book["facts_not_read"] for book in books] == [[], *[["was_equipment_or_held_or_removed_flagstick"]] * 3]
    assert books[3]["depends_on"][0]["then"] == {"kind": "part-of-course", "may_be_moved": "no", "term": "part of the course"}


def test_a_ball_moved_in_a_search_says_what_is_not_read() -> None:
    done = CliRunner().invoke(search, ["--moved-by", "player", "--fact", "probing-in-water=true", *ASKED_BY_NAME, "--json"])
    assert done.exit_code == 0, done.output
    assert [book["facts_not_read"] for book in json.loads(done.stdout)["books"]] == [[], *[["probing_in_water"]] * 3]
    refused = CliRunner().invoke(search, ["--moved-by", "player", "--fact", "second_breach=true"])
    assert "No book asked reads the fact 'second-breach' of a ball moved by the player" in str(refused.exception)


@pytest.mark.parametrize("edition", BOOKS)
def test_no_name_of_a_fact_stands_in_what_an_act_or_thing_says(edition: str) -> None:
    names = re.compile(r"\b(?:" + "|".join(name for name in yes_no_facts(CATALOGUE.facts) if "_" in name) + r")\b")
    for name in ACTS:
        assert names.search(" ".join(verdict_lines(rule_on_act(BOOKS[edition], name, {})))) is None, name
    for thing in ("stone", "boundary-stake", "ball-marker", "live-animal"):
        assert names.search(CliRunner().invoke(object_, [thing, "--book", edition]).output) is None, thing
    assert names.search(CliRunner().invoke(search, ["--book", edition, "--moved-by", "player"]).output) is None


def test_the_last_hole_is_told_where_something_can_still_be_put_right_in_the_form() -> None:
    stroke, match = (asked("outside-teeing-area", "--book", "2023", "--form", form).output for form in ("stroke-play", "match-play"))
    assert "On the last hole it is put right" in stroke and "On the last hole" not in match
