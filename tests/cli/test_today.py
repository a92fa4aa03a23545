"""The conditions of the day on the command line: laid on the survey, ruled on, drawn, and told apart from it."""

from __future__ import annotations

import json
from pathlib import Path

from tests.support.running import marram

COURSE, TODAY = "examples/courses/thimble-moor.geojson", "examples/days/2026-06-13.toml"
PUDDLE = "examples/days/incidents/puddle-9.toml"


def test_a_ball_in_todays_water_gets_relief_and_without_the_file_none() -> None:
    today = marram("rule", PUDDLE, "--course", COURSE, "--today", TODAY, "--book", "2023", "--json")
    assert today.returncode == 0, today.stderr
    answer = json.loads(today.stdout)
    option = answer["books"][0]["options"][0]
    assert option["penalty_strokes"] == 0
    assert option["interference"]["condition"] == "puddle"
    assert option["relief_area"]["area_m2"] > 0
    assert answer["today"]["date"] == "2026-06-13"
    assert [entry["kind"] for entry in answer["today"]["conditions"]] == ["temporary-water", "ground-under-repair", "no-play-zone"]
    assert {entry["hole"]: entry["written"] for entry in answer["today"]["hole_locations"]} == {
        7: {"on": 11, "right": 9.5, "unit": "m"},
        9: {"on": 8, "left": 9, "unit": "paces"},
    }
    bare = json.loads(marram("rule", PUDDLE, "--course", COURSE, "--book", "2023", "--json").stdout)
    assert "today" not in bare
    assert bare["books"][0]["options"] == []


def test_the_text_says_what_is_of_the_day() -> None:
    done = marram("rule", PUDDLE, "--course", COURSE, "--today", TODAY, "--book", "2023")
    assert "Of the day 2026-06-13 (2026-06-13.toml), not of the survey: puddle (today-1)" in done.stdout


def test_the_moved_hole_moves_the_relief_area() -> None:
    pond = ("rule", "examples/incidents/pond-7.toml", "--course", COURSE, "--book", "2023", "--json")
    survey, today = (json.loads(marram(*pond, *more).stdout) for more in ((), ("--today", TODAY)))
    before, after = (
        {each["procedure"]: each["no_nearer_the_hole_than_m"] for each in found["books"][0]["options"]} for found in (survey, today)
    )
    assert before.keys() == after.keys()
    assert any(before[name] is not None and abs(before[name] - after[name]) > 0.5 for name in before)


def test_the_course_is_drawn_with_todays_conditions(tmp_path: Path) -> None:
    plain, today = tmp_path / "plain.svg", tmp_path / "today.svg"
    assert marram("course", "draw", COURSE, "--hole", "15", "-o", str(plain)).returncode == 0
    assert marram("course", "draw", COURSE, "--hole", "15", "--today", TODAY, "-o", str(today)).returncode == 0
    assert "scrape" in today.read_text(encoding="utf-8")
    assert "scrape" not in plain.read_text(encoding="utf-8")


def test_marking_and_places_take_the_day() -> None:
    marking = marram("course", "marking", COURSE, "--today", TODAY, "--json")
    assert json.loads(marking.stdout)["today"]["file"] == "2026-06-13.toml"
    words = ("--procedure", "ground-condition-general-area", "--count", "3", "--json")
    places = json.loads(marram("course", "places", COURSE, "--today", TODAY, *words).stdout)
    assert places["today"]["date"] == "2026-06-13"
    assert any(place["feature"].startswith("today-") for place in places["places"])


def test_a_day_that_cannot_be_is_told(tmp_path: Path) -> None:
    path = tmp_path / "day.toml"
    path.write_text('date = 2026-06-13\n[[hole_locations]]\nhole = 19\non_m = 5\nleft_m = 5\n[[conditions]]\nkind = "temporary-water"\n')
    done = marram("course", "draw", COURSE, "--today", str(path), "-o", str(tmp_path / "x.svg"))
    assert done.returncode == 2
    assert "2 faults" in done.stderr
    assert "no hole 19" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "x.svg").exists()
