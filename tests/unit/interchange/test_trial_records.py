"""Records of a trial: what is read, what is refused by row and column, and what is left out and counted."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import Workbook

from marram.core.errors import RecordError
from marram.interchange.field.trial_records import read_records
from marram.records.outcomes import find_outcome, outcomes
from marram.records.rows import Arm, TrialRecords
from marram.rulebook import packaged_catalogue
from marram.rulebook.overlays.overlay import Overlay, read_overlay

TRIAL = """
title = "A trial"
dated = 2026-03-01
on = ["2023"]
from = 2026-04-01
until = 2026-04-30
[[change]]
key = "search.limit_min"
was = 3
now = 2
because = "Quicker."
observes = ["search_s", "round_min", "fair", "ball_found"]
"""
DAYS = "day,date,pair,rules,course,green speed\nd1,2026-04-04,p1,trial,Moor,9\nd2,2026-04-11,p1,ordinary,Moor,9\n"
VALUES = "day,outcome,value,group,player,hole,change,form\nd1,round_min,231,g1,,,,\nd2,round_min,240,g1,,,,\nd1,ball_found,yes,g1,p1,4,1,\n"


def trial() -> Overlay:
    return read_overlay(TRIAL, name="t", catalogue=packaged_catalogue())


def read(tmp_path: Path, days: str = DAYS, values: str = VALUES) -> TrialRecords:
    (tmp_path / "days.csv").write_text(days, encoding="utf-8")
    (tmp_path / "values.csv").write_text(values, encoding="utf-8")
    return read_records(tmp_path / "days.csv", tmp_path / "values.csv", trial())


def test_days_and_values_are_read(tmp_path: Path) -> None:
    records = read(tmp_path)
    ((name, played, ordinary),) = records.pairs()
    assert (name, played.arm, ordinary.arm) == ("p1", Arm.TRIAL, Arm.ORDINARY)
    assert [(entry.outcome, entry.value, entry.hole) for entry in records.observations] == [
        ("round_min", 231, None),
        ("round_min", 240, None),
        ("ball_found", 1, 4),
    ]
    assert not records.left_out


def test_one_workbook_may_hold_both_tables(tmp_path: Path) -> None:
    book = Workbook()
    for name, text in (("days", DAYS), ("values", VALUES)):
        sheet = book.create_sheet(name)
        for line in text.splitlines():
            sheet.append([int(cell) if cell.isdigit() else cell or None for cell in line.split(",")])
    path = tmp_path / "records.xlsx"
    book.save(path)
    assert read_records(path, path, trial()) == read(tmp_path)


@pytest.mark.parametrize(
    ("days", "values", "words"),
    [
        (DAYS.replace("d2,2026-04-11,p1,ordinary", "d2,2026-04-11,p1,trial"), VALUES, "one day under each"),
        (DAYS + "d1,2026-04-04,p1,ordinary,Moor,9\n", VALUES, "more than once"),
        (DAYS.rsplit("d2", 1)[0], VALUES, "one day under each"),
        (DAYS.replace("2026-04-11", "soon"), VALUES, "row 3, column date"),
        (DAYS.replace("ordinary", "normal"), VALUES, "expected one of trial, ordinary"),
        (DAYS, VALUES.replace("d2,round", "d9,round"), "row 3, column day: 'd9' is not in the table of days"),
        (DAYS, VALUES.replace("d2,round", ",round"), "row 3, column day: is empty"),
        (DAYS, VALUES.replace("round_min,240", "round_time,240"), "Nearest: round_min"),
        (DAYS, VALUES.replace("240", "2400"), "cannot be; expected 90 to 480 min"),
        (DAYS, VALUES.replace("240", "long"), "'long' is no number"),
        (DAYS, VALUES.replace("240", ""), "is empty"),
        (DAYS, VALUES + "d1,round_min,229,g1,,,,\n", "stands 2 times"),
        (DAYS, VALUES.replace("p1,4,1,", "p1,40,7,"), "column hole"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(tmp_path: Path, days: str, values: str, words: str) -> None:
    with pytest.raises(RecordError) as told:
        read(tmp_path, days, values)
    assert words in str(told.value)


def test_faults_of_both_tables_name_their_file_and_a_bad_day_is_told_once(tmp_path: Path) -> None:
    with pytest.raises(RecordError) as told:
        read(tmp_path, DAYS.replace("2026-04-11", "soon"), VALUES.replace("231", "long"))
    text = str(told.value)
    assert "days.csv, row 3, column date" in text
    assert "values.csv, row 2, column value" in text
    assert "not in the table of days" not in text
    assert "one day under each" not in text


def test_times_of_day_become_minutes_and_may_not_run_backwards(tmp_path: Path) -> None:
    values = "day,outcome,from,to,group\nd1,round_min,9:00,12:51:30,g1\n"
    assert read(tmp_path, values=values).observations[0].value == pytest.approx(231.5)
    with pytest.raises(RecordError, match="times run backwards"):
        read(tmp_path, values="day,outcome,from,to,group\nd1,round_min,12:51,9:00,g1\n")
    with pytest.raises(RecordError, match="no time of day"):
        read(tmp_path, values="day,outcome,from,to,group\nd1,round_min,25:00,26:00,g1\n")


def test_what_nobody_asked_for_or_answers_another_form_is_left_out_and_counted(tmp_path: Path) -> None:
    more = "d1,strokes,80,g1,p1,,,\nd1,fair,4,g1,p1,,1,2025-01-01\nd1,fair,4,g1,p2,,1,2026-03-01\n"
    records = read(tmp_path, values=VALUES + more)
    assert [row.reason for row in records.left_out] == [
        "no change of the trial observes strokes",
        "an answer to another version of the form, 2025-01-01",
    ]
    assert len(records.observations) == 4


def test_a_day_outside_the_window_goes_with_its_pair(tmp_path: Path) -> None:
    late = "d3,2026-05-09,p2,trial,Moor,9\nd4,2026-04-18,p2,ordinary,Moor,9\n"
    records = read(tmp_path, DAYS + late, VALUES + "d3,round_min,200,g1,,,,\nd4,round_min,201,g1,,,,\n")
    assert {entry.day for entry in records.observations} == {"d1", "d2"}
    (left,) = records.left_out
    assert left.where == "pair p2"
    assert "2 values" in left.reason


def test_what_is_odd_is_remarked(tmp_path: Path) -> None:
    same = "".join(f"d{1 + number % 2},fair,3,g{number},p{number},,1,\n" for number in range(6))
    records = read(tmp_path, DAYS.replace("ordinary,Moor,9", "ordinary,Moor,11"), VALUES + same)
    assert any("All 6 values of fair are 3" in remark for remark in records.remarks)
    assert any("Green speed differs within p1" in remark for remark in records.remarks)


def test_the_catalogue_is_sound_and_names_the_nearest() -> None:
    for outcome in outcomes().values():
        assert outcome.least < outcome.most
        assert outcome.means.endswith(".")
    with pytest.raises(RecordError) as told:
        find_outcome("search_time")
    assert len(told.value.hint.split(",")) == 3


def test_times_of_day_become_the_unit_of_their_outcome(tmp_path: Path) -> None:
    """A search from 10:04:10 to 10:06:40 took 150 s, which is 2.5 min of no outcome that is counted in seconds."""
    values = "day,outcome,from,to,group,player,hole\nd1,search_s,10:04:10,10:06:40,g1,p1,4\nd1,round_min,10:00,10:02:30,g1,,\n"
    with pytest.raises(RecordError, match=r"2\.5 min cannot be"):
        read(tmp_path, values=values)
    read_values = read(tmp_path, values=values.splitlines()[0] + "\n" + values.splitlines()[1] + "\n").observations
    assert [(entry.outcome, entry.value) for entry in read_values] == [("search_s", 150)]
