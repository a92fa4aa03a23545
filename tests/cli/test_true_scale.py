"""Every print that states a scale is true to it: read back from the PDF, the scale bar of each drawing is as long as its words say."""

from __future__ import annotations

import re
from pathlib import Path

import pypdfium2
import pytest

from tests.cli.test_odd_names import course_file, incident_file
from tests.support.pdf_reading import paths_mm, words_of_page
from tests.support.running import marram

_BAR = re.compile(r"(\d+(?:\.\d+)?) m 1:(\d+)")
"""A bar of a guide's frame: its length, then the scale."""
_NEAR_MM = 0.02
_TALLEST_MM = 2.0


def bars_mm(pdf: bytes, page: int) -> list[tuple[float, list[float]]]:
    """For each bar that a page names how long half of it should be, with what low boxes of about that width are."""
    told = {float(metres) * 1000 / int(scale) / 2 for metres, scale in _BAR.findall(words_of_page(pdf, page))}
    boxes = [(max(x) - min(x), max(y) - min(y)) for path in paths_mm(pdf, page) for x, y in [zip(*path, strict=True)]]
    return [(half, [wide for wide, high in boxes if abs(wide - half) < 0.03 * half and 0.5 < high < _TALLEST_MM]) for half in told]


@pytest.mark.parametrize("name", ["guide.pdf", "guide-pocket.pdf"])
def test_each_frame_of_a_guide_is_true_to_the_scale_that_it_states(tmp_path: Path, name: str) -> None:
    course = str(course_file(tmp_path, "Moor", []))
    words = ("sheet", "procedure", "unplayable-lateral", "--course", course, "--book", "2023", "-o", str(tmp_path / "guide"))
    assert marram(*words).returncode == 0
    pdf = (tmp_path / "guide" / name).read_bytes()
    found = [bar for page in range(len(pypdfium2.PdfDocument(pdf))) for bar in bars_mm(pdf, page)]
    assert found
    for half_mm, drawn in found:
        assert len(drawn) >= 2  # a bar of two halves
        assert drawn == pytest.approx([half_mm] * len(drawn), abs=_NEAR_MM)


def test_a_metre_of_a_ruling_is_ten_millimetres_at_one_to_a_hundred(tmp_path: Path) -> None:
    """The animal hole of the incident has a radius of 0.3 m, so that it is 6.00 mm across."""
    course, out = str(course_file(tmp_path, "Moor", [])), tmp_path / "drawn.pdf"
    incident = str(incident_file(tmp_path, "hole of a fox"))
    assert marram("rule", incident, "--course", course, "--book", "2023", "--draw", str(out), "--scale", "100").returncode == 0
    boxes = [(max(x) - min(x), max(y) - min(y)) for path in paths_mm(out.read_bytes()) for x, y in [zip(*path, strict=True)]]
    assert [box for box in boxes if box == pytest.approx((6.0, 6.0), abs=_NEAR_MM)]
