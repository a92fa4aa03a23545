"""The measuring strip: read back from the PDF, it is as long as was asked, whatever its pieces."""

from __future__ import annotations

from decimal import Decimal

import pytest

from marram.core.errors import DataError
from marram.sheets.pages.strip_sheet import read_length, strip_pdf
from tests.support.pdf_reading import Path, page_mm, paths_mm, words_of

STRIP_MM = 22.0
NEAR_MM = 0.02
MARGIN_MM = 10.0
LEAST_TO_GLUE_MM = 20.0


def uprights(paths: list[Path], high_mm: float) -> list[tuple[float, float]]:
    """Left and lower end of every upright stroke that is so high, row by row from the top, left to right."""
    found = []
    for path in paths:
        if len(path) == 2 and abs(path[0][0] - path[1][0]) < 0.001 and abs(abs(path[0][1] - path[1][1]) - high_mm) < 0.01:
            found.append((path[0][0], min(path[0][1], path[1][1])))
    return sorted(found, key=lambda at: (-round(at[1], 1), at[0]))


def pieces_mm(pdf: bytes, pages: int) -> list[float]:
    """Length of each piece: from the first to the last upright edge in its row."""
    lengths = []
    for page in range(pages):
        edges = uprights(paths_mm(pdf, page), STRIP_MM)
        for row in sorted({round(low, 1) for _, low in edges}, reverse=True):
            ends = [x for x, low in edges if round(low, 1) == row]
            lengths.append(max(ends) - min(ends))
    return lengths


@pytest.mark.parametrize(
    ("asked", "whole_mm", "count", "pages"),
    [
        ("20in", 508.0, 2, 1),
        ("80 in", 2032.0, 8, 2),
        ("1 yd", 914.4, 4, 1),
        ("1ft", 304.8, 2, 1),
        ("50cm", 500.0, 2, 1),
        ("1.145 m", 1145.0, 5, 2),
        ("10.1in", 256.54, 2, 1),
        ("2cm", 20.0, 1, 1),
        ("5 m", 5000.0, 20, 5),
    ],
)
def test_the_pieces_add_up_to_the_length(asked: str, whole_mm: float, count: int, pages: int) -> None:
    pdf = strip_pdf(read_length(asked))
    lengths = pieces_mm(pdf, pages)
    assert len(lengths) == count
    # A unit of the drawing is written to 0.0001, a point of the PDF to about 0.001: 0.02 mm is far above both.
    assert sum(lengths) == pytest.approx(whole_mm, abs=NEAR_MM)
    assert min(lengths) >= LEAST_TO_GLUE_MM - NEAR_MM


def test_two_equal_pieces_of_254_mm_lie_on_one_page_within_what_a_printer_reaches() -> None:
    pdf = strip_pdf(read_length("20in"))
    assert page_mm(pdf) == pytest.approx((297.0, 210.0), abs=0.01)
    assert pieces_mm(pdf, 1) == pytest.approx([254.0, 254.0], abs=NEAR_MM)
    drawn = [at for path in paths_mm(pdf) if len(path) == 2 for at in path]
    assert min(x for x, _ in drawn) >= MARGIN_MM
    assert max(x for x, _ in drawn) <= 297.0 - MARGIN_MM
    assert min(y for _, y in drawn) >= MARGIN_MM
    assert max(y for _, y in drawn) <= 210.0 - MARGIN_MM


def test_each_inch_has_its_tick_on_the_upper_edge_and_each_centimetre_on_the_lower() -> None:
    paths = paths_mm(strip_pdf(read_length("20in")))
    edges = uprights(paths, STRIP_MM)
    left, low = edges[0]
    ticks = uprights(paths, 4.6)
    inches = sorted(x - left for x, at in ticks if abs(at - (low + STRIP_MM - 4.6)) < 0.05)
    centimetres = sorted(x - left for x, at in ticks if abs(at - low) < 0.05)
    assert inches == pytest.approx([25.4 * number for number in range(1, 10)], abs=NEAR_MM)
    assert centimetres == pytest.approx([10.0 * number for number in range(1, 26)], abs=NEAR_MM)


def test_the_second_piece_goes_on_counting_where_the_first_ends() -> None:
    paths = paths_mm(strip_pdf(read_length("20in")))
    low = min(at for _, at in uprights(paths, STRIP_MM))
    left = min(x for x, at in uprights(paths, STRIP_MM) if at == low)
    centimetres = sorted(x - left for x, at in uprights(paths, 4.6) if abs(at - low) < 0.05)
    assert centimetres[0] == pytest.approx(260.0 - 254.0, abs=NEAR_MM)
    assert len(centimetres) == 25  # 26 to 50 cm


def test_every_page_can_be_proved_with_a_ruler() -> None:
    pdf = strip_pdf(read_length("80in"))
    for page in range(2):
        low = [path for path in paths_mm(pdf, page) if len(path) == 2 and max(path[0][1], path[1][1]) < 40.0]
        level = [abs(path[1][0] - path[0][0]) for path in low if abs(path[1][1] - path[0][1]) < 0.001]
        assert sorted(level) == pytest.approx([100.0, 101.6], abs=NEAR_MM)
    words = words_of(pdf)
    for each in (
        "Measuring strip, 80 in",
        "2032.0 mm in all",
        "Print at 100 %, no fitting to page",
        "100 mm: measure me",
        "4 in: measure me",
    ):
        assert each in words


def test_the_strip_can_be_read_aloud_and_is_the_same_each_time() -> None:
    pdf = strip_pdf(read_length("80in"))
    assert pdf == strip_pdf(read_length("80in"))
    assert pdf.count(b"/Alt") == 2
    for each in (b"/MarkInfo", b"/StructTreeRoot", b"/Lang", b"pdfuaid", b"/FontFile"):
        assert each in pdf


def test_a_length_is_read_in_the_units_of_the_trade() -> None:
    assert read_length(" 1.50 M ").words == "1.5 m"
    assert read_length("2yd").mm == Decimal("1828.8")
    assert read_length("20in").is_metric is False
    assert read_length("100 cm").words == "100 cm"


@pytest.mark.parametrize("text", ["", "20", "in", "-3in", "20 miles", "1e3m", "nan m", "20in 3", "1,5m"])
def test_what_is_no_length_is_told_with_what_would_be(text: str) -> None:
    with pytest.raises(DataError, match=r"is no length.*in, ft, yd, cm or m"):
        read_length(text)


@pytest.mark.parametrize("text", ["5.1m", "0in", "1.9cm", "200in"])
def test_a_strip_that_paper_cannot_be_is_refused(text: str) -> None:
    with pytest.raises(DataError, match=r"2 cm to 5 m"):
        read_length(text)
