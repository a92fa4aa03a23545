"""Rulings on paper: no sheet is higher than A4, and no word of a book is lost between sheets."""

from __future__ import annotations

import re
from collections import Counter
from xml.etree import ElementTree

from marram.sheets.ruled.paper_rows import Row, share_out
from tests.support.drawn_places import drawn_places, few_places, sheets_of
from tests.support.drawn_views import other_words

A4_MM, FOOT_MM = 297.0, 10.0


def size_mm(svg: str) -> tuple[float, float]:
    root = ElementTree.fromstring(svg)
    width, height = root.attrib["width"], root.attrib["height"]
    assert width.endswith("mm") and height.endswith("mm")
    return float(width[:-2]), float(height[:-2])


def test_every_sheet_fits_a4_at_the_scale_that_it_states() -> None:
    seen = 0
    for place in drawn_places():
        for svg in sheets_of(place):
            width_mm, height_mm = size_mm(svg)
            assert width_mm == 210.0
            assert height_mm <= A4_MM - FOOT_MM + 0.01, place.name
            lowest = max(float(y) for y in re.findall(r'<text class="t[34]"[^>]* y="([\d.]+)"', svg))
            assert lowest * 0.27 <= height_mm, place.name
            seen += 1
    assert seen > 200


def letters_told(svg: str) -> Counter[str]:
    """How often a sheet says something of each letter; a line that only says what several begin with says nothing of them."""
    lines = ["".join(text.itertext()) for text in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}text")]
    found = [re.match(r"((?:[A-P], )*[A-P])\u2003(?!.*:$)", line) for line in lines]
    return Counter(letter for match in found if match is not None for letter in match[1].split(", "))


def test_of_two_books_every_option_stands_on_the_first_sheet() -> None:
    total = 0
    for place in drawn_places():
        if len(place.given) == 2:
            needed = Counter(letter for _, ruling in place.given for letter, _ in zip("ABCDEFGHIJKLMNOP", ruling.options, strict=False))
            assert letters_told(sheets_of(place)[0]) == needed, place.name
            total += 1
    assert total == 60


def test_of_two_books_one_sheet_does_at_more_than_half_the_places() -> None:
    assert sum(len(place.given) == 2 and len(sheets_of(place)) == 1 for place in drawn_places()) >= 34


def test_nothing_that_a_book_says_is_lost_between_sheets() -> None:
    for place in few_places(60):
        told = " ".join(other_words(svg) for svg in sheets_of(place)).replace("\u00a0", " ")
        for book, ruling in place.given:
            assert f"stamp {book.stamp}" in told
            for option in ruling.options:
                if option.relief_area is not None:
                    assert f"{option.relief_area.area_m2:.2f} m²" in told, place.name
            assert len(re.findall(r"\bNot: ", told)) == sum(len(each.not_available) for _, each in place.given), place.name
            asked = sum(len(each.facts_needed) for _, each in place.given)
            assert told.count("To be asked: ") == asked, place.name


def test_sheets_are_counted_and_each_ends_with_the_advice() -> None:
    for place in few_places(20):
        sheets = sheets_of(place)
        for number, svg in enumerate(sheets, start=1):
            words = other_words(svg)
            assert "the published Rules and the Committee decide" in words
            assert (f"sheet {number} of {len(sheets)}" in words) is (len(sheets) > 1)


def row(height: float) -> Row:
    return Row(left=("t4", ""), right=("t3", "words"), height=height, is_first=False)


def test_rows_are_shared_out_to_the_last_that_fits() -> None:
    # 100 to 160 hold three rows of 20; 50 to 90 hold two.
    sheets = share_out([row(20.0)] * 6, (100.0, 160.0), (50.0, 90.0))
    assert [[y for y, _ in sheet] for sheet in sheets] == [[100.0, 120.0, 140.0], [50.0, 70.0], [50.0]]
    assert share_out([row(20.0)], (150.0, 160.0), (50.0, 90.0)) == [[], [(50.0, row(20.0))]]
    assert share_out([], (0.0, 10.0), (0.0, 10.0)) == [[]]


def _row(words: str, *, is_start: bool) -> Row:
    return Row(left=("t4", ""), right=("t3", words), height=10.0, is_first=False, is_start=is_start)


def test_what_belongs_together_stays_on_one_sheet() -> None:
    rows = [_row("A", is_start=True), _row("a", is_start=False), _row("B", is_start=True), _row("b", is_start=False)]
    sheets = share_out(rows, (0.0, 35.0), (0.0, 100.0))
    assert [[row.right[1] for _, row in sheet] for sheet in sheets] == [["A", "a"], ["B", "b"]]
    assert [y for y, _ in sheets[1]] == [0.0, 10.0]


def test_what_is_longer_than_a_sheet_goes_on_with_its_next_row() -> None:
    rows = [_row("A", is_start=True), *(_row("a", is_start=False) for _ in range(5))]
    sheets = share_out(rows, (0.0, 5.0), (0.0, 30.0))
    assert [len(sheet) for sheet in sheets] == [0, 3, 3]
