"""Drawings on paper: read back from the PDF, a metre of ground is as long as the stated scale says."""

from __future__ import annotations

import re
import struct
from functools import lru_cache
from pathlib import Path

import pypdfium2
import pytest
from shapely.geometry import Polygon, box

from marram.core.errors import SurveyError
from marram.core.terms import ADVICE, FeatureKind
from marram.course.course import Course
from marram.interchange.courses.course_geojson import read_course
from marram.office.play.give_ruling import draw_ruling
from marram.sheets.drawn.course_drawing import draw_course
from marram.sheets.drawn.course_paper import SCALES, Paper, draw_course_on_paper
from marram.sheets.scene.pdf import drawing_pdf, drawing_png, size_mm, title_and_words
from tests.support.ground import course, feature
from tests.support.pdf_reading import page_mm, paths_mm, straight_mm, words_of
from tests.support.ruled_files import ruled_files

_ROOT = Path(__file__).parents[3]
_MOOR = _ROOT / "examples" / "courses" / "thimble-moor.geojson"
_POND = _ROOT / "examples" / "incidents" / "pond-7.toml"
_NEAR_MM = 0.01
_PROOF_MM = 50.0


def pdf_of(svg: str) -> bytes:
    title, alt = title_and_words(svg)
    return drawing_pdf(svg, title=title, alt=alt)


def with_square(boundary: Polygon) -> Course:
    """A course with a repair one metre square: nothing else on it is square and so large."""
    return course(feature("patch", FeatureKind.GROUND_UNDER_REPAIR, box(1.0, 2.0, 2.0, 3.0)), boundary=boundary)


def squares_mm(pdf: bytes, side_mm: float) -> list[tuple[float, float]]:
    """Width and height of each closed path of four corners that is about so large."""
    sizes = []
    for path in paths_mm(pdf):
        xs, ys = [x for x, _ in path], [y for _, y in path]
        if len(path) in {4, 5} and abs(max(xs) - min(xs) - side_mm) < 0.4 and abs(max(ys) - min(ys) - side_mm) < 0.4:
            sizes.append((max(xs) - min(xs), max(ys) - min(ys)))
    return sizes


@pytest.mark.parametrize(
    ("scale", "boundary", "paper"),
    [
        (100, box(-6, -8, 7, 9), Paper.A4),
        (100, box(-8, -10, 18, 6), Paper.A3),
        (500, box(-40, -50, 40, 60), Paper.A4),
        (60, box(-4, -4, 6, 6), Paper.A4),
    ],
)
def test_a_metre_of_the_course_is_as_long_as_the_scale_says(scale: int, boundary: Polygon, paper: Paper) -> None:
    pdf = pdf_of(draw_course_on_paper(with_square(boundary), hole=None, paper=paper, scale=scale))
    found = squares_mm(pdf, 1000 / scale)
    assert found
    for size in found:
        assert size == pytest.approx((1000 / scale, 1000 / scale), abs=_NEAR_MM)
    assert f"scale 1:{scale}" in words_of(pdf)


@lru_cache
def _ruling_pdf(scale: int | None) -> bytes:
    made = ruled_files(_POND, _MOOR, ("2023",))
    return pdf_of(draw_ruling(made, is_paper=True, scale=scale))


@pytest.mark.parametrize("scale", [100, 150])
def test_a_ruling_is_drawn_at_the_scale_that_is_asked(scale: int) -> None:
    pdf = _ruling_pdf(scale)
    # Two club-lengths of a driver of 45 inches, measured out from the crossing point.
    assert straight_mm(paths_mm(pdf), 90 * 25.4 / scale, 0.05) != []
    assert f"scale 1:{scale}" in words_of(pdf)


def test_a_ruling_that_does_not_fit_says_which_scale_does() -> None:
    made = ruled_files(_POND, _MOOR, ("2023",))
    with pytest.raises(SurveyError, match=r"1:20 .*1:\d+ would fit") as refused:
        draw_ruling(made, is_paper=True, scale=20)
    fitting = int(refused.value.hint.removeprefix("1:").split()[0])
    draw_ruling(made, is_paper=True, scale=fitting)


@pytest.mark.parametrize("scale", [None, 100])
def test_a_print_is_proved_by_a_bar_of_50_mm(scale: int | None) -> None:
    course_pdf = pdf_of(draw_course_on_paper(with_square(box(-6, -8, 7, 9)), hole=None, paper=Paper.A4, scale=scale))
    for pdf in (course_pdf, _ruling_pdf(scale)):
        assert straight_mm(paths_mm(pdf), _PROOF_MM, 0.5) == pytest.approx([_PROOF_MM], abs=_NEAR_MM)
        assert "50 mm: measure me" in words_of(pdf)
        assert "print at 100 %" in words_of(pdf)


