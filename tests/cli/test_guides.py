"""`marram trial guide` and `marram sheet`: the files, the object, and clear errors."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from marram.cli.sheet.command import sheet
from marram.cli.trial.command import trial
from marram.core.errors import DataError, MarramError
from marram.interchange.courses.course_geojson import write_course
from tests.support.ground import course, pond

ROOT = Path(__file__).resolve().parents[2]
TRIAL = str(ROOT / "examples/trials/fixed-lengths.toml")


@pytest.fixture(scope="module")
def ground(tmp_path_factory: pytest.TempPathFactory) -> str:
    file = tmp_path_factory.mktemp("ground") / "ground.geojson"
    file.write_text(write_course(course(pond())), encoding="utf-8")
    return str(file)


def test_a_guide_is_written_in_every_form(ground: str, tmp_path: Path) -> None:
    done = CliRunner().invoke(trial, ["guide", TRIAL, "--course", ground, "--each", "1", "-o", str(tmp_path / "g"), "--json"])
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    assert sorted(told["files"]) == sorted(path.name for path in (tmp_path / "g").iterdir())
    assert (tmp_path / "g" / "guide.pdf").read_bytes().startswith(b"%PDF")
    pages = told["guide"]["pages"]
    assert pages[0]["title"] == "Lateral relief, penalty area"
    assert pages[0]["stays"]
    assert all(line["rules"] for line in pages[0]["stays"])


def test_one_form_and_one_procedure_may_be_asked_for(ground: str, tmp_path: Path) -> None:
    words = ["procedure", "penalty-area-lateral-red", "--course", ground, "--book", "2016", "--book", "2023", "--form", "phone"]
    done = CliRunner().invoke(sheet, [*words, "-o", str(tmp_path)])
    assert done.exit_code == 0, done.output
    assert [path.name for path in tmp_path.iterdir()] == ["guide.html"]
    assert "What stays forbidden" in (tmp_path / "guide.html").read_text(encoding="utf-8")


def test_what_has_no_place_writes_nothing_and_says_why(ground: str, tmp_path: Path) -> None:
    words = ["procedure", "wrong-green-relief", "--course", ground, "-o", str(tmp_path / "none")]
    done = CliRunner().invoke(sheet, words)
    assert done.exit_code == 0
    assert "Not shown." in done.output
    assert not (tmp_path / "none").exists()


@pytest.mark.parametrize("words", [["trial", TRIAL], ["relief", "--book", "2016"], ["relief", "--book", "draft-2017"]])
def test_sheets_without_a_course(words: list[str], tmp_path: Path) -> None:
    done = CliRunner().invoke(sheet, [*words, "-o", str(tmp_path / "a.pdf")])
    assert done.exit_code == 0, done.output
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")


def test_unknown_names_are_told_with_the_nearest(ground: str, tmp_path: Path) -> None:
    done = CliRunner().invoke(sheet, ["procedure", "lateral-red", "--course", ground, "-o", str(tmp_path)])
    assert isinstance(done.exception, DataError)
    assert "penalty-area-lateral-red" in str(done.exception)
    missing = CliRunner().invoke(trial, ["guide", "nowhere", "--course", ground, "-o", str(tmp_path)])
    assert isinstance(missing.exception, MarramError)
