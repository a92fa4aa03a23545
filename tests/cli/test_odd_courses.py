"""Courses that lack something, from the outside: what is said, what is drawn, and how each command ends."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.support.odd_courses import odd_course
from tests.support.running import Run


def written(tmp_path: Path, *oddities: str, seed: int = 1) -> str:
    path = tmp_path / "odd.geojson"
    path.write_text(json.dumps(odd_course(seed, oddities)), encoding="utf-8")
    return str(path)


@pytest.mark.parametrize(
    ("oddities", "code", "why"),
    [
        (("boundary-only",), 0, "The course has no penalty area."),
        ((), 0, "The course has no penalty area."),
        (("nested-water", "no-lines"), 1, "No hole has both a line of play and a hole location"),
        (("nested-water", "unnumbered"), 1, "No hole has both a line of play and a hole location"),
    ],
)
def test_marking_with_nothing_to_try_calls_nothing_faultless(
    called: Run, tmp_path: Path, oddities: tuple[str, ...], code: int, why: str
) -> None:
    course = written(tmp_path, *oddities, seed=2)
    ended, out, _ = called("course", "marking", course)
    assert ended == code
    assert "Nothing was tried, so this says nothing of the marking." in out
    assert why in " ".join(out.split())
    assert "No fault was found" not in out
    _, out, _ = called("course", "marking", course, "--json")
    told = json.loads(out)
    assert told["untried"] is True
    assert why in told["books"][0]["why_untried"]


def test_yellow_water_alone_gives_nothing_to_try_and_no_fault(called: Run, tmp_path: Path) -> None:
    raw = odd_course(1, ("moat",))
    for feature in raw["features"]:  # type: ignore[attr-defined]
        if feature["properties"]["kind"] == "penalty-area":
            feature["properties"]["mark"] = "yellow"
    path = tmp_path / "yellow.geojson"
    path.write_text(json.dumps(raw), encoding="utf-8")
    ended, out, _ = called("course", "marking", str(path))
    assert "there are: 1 yellow" in " ".join(out.split())
    assert "No fault was found" not in out
    # The moat's own corners may lie too far apart for a curve; nothing else counts.
    assert ended == (1 if "Stakes too far apart" in out else 0)


def test_marking_that_tried_something_says_so(called: Run, tmp_path: Path) -> None:
    raw = odd_course(1, ())
    raw["features"] += odd_course(1, ("one-feature-two-parts",))["features"][-1:]  # type: ignore[index]
    raw["features"][-1]["properties"]["mark"] = "red"  # type: ignore[index]
    path = tmp_path / "red.geojson"
    path.write_text(json.dumps(raw), encoding="utf-8")
    ended, out, _ = called("course", "marking", str(path), "--json")
    told = json.loads(out)
    assert told["untried"] is False
    assert told["books"][0]["why_untried"] == ""
    assert sum(edge["points"] for edge in told["edges"]) > 0
    assert ended == (1 if told["faults"] else 0)


def test_the_drawing_of_an_untried_marking_calls_nothing_faultless(called: Run, tmp_path: Path) -> None:
    called("course", "marking", written(tmp_path, "moat", "unnumbered"), "--draw", str(tmp_path / "drawn"))
    drawn = (tmp_path / "drawn/course.svg").read_text(encoding="utf-8")
    assert "Nothing was tried" in drawn
    assert "No fault was found" not in drawn


def test_what_serves_no_hole_is_named_on_the_map(called: Run, tmp_path: Path) -> None:
    out = tmp_path / "map.svg"
    assert called("course", "draw", written(tmp_path, "unnumbered"), "-o", str(out))[0] == 0
    drawn = out.read_text(encoding="utf-8")
    for number in (1, 2, 3):
        for name in (f"green-{number}", f"tee-{number}", f"line-{number}", f"hole-{number}"):
            assert f">{name}<" in drawn


def test_what_serves_a_hole_is_named_when_asked(called: Run, tmp_path: Path) -> None:
    course = written(tmp_path)
    plain, named, hole = tmp_path / "plain.svg", tmp_path / "named.svg", tmp_path / "hole.svg"
    called("course", "draw", course, "-o", str(plain))
    called("course", "draw", course, "-o", str(named), "--names")
    called("course", "draw", course, "-o", str(hole), "--names", "--hole", "2")
    assert ">green-2<" not in plain.read_text(encoding="utf-8")
    assert ">green-2<" in named.read_text(encoding="utf-8")
    assert ">green-3<" in named.read_text(encoding="utf-8")
    assert ">green-2<" in hole.read_text(encoding="utf-8")
    assert ">green-3<" not in hole.read_text(encoding="utf-8")


@pytest.mark.parametrize("form", ["svg", "pdf"])
@pytest.mark.parametrize("oddity", ["no-lines", "no-greens", "no-tees", "lines-and-pins", "no-boundary", "hole-off-green"])
def test_each_hole_and_the_whole_course_are_drawn_of_what_there_is(called: Run, tmp_path: Path, oddity: str, form: str) -> None:
    course = written(tmp_path, oddity, "stacked")
    for words in ([], ["--hole", "1"], ["--hole", "3"]):
        ended, _, complaint = called("course", "draw", course, "-o", str(tmp_path / f"a.{form}"), *words)
        assert (ended, complaint) == (0, f"Drawn: {tmp_path / f'a.{form}'}\n")


def test_holes_of_lines_and_locations_alone_can_be_seen(called: Run, tmp_path: Path) -> None:
    out = tmp_path / "map.svg"
    called("course", "draw", written(tmp_path, "lines-and-pins"), "-o", str(out))
    drawn = out.read_text(encoding="utf-8")
    assert all(f">{number}<" in drawn for number in (1, 2, 3))
    assert "line of play" in drawn


def test_a_drawing_without_boundary_says_that_nothing_is_out_of_bounds(called: Run, tmp_path: Path) -> None:
    out = tmp_path / "map.svg"
    called("course", "draw", written(tmp_path, "no-boundary"), "-o", str(out))
    drawn = out.read_text(encoding="utf-8")
    assert "no boundary, so nothing is drawn as out of bounds" in drawn
    assert "<title>out of bounds</title>" not in drawn


def test_a_hole_with_nothing_on_the_map_is_refused_with_a_way_out(called: Run, tmp_path: Path) -> None:
    raw = odd_course(1, ("zones",))
    raw["features"] = [
        feature
        for feature in raw["features"]  # type: ignore[attr-defined]
        if feature["properties"]["kind"] in {"boundary", "dropping-zone"}
    ]
    path = tmp_path / "zone.geojson"
    path.write_text(json.dumps(raw), encoding="utf-8")
    ended, _, complaint = called("course", "draw", str(path), "--hole", "1", "-o", str(tmp_path / "a.svg"))
    assert ended == 2
    assert "no line of play, green, tee or hole location" in complaint
    assert "without --hole" in complaint
