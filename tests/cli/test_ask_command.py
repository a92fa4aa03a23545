"""`marram ask` as a shell sees it: the entry that fits, the command that goes on, and that a matter is not covered."""

from __future__ import annotations

import json
from functools import partial

import pytest

from tests.support.running import Run


@pytest.fixture
def run(called: Run) -> Run:
    return partial(called, "ask")


def answer_to(run: Run, *arguments: str) -> dict[str, object]:
    code, out, err = run(*arguments, "--json")
    assert code == 0, err
    answer = json.loads(out)
    assert isinstance(answer, dict)
    return answer


def first(answer: dict[str, object]) -> dict[str, object]:
    leads = answer["answers"]
    assert isinstance(leads, list) and isinstance(leads[0], dict)
    return leads[0]


def test_a_question_is_answered_with_the_command_that_goes_on(run: Run) -> None:
    answer = answer_to(run, "played a wrong ball", "--book", "2023")
    assert answer["covered"] is True and answer["books"] == ["2023"]
    found = first(answer)
    assert (found["kind"], found["id"], found["command"]) == ("act", "act.wrong-ball", "marram act wrong-ball --book 2023")
    assert found.keys() == {"kind", "id", "title", "command", "needs", "situations", "score", "not_in"}


def test_what_is_not_covered_says_so_and_exits_well(run: Run) -> None:
    answer = answer_to(run, "goalkeeper")
    assert (answer["covered"], answer["answers"]) == (False, [])
    code, out, _ = run("goalkeeper")
    assert code == 0
    assert out.startswith("Not covered")


def test_a_book_that_does_not_have_an_entry_is_named(run: Run) -> None:
    found = first(answer_to(run, "no play zone", "--book", "2016", "--book", "2023"))
    assert (found["id"], found["not_in"]) == ("situation.no-play-zone", [])
    found = first(answer_to(run, "local rule young trees through the green", "--book", "2023"))
    assert found["id"] == "local-rule.young-trees-through-the-green"
    assert found["not_in"] == [{"book": "2023", "because": "written for 2016, draft-2017"}]


def test_a_situation_says_what_its_incident_file_needs(run: Run) -> None:
    found = first(answer_to(run, "embedded ball in its own pitch-mark"))
    assert found["id"] == "situation.embedded"
    assert 'situation = "embedded"' in str(found["needs"])
    assert found["command"] == "marram rule INCIDENT.toml --course COURSE.geojson"


def test_a_book_that_is_not_there_is_an_error(run: Run) -> None:
    code, out, _ = run("wrong ball", "--book", "1999", "--json")
    assert code == 2
    assert json.loads(out)["error"]["code"]


def test_of_many_situations_the_one_that_fits_the_question_is_named_first(run: Run) -> None:
    answers = answer_to(run, "straight back on the line from an unplayable lie")["answers"]
    assert isinstance(answers, list)
    back = next(lead for lead in answers if lead["kind"] == "relief" and len(lead["situations"]) > 2)
    assert back["situations"][0] == "unplayable"
    assert back["needs"].startswith('an incident file with hole, ball and situation = "unplayable", or "')
    assert back["needs"].endswith(f"or {len(back['situations']) - 2} more (marram rule --situations)")


@pytest.mark.parametrize(
    ("words", "of"),
    [
        ("we heard thunder, may I finish the hole", "shelter"),
        ("my ball rolled into the lake", "depth, current and banks"),
        ("a fox ran off with my ball", ""),
        ("my ball lies on a wasp nest", "stinging or biting"),
        ("my ball hit a spectator", "within range"),
        ("ball over the fence on the railway", "do not cross"),
        ("my ball moved on the green", ""),
    ],
)
def test_what_can_hurt_someone_comes_with_its_caution_before_any_answer(run: Run, words: str, of: str) -> None:
    cautions = answer_to(run, words, "--book", "2023")["cautions"]
    assert isinstance(cautions, list)
    assert any(of in text for text in cautions) if of else not cautions
    code, out, _ = run(words)
    assert code == 0 and out.startswith("Caution. ") == bool(of)
