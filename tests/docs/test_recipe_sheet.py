"""The recipe for a sheet: what it names draws a scene, makes a page of PDF of it at its scale, and stands beside the other sheets."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from shapely.geometry import box

from marram.cli.sheet.command import sheet
from marram.course.frame import Position
from marram.sheets.scene.palette import PRINT
from marram.sheets.scene.pdf import drawing_pdf
from marram.sheets.scene.scene import Item, Role, Scene, Window
from marram.sheets.scene.style import page_of
from marram.sheets.scene.svg import View, draw_view
from marram.sheets.scene.typesetting import set_pdf
from tests.support.pdf_reading import page_mm, paths_mm, words_of

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "recipes" / "a-sheet.md").read_text(encoding="utf-8")
USED = (drawing_pdf, Scene, PRINT.__class__, page_of, draw_view, set_pdf)


@pytest.mark.parametrize("used", USED, ids=lambda used: used.__name__)
def test_what_is_used_here_is_what_the_page_names(used: type) -> None:
    assert f"`src/{used.__module__.replace('.', '/')}.py`" in PAGE


def test_a_scene_becomes_a_page_of_pdf_at_its_scale() -> None:
    """By hand: at 1:200 a metre is 5 mm, so that a repair of 10 m is 50 mm wide on a page of 20 m, which is 100 mm."""
    window = Window(middle=Position(x_m=0, y_m=0), width_m=20, height_m=20)
    scene = Scene(items=(Item(role=Role.REPAIR, geometry=box(-5, -5, 5, 5), title="repair"),))
    body = list(draw_view(scene, View(window=window, x=0, y=0, units_per_m=5, name="view"), []))
    svg = page_of(body, PRINT, 100, 100, size='width="100mm" height="100mm"', title="A repair", words="A square.")
    made = drawing_pdf(svg, title="A repair", alt="A square.")
    assert page_mm(made) == pytest.approx((100, 100), abs=0.1)
    spans = [
        (max(x for x, _ in path) - min(x for x, _ in path), max(y for _, y in path) - min(y for _, y in path)) for path in paths_mm(made)
    ]
    assert [span for span in spans if span == pytest.approx((50, 50), abs=0.05)]


def test_a_page_of_text_is_set() -> None:
    assert "Relief under the book" in words_of(set_pdf("#set document(title: [Sheet])\nRelief under the book"))


def test_its_command_stands_beside_the_others() -> None:
    assert "`src/marram/cli/sheet/command.py`" in PAGE
    listed = CliRunner().invoke(sheet, ["--help"]).output
    assert all(name in listed for name in ("procedure", "trial", "relief", "strip"))
