"""`marram handicap`: what an official reads, what a program reads, and every fault in one pass.

Values are worked by hand from the Rules of Handicapping 2020 and 2024, by the rule named beside them.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from fractions import Fraction
from functools import partial
from pathlib import Path

import pytest
from openpyxl import Workbook

from marram.core.terms import ADVICE
from tests.support.running import Run

INDEXES = "9,5,17,11,1,7,15,3,13,8,16,4,14,2,10,18,6,12"
PARS = "4,4,3,5,4,4,3,4,5,4,3,4,5,4,4,3,5,4"
TEES = ("--slope", "128", "--rating", "71.4", "--par", "72")
HEADING = "date,holes,adjusted_gross,course_rating,slope,conditions,expected,differential,index,round\n"


@pytest.fixture
def run(called: Run) -> Run:
    return partial(called, "handicap")


def told(run: Run, *arguments: str) -> list[dict[str, object]]:
    code, out, err = run(*arguments, "--json")
    assert (code, err) == (0, ""), out + err
    books = json.loads(out)["books"]
    assert isinstance(books, list)
    return books


def refused(run: Run, *arguments: str) -> str:
    code, out, err = run(*arguments)
    assert (code, out) == (2, "")
    assert "Traceback" not in err
    as_json = run(*arguments, "--json")
    assert as_json[0] == 2 and json.loads(as_json[1])["error"]["code"] in {"handicap", "rule_data"}
    return err


def rules_of(books: list[dict[str, object]]) -> set[str]:
    citations = books[0]["citations"]
    assert isinstance(citations, list)
    return {str(one["rule"]) for one in citations}


def table(folder: Path, rows: Sequence[str]) -> str:
    file = folder / "record.csv"
    file.write_text(HEADING + "\n".join(rows) + "\n", encoding="utf-8")
    return str(file)


def test_a_course_handicap_before_and_after_rounding(run: Run) -> None:
    # 12.2 x 128 / 113 - 0.6 = 13.219469…; exactly 7469/565
    (found,) = told(run, "course", "--index", "12.2", *TEES)
    assert (found["book"], found["value"], found["unrounded"], found["shown_as"]) == ("2024", 13, 13.219469, "13")
    assert Fraction(str(found["exact"])) == Fraction("12.2") * 128 / 113 - Fraction("0.6")
    citations = found["citations"]
    assert isinstance(citations, list) and {"6.1a"} <= {one["rule"] for one in citations}


def test_a_plus_handicap_is_below_zero_and_told_with_its_plus(run: Run) -> None:
    # -2.4 x 135 / 113 + 1.1 = -1.7673
    arguments = ("course", "--index", "+2.4", "--slope", "135", "--rating", "73.1", "--par", "72")
    (found,) = told(run, *arguments)
    assert (found["value"], found["shown_as"]) == (-2, "+2")
    code, out, _ = run(*arguments)
    assert code == 0 and "Course Handicap +2 (-1.7673 before rounding)" in out and out.rstrip().endswith(ADVICE)


def test_books_stand_beside_each_other_and_what_is_from_memory_says_so(run: Run) -> None:
    # 6.1 / 2 = 3.05 + 0.4 = 3.45 -> 3; 3.1 + 0.4 = 3.5 -> 4; without rating less par 3.05 -> 3
    names = ("2024", "2024+half-index-to-a-tenth", "2020+rating-less-par-left-out")
    books = [word for name in names for word in ("--book", name)]
    found = told(run, "course", "--index", "6.1", "--slope", "113", "--rating", "36.4", "--par", "36", "--holes", "9", *books)
    assert [(one["book"], one["value"], one["unrounded"]) for one in found] == [
        (names[0], 3, 3.45),
        (names[1], 4, 3.5),
        (names[2], 3, 3.05),
    ]
    out = run("course", "--index", "6.1", "--slope", "113", "--rating", "36.4", "--par", "36", "--holes", "9", "--book", "2020")[1]
    assert "Rule 6.1b (from memory)" in out
    assert "from memory" not in run("course", "--index", "6.1", *TEES)[1]


def test_every_fault_of_the_input_is_told_at_once(run: Run) -> None:
    err = refused(run, "course", "--index", "80", "--slope", "200", "--rating", "7,1", "--par", "x")
    assert "4 faults" in err
    for fault in ("--index: 80 cannot be; expected +15.0 to 54.0", "--slope: a Slope Rating of 200", "--rating: '7,1'", "--par: 'x'"):
        assert fault in err
    assert "point: 7.1" in err
    assert "--rating: it is missing, and 2024 adds Course Rating less par" in refused(run, "course", "--index", "8", "--slope", "113")
    assert "+2.4" in refused(run, "course", "--index=-2.4", *TEES)
    assert "Known: 2020, 2024" in refused(run, "course", "--index", "8", *TEES, "--book", "2023")


@pytest.mark.parametrize(
    ("arguments", "value", "unrounded"),
    [
        (("--index", "8.6", "--slope", "125", "--rating", "71", "--par", "71", "--format", "four-ball"), 8, 8.086283),
        (("--index", "8.6", "--slope", "125", "--rating", "71", "--par", "71", "--allowance", "85"), 8, 8.086283),
        # 15.860177 x 0.95 + 1 (6.2b)
        (("--index", "15", "--slope", "124", "--rating", "72.4", "--par", "73", "--allowance", "95", "--lowest-par", "72"), 16, 16.067168),
        (("--course-handicap", "17.8", "--course-handicap", "6.3", "--format", "greensomes"), 11, 10.9),
        (("--course-handicap", "+3", "--format", "stroke-play"), -3, -2.85),
        (("--course-handicap", "14.4", "--format", "match-play"), 14, 14.4),
    ],
)
def test_playing_handicaps(run: Run, arguments: tuple[str, ...], value: int, unrounded: float) -> None:
    (found,) = told(run, "playing", *arguments)
    assert (found["value"], found["unrounded"]) == (value, unrounded)


def test_the_players_of_a_match_receive_the_difference_from_the_lowest(run: Run) -> None:
    courses = [word for one in ("6.4", "14.9", "10.2", "21.7") for word in ("--course-handicap", one)]
    (found,) = told(run, "playing", *courses, "--format", "four-ball-match-play")
    players = found["players"]
    assert isinstance(players, list)
    # 5.76 -> 6, 13.41 -> 13, 9.18 -> 9, 19.53 -> 20; less 6 (Appendix C)
    assert [(one["value"], one["receives"]) for one in players] == [(6, 0), (13, 7), (9, 3), (20, 14)]
    (found,) = told(run, "playing", *courses, "--format", "four-ball")
    players = found["players"]
    assert isinstance(players, list)
    # 5.44, 12.665, 8.67, 18.445: in stroke play each receives all of it
    assert [one["receives"] for one in players] == [5, 13, 9, 18]


def test_what_does_not_go_together_is_told(run: Run) -> None:
    err = refused(run, "playing", "--index", "8", *TEES, "--course-handicap", "8.1", "--format", "four-ball", "--allowance", "85")
    assert "--course-handicap: give an Index with its tees" in err and "--format: give the format" in err
    assert "2 players on a side" in refused(run, "playing", "--course-handicap", "8.1", "--format", "foursomes")
    assert "Nearest: four-ball" in refused(run, "playing", "--course-handicap", "8.1", "--format", "fourball")
    assert "expected more than 0 and 150" in refused(run, "playing", "--course-handicap", "8.1", "--allowance", "0")
    rating = refused(
        run, "playing", "--index", "8", *TEES, "--allowance", "95", "--lowest-par", "71", "--book", "2020+rating-less-par-left-out"
    )
    assert "--lowest-rating" in rating
    above = refused(run, "playing", "--index", "8", *TEES, "--allowance", "95", "--lowest-par", "73")
    assert "--lowest-par: 73 lies above 72, that of the player's own tees" in above
    assert "--lowest-par: the tees differ from whose?" in refused(
        run, "playing", "--course-handicap", "8", "--allowance", "95", "--lowest-par", "71"
    )


def test_formats_are_listed_with_their_allowances(run: Run) -> None:
    both = told(run, "playing", "--list", "--book", "2020", "--book", "2024")
    names = [{one["format"]: one["pct"] for one in book["formats"]} for book in both]  # type: ignore[attr-defined]
    assert names[1]["scramble-4"] == [25, 20, 15, 10]
    assert names[1].keys() - names[0].keys() == {"scramble-3"}
    assert "scramble-2" in run("playing", "--list")[1]


def test_strokes_fall_on_holes(run: Run) -> None:
    (found,) = told(run, "strokes", "--handicap", "+2", "--stroke-index", INDEXES)
    holes = found["holes"]
    assert isinstance(holes, list)
    assert {hole["place"]: hole["strokes"] for hole in holes if hole["strokes"]} == {3: -1, 16: -1}
    assert found["value"] == -2
    (found,) = told(run, "strokes", "--handicap", "11", "--stroke-index", "9,5,17,11,1,7,15,3,13")
    holes = found["holes"]
    assert isinstance(holes, list)
    assert [hole["strokes"] for hole in holes] == [1, 1, 1, 1, 2, 1, 1, 2, 1]
    err = refused(run, "strokes", "--handicap", "80", "--stroke-index", "1,1,3")
    assert "--handicap: 80 cannot be" in err and "it holds 3 numbers; expected 9 or 18" in err and "1 stands 2 times" in err


def test_a_plus_may_give_from_the_lowest_index_where_a_book_says_so(run: Run, tmp_path: Path) -> None:
    (tmp_path / "low.toml").write_text(
        'title = "Plus from the lowest"\ndated = 2024-01-01\non = ["2024"]\n[[change]]\nkey = "strokes-on-holes.plus_gives_from"\n'
        'was = "highest-index"\nnow = "lowest-index"\nbecause = "The Committee may say so."\n',
        encoding="utf-8",
    )
    book = f"2024+{tmp_path / 'low.toml'}"
    (found,) = told(run, "strokes", "--handicap", "+2", "--stroke-index", INDEXES, "--book", book)
    holes = found["holes"]
    assert isinstance(holes, list)
    assert {hole["place"]: hole["strokes"] for hole in holes if hole["strokes"]} == {5: -1, 14: -1}


def test_the_most_of_each_hole_and_the_adjusted_gross(run: Run) -> None:
    gross = "5,4,4,6,9,5,3,5,6,4,4,6,5,-,5,3,7,4"
    (found,) = told(run, "net-double-bogey", "--handicap", "14", "--stroke-index", INDEXES, "--par", PARS, "--gross", gross)
    holes = found["holes"]
    assert isinstance(holes, list)
    # hole 5: 4 + 2 + 1 = 7; hole 14, picked up, the same; 5+4+4+6+7+5+3+5+6 = 45, 4+4+6+5+7+5+3+7+4 = 45
    assert (found["value"], holes[4]["counts"], holes[13]["gross"], holes[13]["counts"]) == (90, 7, None, 7)
    (found,) = told(run, "net-double-bogey", "--handicap", "none", "--stroke-index", INDEXES, "--par", PARS)
    holes = found["holes"]
    assert isinstance(holes, list)
    assert [hole["most"] for hole in holes] == [int(par) + 5 for par in PARS.split(",")]
    assert "counts" not in holes[0]
    err = refused(run, "net-double-bogey", "--handicap", "14", "--stroke-index", INDEXES, "--par", "4,4,2", "--gross", "0,99")
    for fault in ("--par: 2 cannot be", "--par: it holds 3 numbers for 18 holes", "--gross: 0 cannot be", "--gross: 99 cannot be"):
        assert fault in err


def test_differentials(run: Run) -> None:
    # 113 / 128 x (90 - 71.8 - 1) = 15.184375
    (found,) = told(run, "differential", "--gross", "90", "--rating", "71.8", "--slope", "128", "--conditions", "1")
    assert (found["value"], found["unrounded"]) == (15.2, 15.184375)
    conditions = ("differential", "--gross", "90", "--rating", "71.8", "--slope", "128", "--conditions")
    assert "5.6" in rules_of(told(run, *conditions, "1")) and "5.6" not in rules_of(told(run, *conditions, "0"))
    # 1.13 x -5 = -5.65 -> -5.6
    (found,) = told(run, "differential", "--gross", "66", "--rating", "71.0", "--slope", "100")
    assert (found["value"], found["shown_as"]) == (-5.6, "+5.6")
    nine = ("differential", "--gross", "42", "--rating", "35.3", "--slope", "121", "--holes", "9")
    (found,) = told(run, *nine, "--second", "45/35.9/118", "--book", "2020")
    assert (found["value"], found["unrounded"]) == (15, 14.971432)
    both = told(run, *nine, "--second", "45/35.9/118", "--expected", "8.5", "--book", "2020", "--book", "2024")
    assert [one["value"] for one in both] == [15, 14.8]  # 6.257025 + 8.5 = 14.757025
    assert "--expected: it is missing" in refused(run, *nine)
    assert "--second: it is missing" in refused(run, *nine, "--book", "2020")
    err = refused(run, "differential", "--gross", "900", "--rating", "", "--slope", "20", "--conditions", "4", "--second", "1/2")
    for fault in (
        "--gross: 900",
        "--rating: it is missing",
        "--slope: a Slope Rating of 20",
        "--conditions: 4 cannot be",
        "--second: '1/2'",
    ):
        assert fault in err


def test_a_record_gives_an_index_with_what_counted(run: Run) -> None:
    # Eight scores of 10.0, sixteen of 18.0, one in two weeks; of the last 20 four are 10.0: (4 x 10 + 4 x 18) / 8 = 14.0. The Low Index
    # is 8.0, from the third score (10 - 2): 14.0 lies 6.0 over, so 8 + 3 + 1.5 = 12.5 (Rules 5.2a, 5.7, 5.8).
    (found,) = told(run, "index", "examples/handicaps/record.csv", "--on", "2025-12-01")
    assert (found["value"], found["unrounded"], found["average"], found["low_index"]) == (12.5, 14, 14, 8)
    assert (found["after_soft_cap"], found["after_hard_cap"], found["low_index_stated"]) == (12.5, 12.5, False)
    differentials = found["differentials"]
    assert isinstance(differentials, list)
    assert len(differentials) == 24 and sum(one["counts"] for one in differentials) == 8
    (found,) = told(run, "index", "examples/handicaps/record.csv", "--on", "2025-12-01", "--low-index", "6.0")
    assert (found["value"], found["low_index_stated"]) == (11, True)  # hard cap: 6 + 5


def test_a_record_may_be_a_workbook(run: Run, tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["A record", None])
    sheet.append(["Date", "Differential", "Index"])
    for row in (["2024-04-01", "+1.5", None], ["2024-04-08", -0.2, None], ["2024-04-15", 4, None], ["2024-04-22", 5.1, "+3.5"]):
        sheet.append(row)
    file = tmp_path / "record.xlsx"
    book.save(file)
    # -1.5, -0.2, 4.0, 5.1: four scores, lowest -1.5 - 1 = -2.5
    (found,) = told(run, "index", str(file), "--on", "2024-05-01")
    assert (found["value"], found["shown_as"]) == (-2.5, "+2.5")


def test_too_short_a_record_gives_no_index_and_says_why(run: Run, tmp_path: Path) -> None:
    file = table(tmp_path, ["2024-04-01,18,94,73.0,125,0,,,,", "2024-04-08,18,92,73.0,125,0,,,,"])
    (found,) = told(run, "index", file, "--on", "2024-05-01")
    assert found["value"] is None and found["shown_as"] is None and found["unrounded"] is None
    assert "There is no Index yet: 2 differentials of 36 holes; it takes 3 and 54 holes." in run("index", file, "--on", "2024-05-01")[1]


def test_every_fault_of_a_record_is_told_by_row_and_column(run: Run, tmp_path: Path) -> None:
    rows = [
        "2024-04-10,18,94,73.0,200,0,,,,",
        "2024-04-08,18,92,,125,4,,,80,",
        "2024-04-08,18,92,,125,4,,,80,",
        "2062-04-15,9,45,35.8,128,0,,,-1.2,",
        ",18,0,71.0,120,0,,,12.25,",
        "2024-05-05,12,50,71.0,120,0,,,,",
    ]
    err = refused(run, "index", table(tmp_path, rows), "--on", "2026-01-01")
    assert "17 faults" in err
    for fault in (
        "row 2, column slope: a Slope Rating of 200",
        "row 3, column date: 2024-04-08 lies before 2024-04-10 in row 2",
        "row 3, column course_rating: it is missing; a tee without a rating",
        "row 3, column conditions: 4 cannot be; expected -1 to 3",
        "row 3, column index: 80.0 cannot be; no Index lies above 54.0",
        "row 4, column date: the same score stands in row 3",
        "row 5, column date: 2062-04-15 lies after 2026-01-01",
        "row 5, column expected: it is missing: 2024",
        "row 5, column index: '-1.2' is no handicap. A plus handicap is written with its plus, +1.2",
        "row 6, column date: nothing stands here",
        "row 6, column adjusted_gross: 0 for 18 holes cannot be",
        "row 6, column index: '12.25' has 2 decimals",
        "row 7, column differential: it is missing: how 12 holes become one of 18 is not published",
    ):
        assert fault in err, fault
    rows_told = [int(line.split()[1].rstrip(",")) for line in err.splitlines() if line.strip().startswith("row ")]
    assert len(rows_told) == 17 and rows_told == sorted(rows_told)
    assert "docs/formats/handicap-record.md" in err


def test_a_plus_that_a_spreadsheet_dropped_is_seen(run: Run, tmp_path: Path) -> None:
    # five differentials of -1.0: an Index of +1.0, and the next row states 1.0
    rows = [f"2024-04-0{day},18,,,,,,-1.0,," for day in range(1, 6)]
    err = refused(run, "index", table(tmp_path, [*rows, "2024-04-09,18,,,,,,3.0,1.0,"]), "--on", "2026-01-01")
    assert "row 7, column index: 1.0 stands here, and the record gives +1.0: the plus is lost" in err
    assert told(run, "index", table(tmp_path, [*rows, "2024-04-09,18,,,,,,3.0,+1.0,"]), "--on", "2026-01-01")


def test_figures_at_their_very_limit_are_let_through(run: Run, tmp_path: Path) -> None:
    # an Index of 54.0, adjustments of 3 and -1, the steepest and the flattest slope, and the day of the record itself
    rows = ["2024-04-01,18,120,72.0,155,3,,,54.0,", "2024-04-02,18,120,72.0,55,-1,,,54.0,", "2024-04-03,18,120,72.0,113,0,,,,"]
    # 113/155 x (48 - 3) = 32.806 -> 32.8, exceptional against 54.0: 2 off; 113/55 x 49 = 100.67; 48.0: lowest 30.8, less 2
    assert told(run, "index", table(tmp_path, rows), "--on", "2024-04-03")[0]["value"] == 28.8
    assert "lies after 2024-04-02" in refused(run, "index", table(tmp_path, rows), "--on", "2024-04-02")


def test_a_differential_that_score_and_ratings_contradict_is_a_fault(run: Run, tmp_path: Path) -> None:
    # 113/125 x (94 - 73) = 18.984 -> 19.0; 113/128 x (90 - 71.8 - 1) = 15.184 -> 15.2
    sound = ["2024-04-01,18,94,73.0,125,0,,19.0,,", "2024-04-02,18,90,71.8,128,1,,15.184,,", "2024-04-03,12,50,33.5,120,0,,20.1,,"]
    assert told(run, "index", table(tmp_path, sound), "--on", "2026-01-01")
    err = refused(run, "index", table(tmp_path, [sound[0].replace("19.0", "18.9"), *sound[1:]]), "--on", "2026-01-01")
    assert "row 2, column differential: 18.9 stands here, and score and ratings give 19.0; leave the wrong one out" in err


def test_nines_that_wait_or_waited_too_long_are_told_by_row(run: Run, tmp_path: Path) -> None:
    early, late = "2024-01-01,9,42,35.3,121,0,,,,", "2024-06-01,9,45,35.9,118,0,,,,"
    full = [f"2024-04-{day:02},18,,,,,,18.0,," for day in range(1, 21)]
    (found,) = told(run, "index", table(tmp_path, [early, *full, late]), "--on", "2026-01-01", "--book", "2020")
    assert (found["dropped_rows"], found["waiting_row"]) == ([2], 23)
    out = run("index", table(tmp_path, [early, *full, late]), "--on", "2026-01-01", "--book", "2020")[1]
    assert "waited too long are dropped: row 2." in out and "Row 23, nine holes, waits" in out


def test_an_exceptional_score_is_told_with_what_it_took_off(run: Run, tmp_path: Path) -> None:
    # Five of 20.0: Index 20.0. 12.5 lies 7.5 under: 1 off all six (Rule 5.9); (11.5 + 19) / 2 - 1 = 14.25 -> 14.3
    rows = [*(f"2024-04-{day:02},18,,,,,,20.0,," for day in range(1, 6)), "2024-05-01,18,,,,,,12.5,,"]
    (found,) = told(run, "index", table(tmp_path, rows), "--on", "2026-01-01")
    assert found["exceptional"] == [{"index": 20, "reduces": 1, "rows": [7], "under": 7.5}]
    differentials = found["differentials"]
    assert isinstance(differentials, list)
    assert [one["adjusted_by"] for one in differentials] == [-1] * 6
    assert (found["value"], found["unrounded"]) == (14.3, 14.25)
    out = run("index", table(tmp_path, rows), "--on", "2026-01-01")[1]
    assert "Row 7 is exceptional, 7.5 under the Index of 20.0: 1 off each" in out


def test_rating_and_par_are_needed_only_where_a_book_adds_them(run: Run) -> None:
    # 12.2 x 128 / 113 = 13.8195
    (found,) = told(run, "course", "--index", "12.2", "--slope", "128", "--book", "2020+rating-less-par-left-out")
    assert (found["value"], found["unrounded"]) == (14, 13.819469)


def test_an_index_of_nought_has_lost_no_plus(run: Run, tmp_path: Path) -> None:
    rows = [f"2024-04-0{day},18,,,,,,0.0,," for day in range(1, 6)]
    assert told(run, "index", table(tmp_path, [*rows, "2024-04-09,18,,,,,,3.0,0.0,"]), "--on", "2026-01-01")


def test_a_low_index_takes_twenty_differentials(run: Run, tmp_path: Path) -> None:
    rows = [f"2024-04-{day:02},18,,,,,,18.0,," for day in range(1, 21)]
    # 18.0 over a Low Index of 10.0 stops at 15.0
    assert told(run, "index", table(tmp_path, rows), "--on", "2026-01-01", "--low-index", "10.0")[0]["value"] == 15
    err = refused(run, "index", table(tmp_path, rows[1:]), "--on", "2026-01-01", "--low-index", "10.0")
    assert "--low-index: the record holds 19 differentials; 2024 has a Low Index from 20 on" in err
    assert "--low-index: 60 cannot be" in refused(run, "index", table(tmp_path, rows), "--low-index", "60")


def test_a_record_from_the_newest_to_the_oldest_is_told_once(run: Run, tmp_path: Path) -> None:
    rows = [f"2024-04-0{day},18,,,,,,{day}.0,," for day in range(5, 0, -1)]
    err = refused(run, "index", table(tmp_path, rows), "--on", "2026-01-01")
    assert "1 fault" in err and "runs from the newest to the oldest" in err


def test_alike_rounds_of_a_day_are_told_apart_by_their_number(run: Run, tmp_path: Path) -> None:
    rows = [f"2024-04-01,18,,,,,,10.0,,{number}" for number in (1, 2, 3)]
    assert told(run, "index", table(tmp_path, rows), "--on", "2026-01-01")[0]["value"] == 8
    assert "the same score" in refused(run, "index", table(tmp_path, [row[:-1] for row in rows]), "--on", "2026-01-01")


@pytest.mark.parametrize(
    ("content", "said"),
    [("", "empty"), ("date,differential\n", "no row below the heading"), ("day,strokes\n1,2\n", "needed columns"), ("\x00\x01", "")],
)
def test_what_is_no_record_is_refused(run: Run, tmp_path: Path, content: str, said: str) -> None:
    file = tmp_path / "record.csv"
    file.write_text(content, encoding="utf-8")
    assert said in refused(run, "index", str(file))


def test_what_counts_for_handicap(run: Run) -> None:
    found = told(run, "accept", "--played", "12", "--book", "2020", "--book", "2024")
    assert [(one["acceptable"], one["counts_as"], one["holes_made_up"]) for one in found] == [
        (True, "a score of nine holes", 0),
        (True, "a score of 18 holes", 6),
    ]
    (found_one,) = told(run, "accept", "--played", "18", "--lacks", "in-company", "--format", "scramble")
    because = found_one["because"]
    assert isinstance(because, list) and len(because) == 2 and found_one["acceptable"] is False
    assert "Committee may post a penalty score" in run("accept", "--played", "16", "--no-valid-reason")[1]
    hangs = told(run, "accept", "--played", "18", "--format", "match-play")[0]
    assert (hangs["acceptable"], hangs["hangs_on_association"]) == (True, True)
    assert told(run, "accept", "--played", "18", "--format", "match-play", "--association", "does-not")[0]["acceptable"] is False
    assert "--played: 19 cannot be" in refused(run, "accept", "--played", "19")
    assert "--format" in refused(run, "accept", "--played", "18", "--format", "skins")


def test_a_round_under_a_trial_counts_only_where_it_is_approved_in_writing(run: Run) -> None:
    under = ("--under", "2023+examples/trials/divot-holes.toml")
    (found,) = told(run, "accept", "--played", "18", *under)
    because = found["because"]
    assert isinstance(because, list) and found["acceptable"] is False and "divot holes, change 1" in because[0]
    assert told(run, "accept", "--played", "18", *under, "--approved")[0]["acceptable"] is True
    assert told(run, "accept", "--played", "18", "--under", "2023+preferred-lies")[0]["acceptable"] is True
    assert told(run, "accept", "--played", "18", "--under", "draft-2017")[0]["acceptable"] is False
    assert "Rule 2.1b (in part inferred)" in run("accept", "--played", "18", *under)[1]


def test_what_else_may_be_asked_of_a_round(run: Run) -> None:
    assert told(run, "accept", "--played", "18", "--breach", "disqualified-without-advantage")[0]["acceptable"] is True
    err = refused(run, "accept", "--played", "20", "--breach", "forgot", "--format", "skins", "--length-yd", "5")
    for fault in ("--played: 20 cannot be", "--breach: 'forgot'", "--format: 'skins'", "--length-yd: 5 cannot be"):
        assert fault in err
    assert "3000 yd" in run("accept", "--played", "18", "--length-yd", "2999", "--book", "2020")[1]
    assert "Appendix G" in rules_of(told(run, "accept", "--played", "18", "--length-yd", "6000"))
    assert "Appendix G" not in rules_of(told(run, "accept", "--played", "18"))
    assert "2.1b" in rules_of(told(run, "accept", "--played", "18", "--breach", "penalty-left-out"))


@pytest.mark.parametrize(
    ("distance", "scores"),
    # Rule 3.3: within 5 ft 1 stroke, to 20 yd 2 or 3, beyond 3 or 4; 1.52 m is 4.99 ft, 18.29 m is 20.0 yd
    [("5ft", [5]), ("5.1ft", [6, 7]), ("1.52m", [5]), ("60in", [5]), ("20yd", [6, 7]), ("18.3 m", [7, 8]), ("21yd", [7, 8])],
)
def test_most_likely_scores(run: Run, distance: str, scores: list[int]) -> None:
    assert told(run, "most-likely", "--taken", "4", "--distance", distance)[0]["scores"] == scores


def test_a_distance_needs_its_unit(run: Run) -> None:
    err = refused(run, "most-likely", "--taken", "0", "--distance", "15")
    assert "--taken: 0 cannot be" in err and "--distance: '15' is no distance" in err
    assert "no hole is so long" in refused(run, "most-likely", "--taken", "4", "--distance", "900yd")


def test_stroke_indexes_are_held_against_what_is_recommended(run: Run) -> None:
    code, out, _ = run("stroke-index", "--stroke-index", INDEXES, "--json")
    assert code == 0 and all(check["holds"] for check in json.loads(out)["checks"])
    code, out, _ = run("stroke-index", "--stroke-index", "1" + INDEXES[1:])
    assert code == 1 and "A1  not kept" in out
    assert "it holds 2 numbers" in refused(run, "stroke-index", "--stroke-index", "1,19")


@pytest.mark.parametrize(
    ("bogey", "who", "value", "says"),
    [("94.5", "men", 121, "121.0725"), ("94.5", "women", 95, "95.4"), ("110", "men", 155, "No Slope Rating lies below 55 or above 155")],
)
def test_slope_ratings(run: Run, bogey: str, who: str, value: int, says: str) -> None:
    # 5.381 x 22.5 = 121.0725; 4.24 x 22.5 = 95.4; 5.381 x 38 = 204.5
    arguments = ("slope", "--rating", "72.0", "--bogey-rating", bogey, "--for", who)
    assert told(run, *arguments)[0]["value"] == value
    assert says in run(*arguments)[1]


def test_ratings_that_cannot_be(run: Run) -> None:
    err = refused(run, "slope", "--rating", "7", "--bogey-rating", "x", "--for", "men")
    assert "--rating: a Course Rating of 7.0" in err and "--bogey-rating: 'x'" in err
    assert "--bogey-rating: 72 cannot be" in refused(run, "slope", "--rating", "72", "--bogey-rating", "72", "--for", "men")


def test_holes_not_played_on_a_card(run: Run) -> None:
    # Twelve holes: 44 + 14 = 58. Course Handicap 14 on 13 to 18: net par 6, 5, 5, 3, 6, 5 = 30 (Rule 3.2); with ten holes enough, one more.
    card = ("--handicap", "14", "--stroke-index", INDEXES, "--par", PARS, "--gross", "5,4,4,6,6,5,3,5,6,4,4,6,n,n,n,n,n,n")
    books = ("--book", "2020", "--book", "2024", "--book", "2020+ten-holes-make-eighteen")
    found = told(run, "net-double-bogey", *card, *books)
    assert [one["value"] for one in found] == [58, 58, 89]
    says = [" ".join(one["says"]) for one in found]  # type: ignore[arg-type]
    assert not any("Picked up" in said for said in says)
    assert "a score of nine holes" in says[0] and "expected differential" in says[1] and "one for the first of them" in says[2]
    fourteen = (*card[:-1], "5,4,4,6,6,5,3,5,6,4,4,6,5,5,n,n,n,n")
    # 68 played; holes 15 to 18 net par 5, 3, 6, 5
    assert [one["value"] for one in told(run, "net-double-bogey", *fourteen, "--book", "2020")] == [87]
    of_ten = told(run, "net-double-bogey", *fourteen, "--book", "2020+ten-holes-make-eighteen")[0]
    assert of_ten["value"] == 87 and "one for the first" not in " ".join(of_ten["says"])  # type: ignore[arg-type]
    holes = told(run, "net-double-bogey", *fourteen, "--book", "2024")[0]["holes"]
    assert isinstance(holes, list)
    assert (holes[17]["played"], holes[17]["counts"], holes[0]["played"]) == (False, None, True)
    six = (*card[:-1], "5,4,4,6,6,5,n,n,n,n,n,n,n,n,n,n,n,n")
    (found_one,) = told(run, "net-double-bogey", *six)
    assert (found_one["value"], found_one["exact"], found_one["shown_as"]) == (None, None, "none")
    assert "Adjusted gross score none" in run("net-double-bogey", *six)[1]


@pytest.mark.parametrize(
    "arguments",
    [
        ("course", "--index", "12.2", *TEES),
        ("stroke-index", "--stroke-index", INDEXES),
        ("accept", "--played", "12", "--under", "2023+examples/trials/four-changes.toml"),
        ("playing", "--list"),
        ("index", "examples/handicaps/record.csv", "--on", "2025-12-01"),
        ("net-double-bogey", "--handicap", "14", "--stroke-index", INDEXES, "--par", PARS),
    ],
)
def test_text_fits_the_paper_and_equal_input_gives_equal_bytes(run: Run, arguments: tuple[str, ...]) -> None:
    out = run(*arguments)[1]
    assert max(len(line) for line in out.splitlines()) <= 100
    assert run(*arguments, "--json")[1] == run(*arguments, "--json")[1]
