"""What the lines of `marram score` say: for what a penalty is, whose and when, where a match stands, and each thing once."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.support.running import Run

TEE = '[[tee]]\nname = "white"\npar = [4, 4, 3, 5, 4, 4, 3, 4, 5]\nstroke_index = [9, 5, 7, 1, 3, 6, 8, 2, 4]\n'
HOLES = ",".join(str(hole) for hole in range(1, 10))
LEVEL = "4,4,3,5,4,4,3,4,5"
Told = Callable[..., str]
STROKE, MATCH = 'form = "stroke-play"\n', 'form = "match-play"\n'


def words(folder: Path, terms: str, cards: str) -> list[str]:
    (folder / "cards.csv").write_text(cards, encoding="utf-8")
    (folder / "terms.toml").write_text(f'title = "Final"\n{terms}{TEE}', encoding="utf-8")
    return ["score", str(folder / "cards.csv"), "--terms", str(folder / "terms.toml")]


@pytest.fixture
def told(called: Run, tmp_path: Path) -> Told:
    def run(terms: str, cards: str, *more: str) -> str:
        code, out, err = called(*words(tmp_path, terms, cards), *(more or ("--book", "2023")))
        assert code == 0, err
        return " ".join(out.split())

    return run


def test_a_penalty_says_for_what_it_is(told: Told) -> None:
    out = told(STROKE, f"player,{HOLES},penalties\nA,{LEVEL},1: unreasonable-delay; 2: unreasonable-delay\n", "--book", "2016")
    assert "hole 1: delays play (first breach): two penalty strokes [Rule" in out
    assert "disqualified: hole 2: delays play (second breach) [Rule" in out and out.count("second breach") == 1


def test_the_most_in_a_round(told: Told) -> None:
    clubs = "; ".join(f"{hole}: too-many-clubs" for hole in (1, 2, 3))
    out = told(STROKE, f"player,{HOLES},penalties\nA,{LEVEL},{clubs}\n")
    assert "carries more clubs than the most allowed: 2 penalty strokes on hole 2 [" in out
    assert (
        "hole 3: carries more clubs than the most allowed: nothing more: the most in a round, 4 penalty strokes, is charged already" in out
    )
    points = told('form = "stableford"\n', f"player,{HOLES},penalties\nA,{LEVEL},{clubs}\n", "--book", "2019")
    assert "the most in a round, 4 points, is charged already" in points
    holes = told(MATCH, f"player,{HOLES},penalties\nA,{LEVEL},{clubs}\nB,{LEVEL},\n")
    assert "A, hole 3: carries more clubs than the most allowed: nothing more: the most in a round, 2 holes, is charged already" in holes


def test_a_charge_names_its_round(told: Told) -> None:
    cards = f"player,round,{HOLES},penalties\nA,1,{LEVEL},3: 2 @R1\nA,2,{LEVEL},3: 1\n"
    out = told(f"{STROKE}rounds = 2\n", cards)
    assert "round 1, hole 3: 2 penalty strokes (ruling R1)" in out and "round 2, hole 3: one penalty stroke" in out
    gone = told(f"{STROKE}rounds = 2\n", cards.replace(f"A,2,{LEVEL}", f"A,2,X,{LEVEL[2:]}"))
    assert "disqualified: round 2, hole 1: picked up" in gone


def test_equal_charges_are_each_told(told: Told) -> None:
    assert told(STROKE, f"player,{HOLES},penalties\nA,{LEVEL},3: 1; 3: 1\n").count("hole 3: one penalty stroke") == 2


def test_a_line_of_a_side_names_the_partner(told: Told) -> None:
    sides = f'{STROKE}sides = "four-ball"\n'
    cards = f"player,side,{HOLES},corrections,certified\nAnna,AB,{LEVEL},1: 5,\nBen,AB,5,{LEVEL[2:]},,\n"
    assert "disqualified: Anna, hole 1: returned 4, and 5 was taken [Rule" in told(sides, cards)
    spared = told(sides, cards.replace("Ben,AB,5", "Ben,AB,4"))
    assert "Anna, hole 1: returned 4, and 5 was taken: the score does not count for the side, so no penalty [Rule 3.3b(3)" in spared
    neither = told(sides, f"player,side,{HOLES},certified\nAnna,AB,{LEVEL},no\nBen,AB,{LEVEL},no\n")
    assert neither.count("certified by neither the player nor the marker") == 1


def test_a_side_is_told_why_it_is_out_and_not_why_a_partner_is(told: Told) -> None:
    """Anna is late and out alone; Ben's four was a five, and it is the only score of the side. Clover is out alone, and Dock plays on."""
    sides = f'{STROKE}sides = "four-ball"\n'
    late = "late-start-over-5"
    cards = f"Anna,AB,{LEVEL},{late},\nBen,AB,{LEVEL},,1: 5\nClover,CD,{LEVEL},{late},1: 5\nDock,CD,{LEVEL},,\n"
    out = told(sides, f"player,side,{HOLES},penalties,corrections\n{cards}")
    assert "- AB disqualified: Ben, hole 1: returned 4, and 5 was taken [" in out
    assert "Anna: arrives later than the time allowed for a late start: disqualified [" in out
    assert "1 CD gross 36" in out and "Clover, hole 1: returned 4, and 5 was taken: the score does not count" in out
    rounds = told(
        f"{sides}rounds = 2\n",
        f"player,side,round,{HOLES},corrections\nA,s,1,{LEVEL},\nA,s,2,{LEVEL},1: 5\n",
    )
    assert "disqualified: A, round 2, hole 1: returned 4, and 5 was taken [" in rounds and rounds.count("5 was taken") == 1


