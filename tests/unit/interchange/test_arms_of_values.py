"""Days on which rules differ: the values say under which rules, in which round and in which part of the day they were observed."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.errors import RecordError
from marram.interchange.field.trial_records import read_records
from marram.records.rows import Arm, TrialRecords
from marram.rulebook import packaged_catalogue
from marram.rulebook.overlays.overlay import read_overlay

TRIAL = """
title = "A trial"
dated = 2026-03-01
on = ["2023"]
[[change]]
key = "search.limit_min"
was = 3
now = 2
because = "Quicker."
observes = ["search_s", "round_min", "fair", "strokes"]
"""
DAYS = "day,date,rules,course,period\nd1,2026-04-04,both,Moor,\n"
HEAD = "day,outcome,value,group,player,round,arm,period\n"


def read(tmp_path: Path, values: str, days: str = DAYS) -> TrialRecords:
    (tmp_path / "days.csv").write_text(days, encoding="utf-8")
    (tmp_path / "values.csv").write_text(HEAD + values, encoding="utf-8")
    trial = read_overlay(TRIAL, name="t", catalogue=packaged_catalogue())
    return read_records(tmp_path / "days.csv", tmp_path / "values.csv", trial)


def told(tmp_path: Path, values: str, days: str = DAYS) -> str:
    with pytest.raises(RecordError) as problem:
        read(tmp_path, values, days)
    return str(problem.value)


def test_one_row_of_a_group_and_round_says_the_rules_for_all(tmp_path: Path) -> None:
    values = "d1,strokes,80,g1,a,1,Trial,\nd1,strokes,82,g1,b,1,,\nd1,strokes,79,g1,a,2,,\nd1,fair,4,g1,b,2,ordinary,\n"
    records = read(tmp_path, values)
    assert [(entry.round, entry.arm) for entry in records.observations] == [
        (1, Arm.TRIAL),
        (1, Arm.TRIAL),
        (2, Arm.ORDINARY),
        (2, Arm.ORDINARY),
    ]
    assert records.days[0].arm is None
    assert not records.pairs()


def test_parts_of_a_day_stand_apart(tmp_path: Path) -> None:
    values = "d1,round_min,240,g1,,,trial,morning\nd1,round_min,250,g1,,,ordinary,afternoon\n"
    assert [(entry.period, entry.arm) for entry in read(tmp_path, values).observations] == [
        ("morning", Arm.TRIAL),
        ("afternoon", Arm.ORDINARY),
    ]


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ("d1,strokes,80,g1,a,1,trial,\nd1,strokes,82,g1,b,1,ordinary,\n", "group g1, round 1: has both sets of rules at once: row 3"),
        ("d1,strokes,80,g1,a,1,,\n", "row 2, column arm: is empty: rules differ within day d1"),
        ("d1,strokes,80,g1,a,1,trial,\nd1,strokes,80,,b,1,,\n", "row 3, column arm: is empty and names no group"),
        ("d1,strokes,80,g1,a,1,usual,\n", "row 2, column arm: 'usual'; expected one of trial, ordinary"),
        ("d1,strokes,80,g1,a,3,trial,\n", "row 2, column round: 3 cannot be; expected 1 to 2"),
        ("d1,strokes,80,g1,a,one,trial,\n", "row 2, column round: 'one' is no number"),
        ("d1,strokes,80,g1,a,1.5,trial,\n", "row 2, column round: 1.5 is no whole number"),
        ("d1,search_s,80,,,1,trial,\n", "row 2, column group: is empty"),
        ("d1,strokes,80,g1,a,1,trial,\nd1,strokes,81,g1,a,1,trial,\n", "strokes stands 2 times"),
    ],
)
def test_what_is_wrong_is_told_by_row_and_column(tmp_path: Path, values: str, words: str) -> None:
    assert words in told(tmp_path, values)


def test_on_a_day_under_one_set_of_rules_no_value_says_another(tmp_path: Path) -> None:
    days = "day,date,rules,pair\nd1,2026-04-04,trial,p1\nd2,2026-04-11,ordinary,p1\n"
    assert "row 3, column arm: ordinary; day d1 was played under trial rules" in told(
        tmp_path, "d1,strokes,80,g1,a,,trial,\nd1,strokes,80,g1,b,,ordinary,\n", days
    )


def test_a_day_of_a_span_of_time_needs_no_pair_and_one_of_a_pair_does(tmp_path: Path) -> None:
    days = "day,date,rules,period\nd1,2026-04-04,trial,April\nd2,2026-05-11,ordinary,May\n"
    assert [(day.period, day.pair) for day in read(tmp_path, "d1,strokes,80,g1,a,,,\n", days).days] == [("April", ""), ("May", "")]
    assert "row 2, column pair: is empty" in told(tmp_path, "d1,strokes,80,g1,a,,,\n", days.replace("April", ""))


def test_days_of_two_trials_in_one_table_are_told(tmp_path: Path) -> None:
    days = "day,date,rules,pair\nd1,2026-04-04,both,\nd2,2026-04-11,ordinary,p1\nd3,2026-04-18,trial,p1\n"
    assert "some days are both and others are not" in told(tmp_path, "d1,strokes,80,g1,a,1,trial,\n", days)
