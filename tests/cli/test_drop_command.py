"""`marram drop`: what an official reads, and what a program reads, at each turn of a drop."""

from __future__ import annotations

import json
from functools import partial

import pytest

from marram.rulings.drop.states import DropEvent
from tests.support.running import Run


@pytest.fixture
def run(called: Run) -> Run:
    return partial(called, "drop")


def one_answer(run: Run, *arguments: str) -> dict[str, object]:
    code, out, err = run(*arguments, "--json")
    assert code == 0, err
    (answer,) = json.loads(out)["books"]
    assert isinstance(answer, dict)
    return answer


def test_every_event_is_listed(run: Run) -> None:
    assert run("--list")[1].split() == [event.value for event in DropEvent]


def test_an_answer_tells_what_a_stroke_would_cost_in_both_forms_of_play(run: Run) -> None:
    answer = one_answer(run, "--book", "2023", "--events", "wrong-way,rests-inside")
    assert answer["state"] == "wrong-way-inside"
    assert answer["if_played"] == {
        "stroke_play": {"strokes": 1, "hole": "", "disqualified": False},
        "match_play": {"strokes": 1, "hole": "", "disqualified": False, "who": "player"},
    }
    played = one_answer(run, "--book", "2023", "--events", "wrong-way,rests-outside,stroke")
    assert (played["penalty_strokes"], played["match_play"]) == (2, {"strokes": 0, "hole": "lost"})
    assert (played["if_played"], played["can_follow"]) == (None, [])


def test_a_third_drop_is_told_how_it_is_put_right_and_what_it_costs(run: Run) -> None:
    out = "right-way,rests-outside"
    told = " ".join(run("--book", "2016", "--events", f"{out},{out},third-drop")[1].split())
    assert "lift it without penalty and place it" in told
    assert "two penalty strokes, in match play loss of hole" in told
    assert "Decision 20-2c/2" in told


@pytest.mark.parametrize(
    ("arguments", "message", "hint"),
    [
        (("--book", "2016", "--events", "third-drop"), "third-drop cannot follow while the drop is to-drop", "right-way"),
        (("--book", "2019", "--events", "right-way,right-way"), "2019, event 2", "first-touch-inside"),
        (("--book", "draft-2017", "--events", "dropped-by-partner"), "No source seen says what draft-2017", "right-way"),
        (("--book", "2016", "--events", "other-ball"), "other-ball cannot follow", "--procedure"),
        (("--events", "droped-by-another"), "no event 'droped-by-another'", "dropped-by-another"),
    ],
)
def test_what_cannot_follow_is_refused_with_what_can(run: Run, arguments: tuple[str, ...], message: str, hint: str) -> None:
    code, out, err = run(*arguments)
    assert code != 0
    assert out == ""
    assert "Traceback" not in err
    assert message in err
    assert hint in err
