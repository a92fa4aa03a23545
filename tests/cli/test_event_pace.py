"""`marram event pace`: time by hole, gap ahead and out of position, worked out by hand before it was run."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_event_log import Log
from tests.support.running import Run

PAR = "14 12 10 16 14 14 10 14 16 14 10 14 16 14 14 10 16 14"
TIMES = """what,group,hole,tee,in,waiting_min
hole,1,1,08:00,08:14,
hole,1,2,08:15,08:28,
hole,1,3,08:29,08:38,0
hole,2,1,08:10,08:24,
hole,2,2,08:25,08:38,
hole,2,3,08:40,08:48:30,2.5
"""
BY_HAND = {
    # Group 1 starts at 08:00 and has nobody ahead. Hole 1: 08:14 is on time. Hole 2: 08:28 against 08:26, behind: out of position, since
    # nobody is ahead of it. Hole 3: 08:38 against 08:36, still 2 behind.
    1: [(1, 14.0, None, 0.0, None, False), (2, 13.0, None, 2.0, None, True), (3, 9.0, 0.0, 2.0, None, True)],
    # Group 2 starts at 08:10. Hole 1: 08:24 is on time, 10 min after group 1. Hole 2: 08:38 against 08:36, 2 behind, but 10 min after group
    # 1 and not more: in position. Hole 3: 08:48:30 against 08:46, 2.5 behind and 10.5 min after group 1: out of position.
    2: [(1, 14.0, None, 0.0, 10.0, False), (2, 13.0, None, 2.0, 10.0, False), (3, 8.5, 2.5, 2.5, 10.5, True)],
}


@pytest.fixture
def log(called: Run, tmp_path: Path) -> Log:
    made = Log(called, tmp_path).begin("one", "2026-06-13")
    made.take(TIMES)
    return made


def told(found: dict[str, Any]) -> dict[int, list[tuple[Any, ...]]]:
    names = ("hole", "took_min", "waited_min", "behind_min", "gap_min", "out_of_position")
    return {group["group"]: [tuple(hole[name] for name in names) for hole in group["holes"]] for group in found["groups"]}


def test_groups_stand_as_worked_out_by_hand(log: Log) -> None:
    found = json.loads(log.run("pace", "--time-par", PAR, "--json"))
    assert told(found) == BY_HAND
    assert found["gap_min"] == 10.0, "the start interval of the terms"
    text = log.run("pace")
    assert "time par 4:02 for the round, gap 10 min" in text
    assert "group  2  hole  3 8.5 min, waited 2.5, 2.5 min behind, 10.5 min after the group ahead  out of position on 3" in text
    assert log.run("pace", "--group", "2").count("out of position") == 1
    assert "no times of holes are written down yet" in log.run("pace", "--round", "2")


def test_without_a_time_par_times_and_gaps_alone_are_told(log: Log) -> None:
    found = json.loads(log.run("pace", "--json"))
    assert (found["time_par_min"], found["gap_min"]) == ([], None)
    assert {hole["behind_min"] for group in found["groups"] for hole in group["holes"]} == {None}
    assert {hole["out_of_position"] for group in found["groups"] for hole in group["holes"]} == {None}
    assert [hole["gap_min"] for hole in found["groups"][1]["holes"]] == [10.0, 10.0, 10.5]
    assert "no time par is set" in log.run("pace")


def test_a_larger_gap_lets_a_group_stay_in_position(log: Log) -> None:
    log.run("pace", "--time-par", "3=10 4=14 5=16", "--gap", "11")
    found = told(json.loads(log.run("pace", "--json")))
    assert [hole[-1] for hole in found[2]] == [False, False, False]
    assert "stands already" in log.run("pace", "--time-par", PAR, code=3)
    log.run("pace", "--time-par", PAR, "--gap", "8", "--reason", "wind")
    assert [hole[-1] for hole in told(json.loads(log.run("pace", "--json")))[2]] == [False, True, True]


def test_a_group_that_waits_for_the_time_of_the_group_ahead_is_not_judged(log: Log) -> None:
    log.take("what,group,hole,tee,in\nhole,2,4,08:49,09:20\n")
    found = told(json.loads(log.run("pace", "--time-par", PAR, "--json")))
    assert found[2][3] == (4, 31.0, None, 18.0, None, None)


@pytest.mark.parametrize(
    ("words", "told", "code"),
    [
        (("--time-par", "14 12"), "It names 2 holes, and the course has 18", 3),
        (("--time-par", "3=10 4=14"), "It says nothing of holes of par 5", 3),
        (("--time-par", "3=1 4=14 5=16"), "1 min for a hole cannot be", 3),
        (("--time-par", "3=x 4=14 5=16"), "'x' is no number of minutes", 3),
        (("--time-par", PAR, "--gap", "0"), "A gap of 0 min cannot be", 3),
        (("--gap", "9"), "--gap is set together with --time-par", 2),
    ],
)
def test_a_time_par_that_cannot_be_is_refused(log: Log, words: tuple[str, ...], told: str, code: int) -> None:
    assert told in log.run("pace", *words, code=code)
    assert json.loads(log.run("pace", "--json"))["gap_min"] is None
