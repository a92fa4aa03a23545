"""The rule command as outsiders run it: JSON, exit codes, and bad input."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
COURSE = "examples/courses/thimble-moor.geojson"
GOOD = (ROOT / "examples/incidents/pond-7.toml").read_text(encoding="utf-8")
PLACE = next(line for line in GOOD.splitlines() if line.startswith("ball"))
CROSSED = next(line for line in GOOD.splitlines() if line.startswith("crossed_at"))


def marram(*words: str) -> subprocess.CompletedProcess[str]:
    run = [sys.executable, "-c", "from marram.cli.main import main; main()", *words]
    return subprocess.run(run, cwd=ROOT, capture_output=True, text=True, check=False)


def test_json_is_one_object_and_equal_twice() -> None:
    words = ("rule", "examples/incidents/pond-7.toml", "--course", COURSE, "--json")
    first, second = marram(*words), marram(*words)
    assert first.returncode == 0
    assert first.stdout == second.stdout
    answer = json.loads(first.stdout)
    assert [book["book"] for book in answer["books"]] == ["2016", "draft-2017", "2019", "2023"]
    for book in answer["books"]:
        assert all(line["citations"] for line in book["lines"])
        assert all(option["citations"] for option in book["options"])


def test_every_example_is_ruled_on_and_drawn(tmp_path: Path) -> None:
    for incident in sorted((ROOT / "examples/incidents").glob("*.toml")):
        drawing = tmp_path / f"{incident.stem}.svg"
        trial = "2023+examples/trials/fixed-lengths.toml"
        done = marram("rule", str(incident), "--course", COURSE, "--book", "2019", "--book", trial, "--draw", str(drawing))
        assert done.returncode == 0, done.stderr
        assert drawing.read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        ("", 2, "empty"),
        ("hole = ", 2, "not TOML"),
        (GOOD + "\ncolour = 3\n", 2, "colour"),
        (GOOD.replace("hole = 7", "hole = 19"), 2, "no hole 19"),
        (GOOD.replace("longest_club_in = 45", "longest_club_in = 400"), 2, "48"),
        (GOOD.replace(CROSSED, "crossed_at = { x_m = -376.9, y_m = 40 }"), 2, "from the edge"),
        (GOOD.replace(PLACE, "ball = { at = [55.311, -2.476] }"), 2, "swapped"),
        (GOOD.replace(PLACE, "ball = { x_m = 900, y_m = 0 }"), 2, "outside the boundary"),
        (GOOD.replace(PLACE, "ball = { lost = true, x_m = 1 }"), 2, "exactly one way"),
        (GOOD.replace("penalty-area", "swamp"), 2, "no situation"),
        (f'hole = 7\nsituation = "penalty-area"\n{PLACE}\n', 3, "last cross"),
    ],
)
def test_bad_incidents_get_one_clear_message(tmp_path: Path, text: str, code: int, words: str) -> None:
    incident, drawing = tmp_path / "incident.toml", tmp_path / "out.svg"
    incident.write_text(text, encoding="utf-8")
    done = marram("rule", str(incident), "--course", COURSE, "--draw", str(drawing), "--json")
    assert done.returncode == code, done.stdout + done.stderr
    error = json.loads(done.stdout)["error"]
    assert words in error["message"] + error["hint"]
    assert "Traceback" not in done.stderr
    assert not drawing.exists()


def test_huge_file_is_refused_by_its_size(tmp_path: Path) -> None:
    big = tmp_path / "big.toml"
    with big.open("wb") as file:
        file.truncate(3 * 1024 * 1024 * 1024)
    done = marram("rule", str(big), "--course", COURSE)
    assert done.returncode == 2
    assert "may hold 1 MB" in done.stderr


@pytest.mark.parametrize("words", [("list",), ("show", "search.limit_min"), ("compare", "2016", "2019"), ("audit",)])
def test_book_commands_answer(words: tuple[str, ...]) -> None:
    assert marram("book", *words).returncode == 0
    assert isinstance(json.loads(marram("book", *words, "--json").stdout), dict)
