"""What is wrong with a table of cards, or doubtful: told in one pass, with its row and its hole or column.

The figures are worked out by hand beside the cases: the par of nine holes is 36; the ratings of BLUE give a Course Handicap over nine holes
of half the Index x 121 / 113 - 0.3 (Rules of Handicapping 2024, Rule 6.1b).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import Workbook

from marram.core.errors import CardError
from marram.interchange.cards.competition_files import Competition, read_competition
from tests.unit.interchange.test_card_files import BLUE, HOLES, LEVEL, TEE, read

STROKE = 'form = "stroke-play"'
NET = f'{STROKE}\nscores = "net"'


def refused(folder: Path, cards: str, terms: str = STROKE, tees: str = TEE) -> str:
    with pytest.raises(CardError) as told:
        read(folder, terms, cards, tees)
    return " ".join(str(told.value).split())


def in_workbook(folder: Path, *rows: list[object], terms: str = STROKE) -> Competition:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for row in rows:
        sheet.append(row)
    book.save(folder / "cards.xlsx")
    (folder / "terms.toml").write_text(f'title = "Nine"\n{terms}\n{TEE}', encoding="utf-8")
    return read_competition(folder / "cards.xlsx", folder / "terms.toml")


def test_a_workbook_names_the_hole_and_the_cell(tmp_path: Path) -> None:
    """One title row, the heading in row 2, player in A, penalties in B: hole 1 stands in C, hole 9 in K."""
    with pytest.raises(CardError) as told:
        in_workbook(tmp_path, ["Autumn"], ["player", "penalties", *range(1, 10)], ["A", "x y", 4, 4, 3, 5, 4, 4, 3, 4, 4.5])
    assert "row 3, hole 9 (cell K3): 4.5 is no whole number" in str(told.value)
    assert "row 3, column penalties (cell B3): 'x y' is no penalty" in str(told.value)


def test_letters_go_on_after_z(tmp_path: Path) -> None:
    blank = [f"note {place}" for place in range(1, 18)]
    with pytest.raises(CardError, match=r"row 2, hole 9 \(cell AA2\)"):
        in_workbook(tmp_path, ["player", *blank, *range(1, 10)], ["A", *[None] * 17, 4, 4, 3, 5, 4, 4, 3, 4, 99])


def test_long_and_short_rows_are_told_with_all_other_faults(tmp_path: Path) -> None:
    told = refused(tmp_path, f"player,{HOLES}\nA,{LEVEL},4,4\nB,4,4\nC,0,{LEVEL[2:]}\n")
    assert "There are 3 faults" in told
    assert "row 2: it holds 12 cells and the heading 10" in told
    assert "row 3: it holds 3 cells and the heading 10" in told
    assert "row 4, hole 1: 0 cannot be" in told


def test_a_row_may_end_before_columns_that_hold_nothing(tmp_path: Path) -> None:
    cards = read(tmp_path, cards=f"player,{HOLES},penalties\nA,{LEVEL}\nB\n").cards
    assert [card.player for card in cards] == ["A", "B"]


def test_an_unknown_act_is_told_with_all_other_faults(tmp_path: Path) -> None:
    told = refused(tmp_path, f'player,{HOLES},penalties\nA,{LEVEL},"3: too-many-club; 4; 5: 2 @"\n')
    assert "There are 3 faults" in told
    assert "row 2, column penalties: there is no act 'too-many-club'; nearest: too-many-clubs" in told


@pytest.mark.parametrize(
    ("heading", "cells", "fault"),
    [
        ("total", "37", "row 2, column total: 37, and the holes add up to 36"),
        ("Gross", "35", "row 2, column total: 35, and the holes add up to 36"),
        ("out", "37", "row 2, column out: 37, and the holes add up to 36"),
    ],
)
def test_a_total_that_contradicts_the_holes(heading: str, cells: str, fault: str, tmp_path: Path) -> None:
    assert fault in refused(tmp_path, f"player,{HOLES},{heading}\nA,{LEVEL},{cells}\n")


def test_out_and_in_are_halves_of_eighteen(tmp_path: Path) -> None:
    par = "[4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 4, 3, 5, 4, 4, 3, 4, 5]"
    holes = ",".join(str(hole) for hole in range(1, 19))
    tee = f'[[tee]]\nname = "white"\npar = {par}\n'
    told = refused(tmp_path, f"player,{holes},out,in,total\nA,{LEVEL},{LEVEL},36,35,71\nB,{LEVEL},{LEVEL},36,36,72\n", tees=tee)
    assert "There are 2 faults" in told
    assert "row 2, column in: 35, and the holes add up to 36" in told
    assert "row 2, column total: 71, and the holes add up to 72" in told


def test_totals_that_may_be_something_else_are_no_fault(tmp_path: Path) -> None:
    """A net total, a total of a card with a hole without a score, and points."""
    net = f"player,playing_handicap,{HOLES},total\nA,5,{LEVEL},31\n"
    assert not read(tmp_path, NET, net).remarks
    assert not read(tmp_path, cards=f"player,{HOLES},total\nA,X,{LEVEL[2:]},40\n").remarks
    points = read(tmp_path, 'form = "stableford"', f"player,{HOLES},total\nA,{LEVEL},18\n")
    assert points.remarks == ("Not checked: column total, which need not hold strokes in stableford.",)
    told = refused(tmp_path, net.replace("31", "32"), NET)
    assert "32, and the holes add up to 36" in told


@pytest.mark.parametrize("heading", ["Handicap", "hcp"])
def test_what_a_bare_handicap_is_read_as(heading: str, tmp_path: Path) -> None:
    (remark,) = read(tmp_path, NET, f"player,{heading},{HOLES}\nA,14,{LEVEL}\n").remarks
    assert remark.startswith(f"Column {heading} is read as the Playing Handicap")
    assert not read(tmp_path, NET, f"player,ph,{HOLES}\nA,14,{LEVEL}\n").remarks


def test_an_index_under_a_bare_handicap(tmp_path: Path) -> None:
    told = refused(tmp_path, f"player,handicap,{HOLES}\nA,12.2,{LEVEL}\n", NET)
    assert "'12.2' has 1 decimal." in told and "under handicap is read as the Playing Handicap; an Index goes under handicap_index" in told


@pytest.mark.parametrize("other", ["anna smith", "ANNA Smith", "Anna  smith"])
def test_names_that_differ_in_capitals_only(other: str, tmp_path: Path) -> None:
    told = refused(tmp_path, f"player,{HOLES}\nAnna Smith,{LEVEL}\n{other},{LEVEL}\n")
    assert "row 3, column player" in told and "Anna Smith in row 2" in told and "one player or two?" in told


def test_names_of_sides_and_matches_and_of_several_rounds(tmp_path: Path) -> None:
    rounds = f"player,round,{HOLES}\nAnna,1,{LEVEL}\nanna,2,{LEVEL}\n"
    assert "row 3, column player" in refused(tmp_path, rounds, f"{STROKE}\nrounds = 2")
    sides = f"player,side,{HOLES}\nA,Oak,{LEVEL}\nB,oak,{LEVEL}\n"
    assert "row 3, column side" in refused(tmp_path, sides, f'{STROKE}\nsides = "four-ball"')
    matches = f"player,match,{HOLES}\nA,Final,{LEVEL}\nB,final,{LEVEL}\n"
    assert "row 3, column match" in refused(tmp_path, matches, 'form = "match-play"')


def test_an_index_beside_another_course_handicap(tmp_path: Path) -> None:
    """12.0: 6 x 121 / 113 - 0.3 = 6.12, so 6. 4.0: 2.14 - 0.3 = 1.84, so 2; +4.0 gives -2.44, so +2."""
    cards = f"player,handicap_index,course_handicap,{HOLES}\nA,12.0,9,{LEVEL}\nB,+4.0,+2,{LEVEL}\nC,12.0,6.1,{LEVEL}\n"
    (remark,) = read(tmp_path, NET, cards, BLUE).remarks
    assert "row 2" in remark and "12.0 gives a Course Handicap of 6" in remark and "9" in remark


def test_a_plus_lost_in_both_columns(tmp_path: Path) -> None:
    """5.2: 2.6 x 121 / 113 - 0.3 = 2.48, so 2; +5.2 gives -3.08, so +3."""
    told = refused(tmp_path, f"player,handicap_index,course_handicap,{HOLES}\nA,5.2,3,{LEVEL}\n", NET, BLUE)
    assert "row 2, column handicap_index" in told and "+5.2 gives +3" in told and "lost in both columns" in told


def test_a_plus_lost_of_the_playing_handicap(tmp_path: Path) -> None:
    """+4.0 gives -2.44; 95 % of it is -2.32, so +2. The same player stands with a plus in another round."""
    told = refused(tmp_path, f"player,handicap_index,playing_handicap,{HOLES}\nA,+4.0,2,{LEVEL}\n", NET, BLUE)
    assert "row 2, column playing_handicap: 2, and +2 follows from +4.0" in told
    rounds = f"player,round,playing_handicap,{HOLES}\nA,1,+2,{LEVEL}\nA,2,2,{LEVEL}\n"
    (remark,) = read(tmp_path, f"{NET}\nrounds = 2", rounds).remarks
    assert "A has 2 in row 3 and +2 in row 2" in remark


def test_genuine_low_handicaps_are_not_remarked_on(tmp_path: Path) -> None:
    cards = f"player,playing_handicap,{HOLES}\nA,4,{LEVEL}\nB,2,{LEVEL}\nC,7,{LEVEL}\n"
    assert not read(tmp_path, NET, cards).remarks
    beside = f"player,handicap_index,course_handicap,playing_handicap,{HOLES}\nA,4.0,2,2,{LEVEL}\n"
    assert not read(tmp_path, NET, beside, BLUE).remarks


def test_a_row_that_is_one_cell_short(tmp_path: Path) -> None:
    assert "row 2: it holds 9 cells and the heading 10" in refused(tmp_path, f"player,{HOLES}\nA,{LEVEL[:-2]}\n")
    begun = read(tmp_path, 'form = "match-play"', f"player,match,{HOLES}\nA,m,4,4\nB,m,4,5\n")
    assert len(begun.cards) == 2  # a match goes on, and nobody writes down what is not played


@pytest.mark.parametrize(
    ("terms", "card", "total"),
    [
        (STROKE, "penalties|3: 2", 38),  # penalties that the scores do not hold
        (NET, "playing_handicap,penalties|5,3: 2", 33),  # those, less the handicap
        (NET, "course_handicap|12", 30),  # no Playing Handicap is stated, so what lies below the sum may be the net total
        (NET, "course_handicap|+3", 39),
        ('form = "maximum-score"\nmaximum = { fixed = 4 }', "side|", 34),  # two fives count four each
    ],
)
def test_totals_that_are_not_the_sum_of_the_holes(terms: str, card: str, total: int, tmp_path: Path) -> None:
    columns, _, cells = card.partition("|")
    assert not read(tmp_path, terms, f"player,{columns},{HOLES},total\nA,{cells},{LEVEL},{total}\n").remarks


@pytest.mark.parametrize(
    ("terms", "card", "total"),
    [
        (STROKE, "penalties_in_scores|3: 2", 38),  # the scores hold them
        (STROKE, "penalties|3: 2", 37),
        (NET, "course_handicap|12", 37),
        (NET, "course_handicap|+3", 35),
        (STROKE, "playing_handicap|5", 31),  # a gross competition has no net total
        ('form = "maximum-score"\nmaximum = { fixed = 4 }', "side|", 37),
    ],
)
def test_totals_that_no_reading_gives(terms: str, card: str, total: int, tmp_path: Path) -> None:
    columns, _, cells = card.partition("|")
    told = refused(tmp_path, f"player,{columns},{HOLES},total\nA,{cells},{LEVEL},{total}\n", terms)
    assert f"row 2, column total: {total}, and the holes add up to 36" in told


def test_a_bare_handicap_in_a_gross_competition(tmp_path: Path) -> None:
    assert not read(tmp_path, cards=f"player,handicap,{HOLES}\nA,14,{LEVEL}\n").remarks


def test_a_plus_lost_of_the_course_handicap(tmp_path: Path) -> None:
    """+4.0 gives -2.44, so +2; 4.0 would give 2."""
    told = refused(tmp_path, f"player,handicap_index,course_handicap,{HOLES}\nA,+4.0,2,{LEVEL}\n", NET, BLUE)
    assert "1 fault" in told and "row 2, column course_handicap: 2, and +2 follows from +4.0" in told


def test_a_course_handicap_that_no_lost_plus_explains(tmp_path: Path) -> None:
    """Rating 38 to a par of 36: 1.0 gives 0.54 + 2 = 2.54, so 3; +1.0 gives 1.46, so 1, and +1 stands beside it."""
    high = BLUE.replace("35.7", "38.0")
    (remark,) = read(tmp_path, NET, f"player,handicap_index,course_handicap,{HOLES}\nA,1.0,+1,{LEVEL}\n", high).remarks
    assert "1.0 gives a Course Handicap of 3" in remark and "+1 is used" in remark


def test_a_playing_handicap_that_has_lost_nothing(tmp_path: Path) -> None:
    """0.6 gives 0.32 - 0.3 = 0.02, so 0. Half of -2.44 is -1.22, but in foursomes the 1 is the side's own."""
    assert not read(tmp_path, NET, f"player,handicap_index,playing_handicap,{HOLES}\nA,0.6,0,{LEVEL}\n", BLUE).remarks
    blanks = "," * 8
    side = f"player,side,handicap_index,playing_handicap,{HOLES}\nA,s,+4.0,1,{LEVEL}\nB,s,12.0,,{blanks}\n"
    assert not read(tmp_path, f'{NET}\nsides = "foursomes"', side, BLUE).remarks


def test_no_more_than_twenty_remarks_on_handicaps(tmp_path: Path) -> None:
    cards = "".join(f"P{place},12.0,9,{LEVEL}\n" for place in range(23))
    remarks = read(tmp_path, NET, f"player,handicap_index,course_handicap,{HOLES}\n{cards}", BLUE).remarks
    assert len(remarks) == 21 and remarks[-1] == "… and 3 more of the same kind."