def test_a_player_who_withdrew_is_told_as_withdrawn(told: Told) -> None:
    out = told(STROKE, f"player,{HOLES},penalties,status\nA,{LEVEL},late-start-over-5,withdrawn: ill\n")
    assert "- A withdrawn: ill arrives later than the time allowed for a late start: disqualified [" in out


def test_strokes_added_for_a_penalty_not_known(told: Told) -> None:
    out = told(STROKE, f"player,{HOLES},corrections\nA,{LEVEL},1: 4+1\n", "--book", "2016")
    assert "hole 1: a penalty that the player did not know of is added: one penalty stroke, and 2 penalty strokes more [" in out


def test_where_a_match_stands(told: Told) -> None:
    """A wins hole 1; eight holes later it is 1 up with none left."""
    first = f"player,{HOLES}\nA,3,4,3,5,4,4,3,,\nB,4,4,3,5,4,4,3,,\n"
    assert "A v B A 1 up after 7 holes [" in told(MATCH, first)
    assert "A v B A 1 up after 8 holes, dormie [" in told(MATCH, first.replace(",3,,\n", ",3,4,\n"))
    behind = first.replace("A,3", "A,5")
    assert "A v B B 1 up after 7 holes [" in told(MATCH, behind)
    assert "A v B all square after 9 holes, and the match goes on [" in told(MATCH, f"player,{HOLES}\nA,{LEVEL}\nB,{LEVEL}\n")
    extra = f"player,{HOLES},10\nA,{LEVEL},5\nB,{LEVEL},4\n"
    assert "B wins, at the 10th hole [" in told(MATCH, extra)
    conceded = f"player,{HOLES},status\nA,{LEVEL},\nB,{LEVEL},conceded\n"
    assert "A wins, by concession [" in told(MATCH, conceded)
    assert "A v B not begun" in told(MATCH, f"player,{HOLES}\nA,,,,,,,,,\nB,,,,,,,,,\n")


def test_each_side_of_a_match_that_goes_on_in_json(called: Run, tmp_path: Path) -> None:
    cards = f"player,{HOLES}\nA,3,4,3,5,4,4,3,4,\nB,4,4,3,5,4,4,3,4,\n"
    (book,) = json.loads(called(*words(tmp_path, MATCH, cards), "--json")[1])["books"]
    assert [place["score_says"] for place in book["places"]] == ["1 up after 8 holes, dormie", "1 down after 8 holes"]
    assert book["matches"][0]["result"] == "1 up, dormie"


def test_a_book_without_strokes_for_certification_says_so(called: Run, tmp_path: Path) -> None:
    cards = f"player,{HOLES},certified\nA,{LEVEL},player\n"
    asked = [
        *words(tmp_path, f'{STROKE}certification = "two-strokes"\n', cards),
        *(w for b in ("2016", "2019", "2023") for w in ("--book", b)),
    ]
    books = json.loads(called(*asked, "--json")[1])["books"]
    assert [len(book["remarks"]) for book in books] == [1, 1, 0]
    assert [book["places"][0]["score"] for book in books] == [None, None, 38]
    without = json.loads(called(*words(tmp_path, STROKE, cards), "--book", "2016", "--json")[1])["books"]
    assert without[0]["remarks"] == []
    words(tmp_path, f'{STROKE}certification = "two-strokes"\n', cards)
    assert "changes nothing here" in " ".join(called(*asked)[1].split())
    assert books[0]["places"][0]["decisions"][0]["says"] == "not certified by the marker: disqualified"


def test_penalties_and_decisions_in_json_name_player_and_round(called: Run, tmp_path: Path) -> None:
    cards = f"player,side,{HOLES},corrections,penalties\nAnna,AB,{LEVEL},1: 5,2: 1\nBen,AB,{LEVEL},,\n"
    (book,) = json.loads(called(*words(tmp_path, f'{STROKE}sides = "four-ball"\n', cards), "--json")[1])["books"]
    (place,) = book["places"]
    assert [(one["player"], one["round"]) for one in (*place["penalties"], *place["decisions"])] == [("Anna", 1), ("Anna", 1)]
    assert place["score"] == 36
