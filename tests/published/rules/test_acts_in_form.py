"""What can happen in one form of play only, what is asked in the form that is asked about, and the ball that nobody lifted.

Source: each line of acts_in_form.yaml names its Rule and where that was seen; it was written before the answer was looked at.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from marram.cli.act.command import act
from marram.interchange.books.book_files import read_book
from marram.rulings.acts.acts import rule_on_act
from tests.support.yaml_text import read_yaml

CASES = read_yaml((Path(__file__).parent / "acts_in_form.yaml").read_text(encoding="utf-8"))


def name_of(case: dict[str, object]) -> str:
    return " ".join(str(case[part]) for part in ("act", "edition", "form", "facts") if case.get(part))


def facts_of(case: dict[str, object]) -> dict[str, bool]:
    stated = case.get("facts") or {}
    return dict(stated) if isinstance(stated, dict) else dict.fromkeys(map(str, stated), True) if isinstance(stated, list) else {}


def asked(case: dict[str, object]) -> dict[str, object]:
    facts = [f"--fact={fact}={str(value).lower()}" for fact, value in facts_of(case).items()]
    done = CliRunner().invoke(act, [str(case["act"]), "--book", str(case["edition"]), "--form", str(case["form"]), "--json", *facts])
    assert done.exit_code == 0, done.output
    (book,) = json.loads(done.stdout)["books"]
    return dict(book)


@pytest.mark.parametrize("case", CASES["happens"], ids=name_of)
def test_what_can_happen_in_one_form_only_is_said_to(case: dict[str, object]) -> None:
    book = asked(case)
    column = str(case["form"]).replace("-", "_")
    assert (book[column] is not None) is case["happens"]
    reads = book["reads"]
    assert isinstance(reads, dict)
    assert reads["happens"] is case["happens"]
    assert reads["see_instead"] == case["see"]


@pytest.mark.parametrize("case", CASES["asks"], ids=name_of)
def test_only_what_can_still_change_the_answer_is_asked(case: dict[str, object]) -> None:
    turns = asked(case)["depends_on"]
    assert isinstance(turns, list)
    facts = {fact for turn in turns for fact in (turn["fact"], *(more["fact"] for more in turn["and"]))}
    assert sorted(facts) == sorted(case["asks"])  # type: ignore[call-overload]


@pytest.mark.parametrize("case", CASES["ball"], ids=name_of)
def test_a_ball_that_nobody_moved_is_not_put_back(case: dict[str, object]) -> None:
    found = rule_on_act(read_book(str(case["edition"])), str(case["act"]), facts_of(case))
    assert found.case is not None
    assert found.case.ball == case["ball"]
