"""Several recorders of one thing: measures averaged, counts that differ queried, what cannot be told apart refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.errors import RecordError
from marram.evidence.findings import weigh_trial
from marram.interchange.field.trial_records import read_records
from marram.records.rows import TrialRecords
from tests.support.seasons import expecting, trial_of

TRIAL = trial_of(expecting("round_min", 4, observes='["round_min", "rulings", "search_s", "ball_found"]'))
DAYS = "day,date,pair,rules\nd1,2026-04-04,p1,trial\nd2,2026-04-11,p1,ordinary\n"
HEAD = "day,outcome,value,group,player,hole,recorder\n"


def read(folder: Path, *rows: str) -> TrialRecords:
    (folder / "days.csv").write_text(DAYS, encoding="utf-8")
    (folder / "values.csv").write_text(HEAD + "\n".join(rows) + "\n", encoding="utf-8")
    return read_records(folder / "days.csv", folder / "values.csv", TRIAL)


def test_measures_of_one_thing_are_averaged(tmp_path: Path) -> None:
    records = read(tmp_path, "d1,round_min,230,g1,,,A", "d1,round_min,236,g1,,,B", "d1,round_min,240,g2,,,A", "d2,round_min,250,g1,,,A")
    assert [(entry.day, entry.group, entry.value) for entry in records.observations] == [
        ("d1", "g1", 233),
        ("d1", "g2", 240),
        ("d2", "g1", 250),
    ]
    assert records.observations[0].where == "values.csv, row 2 and 3"
    (readings,) = records.readings
    assert (readings.outcome, readings.values) == ("round_min", (("A", 230.0), ("B", 236.0)))
    (left,) = records.left_out
    assert (left.rows, left.day, left.outcome, left.is_query) == (1, "d1", "round_min", False)


def test_every_row_is_accounted_for(tmp_path: Path) -> None:
    rows = [
        f"d{day},round_min,{230 + group + place},g{group},,,{name}"
        for day in (1, 2)
        for group in range(3)
        for place, name in enumerate("AB")
    ]
    report = weigh_trial(TRIAL, read(tmp_path, *rows))
    told = {row.day: row for row in report.rows if row.outcome == "round_min"}
    assert {day: (row.read, row.weighed) for day, row in told.items()} == {"d1": (6, 3), "d2": (6, 3)}


def test_the_same_recorder_twice_is_a_fault_as_before(tmp_path: Path) -> None:
    for names in (("A", "A"), ("", ""), ("A", "")):
        with pytest.raises(RecordError, match="stands 2 times"):
            read(tmp_path, *(f"d1,round_min,23{place},g1,,,{name}" for place, name in enumerate(names)))


def test_counts_that_agree_count_once_and_those_that_differ_are_queried(tmp_path: Path) -> None:
    records = read(
        tmp_path, "d1,rulings,2,g1,,,A", "d1,rulings,2,g1,,,B", "d1,rulings,2,g2,,,A", "d1,rulings,3,g2,,,B", "d1,rulings,0,g3,,,A"
    )
    assert [(entry.group, entry.value) for entry in records.observations] == [("g1", 2), ("g3", 0)]
    (odd,) = [row for row in records.left_out if row.is_query]
    assert odd.rows == 2
    assert "A 2, B 3" in odd.reason
    assert records.readings == ()


def test_yes_and_no_is_not_averaged(tmp_path: Path) -> None:
    records = read(tmp_path, "d1,ball_found,yes,g1,,4,A", "d1,ball_found,no,g1,,4,B")
    assert records.observations == ()


def test_searches_of_one_recorder_stay_as_many_as_there_are(tmp_path: Path) -> None:
    records = read(tmp_path, "d1,search_s,60,g1,,4,A", "d1,search_s,80,g1,,4,A", "d1,search_s,60,,,,A", "d1,search_s,70,,,,B")
    assert [entry.value for entry in records.observations] == [60, 80, 60, 70]


def test_readings_that_cannot_be_told_apart_are_refused(tmp_path: Path) -> None:
    with pytest.raises(RecordError, match="row 2, column recorder: search_s of day d1 stands 2 times from recorder A"):
        read(tmp_path, "d1,search_s,60,g1,,4,A", "d1,search_s,80,g1,,4,A", "d1,search_s,61,g1,,4,B")
    assert [
        entry.value for entry in read(tmp_path, "d1,search_s,60,g1,,4,A", "d1,search_s,80,g1,,5,A", "d1,search_s,62,g1,,4,B").observations
    ] == [
        61,
        80,
    ]


def test_two_waves_of_one_group_are_two_things(tmp_path: Path) -> None:
    (tmp_path / "days.csv").write_text(DAYS, encoding="utf-8")
    head = "day,outcome,value,group,recorder,period,round,checked\n"
    for first, second in (("morning,", "afternoon,"), (",1", ",2")):
        rows = f"d1,round_min,230,g1,A,{first},\nd1,round_min,240,g1,B,{second},\n"
        (tmp_path / "values.csv").write_text(head + rows, encoding="utf-8")
        assert [entry.value for entry in read_records(tmp_path / "days.csv", tmp_path / "values.csv", TRIAL).observations] == [230, 240]
    (tmp_path / "values.csv").write_text(head + "d1,round_min,230,g1,A,,,\nd1,round_min,240,g1,B,,,yes\n", encoding="utf-8")
    (both,) = read_records(tmp_path / "days.csv", tmp_path / "values.csv", TRIAL).observations
    assert both.is_checked


def test_groups_of_several_days_are_kept_apart(tmp_path: Path) -> None:
    records = read(tmp_path, "d1,round_min,230,g1,,,A", "d2,round_min,240,g1,,,B", "d1,search_s,60,g1,m1,,A", "d1,search_s,62,g1,m2,,B")
    assert len(records.observations) == 4
    assert records.readings == ()
