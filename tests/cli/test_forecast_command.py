"""`marram forecast`: not one figure before what was not modelled, and every error in words."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from marram.office.forecasts.course_paced import paced_holes
from marram.office.workroom import Workroom
from tests.support.pdf_reading import words_of
from tests.support.running import Run

TRIAL, COURSE = "examples/trials/fixed-lengths.toml", "examples/courses/thimble-moor.geojson"
SMALL = ("--players", "9", "--days", "20", "--assume", "stage_times_pct=100", "--assume", "stage_spread_pct=50")


def asked(called: Run, *words: str) -> tuple[int, str, str]:
    return called("forecast", TRIAL, "--course", COURSE, *SMALL, *words)


def test_what_was_not_modelled_stands_before_any_figure(called: Run) -> None:
    code, told, _ = asked(called)
    assert code == 0
    assert told.index("Not modelled:") < told.index("1. The larger size")
    assert "Expected from a model, found on no course" in told
    assert "Played by an assumption, by relief.lateral.size" in told
    assert "give --spread" in told  # nobody guesses how far days differ
    assert "stage_times_pct" not in told
    assert "stated for this forecast" in told
    assert "found on" in told
    assert "verdict" not in told.lower()
    assert "par 3 9.7 min, par 4 13 min, par 5 17 min: assumption" in " ".join(told.split())


def test_the_same_as_json(called: Run) -> None:
    code, told, _ = asked(called, "--spread", "5", "--json")
    found = json.loads(told)
    assert (code, found["schema"], found["is_simulated"]) == (0, "marram.forecast/1", True)
    assert [change["played"] for change in found["changes"]] == ["played by an assumption"] * 2
    assert {entry["provenance"] for entry in found["assumed"]} >= {"assumption", "stated for this forecast"}
    assert all(
        entry["sd_of_difference"] > 5 * 2**0.5
        for entry in found["together"]
        if entry["outcome"] == "round_min" and entry["of"] == "the day"
    )
    assert len(found["picture"]["holes"]) == 18
    again = asked(called, "--spread", "round_min=5", "--json")
    assert again[1] == told


def test_a_new_relief_is_not_played_and_says_so(called: Run) -> None:
    code, told, _ = called("forecast", "examples/trials/divot-holes.toml", "--course", COURSE, *SMALL)
    assert code == 0
    assert "Not played: no part of the game that is played here reads it." in told
    assert "nothing changes in times of a round" in told


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("--players", "0"), 4, "--players: A field of 0 players"),
        (("--players", "500"), 4, "--players: A field of 500"),
        (("--interval", "0"), 4, "--interval: A start interval of 0"),
        (("--days", "3"), 4, "--days: 3 days"),
        (("--spread", "soon"), 2, "--spread: 'soon' cannot be read"),
        (("--spread", "rounds=4"), 2, "--spread: The catalogue holds no outcome"),
        (("--spread", "-4"), 4, "--spread: Days cannot differ by -4"),
        (("--assume", "0.3"), 2, "--assume: '0.3' cannot be read"),
        (("--assume", "findable=30"), 4, "--assume: Nothing called 'findable'"),
        (("--assume", "findable_pct=nan"), 4, "--assume: findable_pct cannot be nan"),
        (("--let-through", "--start-from", "two-tees"), 4, "Groups are let through where all start from one tee"),
        (("--stopped-share", "4"), 4, "--stopped-share: A share of 4"),
        (("--workers", "0"), 4, "--workers: 0 workers"),
        (("--book", "2016"), 2, "2016"),
    ],
)
def test_what_cannot_be_meant_is_told_in_words(called: Run, words: tuple[str, ...], code: int, said: str) -> None:
    ended, told, complaint = asked(called, *words)
    assert (ended, told) == (code, "")
    assert said in complaint
    assert "Traceback" not in complaint


def test_a_course_without_lines_of_play_is_refused(called: Run, tmp_path: Path) -> None:
    course = json.loads(Path(COURSE).read_text(encoding="utf-8"))
    course["features"] = [one for one in course["features"] if one["properties"]["kind"] != "line-of-play"]
    bare = tmp_path / "bare.geojson"
    bare.write_text(json.dumps(course), encoding="utf-8")
    ended, _, complaint = called("forecast", TRIAL, "--course", str(bare), *SMALL)
    assert ended == 2
    assert "hole 1 has no line of play" in complaint


def timings(folder: Path, minutes: float) -> Path:
    """Nine groups an hour apart on every hole."""
    rows = [
        f"d{hole},g{number},{hole},{8 + number}:00,{8 + number}:{int(minutes):02d}:{int(minutes % 1 * 60):02d}"
        for hole in range(1, 19)
        for number in range(9)
    ]
    table = folder / "timings.csv"
    table.write_text("day,group,hole,began,cleared\n" + "\n".join(rows) + "\n", encoding="utf-8")
    return table


def test_local_timings_take_the_place_of_the_table(called: Run, tmp_path: Path) -> None:
    """Every hole in 20 minutes, all that happens in them: 18 x 20 and the walks, for a lone group, within what few days leave open."""
    words = ("forecast", TRIAL, "--course", COURSE, "--players", "9", "--days", "40", "--json")
    code, told, _ = called(*words, "--from-records", str(timings(tmp_path, 20)))
    found = json.loads(told)
    assert (code, found["timed"]) == (0, "local timings: 162, of which 144 of groups that had the hole to themselves")
    lone = next(one for one in found["together"] if one["of"] == "a lone group")
    walks = sum(hole.walk_on_min for hole in paced_holes(Workroom().course(Path(COURSE)).course, waves_up=False)[:-1])
    assert lone["present"] == pytest.approx(360 + walks, rel=0.02)
    scale = next(one for one in found["assumed"] if one["name"] == "stage_times_pct")
    assert scale["provenance"] == found["timed"]


def test_a_table_in_which_a_group_overtakes_another_is_refused(called: Run, tmp_path: Path) -> None:
    table = tmp_path / "timings.csv"
    table.write_text("day,group,hole,began,cleared\nd,a,1,8:00,8:20\nd,b,1,8:05,8:15\n", encoding="utf-8")
    ended, _, complaint = called("forecast", TRIAL, "--course", COURSE, "--from-records", str(table))
    assert ended == 2
    assert "group b begins after group a and clears the green before it" in complaint


def test_a_forecast_on_paper_and_in_a_file(called: Run, tmp_path: Path) -> None:
    paper, plain = tmp_path / "f.pdf", tmp_path / "f.json"
    assert asked(called, "-o", str(paper))[0] == 0
    text = words_of(paper.read_bytes())
    assert "Simulated" in text
    assert text.index("What was not modelled") < text.index("Expected of each change")
    assert "assumption" in text
    assert asked(called, "-o", str(plain))[0] == 0
    assert json.loads(plain.read_text(encoding="utf-8"))["is_simulated"]
    ended, _, complaint = asked(called, "--form", "pdf")
    assert ended == 2
    assert "--out FILE.pdf" in complaint
