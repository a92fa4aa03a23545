"""Drawings as outsiders ask for them: SVG, PDF or PNG by the file's ending, at a stated scale, on a stated sheet."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.pdf_reading import page_mm, words_of
from tests.support.running import marram

COURSE = "examples/courses/thimble-moor.geojson"
POND = "examples/incidents/pond-7.toml"
STARTS = {"svg": b"<svg", "pdf": b"%PDF-1.7", "png": b"\x89PNG\r\n\x1a\n"}


@pytest.mark.parametrize("form", ["svg", "pdf", "png"])
def test_a_ruling_and_a_hole_are_written_by_their_ending(form: str, tmp_path: Path) -> None:
    ruling, hole = tmp_path / f"ruling.{form}", tmp_path / f"hole.{form.upper()}"
    assert marram("rule", POND, "--course", COURSE, "--book", "2023", "--draw", ruling).returncode == 0
    assert marram("course", "draw", COURSE, "--hole", "7", "-o", hole).returncode == 0
    assert ruling.read_bytes().startswith(STARTS[form])
    assert hole.read_bytes().startswith(STARTS[form])


@pytest.mark.parametrize("name", ["drawing.gif", "drawing"])
def test_another_ending_is_refused_with_the_three(name: str, tmp_path: Path) -> None:
    for words in (("rule", POND, "--course", COURSE, "--draw"), ("course", "draw", COURSE, "-o")):
        done = marram(*words, tmp_path / name)
        assert done.returncode == 2
        assert "Traceback" not in done.stderr
        assert all(ending in done.stderr for ending in (".svg", ".pdf", ".png"))
        assert list(tmp_path.iterdir()) == []


def test_a_ruling_as_pdf_is_for_paper_and_its_scale_is_kept(tmp_path: Path) -> None:
    out = tmp_path / "ruling.pdf"
    assert marram("rule", POND, "--course", COURSE, "--book", "2023", "--draw", out, "--scale", "100").returncode == 0
    assert page_mm(out.read_bytes())[0] == pytest.approx(210.0, abs=0.01)
    assert "scale 1:100" in words_of(out.read_bytes())


def test_a_course_is_drawn_on_the_sheet_that_is_asked(tmp_path: Path) -> None:
    out = tmp_path / "course.pdf"
    assert marram("course", "draw", COURSE, "--paper", "a3", "-o", out).returncode == 0
    assert page_mm(out.read_bytes()) == pytest.approx((420.0, 297.0), abs=0.01)
    assert "scale 1:3000" in words_of(out.read_bytes())  # some 1090 m in the 392 mm of the map: 1:2500 holds 980 m, 1:3000 1176 m


def test_ground_that_does_not_fit_is_refused_with_the_scale_that_does(tmp_path: Path) -> None:
    out = tmp_path / "hole.pdf"
    done = marram("course", "draw", COURSE, "--hole", "7", "--scale", "500", "-o", out)
    assert done.returncode == 2
    assert "does not fit A4" in done.stderr
    assert "1:2000 would fit" in done.stderr
    assert not out.exists()
    assert marram("course", "draw", COURSE, "--hole", "7", "--scale", "2000", "-o", out).returncode == 0
    assert marram("course", "draw", COURSE, "--hole", "7", "--scale", "0", "-o", out).returncode == 2


def test_places_are_drawn_in_the_form_that_is_asked(tmp_path: Path) -> None:
    words = ("course", "places", COURSE, "--procedure", "penalty-area-lateral-red", "--count", "1", "--form", "pdf")
    assert marram(*words, "--draw", tmp_path).returncode == 0
    (drawn,) = tmp_path.iterdir()
    assert drawn.suffix == ".pdf"
    assert page_mm(drawn.read_bytes())[0] == pytest.approx(210.0, abs=0.01)


def test_the_marking_is_drawn_as_pdf(tmp_path: Path) -> None:
    assert marram("course", "marking", COURSE, "--draw", tmp_path, "--form", "pdf").returncode == 1
    drawn = sorted(path.name for path in tmp_path.iterdir())
    assert "course.pdf" in drawn
    assert all(name.endswith(".pdf") for name in drawn)


def test_a_measuring_strip_is_made(tmp_path: Path) -> None:
    out = tmp_path / "strip.pdf"
    assert marram("sheet", "strip", "--length", "20in", "-o", out).returncode == 0
    assert "508.0 mm in all" in words_of(out.read_bytes())


@pytest.mark.parametrize(
    ("length", "name", "words"),
    [
        ("20", "strip.pdf", "in, ft, yd, cm or m"),
        ("9m", "strip.pdf", "2 cm to 5 m"),
        ("20in", "strip.png", ".pdf"),
        ("20in", "nowhere/strip.pdf", "cannot be written"),
    ],
)
def test_a_strip_that_cannot_be_made_is_told_in_one_message(length: str, name: str, words: str, tmp_path: Path) -> None:
    done = marram("sheet", "strip", "--length", length, "-o", tmp_path / name)
    assert done.returncode == 2
    assert words in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []
