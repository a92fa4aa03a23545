"""No command puts what it writes in the place of what was not meant: its own input, a frozen plan, a file of another kind."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from marram.cli.main import marram as group
from marram.cli.writing import Written
from tests.support.running import ROOT, Done, marram

EXAMPLES = ROOT / "examples"
TRIAL = "examples/trials/four-changes.toml"
SPREAD = ("search_s=12", "relief_s=6", "rulings=0.15", "strokes=1", "penalty_strokes=0.06")


def _plan(trial: Path, seed: str, out: Path, *more: str) -> Done:
    spread = [word for of in SPREAD for word in ("--sd", of)]
    return marram("trial", "plan", trial, *spread, "--leave-out", "4", "--pairs", "10", "--seed", seed, "-o", out, *more)


def _commands(inside: click.Group, words: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    context = click.Context(inside)
    for name in inside.list_commands(context):
        command = inside.get_command(context, name)
        if isinstance(command, click.Group):
            yield from _commands(command, (*words, name))
        elif command is not None:
            yield (*words, name), command


def test_every_command_that_writes_can_be_told_to_replace_and_no_other() -> None:
    for words, command in _commands(group):
        writes = any(isinstance(param.type, Written) for param in command.params)
        can_replace = any(param.name == "replace" for param in command.params)
        assert writes == can_replace, words


def test_every_path_that_a_command_only_reads_is_there_or_is_told_as_missing() -> None:
    """A path that is written is declared as such, or the guard does not know it: options that sound like it are all declared."""
    for words, command in _commands(group):
        for param in command.params:
            if param.name in {"out", "draw", "overlays"}:
                assert isinstance(param.type, Written), words


@pytest.mark.parametrize("seed", ["1", "another"])
def test_a_frozen_plan_stays(tmp_path: Path, seed: str) -> None:
    trial, plan = tmp_path / "t.toml", tmp_path / "plan.json"
    shutil.copy(ROOT / TRIAL, trial)
    assert _plan(trial, "1", plan).returncode == 0
    frozen = plan.read_bytes()
    again = _plan(trial, seed, plan)
    if seed == "1":
        assert again.returncode == 0
    else:
        assert (again.returncode, "A frozen plan stands there already" in again.stderr) == (2, True)
    assert plan.read_bytes() == frozen


def test_a_frozen_plan_goes_when_it_is_told_to(tmp_path: Path) -> None:
    trial, plan = tmp_path / "t.toml", tmp_path / "plan.json"
    shutil.copy(ROOT / TRIAL, trial)
    assert _plan(trial, "1", plan).returncode == 0
    frozen = plan.read_bytes()
    assert _plan(trial, "2", plan, "--replace").returncode == 0
    assert plan.read_bytes() != frozen


def test_a_plan_does_not_take_the_place_of_its_trial(tmp_path: Path) -> None:
    trial = tmp_path / "t.toml"
    shutil.copy(ROOT / TRIAL, trial)
    done = _plan(trial, "1", trial)
    assert (done.returncode, "t.toml: The command reads this file" in done.stderr) == (2, True)
    assert trial.read_bytes() == (ROOT / TRIAL).read_bytes()


def test_a_link_to_the_file_that_is_read_is_that_file(tmp_path: Path) -> None:
    trial, link = tmp_path / "t.toml", tmp_path / "link.pdf"
    shutil.copy(ROOT / TRIAL, trial)
    link.symlink_to(trial)
    assert marram("sheet", "trial", trial, "-o", link).returncode == 2
    assert trial.read_bytes() == (ROOT / TRIAL).read_bytes()


def test_an_overlay_of_a_book_is_a_file_that_is_read(tmp_path: Path) -> None:
    trial = tmp_path / "t.toml"
    shutil.copy(ROOT / TRIAL, trial)
    done = marram("book", "compare", "2023", f"2023+{trial}", "-o", trial)
    assert (done.returncode, "reads this file" in done.stderr) == (2, True)
    assert trial.read_bytes() == (ROOT / TRIAL).read_bytes()


@pytest.mark.parametrize(
    ("stands", "held"),
    [
        ("a TOML file", b'title = "A trial"\n'),
        ("a table", b"player,hole\nA,1\nB,2\n"),
        ("a workbook", b"PK\x03\x04 and more"),
        ("a course or a map", b'{"type": "FeatureCollection", "features": []}'),
        ("a drawing", b"<svg xmlns='http://www.w3.org/2000/svg'/>"),
        ("a page", b"<!DOCTYPE html><title>x</title>"),
        ("an answer in JSON", b'{"schema": "marram.ruling/1"}'),
        ("no text", b"\xff\xfe\x00\x01"),
        ("text", b"Notes of mine, which are nowhere else.\n"),
    ],
)
def test_a_file_of_another_kind_stays(tmp_path: Path, stands: str, held: bytes) -> None:
    strip = tmp_path / "strip.pdf"
    strip.write_bytes(held)
    done = marram("sheet", "strip", "--length", "2 m", "-o", strip)
    assert (done.returncode, stands in done.stderr, "a PDF" in done.stderr) == (2, True, True), done.stderr
    assert strip.read_bytes() == held
    assert marram("sheet", "strip", "--length", "2 m", "-o", strip, "--replace").returncode == 0
    assert strip.read_bytes().startswith(b"%PDF")


def test_an_empty_file_and_an_older_one_of_the_kind_are_written_over(tmp_path: Path) -> None:
    strip = tmp_path / "strip.pdf"
    strip.touch()
    assert marram("sheet", "strip", "--length", "2 m", "-o", strip).returncode == 0
    assert marram("sheet", "strip", "--length", "3 m", "-o", strip).returncode == 0


def test_a_course_may_be_gone_on_with_in_its_own_file(tmp_path: Path) -> None:
    course, walk = tmp_path / "c.geojson", tmp_path / "w.geojson"
    shutil.copy(EXAMPLES / "courses" / "thimble-moor.geojson", course)
    shutil.copy(course, walk)
    assert marram("course", "import", walk, "--as", "geojson", "-o", walk).returncode == 2
    assert marram("course", "holes", course, "--propose", "-o", tmp_path / "holes.toml").returncode == 0
    assert marram("course", "holes", course, "--from", tmp_path / "holes.toml", "-o", course).returncode == 0


def test_a_guide_is_replaced_whole_or_not_at_all(tmp_path: Path) -> None:
    (tmp_path / "guide-screen.html").write_text("Notes of mine.", encoding="utf-8")
    done = marram(
        "trial", "guide", "examples/trials/fixed-lengths.toml", "--course", "examples/courses/thimble-moor.geojson", "-o", tmp_path
    )
    assert done.returncode == 2
    assert [file.name for file in tmp_path.iterdir()] == ["guide-screen.html"]
