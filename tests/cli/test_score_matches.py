"""`marram score` with matches and sides: text and JSON. The course and the cards are invented, the holes counted by hand."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.support.running import Run

TEE = '[[tee]]\nname = "white"\npar = [4, 4, 3, 5, 4, 4, 3, 4, 5]\nstroke_index = [9, 5, 7, 1, 3, 6, 8, 2, 4]\n'
HOLES = ",".join(str(hole) for hole in range(1, 10))


@pytest.fixture
def run(called: Run) -> Run:
    return lambda *words: called("score", *words)


def files(folder: Path, cards: str, terms: str) -> list[str]:
    (folder / "cards.csv").write_text(cards, encoding="utf-8")
    (folder / "terms.toml").write_text(f'title = "Final"\n{terms}{TEE}', encoding="utf-8")
    return [str(folder / "cards.csv"), "--terms", str(folder / "terms.toml")]


# B receives one stroke, on hole 4. A wins holes 1 and 2, B wins 4 by its stroke, concedes 5; nine holes: 2 & 1 after 8? A is 2 up after 5,
# with 6, 7 and 8 tied: 2 up with one left, so it ends on hole 8.
MATCH = f"match,player,playing_handicap,{HOLES},10\nfinal,A,3,3,3,3,5,4,4,3,4,,\nfinal,B,4,4,4,3,5,C,4,3,4,,\n"
NET = 'form = "match-play"\nscores = "net"\n'


def test_a_match_as_text(run: Run, tmp_path: Path) -> None:
    code, out, err = run(*files(tmp_path, MATCH, NET), "--book", "2023", "--holes")
    assert code == 0, err
    assert "final: A v B   A wins, 2 & 1" in out
    assert "B receives 1: holes 4" in out
    assert " 4  B   A 1 up" in out


def test_a_match_as_json(run: Run, tmp_path: Path) -> None:
    (book,) = json.loads(run(*files(tmp_path, MATCH, NET), "--book", "2023", "--json")[1])["books"]
    (match,) = book["matches"]
    assert (match["winner"], match["result"], match["ended_on_hole"], match["dormie_after_hole"]) == ("A", "2 & 1", 8, 7)
    assert [hole["winner"] for hole in match["holes"]] == ["A", "A", "", "B", "A", "", "", ""]
    assert match["holes"][4]["says"] == "the hole was conceded or lost by a penalty"
    assert [(place["place"], place["player"], place["score_says"]) for place in book["places"]] == [
        (1, "A", "won: 2 & 1"),
        (2, "B", "lost: 2 & 1"),
    ]
    assert match["citations"] and book["places"][0]["decided_by"] == "by-holes"


def test_extra_holes_have_columns_of_their_own(run: Run, tmp_path: Path) -> None:
    cards = f"match,player,{HOLES},10,11\n1,A,4,4,3,5,4,4,3,4,5,4,3\n1,B,4,4,3,5,4,4,3,4,5,4,4\n"
    (book,) = json.loads(run(*files(tmp_path, cards, 'form = "match-play"\n'), "--json")[1])["books"]
    assert (book["matches"][0]["winner"], book["matches"][0]["result"]) == ("A", "11th hole")


def test_four_ball_and_foursomes_from_one_table(run: Run, tmp_path: Path) -> None:
    cards = f"side,player,course_handicap,{HOLES}\nAB,A,10,4,4,3,5,4,4,3,4,5\nAB,B,20,,,,,,,,,\n"
    words = files(tmp_path, cards, 'form = "stroke-play"\nscores = "net"\nsides = "foursomes"\n')
    (book,) = json.loads(run(*words, "--book", "2023", "--json")[1])["books"]
    assert [(place["player"], place["score"]) for place in book["places"]] == [("AB", 36 - 15)]  # half of 30
    words = files(tmp_path, cards, 'form = "stableford"\nscores = "net"\nsides = "four-ball"\n')
    (book,) = json.loads(run(*words, "--book", "2023", "--json")[1])["books"]
    assert book["places"][0]["score"] == 18 + 9  # 85 % of 10 is 8.5, so nine strokes, one on each hole


def test_a_hole_is_conceded_in_a_match_only(run: Run, tmp_path: Path) -> None:
    cards = f"player,{HOLES}\nA,C,4,3,5,4,4,3,4,5\n"
    code, _, err = run(*files(tmp_path, cards, 'form = "stroke-play"\n'))
    assert code == 2 and "row 2, hole 1: a hole is conceded in match play only" in err


def test_a_match_needs_two_sides(run: Run, tmp_path: Path) -> None:
    code, _, err = run(*files(tmp_path, f"match,player,{HOLES}\n1,A,4,4,3,5,4,4,3,4,5\n", 'form = "match-play"\n'))
    assert code == 2 and "match 1: A match has two sides; this has 1" in " ".join(err.split())


def test_concessions_are_told_with_whether_they_stand(run: Run, tmp_path: Path) -> None:
    cards = (
        f"match,player,{HOLES},concessions\n1,A,4,4,3,5,4,4,3,4,5,2: hole (taken-back); 3: stroke (not-by-player)\n1,B,4,4,3,5,4,4,3,4,5,\n"
    )
    code, out, err = run(*files(tmp_path, cards, 'form = "match-play"\n'), "--book", "2023")
    assert code == 0, err
    assert "B wins, 1 up" in out
    assert "A concedes hole 2: it is final" in out and "A does not concede the stroke on hole 3: only a player can concede" in out
    odd = cards.replace("taken-back", "regretted").replace("3: stroke", "stroke")
    told = " ".join(run(*files(tmp_path, odd, 'form = "match-play"\n'))[2].split())
    assert (
        "row 2, column concessions: '2: hole (regretted)' is no concession" in told and "'stroke (not-by-player)' is no concession" in told
    )
