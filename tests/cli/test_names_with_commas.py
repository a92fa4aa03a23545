"""A table as many spreadsheet programs write it: columns cut by semicolons, decimal commas, family name before first name."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.pdf_reading import words_of
from tests.support.running import marram

TERMS = """title = "Sunday par"
form = "par-bogey"
scores = "net"
book = "2023"

[ties]
steps = ["countback"]

[start]
first = "08:10"
interval_min = 11
group_size = 3

[[tee]]
name = "yellow"
par = [4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4]
stroke_index = [9, 5, 17, 11, 1, 7, 15, 3, 13, 8, 16, 4, 14, 2, 10, 18, 6, 12]
course_rating = 70.1
slope_rating = 121
"""
ENTRIES = "Player;Handicap Index\nWren, Ada;12,4\nMoss, Ben;+1,2\nFenn, Cy;24,0\n"
PAR = "4;4;3;5;4;4;3;4;5;4;3;4;5;4;4;3;5;4"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An event with three players, of whom two have returned a card in par."""
    (tmp_path / "terms.toml").write_text(TERMS, encoding="utf-8")
    (tmp_path / "entries.csv").write_text(ENTRIES, encoding="utf-8")
    head = "Player;" + ";".join(map(str, range(1, 19)))
    (tmp_path / "cards.csv").write_text(f"{head}\nWren, Ada;{PAR}\nMoss, Ben;{PAR}\n", encoding="utf-8")
    for words in (("new", "terms.toml"), ("enter", "entries.csv"), ("draw", "--seed", "a"), ("times",), ("cards", "cards.csv")):
        done = marram("event", *words, cwd=tmp_path)
        assert done.returncode == 0, done.stderr
    return tmp_path


def test_decimal_commas_of_handicaps_are_read(folder: Path) -> None:
    """Course Handicaps: 12.4 x 121 / 113 + 70.1 - 72 = 11.38 and -1.2 x 121 / 113 - 1.9 = -3.18; at 95 % 10.81 and -3.03: 11 and +3.

    All holes in par: 11 holes are won by the strokes received, and 3 lost by those given back.
    """
    told = marram("event", "results", cwd=folder).stdout
    net = told.partition("Gross")[0]
    assert "Wren, Ada" in net and "11 up" in net
    assert "Moss, Ben" in net and "3 down" in net


def test_names_with_a_comma_are_told_apart_and_counted_once(folder: Path) -> None:
    assert "Card not in: Fenn, Cy" in marram("event", "results", cwd=folder).stdout
    listed = marram("event", "draw", "--seed", "a", "--reason", "again", cwd=folder).stdout
    assert "drawn at random, seed a" in listed
    assert listed.count("; ") == 2
    assert marram("event", "print", "results", "-o", "r.pdf", cwd=folder).returncode == 0
    assert "1 of 3" in words_of((folder / "r.pdf").read_bytes())


@pytest.mark.parametrize("index", ["12,4", "12.4"])
def test_where_commas_cut_the_columns_a_decimal_comma_is_a_fault(tmp_path: Path, index: str) -> None:
    (tmp_path / "terms.toml").write_text(TERMS, encoding="utf-8")
    (tmp_path / "entries.csv").write_text(f'player,handicap_index\nWren,"{index}"\n', encoding="utf-8")
    assert marram("event", "new", "terms.toml", cwd=tmp_path).returncode == 0
    assert marram("event", "enter", "entries.csv", cwd=tmp_path).returncode == (2 if "," in index else 0)
