"""`marram course places`: JSON, drawings, and incidents that `marram rule` reads unchanged."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from shapely.geometry import box

from marram.cli.course.places_command import places
from marram.core.errors import DataError
from marram.core.terms import FeatureKind
from marram.interchange.courses.course_geojson import write_course
from marram.rulebook import packaged_catalogue
from marram.rulings.case.ruling import Option
from tests.support.ground import course, feature, pond
from tests.support.ruled_files import ruled_files

COURSE = str(Path(__file__).resolve().parents[2] / "examples/courses/thimble-moor.geojson")
ON_SMALL_GROUND = (
    "penalty-area-lateral-red",
    "penalty-area-back-on-line",
    "immovable-obstruction-general-area",
    "ball-lost-in-condition",
    "unplayable-in-bunker-normal",
    "lost-or-out-of-bounds",
    "played-from-penalty-area-into-same",
)
ON_DEMO_COURSE = ("ground-condition-bunker-free", "no-play-zone-in-penalty-area", "embedded-ball-putting-green")


@pytest.fixture(scope="module")
def small_ground(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = feature("walk", FeatureKind.IMMOVABLE_OBSTRUCTION, box(40, -200, 43, -20), what="path")
    bunker = feature("sand", FeatureKind.BUNKER, box(25, -30, 37, -20))
    file = tmp_path_factory.mktemp("ground") / "ground.geojson"
    file.write_text(write_course(course(pond(), path, bunker)), encoding="utf-8")
    return str(file)


def run(*words: str, on: str = COURSE) -> Result:
    return CliRunner().invoke(places, [on, *words])


def test_json_is_one_object_and_equal_twice() -> None:
    words = ("--procedure", "penalty-area-lateral-red", "--count", "3", "--book", "2023", "--json")
    first, second = run(*words), run(*words)
    assert first.exit_code == 0
    assert first.stdout == second.stdout
    answer = json.loads(first.stdout)
    assert [place["rank"] for place in answer["places"]] == [1, 2, 3]
    assert [book["book"] for book in answer["books"]] == ["2023"]
    for place in answer["places"]:
        assert list(place) == sorted(place)
        assert 0 < place["share"] <= 1 and 0 < place["score"] <= 1
        assert place["margin_m"] > 0 and place["area_m2"] > 0
        assert place["reasons"] and all(isinstance(text, str) for text in place["watch"])
        assert {"at", "x_m", "y_m", "before_green_m", "right_m", "feature", "hole"} <= place.keys()


@pytest.mark.parametrize("procedure", ON_SMALL_GROUND)
def test_a_place_on_small_ground_rules_the_same_from_its_file(tmp_path: Path, small_ground: str, procedure: str) -> None:
    assert_same_ruling(tmp_path, small_ground, procedure)


@pytest.mark.parametrize("procedure", ON_DEMO_COURSE)
def test_a_place_on_the_demo_course_rules_the_same_from_its_file(tmp_path: Path, procedure: str) -> None:
    assert_same_ruling(tmp_path, COURSE, procedure)


def test_without_a_book_the_latest_edition_is_asked() -> None:
    answer = json.loads(run("--procedure", "relief.boundary-object-relief", "--json").stdout)
    assert [book["book"] for book in answer["books"]] == [packaged_catalogue().latest]


def assert_same_ruling(folder: Path, ground: str, procedure: str) -> None:
    done = run("--procedure", procedure, "--book", "2023", "--count", "2", "--incidents", str(folder), "--json", on=ground)
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)["places"]
    files = sorted(folder.glob("*.toml"))
    assert told and len(files) == len(told)
    for place, file in zip(told, files, strict=True):
        rulings = ruled_files(file, Path(ground), ["2023"])
        assert rulings.incident.hole == place["hole"]
        options = [option for one in rulings.given for option in one.ruling.options if option.procedure == place["under"][0]["option"]]
        assert options
        assert any(area_m2(option) == pytest.approx(place["area_m2"], abs=1e-4) for option in options)
        assert not rulings.given[0].ruling.facts_needed
        if rulings.incident.ball is not None:
            assert rulings.incident.ball.xy == (place["x_m"], place["y_m"])


def area_m2(option: Option) -> float | None:
    return None if option.relief_area is None else option.relief_area.area_m2


def test_each_place_is_drawn_and_told(tmp_path: Path) -> None:
    done = run("--procedure", "no-play-zone-in-penalty-area", "--draw", str(tmp_path / "drawings"), "--book", "2019", "--book", "2023")
    assert done.exit_code == 0, done.output
    drawings = sorted((tmp_path / "drawings").glob("*.svg"))
    assert [drawing.name for drawing in drawings] == ["place-1-hole-16-zone-pond.svg"]
    assert drawings[0].read_text(encoding="utf-8").startswith("<svg")
    assert "under 2019, 2023" in done.stdout
    assert "of the line of play" in done.stdout
    assert "Watch: Water near" in done.stdout


def test_no_place_is_an_answer() -> None:
    done = run("--procedure", "relief.boundary-object-relief", "--book", "2023")
    assert done.exit_code == 0
    assert "No place: 2023 does not allow it anywhere" in done.stdout


def test_an_unknown_procedure_is_an_error() -> None:
    done = run("--procedure", "lateral-red")
    assert isinstance(done.exception, DataError)
    assert "penalty-area-lateral-red" in done.exception.hint


def test_a_folder_that_is_a_file_is_refused(tmp_path: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("", encoding="utf-8")
    done = run("--procedure", "no-play-zone-in-penalty-area", "--draw", str(taken))
    assert (done.exit_code, "is a file" in done.output) == (DataError.exit_code, True)


def test_the_command_ends_with_code_two_and_one_message() -> None:
    code = "from marram.cli.main import main; main()"
    words = ["course", "places", COURSE, "--procedure", "lateral-red"]
    done = subprocess.run([sys.executable, "-c", code, *words], capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.startswith("marram: --procedure: There is no procedure 'lateral-red'")
    assert done.stderr.count("\n") == 1
