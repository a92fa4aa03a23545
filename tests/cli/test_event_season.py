"""`marram event season`: what came up by hole, place, act and hour, counted by hand, and edges beside the check of the marking."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_event_log import Log
from tests.support.running import ROOT, Run

COURSE = ROOT / "examples" / "courses" / "thimble-moor.geojson"
FIRST = """what,group,hole,act,spot,feature,x_m,y_m,at,ruling_s,search_s,relief_s
ruling,1,9,penalty-area,,pond-9,,,10:05,120,,
drop,1,9,penalty-area,,pond-9,-152.7,-114.6,10:40,,,60
search,2,12,,Rough behind the green,,,,11:10,,180,
putt,1,9,,,,,,,,,
"""
SECOND = """what,group,hole,act,spot,feature,x_m,y_m,at,ruling_s,search_s,relief_s
search,1,12,,rough  behind the green,,,,11:59,,60,
drop,2,5,unplayable,,,-212.0,-60.0,,,,
drop,2,5,unplayable,,,-203.0,-48.0,,,,
drop,2,5,unplayable,,,-190.0,-60.0,,,,
ruling,2,15,immovable-obstruction,,path-99,,,,,,
"""


@pytest.fixture
def log(called: Run, tmp_path: Path) -> Log:
    made = Log(called, tmp_path).begin("one", "2026-06-13").begin("two", "2026-06-20")
    made.take(FIRST.replace("putt,1,9,,,,,,,,,\n", ""), "--event", "one")
    made.take(SECOND, "--event", "two")
    made.run("log", "Aster", "--hole", "4", "--strokes", "2", "--says", "wrong place", "--event", "one")
    made.run("log", "Dock", "--says", "asked of a path", "--event", "one")
    made.run("observe", "ruling", "--ruling", "R2", "--hole", "15", "--say", "feature=path-15", "--event", "one")
    made.run("log", "Dock", "--hole", "7", "--strokes", "2", "--says", "struck out", "--event", "one")
    made.run("log", "Dock", "--strike", "R3", "--reason", "not this player", "--event", "one")
    return made


def asked(log: Log, *words: str | Path) -> dict[str, Any]:
    code, out, err = log.called("event", "season", "--store", log.store, "--json", *map(str, words))
    assert code == 0, err
    found: dict[str, Any] = json.loads(out)
    return found


def rows(found: list[dict[str, Any]]) -> list[tuple[str, int, int, int]]:
    return [(row["name"], row["rulings"], row["searches"], row["drops"]) for row in found]


def test_a_season_is_counted_as_by_hand(log: Log) -> None:
    """Rulings: two of the tables, R1 and R2; R3 is struck. Searches 2; drops 1 + 3."""
    found = asked(log)
    assert (found["rulings"], found["searches"], found["drops"]) == (4, 2, 4)
    assert found["events"] == [{"event": "one", "date": "2026-06-13"}, {"event": "two", "date": "2026-06-20"}]
    assert rows(found["by_hole"]) == [("5", 0, 0, 3), ("9", 1, 0, 1), ("12", 0, 2, 0), ("15", 2, 0, 0), ("4", 1, 0, 0)]
    assert [row["took_min"] for row in found["by_hole"]] == [0.0, 3.0, 4.0, 0.0, 0.0]
    assert rows(found["by_act"])[:3] == [("unplayable", 0, 0, 3), ("penalty-area", 1, 0, 1), ("immovable-obstruction", 1, 0, 0)]
    assert rows(found["by_act"])[-1] == ("", 2, 2, 0), "what nobody says comes last"
    assert rows(found["by_hour"]) == [("10", 1, 0, 1), ("11", 0, 2, 0), ("", 3, 0, 3)]


def test_what_lies_near_on_one_hole_is_one_place(log: Log) -> None:
    """By hand: from (-212, -60) to (-203, -48) are 15 m, to (-190, -60) 22 m; words are one place however they are written."""
    places = [(one["hole"], one["feature"], one["spot"].casefold(), one["searches"], one["drops"]) for one in asked(log)["places"]]
    assert (5, "", "", 0, 2) in places and (5, "", "", 0, 1) in places
    assert (12, "", "rough behind the green", 2, 0) in places
    assert (9, "pond-9", "", 0, 1) in places
    assert len(places) == 6


def test_penalty_areas_stand_beside_the_check_of_the_marking(log: Log) -> None:
    found = asked(log, "--course", COURSE)
    code, out, _ = log.called("course", "marking", str(COURSE), "--json")
    assert code == 1
    marking: dict[str, int] = {}
    for place in json.loads(out)["books"][0]["places"]:
        if place["fault"] != "small":
            marking[place["feature"]] = marking.get(place["feature"], 0) + 1
    edges = {edge["feature"]: edge for edge in found["edges"]}
    assert {name: sum(fault["places"] for fault in edge["faults"]) for name, edge in edges.items() if edge["faults"]} == marking
    first = found["edges"][0]
    assert (first["feature"], first["rulings"], first["drops"], first["look_at"]) == ("pond-9", 1, 1, True)
    assert first["words"] == "pond, hole 9"
    assert not any(edge["look_at"] for edge in found["edges"][1:])
    assert found["unknown"] == ["path-99"]


def test_the_season_is_drawn_on_the_plan(log: Log) -> None:
    out = log.folder / "season.svg"
    code, told, err = log.called("event", "season", "--store", log.store, "--course", str(COURSE), "--draw", str(out))
    assert code == 0, err
    text = out.read_text(encoding="utf-8")
    assert "1. Hole 5: 2 drops" in text and "Hole 9, pond: 1 ruling, 1 drop" in text
    assert "Not measured: Hole 12, Rough behind the green: 2 searches" in text
    assert "look here: pond-9, pond, hole 9: rulings 1, searches 0, drops 1; marking: 1 nowhere to drop" in told
    assert "the survey has no path-99" in told
    older = ("--course", str(COURSE), "--book", "2016", "--draw", str(out), "--replace")
    code, told, err = log.called("event", "season", "--store", log.store, *older)
    assert code == 0, err
    assert "pond-9, pond, hole 9: rulings 1" in told
    code, _, err = log.called("event", "season", "--store", log.store, "--draw", str(out))
    assert code == 2 and "--draw needs --course" in err


def test_a_season_of_books_that_have_changed_is_still_told(log: Log) -> None:
    (log.folder / "trial.toml").write_text((log.folder / "trial.toml").read_text(encoding="utf-8").replace("now = 2", "now = 1"))
    assert asked(log, "--event", "one")["searches"] == 1
