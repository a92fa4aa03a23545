"""Several breaches together, by each edition's own arithmetic, and the cap for clubs.

Source: Rules of Golf (January 2023), Rule 1.3c(4); Decisions on the Rules of Golf 2016, Decision 1-4/12; Rule 4-4 (2016), Rule 4.1b (2019).
"""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from marram.cli.act import act
from marram.core.errors import DataError
from marram.interchange.book_files import read_book
from marram.rulebook.consequences import Consequence
from marram.rulings.several import Between, together

GENERAL, ONE = Consequence(strokes=2, hole="lost"), Consequence(strokes=1, match_strokes=1)
CLUBS = Consequence(strokes=2, per_hole=True)


@pytest.mark.parametrize(
    ("edition", "between", "strokes"),
    [
        ("2016", Between.ONE_ACT, 2),
        ("2016", Between.NO_EVENT, 3),
        ("2019", Between.NO_EVENT, 3),
        ("2023", Between.NO_EVENT, 2),
        ("2023", Between.ONE_ACT, 2),
        ("2023", Between.EVENT, 3),
        ("2019", Between.EVENT, 3),
    ],
)
def test_breaches_are_added_or_the_highest_counts(edition: str, between: Between, strokes: int) -> None:
    total = together(read_book(edition), [GENERAL, ONE], between, holes=1)
    assert total.strokes == strokes
    assert total.holes_lost == ("lost",)
    assert total.citations


@pytest.mark.parametrize(("holes", "strokes", "deducted"), [(1, 2, 1), (2, 4, 2), (5, 4, 2), (18, 4, 2)])
def test_clubs_stop_at_the_cap(holes: int, strokes: int, deducted: int) -> None:
    total = together(read_book("2023"), [CLUBS], Between.EVENT, holes=holes)
    assert (total.strokes, total.holes_deducted) == (strokes, deducted)


def test_what_an_opponent_bears_is_not_added_to_the_player() -> None:
    total = together(read_book("2023"), [Consequence(match_strokes=1, who="opponent"), ONE], Between.EVENT, holes=1)
    assert (total.strokes, total.match_strokes) == (1, 1)


def test_each_hole_that_is_lost_is_named() -> None:
    late = Consequence(strokes=2, hole="first-lost")
    assert together(read_book("2019"), [late, GENERAL, GENERAL], Between.EVENT, holes=1).holes_lost == ("first-lost", "lost")


def test_acts_that_cannot_be_added_are_told() -> None:
    done = CliRunner().invoke(act, ["multiple-breaches-one-act", "--also", "wrong-ball", "--book", "2023"])
    assert "Not added up" in done.output
    (book,) = json.loads(CliRunner().invoke(act, ["multiple-breaches-one-act", "--also", "wrong-ball", "--book", "2023", "--json"]).stdout)[
        "books"
    ]
    assert book["together"] is None


def test_nothing_to_add_up_is_refused() -> None:
    with pytest.raises(DataError):
        together(read_book("2023"), [], Between.EVENT, holes=1)


def test_the_command_adds_up_under_every_edition() -> None:
    words = ["bunker-practice-swing-touch", "--also", "accidental-move-by-player", "--between", "no-event", "--json"]
    done = CliRunner().invoke(act, words)
    assert done.exit_code == 0, done.output
    totals = [book["together"]["stroke_play"]["strokes"] for book in json.loads(done.stdout)["books"]]
    assert totals == [3, 3, 3, 2]
    (clubs,) = json.loads(CliRunner().invoke(act, ["too-many-clubs", "--holes", "4", "--book", "2023", "--json"]).stdout)["books"]
    assert clubs["together"]["stroke_play"]["strokes"] == 4
    (alone,) = json.loads(CliRunner().invoke(act, ["advice", "--book", "2023", "--json"]).stdout)["books"]
    assert "together" not in alone
