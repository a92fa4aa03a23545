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
    assert found.keys() == {"kind", "id", "title", "command", "needs", "score", "not_in"}


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