@pytest.mark.parametrize(
    ("boundary", "paper", "size_mm"),
    [
        (box(-40, -50, 40, 60), Paper.A4, (210.0, 297.0)),
        (box(-90, -30, 90, 30), Paper.A4, (297.0, 210.0)),
        (box(-90, -30, 90, 30), Paper.A1, (841.0, 594.0)),
    ],
)
def test_the_sheet_lies_as_the_ground_does(boundary: Polygon, paper: Paper, size_mm: tuple[float, float]) -> None:
    pdf = pdf_of(draw_course_on_paper(with_square(boundary), hole=None, paper=paper, scale=None))
    assert page_mm(pdf) == pytest.approx(size_mm, abs=_NEAR_MM)


def test_without_a_scale_the_largest_fair_one_that_fits_is_taken() -> None:
    ground = with_square(box(-40, -50, 40, 60))
    words = words_of(pdf_of(draw_course_on_paper(ground, hole=None, paper=Paper.A4, scale=None)))
    scale = int(words.partition("scale 1:")[2].partition(",")[0])
    assert scale in SCALES
    larger = [each for each in SCALES if each < scale][-1]
    with pytest.raises(SurveyError, match=rf"1:{larger} .*A4.*1:{scale} would fit"):
        draw_course_on_paper(ground, hole=None, paper=Paper.A4, scale=larger)


def test_a_drawing_can_be_read_aloud() -> None:
    pdf = _ruling_pdf(None)
    for each in (b"/MarkInfo", b"/StructTreeRoot", b"/Lang", b"/Alt", b"pdfuaid"):
        assert each in pdf
    document = pypdfium2.PdfDocument(pdf)
    assert document.get_metadata_value("Title") == "Thimble Moor, hole 7"
    assert not document.get_metadata_value("CreationDate")


def test_what_is_told_of_a_ruling_holds_its_captions() -> None:
    made = ruled_files(_POND, _MOOR, ("2019", "2023"))
    _, told = title_and_words(draw_ruling(made, is_paper=True))
    for each in ("Thimble Moor, hole 7", "Lateral relief: one penalty stroke", ADVICE, *(one.book.title for one in made.given)):
        assert each in told


def test_what_is_told_of_a_course_names_what_is_drawn() -> None:
    _, told = title_and_words(draw_course_on_paper(read_course(_MOOR), hole=7, paper=Paper.A4, scale=None))
    for each in ("hole 7", "red penalty area", "bunker", "out of bounds"):
        assert each in told


def test_type_is_embedded_and_words_stay_words() -> None:
    pdf = _ruling_pdf(None)
    named = re.findall(rb"/FontName ?/([A-Z]{6}\+[\w-]+)", pdf)
    assert named
    assert all(b"LibertinusSerif" in name for name in named)
    assert len(re.findall(rb"/FontFile[23] ", pdf)) == len(named)
    words = words_of(pdf)
    for each in ("Hole 7, penalty area", "crossing point", "two club-lengths (2.29 m)", ADVICE):
        assert each in words


def test_no_word_runs_out_of_the_page() -> None:
    for incident in ("pond-7", "sprinkler-9-left", "burn-10"):
        made = ruled_files(_POND.with_stem(incident), _MOOR, ("2016", "2019", "2023"))
        page = pypdfium2.PdfDocument(pdf_of(draw_ruling(made, is_paper=True)))[0]
        width, height = page.get_size()
        text = page.get_textpage()
        boxes = [text.get_rect(number) for number in range(text.count_rects())]
        assert min(left for left, _, _, _ in boxes) > 0.02 * width
        assert max(right for _, _, right, _ in boxes) < 0.98 * width
        assert min(low for _, low, _, _ in boxes) > 0
        assert max(high for _, _, _, high in boxes) < height, incident


def test_a_drawing_for_the_screen_has_its_units_of_paper() -> None:
    svg = draw_course(read_course(_MOOR), hole=7)
    width_mm, height_mm = size_mm(svg)
    assert width_mm == pytest.approx(860 * 0.27)
    assert page_mm(pdf_of(svg)) == pytest.approx((width_mm, height_mm), abs=_NEAR_MM)


def test_equal_drawings_give_equal_bytes() -> None:
    svg = draw_course(read_course(_MOOR), hole=7)
    assert pdf_of(svg) == pdf_of(svg)
    assert drawing_png(svg, pixels_per_inch=50) == drawing_png(svg, pixels_per_inch=50)


def test_a_picture_states_how_large_it_is() -> None:
    svg = draw_course_on_paper(with_square(box(-6, -8, 7, 9)), hole=None, paper=Paper.A4, scale=100)
    png = drawing_png(svg, pixels_per_inch=100)
    width, height = struct.unpack(">II", png[16:24])
    assert (width, height) == (round(210 / 25.4 * 100), round(297 / 25.4 * 100))
    at = png.index(b"pHYs")
    assert struct.unpack(">IIB", png[at + 4 : at + 13]) == (3937, 3937, 1)


def test_a_title_may_hold_what_the_typesetter_reads() -> None:
    svg = draw_course(read_course(_MOOR), hole=7)
    pdf = drawing_pdf(svg, title='The "moor" \\ #hole', alt='a "b" \\c')
    assert pypdfium2.PdfDocument(pdf).get_metadata_value("Title") == 'The "moor" \\ #hole'
