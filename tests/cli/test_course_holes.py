"""`marram course holes`: proposals as text, TOML and JSON, putting them back, and asking one by one."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from marram.cli.course.holes_command import ask_each
from marram.course.numbering.proposals import HoleEntry
from marram.office.courses.number_holes import propose_for
from marram.office.workroom import Workroom
from tests.support.odd_courses import odd_course
from tests.support.running import Run


@pytest.fixture
def unnumbered(tmp_path: Path) -> Path:
    """Three holes with tees, greens, lines and locations, none of which has a number."""
    path = tmp_path / "c.geojson"
    path.write_text(json.dumps(odd_course(3, ("unnumbered",))), encoding="utf-8")
    return path


def test_proposals_are_written_changed_and_put_back(called: Run, unnumbered: Path, tmp_path: Path) -> None:
    table, out = tmp_path / "t.toml", tmp_path / "n.geojson"
    code, told, _ = called("course", "holes", str(unnumbered), "--propose", "--first", "green-2", "-o", str(table))
    assert code == 0
    assert "3 holes proposed" in told
    assert "1  green-2 · tee-2 · line-2  [drawn; number: stated]" in told
    raw = tomllib.loads(table.read_text(encoding="utf-8"))
    assert [(hole["number"], hole["green"], hole["location"]) for hole in raw["hole"]][0] == (1, "green-2", "hole-2")
    table.write_text(table.read_text(encoding="utf-8").replace("number = 1\n", "number = 12\n"), encoding="utf-8")
    code, told, _ = called("course", "holes", str(unnumbered), "--from", str(table), "-o", str(out))
    assert code == 0
    assert told.splitlines()[0].endswith("holes 2, 3, 12")
    code, told, _ = called("course", "check", str(out), "--json")
    assert {hole["hole"]: hole["green"] for hole in json.loads(told)["holes"]}[12] == "green-2"


def test_a_second_proposal_holds_what_is_stated(called: Run, unnumbered: Path) -> None:
    code, told, _ = called("course", "holes", str(unnumbered), "--hole", "green-3=9", "--hole", "tee-3=9", "-o", str(unnumbered), "--json")
    assert code == 0
    assert json.loads(told)["holes"] == [9]
    assert "green-1" in json.loads(told)["left"]
    code, told, _ = called("course", "holes", str(unnumbered), "--json")
    nine = next(hole for hole in json.loads(told)["holes"] if hole["number"] == 9)
    assert (nine["green"], nine["tees"], nine["sure"]) == ("green-3", ["tee-3"], "stated")


def test_json_is_one_object_and_the_same_twice(called: Run, unnumbered: Path) -> None:
    first = called("course", "holes", str(unnumbered), "--json")
    assert first == called("course", "holes", str(unnumbered), "--json")
    told = json.loads(first[1])
    assert set(told) == {"schema", "course", "holes", "left"}
    assert set(told["holes"][0]) == {"number", "green", "tees", "line", "location", "sure", "number_sure", "why"}


def test_a_course_without_holes_says_what_to_do(called: Run, tmp_path: Path) -> None:
    path = tmp_path / "b.geojson"
    path.write_text(json.dumps(odd_course(3, ("boundary-only",))), encoding="utf-8")
    code, told, _ = called("course", "holes", str(path), "--draw-lines")
    assert code == 0
    assert "0 holes proposed" in told
    assert "draw or walk them first" in told


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--confirm", "-o", "{out}"], "no terminal to ask at"),
        (["--from", "{missing}", "-o", "{out}"], "missing.toml"),
        (["--from", "{bad}", "-o", "{out}"], "green-99"),
        (["--from", "{empty}", "-o", "{out}"], "holds no hole"),
        (["--from", "{odd}", "-o", "{out}"], "There is no member 'colour' here"),
        (["--hole", "green-1", "-o", "{out}"], "NAME=N"),
        (["--hole", "green-1=100", "-o", "{out}"], "NAME=N"),
        (["--hole", "boundary=1", "-o", "{out}"], "'boundary' serves no hole"),
        (["--hole", "green-9=1", "-o", "{out}"], "'green-9' is not on the course"),
        (["--hole", "green-1=1"], "-o"),
        (["--propose", "--hole", "green-1=1", "-o", "{out}"], "Give one of"),
        (["--first", "green-9"], "goes with no hole"),
    ],
)
def test_what_cannot_be_done_is_told_and_nothing_is_written(
    called: Run, unnumbered: Path, tmp_path: Path, words: list[str], said: str
) -> None:
    for name, text in (
        ("bad", '[[hole]]\nnumber = 1\ngreen = "green-99"\n'),
        ("empty", "left = []\n"),
        ("odd", '[[hole]]\nnumber = 1\ncolour = "red"\n'),
    ):
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    files = {name: str(tmp_path / f"{name}.toml") for name in ("bad", "empty", "odd", "missing")}
    code, _, complaint = called("course", "holes", str(unnumbered), *(word.format(out=tmp_path / "out.geojson", **files) for word in words))
    assert code == 2
    assert said in complaint
    assert not (tmp_path / "out.geojson").exists()


def test_each_hole_is_confirmed_changed_or_left_out(unnumbered: Path) -> None:
    proposed = propose_for(Workroom().survey(unnumbered), first="green-1")
    assert [proposal.hole.number for proposal in proposed.proposals.holes] == [1, 2, 3]
    greens = [proposal.hole.green for proposal in proposed.proposals.holes]
    kept: list[HoleEntry] = []

    @click.command()
    def asked() -> None:
        kept.extend(ask_each(proposed))

    # Takes the first; of the second says a number that is taken, a word that is no name, other tees, and then 3; leaves the third out.
    done = CliRunner().invoke(asked, input="\n1\nabc\ntee-2, tee-3\n3\n-\n")
    assert done.exit_code == 0, done.output
    assert [(hole.number, hole.green) for hole in kept] == [(1, greens[0]), (3, greens[1])]
    assert kept[1].tees == ("tee-2", "tee-3")
    assert "1 is taken already" in done.output
    assert "'abc' is not on the course" in done.output
    assert f"{greens[1]} · tee-2, tee-3" in done.output


def test_a_number_that_is_taken_is_not_taken_by_enter(unnumbered: Path) -> None:
    kept: list[HoleEntry] = []

    @click.command()
    def asked() -> None:
        kept.extend(ask_each(propose_for(Workroom().survey(unnumbered), first="green-1")))

    # The first becomes 2; Enter at the second, which was to be 2, leaves it out rather than number two holes alike.
    assert CliRunner().invoke(asked, input="2\n\n\n").exit_code == 0
    assert [hole.number for hole in kept] == [2, 3]
