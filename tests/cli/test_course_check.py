"""`marram course check`: text and JSON, exit codes, and strange files."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from shapely.geometry import Point, box

from marram.cli.course.check_command import check
from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Mark
from marram.interchange.courses.course_geojson import write_course
from tests.support.ground import course, feature, pond

DEMO = Path(__file__).resolve().parents[2] / "examples/courses/thimble-moor.geojson"
SPARE = feature("spare-green-of-the-practice-ground", FeatureKind.PUTTING_GREEN, Point(100, 0).buffer(9))


def run(path: Path, *words: str) -> Result:
    return CliRunner().invoke(check, [str(path), *words])


@pytest.fixture
def faulty(tmp_path: Path) -> Path:
    """One hole of nine, unmarked water, a green that serves no hole, and a note of what was left out."""
    raw = json.loads(write_course(course(pond(Mark.UNMARKED), SPARE)))
    raw["course"]["left_out"] = [{"what": "building", "why": "it lies outside the boundary", "names": ["way/1", "way/2"]}]
    path = tmp_path / "faulty.geojson"
    path.write_text(json.dumps(raw), encoding="utf-8")
    return path


def test_the_demo_course_has_no_faults() -> None:
    done = run(DEMO)
    assert done.exit_code == 0
    assert done.stdout.splitlines()[-1] == "No faults."


def test_json_of_a_sound_course_tells_each_hole() -> None:
    done = run(DEMO, "--json")
    assert done.exit_code == 0
    answer = json.loads(done.stdout)
    assert answer["faults"] == []
    assert [hole["hole"] for hole in answer["holes"]] == list(range(1, 19))
    for hole in answer["holes"]:
        assert hole["rulings"] == "can be given"
        assert hole["because"] == []
        assert hole["line"] and hole["green"] and hole["tees"]
        assert set(hole["location"]) >= {"x_m", "y_m"}
    assert run(DEMO, "--json").stdout == done.stdout


def test_faults_end_the_command_with_one(faulty: Path) -> None:
    done = run(faulty)
    assert done.exit_code == 1
    lines = done.stdout.splitlines()
    assert lines[0] == "Test Ground: 7 features, 1 hole"
    signs = [line[:7] for line in lines if line[0] in "■◧□"]
    assert signs == ["■ stops", "◧ asks ", "◧ asks ", "□ notes"]
    assert lines[-1] == "4 faults, 1 of them stops rulings on holes 2, 3, 4, 5, 6, 7, 8, 9."


def test_lines_are_no_wider_than_a_hundred_columns_and_commands_stay_whole(faulty: Path) -> None:
    out = run(faulty).stdout
    assert max(map(len, out.splitlines())) <= 100
    assert " spare-green-of-the-practice-ground=N" in out


def test_json_of_faults_has_places_and_remedies(faulty: Path) -> None:
    done = run(faulty, "--json")
    assert done.exit_code == 1
    answer = json.loads(done.stdout)
    water = next(fault for fault in answer["faults"] if fault["kind"] == "unmarked-water")
    assert water["feature"] == "pond"
    assert water["holes"] == [1]
    assert not water["stops_rulings"]
    assert "--mark pond=red" in water["remedy"]
    lon_deg, lat_deg = water["at"]["at"]
    assert abs(lon_deg + 2) < 0.001 and abs(lat_deg - 55) < 0.001
    assert -15 <= water["at"]["x_m"] <= 15 and -70 <= water["at"]["y_m"] <= -40
    left = next(fault for fault in answer["faults"] if fault["kind"] == "left-out")
    assert left["at"] is None
    assert "way/1, way/2" in left["message"]


def test_a_hole_that_is_stopped_says_why(tmp_path: Path) -> None:
    off = feature("hole-1", FeatureKind.HOLE_LOCATION, Point(30, 0), holes=(1,))
    ground = course(pond())
    path = tmp_path / "off.geojson"
    moved = tuple(off if each.id == "hole-1" else each for each in ground.features)
    path.write_text(write_course(type(ground)(name="Off", frame=ground.frame, sigma_m=0.05, features=moved, extra=ground.extra)), "utf-8")
    (hole,) = json.loads(run(path, "--json").stdout)["holes"]
    assert hole["rulings"].startswith("stopped: ")
    assert hole["because"] and "off its green" in hole["because"][0]


def test_without_a_boundary_rulings_stop_everywhere(tmp_path: Path) -> None:
    raw = json.loads(DEMO.read_text(encoding="utf-8"))
    raw["features"] = [each for each in raw["features"] if each["properties"]["kind"] != "boundary"]
    path = tmp_path / "no-edge.geojson"
    path.write_text(json.dumps(raw), encoding="utf-8")
    done = run(path)
    assert done.exit_code == 1
    assert done.stdout.splitlines()[-1] == "1 fault, which stops rulings everywhere."


@pytest.mark.parametrize("left_out", [7, ["building"], [{"what": "building", "names": 3}], [{}], None])
def test_strange_notes_of_what_was_left_out_are_borne(tmp_path: Path, left_out: object) -> None:
    raw = json.loads(write_course(course(pond(), feature("sand", FeatureKind.BUNKER, box(60, 0, 70, 9)))))
    raw["course"]["left_out"] = left_out
    path = tmp_path / "strange.geojson"
    path.write_text(json.dumps(raw), encoding="utf-8")
    done = run(path, "--json")
    assert done.exit_code == 1
    assert done.exception is None or isinstance(done.exception, SystemExit)
    json.loads(done.stdout)


def test_what_cannot_be_read_is_an_error_and_no_list(tmp_path: Path) -> None:
    path = tmp_path / "bad.geojson"
    path.write_text("{", encoding="utf-8")
    done = run(path)
    assert isinstance(done.exception, SurveyError)
    assert "not JSON" in str(done.exception)
