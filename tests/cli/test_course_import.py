"""`marram course import` and `check`: what outsiders read, exit codes, and clear errors."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from marram.cli.course.check_command import check
from marram.cli.course.import_command import import_course
from marram.cli.fields import in_options
from marram.core.errors import SurveyError

ROOT = Path(__file__).resolve().parents[2]
PARKLAND = str(ROOT / "tests/data/courses/iom-parkland-18-ponds.osm")
DEMO = str(ROOT / "examples/courses/thimble-moor.geojson")
WALK = "lon,lat\n-2.470,55.3100\n-2.4699,55.3100\n-2.4699,55.3101\n"


def brought_in(*words: str) -> Result:
    return CliRunner().invoke(import_course, list(words), catch_exceptions=True)


def test_json_counts_what_was_brought_in_and_left_out(tmp_path: Path) -> None:
    done = brought_in(PARKLAND, "-o", str(tmp_path / "p.geojson"), "--json", "--mark", "all=red")
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    assert told["holes"] == list(range(1, 19))
    assert told["features"]["putting-green"] == 18
    assert told["unmarked"] == []
    assert all(entry["count"] == len(entry["names"]) for entry in told["left_out"])


def test_check_gives_faults_and_exit_code_one(tmp_path: Path) -> None:
    brought_in(PARKLAND, "-o", str(tmp_path / "p.geojson"))
    done = CliRunner().invoke(check, [str(tmp_path / "p.geojson"), "--json"])
    assert done.exit_code == 1
    told = json.loads(done.stdout)
    assert len(told["holes"]) == 18
    assert {"kind", "feature", "at", "message", "remedy", "stops_rulings"} <= set(told["faults"][0])
    placed = [fault["at"] for fault in told["faults"] if fault["at"] is not None]
    assert {"at", "x_m", "y_m"} <= set(placed[0])


def test_the_demo_course_has_no_faults() -> None:
    done = CliRunner().invoke(check, [DEMO])
    assert done.exit_code == 0
    assert "No faults." in done.output


def test_a_walk_is_added_to_a_course(tmp_path: Path) -> None:
    (tmp_path / "walk.csv").write_text(WALK, encoding="utf-8")
    out = tmp_path / "with.geojson"
    words = ["--as", "walk", "--onto", DEMO, "--kind", "ground-under-repair", "--id", "scrape-1", "--sigma-m", "0.3"]
    done = brought_in(str(tmp_path / "walk.csv"), "-o", str(out), *words)
    assert done.exit_code == 0, done.output
    assert '"scrape-1"' in out.read_text(encoding="utf-8")


def test_hole_locations_in_paces_are_added(tmp_path: Path) -> None:
    (tmp_path / "pins.csv").write_text("hole,on_paces,left_paces\n7,10,6\n", encoding="utf-8")
    out = tmp_path / "with.geojson"
    done = brought_in(str(tmp_path / "pins.csv"), "-o", str(out), "--as", "hole-locations", "--onto", DEMO)
    assert done.exit_code == 0, done.output
    told = [entry for entry in json.loads(out.read_text(encoding="utf-8"))["features"] if entry["properties"].get("written")]
    assert [entry["properties"]["holes"] for entry in told] == [[7]]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((PARKLAND, "--mark", "pond-99=red"), "Nearest"),
        ((PARKLAND, "--mark", "all=blue"), "red, yellow"),
        ((PARKLAND, "--mark", "red"), "NAME=VALUE"),
        ((PARKLAND, "--hole", "green-1=x"), "hole number"),
        ((PARKLAND, "--onto", DEMO), "--onto"),
        ((str(ROOT / "README.md"),), "--as"),
        ((str(ROOT / "examples/trials/fixed-lengths.toml"), "--as", "tees"), "--onto"),
    ],
)
def test_what_does_not_fit_is_told(tmp_path: Path, words: tuple[str, ...], said: str) -> None:
    done = brought_in(*words, "-o", str(tmp_path / "x.geojson"))
    assert isinstance(done.exception, SurveyError)
    assert said in in_options(str(done.exception))
    assert not (tmp_path / "x.geojson").exists()
