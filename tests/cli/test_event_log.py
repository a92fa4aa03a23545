"""`marram event observe`, `observed`, `watch` and `records`: what is refused, what is written once, and what leaves the store."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from tests.support.running import Run

TERMS = """title = "Log day"
form = "stroke-play"
scores = "gross"
course = "Moor"
day = 2026-06-13
[start]
first = "08:00"
interval_min = 10
[[tee]]
name = "white"
par = [4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4]
"""
GROUPS = "player,group\nAster,1\nBracken,1\nClover,2\nDock,2\n"
TRIAL = """title = "Two minutes"
dated = 2026-03-01
on = ["2023"]
status = "closed"
from = 2026-04-01
until = 2026-09-30
[[change]]
key = "search.limit_min"
was = 3
now = 2
because = "Groups behind wait."
aim = "Less time spent on searching."
expects = { outcome = "search_s", direction = "down", matters = 15 }
observes = ["search_s", "waiting_min", "disputes", "round_min", "hole_min", "penalty_strokes"]
"""


class Log:
    """An event of four players in two groups, in a folder of its own."""

    def __init__(self, called: Run, folder: Path) -> None:
        self.called, self.folder = called, folder
        self.store = str(folder / "store.sqlite")
        (folder / "trial.toml").write_text(TRIAL, encoding="utf-8")

    def begin(self, event: str, day: str, book: str = "2023") -> Log:
        terms = self.file("terms.toml", TERMS.replace("2026-06-13", day))
        groups = self.file("groups.csv", GROUPS)
        self.run("new", terms, "--event", event, "--book", book)
        self.run("enter", groups, "--event", event)
        self.run("draw", "--by", "list", "--from", groups, "--event", event)
        self.run("times", "--event", event)
        return self

    def file(self, name: str, text: str) -> Path:
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        return path

    def run(self, command: str, *words: str | Path, code: int = 0) -> str:
        signed = [] if command in {"history", "list"} else ["--who", "Rowan"]
        ended, out, err = self.called("event", command, *map(str, words), "--store", self.store, *signed)
        assert ended == code, out + err
        return out if code == 0 else err

    def take(self, text: str, *words: str, code: int = 0) -> Any:  # noqa: ANN401 - JSON, or what is told of faults
        out = self.run("observed", self.file("log.csv", text), *words, *(["--json"] if code == 0 else []), code=code)
        return json.loads(out) if code == 0 else out

    def values(self, *words: str) -> tuple[list[list[str]], dict[str, Any]]:
        out = self.run("records", "--trial", self.folder / "trial.toml", "-o", self.folder / "out", *words, "--json")
        with (self.folder / "out" / "values.csv").open(encoding="utf-8", newline="") as file:
            rows = [[row["day"], row["outcome"], row["value"], row["group"], row.get("player", "")] for row in csv.DictReader(file)]
        return rows, json.loads(out)


@pytest.fixture
def log(called: Run, tmp_path: Path) -> Log:
    return Log(called, tmp_path).begin("one", "2026-06-13")


@pytest.fixture
def pair(called: Run, tmp_path: Path) -> Log:
    made = Log(called, tmp_path)
    return made.begin("tried", "2026-06-13", f"2023+{tmp_path / 'trial.toml'}").begin("usual", "2026-06-20")


FAULTS = [
    ("what,group\ndance,1\n", "row 2, column what: 'dance'"),
    ("what,group\n,1\n", "row 2, column what: it is empty"),
    ("what,group,search_s\nsearch,3,60\n", "row 2, column group: there is no group 3; groups 1 to 2 were drawn"),
    ("what,player,search_s\nsearch,Elder,60\n", "row 2, column player: Elder has not entered"),
    ("what,player,group,search_s\nsearch,Aster,2,60\n", "row 2, column group: Aster plays in group 1"),
    ("what,group,hole,search_s\nsearch,1,19,60\n", "row 2, column hole: 19 cannot be"),
    ("what,group,search_s\nsearch,1,11:00\n", "row 2, column search_s: 660 s cannot be; expected 0 to 600"),
    ("what,group,ball_found\nsearch,1,perhaps\n", "row 2, column ball_found: 'perhaps' is no number"),
    ("what,group,stick_in\nsearch,1,yes\n", "row 2, column stick_in: it is not measured of a search"),
    ("what,search_s\nsearch,60\n", "row 2, column group: whose it is must be said"),
    ("what,group,tee,in\nround,1,12:00,08:00\n", "row 2, column in: 08:00 comes before 12:00 under tee: times run backwards"),
    ("what,group,tee\nround,1,25:00\n", "row 2, column tee: '25:00' is no time of day"),
    ("what,group,tee\nhole,1,08:00\n", "row 2, column hole: is empty"),
    ("what,group,hole\nhole,1,4\n", "row 2, column what: a hole of which nothing was measured says nothing"),
    ("what,group,tee\nsearch,1,08:00\n", "row 2, column tee: times of a group are of a round or a hole"),
    ("what,group,penalty_strokes\nround,1,3\n", "row 2, column player: is empty, and penalty_strokes is one player's own"),
    ("what,ruling,ruling_s\nruling,R9,60\n", "row 2, column ruling: no ruling R9 is logged"),
    ("what,group,round,search_s\nsearch,1,2,60\n", "row 2, column round: the event has 1"),
    ("what,group,x_m\nsearch,1,3.5\n", "row 2, column x_m: a place has both x_m and y_m"),
    ("what,group,outcomes\nwatched,1,strokes\n", "row 2, column outcomes: 'strokes' is nothing that is watched for"),
    ("what,group,outcomes\nwatched,1,\n", "row 2, column outcomes: is empty"),
    ("what,group,outcomes\nwatched,7,searches\n", "row 2, column group: there is no group 7"),
    ("what,id,group,search_s\nsearch,a,1,60\nsearch,a,1,70\n", "row 2, column id: a stands 2 times"),
    ("what,id,group,search_s\nsearch,a b!,1,60\n", "row 2, column id: letters, digits"),
    ("what,group,checked\nsearch,1,maybe\n", "row 2, column checked: 'maybe'; expected yes or no"),
    ("what,group\n", "there is no row below the heading"),
    ("group,search_s\n1,60\n", "Needed: what"),
]


@pytest.mark.parametrize(("text", "told"), FAULTS)
def test_what_is_wrong_with_a_log_is_told_and_nothing_is_written(log: Log, text: str, told: str) -> None:
    found = log.take(text, code=2)
    assert told in " ".join(found.split())
    assert log.run("history", "--event", "one").count("observed") == 0


def test_every_fault_of_a_log_is_told_in_one_pass_and_good_rows_wait_too(log: Log) -> None:
    found = log.take("what,group,search_s\nsearch,1,60\nsearch,9,60\nsearch,1,xx\n", code=2)
    assert "row 4, column search_s" in found
    found = log.take("what,group,search_s\nsearch,1,60\nsearch,9,60\nsearch,8,60\n", code=2)
    assert "row 3, column group" in found and "row 4, column group" in found
    assert "observed" not in log.run("history")


def test_a_log_that_is_brought_in_again_is_not_written_twice(log: Log) -> None:
    text = "what,group,hole,search_s\nsearch,1,3,60\nsearch,1,3,60\n"
    assert log.take(text) == {"added": 2, "changed": 0, "event": "one", "same": 0, "schema": "marram.event-observed/1"}
    again = log.take(text + "search,2,4,70\n")
    assert (again["added"], again["same"]) == (1, 2)
    assert re.findall(r"observed (L\d+)", log.run("history")) == ["L1", "L2", "L3"]


def test_a_row_with_a_name_is_put_right_with_a_reason_only(log: Log) -> None:
    log.take("what,id,group,search_s\nsearch,w1-4,1,60\n")
    assert "says something else" in log.take("what,id,group,search_s\nsearch,w1-4,1,90\n", code=2)
    found = log.take("what,id,group,search_s\nsearch,w1-4,1,90\n", "--reason", "misread")
    assert (found["added"], found["changed"], found["same"]) == (0, 1, 0)
    assert "stands already" in log.run("observe", "search", "--group", "1", "--name", "w1-4", code=3)
    log.run("observe", "search", "--name", "w1-4", "--strike", code=3)
    assert "struck out" in log.run("observe", "search", "--name", "w1-4", "--strike", "--reason", "another group's")
    assert "no entry w9" in log.run("observe", "search", "--name", "w9", "--strike", "--reason", "x", code=3)


def test_one_thing_is_typed_as_a_row_of_the_table_would_be(log: Log) -> None:
    assert log.run("observe", "drop", "--player", "Dock", "--hole", "9", "--value", "Drops=2", code=2).count("Drops")
    found = json.loads(
        log.run("observe", "drop", "--player", "Dock", "--hole", "9", "--value", "drops_per_relief=2", "--value", "placed=yes", "--json")
    )
    assert (found["entry"], found["what"], found["hole"], found["player"]) == ("L1", "drop", 9, "Dock")
    assert found["values"] == [{"outcome": "drops_per_relief", "value": 2.0}, {"outcome": "placed", "value": 1.0}]
    assert "nearest: search_s" in log.run("observe", "search", "--group", "1", "--value", "serch_s=60", code=2)
    assert "names nothing" in log.run("observe", "search", "--group", "1", "--value", "60", code=2)


def test_a_workbook_is_read_as_the_csv_is(log: Log) -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (["Seen on the day"], ["What", "Group", "Hole", "Time of the search"], ["search", 1, 3, "2:05"], ["search", 2, 4, 61]):
        sheet.append(row)
    book.save(log.folder / "log.xlsx")
    found = json.loads(log.run("observed", log.folder / "log.xlsx", "--json"))
    assert found["added"] == 2
    assert '"search_s":125.0' in log.run("history", "--event", "one")


def test_counts_are_of_watched_groups_alone(pair: Log) -> None:
    text = "what,group,hole,search_s,waiting_min,disputes\nsearch,1,3,60,,\nhole,1,4,,3,\nhole,1,5,,2.5,\nhole,2,5,,2,\nruling,2,6,,,yes\n"
    pair.take(text, "--event", "tried")
    rows, told = pair.values()
    assert [row[1:4] for row in rows] == [["search_s", "60", "g01"]]
    assert "tried: nobody says that group 1, 2 was watched for waiting_min all round: no count" in told["remarks"]
    pair.run("watch", "searches", "waiting_min", "disputes", "--event", "tried")
    rows, told = pair.values()
    assert sorted(row[1:4] for row in rows) == [
        ["disputes", "0", "g01"],
        ["disputes", "1", "g02"],
        ["search_s", "60", "g01"],
        ["searches", "0", "g02"],
        ["searches", "1", "g01"],
        ["waiting_min", "2", "g02"],
        ["waiting_min", "5.5", "g01"],
    ]
    pair.run("watch", "disputes", "--not", "--event", "tried", code=3)
    pair.run("watch", "disputes", "--not", "--reason", "nobody went with them", "--event", "tried")
    assert "disputes" not in {row[1] for row in pair.values()[0]}


def test_one_group_is_watched_in_one_round(pair: Log) -> None:
    found = json.loads(pair.run("watch", "disputes", "--group", "2", "--round", "1", "--event", "tried", "--json"))
    assert (found["added"], found["changed"], found["same"]) == (1, 0, 0)
    assert json.loads(pair.run("watch", "disputes", "--group", "2", "--event", "tried", "--json"))["same"] == 1
    assert [row[1:4] for row in pair.values("--replace")[0]] == [["disputes", "0", "g02"]]


def test_the_first_and_the_last_hole_give_the_round_and_a_suspension_takes_it(pair: Log) -> None:
    text = "what,group,hole,tee,in\nhole,1,1,08:00,08:14\nhole,1,18,11:40,12:02\nhole,2,1,08:10,08:22\nhole,2,17,11:40,12:00\n"
    pair.take(text, "--event", "usual")
    rows, _ = pair.values()
    assert sorted(row[1:4] for row in rows) == [
        ["hole_min", "12", "g02"],
        ["hole_min", "14", "g01"],
        ["hole_min", "20", "g02"],
        ["hole_min", "22", "g01"],
        ["round_min", "242", "g01"],
    ]
    pair.run("suspend", "--signal", "normal", "--at", "11:50", "--reason", "fog", "--event", "usual")
    pair.run("resume", "--at", "12:10", "--event", "usual")
    rows, told = pair.values()
    assert sorted(row[1:4] for row in rows) == [["hole_min", "12", "g02"], ["hole_min", "14", "g01"]]
    assert "usual: group 1: play was suspended, so there is no time of the round" in told["remarks"]
    note = (pair.folder / "out" / "days.csv").read_text(encoding="utf-8")
    assert "Play was suspended from 11:50 to 12:10: fog." in note


def test_a_time_that_cannot_be_is_told_and_has_no_row(pair: Log) -> None:
    pair.take("what,group,tee,in\nround,1,08:00,09:20\n", "--event", "tried")
    rows, told = pair.values()
    assert rows == []
    assert "tried: group 1: round_min of 80 min cannot be; expected 90 to 480" in told["remarks"]
    pair.take("what,group,tee,in\nround,2,08:10,16:20\n", "--event", "tried")
    rows, told = pair.values()
    assert rows == [] and "tried: group 2: round_min of 490 min cannot be; expected 90 to 480" in told["remarks"]


def test_a_ruling_is_logged_with_its_seconds_in_one(pair: Log) -> None:
    pair.run("log", "Aster", "--hole", "2", "--strokes", "2", "--says", "wrong place", "--seconds", "95", "--event", "usual")
    pair.run("observe", "ruling", "--ruling", "R1", "--name", "L1", "--value", "ruling_s=100", "--reason", "x", "--event", "usual")
    history = pair.run("history", "--event", "usual")
    assert '"ruling":"R1"' in history and '"ruling_s":95.0' in history
    redone = ("--strokes", "1", "--supersede", "R1", "--reason", "wrong act", "--seconds", "120", "--event", "usual")
    pair.run("log", "Aster", "--hole", "2", *redone)
    history = pair.run("history", "--event", "usual")
    assert history.count("observed L1") == 3 and "observed L2" not in history
    rows = history.count("ruling R")
    assert "A ruling of 4 s cannot be" in pair.run("log", "Dock", "--says", "quick", "--seconds", "4", "--event", "usual", code=3)
    assert pair.run("history", "--event", "usual").count("ruling R") == rows, "nothing of it is written"


def test_names_stay_in_the_store_and_a_player_keeps_one_number(pair: Log) -> None:
    text = "what,player,penalty_strokes,recorder\nround,Aster,2,Willow\nround,Dock,1,Willow\n"
    pair.take(text, "--event", "tried")
    pair.take("what,player,penalty_strokes,recorder\nround,aster,0,Yarrow\n", "--event", "usual")
    rows, _ = pair.values()
    first = (pair.folder / "out" / "values.csv").read_text(encoding="utf-8")
    assert not any(name in first.casefold() for name in ("aster", "dock", "willow", "yarrow"))
    of = {(row[0], row[2]): row[4] for row in rows}
    assert of["tried", "2"] == of["usual", "0"] != of["tried", "1"]
    assert all(re.fullmatch(r"p\d{3,}", name) for name in of.values())
    pair.values()
    assert (pair.folder / "out" / "values.csv").read_text(encoding="utf-8") == first
    code, out, _ = pair.called("store", "verify", "--store", pair.store, "--json")
    assert code == 0 and {one["event"]: one["rows"] for one in json.loads(out)["events"]}["/pseudonyms"] == 4
    assert "pseudonyms" not in pair.run("list")


def test_days_are_those_of_the_trial_and_its_pairs(pair: Log) -> None:
    made = pair.values()[1]
    assert [(day["day"], day["pair"], day["rules"], day["field"]) for day in made["days"]] == [
        ("tried", "p01", "trial", 4),
        ("usual", "p01", "ordinary", 4),
    ]
    pair.begin("third", "2026-06-27")
    trial: list[str | Path] = ["--trial", pair.folder / "trial.toml", "-o", pair.folder / "out"]
    assert "3 events in no pair: tried, usual, third" in pair.run("records", *trial, code=3)
    assert "1 event in no pair: third" in pair.run("records", *trial, "--pair", "p07=tried,usual", code=3)
    assert "is no event of these" in pair.run("records", *trial, "--pair", "p07=tried,fourth", code=3)
    assert "is no pair" in pair.run("records", *trial, "--pair", "p07=tried", code=3)
    assert "usual (ordinary), third (ordinary)" in pair.run("records", *trial, "--pair", "p07=usual,third", code=3)
    assert "stands in pair p07 and in pair p08" in pair.run(
        "records", *trial, "--pair", "p07=tried,usual", "--pair", "p08=tried,third", code=3
    )
    pair.run("records", *trial, "--event", "usual", "--event", "tried", "--pair", "p07=tried,third", code=3)
    pair.run("records", *trial, "--event", "usual", "--event", "tried", "--pair", "p07=tried,usual")
    pair.file("trial.toml", TRIAL.replace("now = 2", "now = 1"))
    assert "has changed since the event began" in pair.run("records", *trial, "--event", "usual", "--event", "tried", code=3)


def test_an_event_of_several_rounds_is_no_day_of_a_trial(called: Run, tmp_path: Path) -> None:
    made = Log(called, tmp_path)
    terms = TERMS.replace('form = "stroke-play"', 'form = "stroke-play"\nrounds = 2')
    made.run("new", made.file("terms.toml", terms), "--event", "long")
    made.run("enter", made.file("groups.csv", GROUPS), "--event", "long")
    made.run("draw", "--by", "list", "--from", made.file("groups.csv", GROUPS), "--event", "long")
    made.take("what,player,round,search_s\nsearch,Aster,2,60\n")
    assert "row 2, column round: the event has 2" in made.take("what,player,round,search_s\nsearch,Aster,3,60\n", code=2)
    made.run("new", made.file("terms.toml", TERMS), "--event", "short")
    out = ["--trial", str(made.folder / "trial.toml"), "-o", str(made.folder / "out")]
    assert "has 2 rounds" not in made.run("records", *out, "--event", "short", code=3)
    made.run("new", made.file("tried.toml", TERMS), "--event", "tried", "--book", f"2023+{made.folder / 'trial.toml'}")
    assert "It has 2 rounds" in made.run("records", *out, "--event", "long", "--event", "tried", code=3)


def test_an_event_of_another_edition_or_of_another_trial_of_that_name_is_refused(pair: Log) -> None:
    pair.begin("older", "2026-06-27", "2019")
    out = ["-o", str(pair.folder / "out")]
    asked = ["--event", "tried", "--event", "older", *out]
    told = pair.run("records", "--trial", pair.folder / "trial.toml", *asked, code=3)
    assert "older was played under the edition of 2019, and the trial is on 2023" in told
    other = pair.file("other.toml", TRIAL.replace("now = 2", "now = 1"))
    told = pair.run("records", "--trial", other, "--event", "tried", "--event", "usual", *out, code=3)
    assert "tried was played under a trial of that name that says something else" in told


def test_strokes_are_of_eighteen_holes(called: Run, tmp_path: Path) -> None:
    """By hand: 9 holes of 7 are 63, which could pass for a round of 18."""
    made = Log(called, tmp_path)
    made.file("trial.toml", TRIAL.replace('"penalty_strokes"', '"strokes"'))
    nine = TERMS.replace("[4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4]", "[4, 4, 3, 5, 4, 4, 3, 4, 5]")
    groups = made.file("groups.csv", GROUPS)
    for event, book, day in (("tried", f"2023+{made.folder / 'trial.toml'}", "2026-06-13"), ("usual", "2023", "2026-06-20")):
        made.run("new", made.file("terms.toml", nine.replace("2026-06-13", day)), "--event", event, "--book", book)
        made.run("enter", groups, "--event", event)
        made.run("draw", "--by", "list", "--from", groups, "--event", event)
        cards = made.file("cards.csv", "player," + ",".join(map(str, range(1, 10))) + "\nAster" + ",7" * 9 + "\n")
        made.run("cards", cards, "--event", event)
    assert made.values()[0] == []


def test_a_ruling_that_is_logged_counts_once(pair: Log) -> None:
    pair.file("trial.toml", TRIAL)
    pair.run("log", "Aster", "--hole", "2", "--strokes", "2", "--says", "wrong place", "--event", "tried")
    pair.run("log", "Clover", "--says", "relief from a path", "--event", "tried")
    pair.run("observe", "ruling", "--ruling", "R1", "--value", "disputes=yes", "--value", "ruling_s=90", "--event", "tried")
    pair.run("observe", "ruling", "--group", "2", "--hole", "5", "--event", "tried")
    pair.run("log", "Clover", "--strike", "R2", "--reason", "nothing was asked", "--event", "tried")
    pair.run("watch", "disputes", "--event", "tried")
    rows, told = pair.values()
    assert Counter((row[1], row[2], row[3]) for row in rows) == {("disputes", "1", "g01"): 1, ("disputes", "0", "g02"): 1}
    assert "tried: no change of the trial observes ruling_s; 1 values stay here" in told["remarks"]
    assert "tried: nobody says that group 1, 2 was watched for rulings all round: no count" in told["remarks"]
