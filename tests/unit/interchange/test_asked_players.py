"""Who was asked: what an official may write, and what is refused by row."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import Workbook

from marram.core.errors import RecordError
from marram.interchange.field.trial_records import read_records
from marram.records.rows import AskedPlayers, TrialRecords
from tests.support.seasons import trial_of

DAYS = "day,date,pair,rules\nd1,2026-04-04,p1,trial\nd2,2026-04-11,p1,ordinary\n"
VALUES = (
    "day,outcome,value,player,change,kind\n"
    "d1,fair,5,a,1,Low\n"
    "d1,fair,4,b,1,  low \n"
    "d1,fair,2,c,1,high\n"
    "d1,change_met,0,e,1,high\n"
    "d1,strokes,88,z,1,\n"
    "d2,fair,2,c,1,\n"
)
ASKED = "kind,asked\nlow,3\nhigh,2\n"
TRIAL = trial_of({"observes": '["fair", "change_met", "strokes"]'})


def read(tmp_path: Path, asked: str = ASKED, values: str = VALUES) -> TrialRecords:
    for name, text in (("days", DAYS), ("values", values), ("asked", asked)):
        (tmp_path / f"{name}.csv").write_text(text, encoding="utf-8")
    return read_records(tmp_path / "days.csv", tmp_path / "values.csv", TRIAL, tmp_path / "asked.csv")


def told(records: TrialRecords) -> list[tuple[str, str, int]]:
    return [(entry.kind, entry.day, entry.asked) for entry in records.asked]


def test_who_was_asked_is_read_and_each_answer_has_its_kind_as_that_table_writes_it(tmp_path: Path) -> None:
    records = read(tmp_path)
    assert told(records) == [("low", "", 3), ("high", "", 2)]
    assert [entry.kind for entry in records.observations] == ["low", "low", "high", "high", "", ""]


def test_the_kind_may_stand_in_one_row_of_a_player_and_day(tmp_path: Path) -> None:
    records = read(tmp_path, values=VALUES + "d1,clear,3,a,1,\n".replace("clear", "change_met").replace(",3,", ",0,"))
    assert records.observations[-1].kind == "low"


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ("day,asked\nd1,4\n", [("", "d1", 4)]),
        ("Handicap band;Invited\nlow;3\nhigh;2\n", [("low", "", 3), ("high", "", 2)]),
        ("kind,day,asked\nlow,d1,3\nhigh,d1,2\nhigh,d2,1\n", [("low", "d1", 3), ("high", "d1", 2), ("high", "d2", 1)]),
        ("kind,asked\nlow,2\nhigh,2\nmid,0\n", [("low", "", 2), ("high", "", 2), ("mid", "", 0)]),
    ],
)
def test_what_may_be_written(tmp_path: Path, table: str, expected: list[tuple[str, str, int]]) -> None:
    assert told(read(tmp_path, asked=table, values=VALUES.replace("d2,fair,2,c,1,", "d2,fair,2,c,1,high"))) == expected


def test_a_sheet_of_a_workbook_will_do(tmp_path: Path) -> None:
    read(tmp_path)
    book = Workbook()
    sheet = book.create_sheet("who was asked")
    for row in (["kind", "asked"], ["low", 3], ["high", 2]):
        sheet.append(row)
    book.save(tmp_path / "asked.xlsx")
    found = read_records(tmp_path / "days.csv", tmp_path / "values.csv", TRIAL, tmp_path / "asked.xlsx")
    assert told(found) == [("low", "", 3), ("high", "", 2)]
    assert found.asked[0] == AskedPlayers(kind="low", day="", asked=3)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (ASKED.replace("low,3", "low,-3"), "row 2, column asked: -3 cannot be; expected 0"),
        (ASKED.replace("low,3", "low,2.5"), "row 2, column asked: 2.5 is no whole number"),
        (ASKED.replace("low,3", "low,many"), "row 2, column asked: 'many' is no number"),
        (ASKED.replace("low,3", "low,"), "row 2, column asked: is empty"),
        (ASKED.replace("low,3", ",3"), "row 2, column kind: is empty"),
        (ASKED + "LOW,4\n", "asked.csv, row 4: LOW is told in asked.csv, row 2 already"),
        (ASKED.replace("high,2\n", ""), "values.csv, row 4: nobody was asked of high on day d1; who was asked lists low"),
        (ASKED.replace("low,3", "low,1"), "asked.csv, row 2: 1 were asked of low, and 2 answered fair of change 1"),
        (ASKED.replace("high,2", "high,1"), "asked.csv, row 3: 1 were asked of high, and 2 answered fair of change 1"),
        ("kind,day,asked\nlow,d1,3\nhigh,d9,2\n", "row 3, column day: 'd9' is not in the table of days"),
        ("kind,day,asked\nlow,d1,3\nhigh,,2\n", "row 3, column day: is empty"),
        ("day,asked\nd2,4\nd1,3\nd1,3\n", "row 4: day d1 is told in asked.csv, row 3 already"),
        ("day,asked\nd1,3\n", "row 2: 3 were asked of day d1, and 4 answered fair"),
        ("kind,asked\n", "has no row below its heading"),
        ("band,count\nlow,3\n", "Needed: kind, asked; or day, asked"),
    ],
)
def test_what_cannot_be_is_told_by_row(tmp_path: Path, asked: str, words: str) -> None:
    with pytest.raises(RecordError) as caught:
        read(tmp_path, asked=asked)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("d1,fair,5,f,1,\n", "values.csv, row 8: column kind: is empty"),
        ("d1,fair,5,,1,\n", "values.csv, row 8: column kind: is empty"),
        ("d1,change_met,0,f,1,\n", "values.csv, row 8: column kind: is empty"),
        ("d1,fair,5,f,1,mid\n", "values.csv, row 8: nobody was asked of mid on day d1; who was asked lists low, high"),
        ("d1,change_met,0,a,1,high\n", "values.csv, row 8: column kind: player a is high here and low in another row of that day"),
    ],
)
def test_answers_of_nobody_who_was_asked_are_told_by_row(tmp_path: Path, row: str, words: str) -> None:
    with pytest.raises(RecordError) as caught:
        read(tmp_path, values=VALUES + row)
    assert words in str(caught.value)


def test_who_met_it_and_says_nothing_more_needs_no_kind(tmp_path: Path) -> None:
    assert read(tmp_path, values=VALUES + "d1,change_met,2,f,1,\n").observations[-1].kind == ""


def test_a_player_who_answers_twice_counts_once_against_those_asked(tmp_path: Path) -> None:
    """The second answer is queried when the trial is weighed; it is not more answers than were asked."""
    assert told(read(tmp_path, asked=ASKED.replace("low,3", "low,2"), values=VALUES + "d1,fair,5,a,1,low\n"))[0] == ("low", "", 2)


def test_where_rules_differ_within_a_day_only_who_was_asked_under_the_trial_rules_can_be_told(tmp_path: Path) -> None:
    days, values = "day,date,rules\nd1,2026-04-04,both\n", "day,outcome,value,player,change,kind,arm\nd1,fair,5,a,1,low,trial\n"
    values += "d1,fair,5,b,1,,ordinary\n"
    (tmp_path / "days.csv").write_text(days, encoding="utf-8")
    (tmp_path / "values.csv").write_text(values, encoding="utf-8")
    (tmp_path / "asked.csv").write_text("kind,asked\nlow,1\n", encoding="utf-8")
    files = (tmp_path / "days.csv", tmp_path / "values.csv")
    assert told(read_records(*files, TRIAL, tmp_path / "asked.csv")) == [("low", "", 1)]
    (tmp_path / "asked.csv").write_text("day,asked\nd1,1\n", encoding="utf-8")
    with pytest.raises(RecordError, match="row 2, column day: on d1 rules differ within the day"):
        read_records(*files, TRIAL, tmp_path / "asked.csv")


@pytest.mark.parametrize(
    ("rows", "answered"),
    [
        # Who met none of the changes is heard from for each of them.
        ("d1,change_met,0,f,,low\nd1,change_met,0,g,,low\n", 4),
        # Looked at again and right: then they are two answers.
        ("d1,fair,5,a,1,low\n".replace("\n", ",yes\n") * 2, 4),
    ],
)
def test_everybody_who_is_heard_from_counts_against_those_asked(tmp_path: Path, rows: str, answered: int) -> None:
    values = VALUES
    if rows.count(",yes"):
        values = VALUES.replace(",kind\n", ",kind,checked\n", 1)
    with pytest.raises(RecordError) as caught:
        read(tmp_path, values=values + rows)
    assert f"3 were asked of low, and {answered} answered fair" in str(caught.value)


def test_one_workbook_may_hold_all_three_tables(tmp_path: Path) -> None:
    """The table of days has a day and a field, which is no number of players asked."""
    book = Workbook()
    days = "day,date,pair,rules,field\nd1,2026-04-04,p1,trial,75\nd2,2026-04-11,p1,ordinary,75\n"
    for name, text in (("days", days), ("values", VALUES), ("asked", ASKED)):
        sheet = book.create_sheet(name)
        for line in text.splitlines():
            sheet.append([int(cell) if cell.isdigit() else cell or None for cell in line.split(",")])
    path = tmp_path / "records.xlsx"
    book.save(path)
    found = read_records(path, path, TRIAL, path)
    assert told(found) == [("low", "", 3), ("high", "", 2)]
    assert [entry.kind for entry in found.observations][:3] == ["low", "low", "high"]
