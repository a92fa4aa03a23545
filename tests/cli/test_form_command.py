"""`marram form`: what an official reads, and what a program reads, of each form of play."""

from __future__ import annotations

import json
from functools import partial

import pytest

from marram.core.terms import ADVICE, Form
from marram.rulings.acts.form_of_play import Happening
from tests.support.running import Run


@pytest.fixture
def run(called: Run) -> Run:
    return partial(called, "form")


def lines_by_book(run: Run, *arguments: str) -> dict[str, list[dict[str, object]]]:
    code, out, err = run(*arguments, "--json")
    assert code == 0, err
    return {book["book"]: book["lines"] for book in json.loads(out)["books"]}


@pytest.mark.parametrize("form", list(Form))
def test_every_line_fits_the_paper_and_names_its_rule(run: Run, form: Form) -> None:
    code, out, err = run(form.value)
    assert code == 0, err
    assert max(len(line) for line in out.splitlines()) <= 100
    assert out.rstrip().endswith(ADVICE)
    for lines in lines_by_book(run, form.value).values():
        assert all(line["citations"] for line in lines)


def test_what_may_be_asked_is_listed(run: Run) -> None:
    listed = json.loads(run("--list", "--json")[1])
    assert (listed["forms"], listed["happens"]) == (list(Form), list(Happening))
    assert run()[1] == run("--list")[1]


def test_clubs_cost_points_until_they_cost_strokes(run: Run) -> None:
    """Source: magazine, Stableford Rule differences (May 2022); Austrian club page on 2023 changes."""
    told = lines_by_book(run, "stableford", "--happens", "too-many-clubs", "--book", "2019", "--book", "2023")
    assert [told[book][0]["says"] for book in ("2019", "2023")] == [
        "Too many clubs, and what is charged alike: two points off the round for each hole with a breach, four at most. "
        "Such facts are reported before the card goes in, or the player is disqualified.",
        "Too many clubs, and what is charged alike: two strokes on each hole with a breach, four at most.",
    ]


def test_the_table_of_points_and_the_card_stand_among_the_particulars(run: Run) -> None:
    """Source: Rules of Golf 2019, Player's Edition, Rule 21; Rules of Golf, effective January 2023, Principal Changes."""
    told = lines_by_book(run, "stableford", "--happens", "particulars", "--book", "2019", "--book", "2023")
    points = {"two_over_or_none": 0, "one_over": 1, "level": 2, "one_under": 3, "two_under": 4, "three_under": 5, "four_under": 6}
    assert all(lines[0]["values"] == points | {"fixed_score": "par-unless-set"} for lines in told.values())
    carded = {book: lines[1]["values"] for book, lines in told.items()}
    assert carded["2019"] == {"player": ["hole-scores", "handicap", "certifies"], "committee": ["adds-up"], "electronic": True}
    assert carded["2023"] == {
        "player": ["hole-scores", "certifies"],
        "committee": ["adds-up", "works-out-handicap", "applies-handicap"],
        "electronic": True,
    }


def test_the_words_of_particulars_name_every_value(run: Run) -> None:
    out = " ".join(run("foursomes", "--happens", "particulars", "--book", "2023")[1].split())
    assert "who plays from the tees: alternate tees;" in out.lower()
    assert "penalty strokes change whose turn it is: no;" in out
    assert "what playing in the wrong order leads to: wrong-order-foursomes." in out


def test_particulars_that_an_edition_does_not_state_are_called_so(run: Run) -> None:
    out = run(
        "three-ball", "--happens", "particulars", "--happens", "picked-up", "--happens", "low-score-without-effect", "--book", "2019"
    )[1]
    assert "Not stated: low-score-without-effect." in out
    assert "A ball picked up for good loses the hole." in out, "where the form itself is silent it is the match that it is"
    assert "unofficial only" in run("stroke-play", "--happens", "particulars", "--book", "draft-2017")[1]
    assert "unofficial only" not in run("stroke-play", "--happens", "particulars", "--book", "2019")[1]


def test_a_form_that_an_edition_does_not_know_is_told_with_the_reason(run: Run) -> None:
    (book,) = json.loads(run("maximum-score", "--book", "2016", "--json")[1])["books"]
    assert (book["lines"], book["not_stated"]) == ([], [])
    assert book["why_none"] in " ".join(run("maximum-score", "--book", "2016")[1].split())


@pytest.mark.parametrize(
    ("arguments", "nearest"),
    [(["stablefort"], "stableford"), (["stableford", "--happens", "pick-up"], "picked-up"), (["stableford", "--book", "2018"], "2019")],
)
def test_bad_input_is_one_clear_error(run: Run, arguments: list[str], nearest: str) -> None:
    code, out, err = run(*arguments)
    assert code != 0
    assert not out
    assert nearest in err
    assert "Traceback" not in err
