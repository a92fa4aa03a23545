"""A drawing for the window that whoever shows it gives, with words or without."""

from __future__ import annotations

import math
import re
from functools import lru_cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box

from marram.core.errors import DataError, SurveyError
from marram.core.terms import FeatureKind
from marram.course.frame import Position
from marram.office.play.give_ruling import Rulings
from marram.sheets.drawn.course_drawing import draw_course
from marram.sheets.drawn.course_paper import Paper, draw_course_on_paper
from marram.sheets.ruled.ruling_drawing import draw_rulings
from marram.sheets.scene.palette import DAY, NIGHT
from marram.sheets.scene.rendering import Bounds, Rendering
from tests.support.ground import course, feature
from tests.support.ruled_files import ruled_files

_ROOT = Path(__file__).parents[3]
_MOOR = _ROOT / "examples" / "courses" / "thimble-moor.geojson"
_POND = _ROOT / "examples" / "incidents" / "pond-7.toml"
_PATH = _ROOT / "examples" / "incidents" / "path-15.toml"


GROUND = course(feature("patch", FeatureKind.GROUND_UNDER_REPAIR, box(1.0, 2.0, 5.0, 4.0)), boundary=box(-50, -50, 50, 50))


@lru_cache
def _made() -> Rulings:
    return ruled_files(_POND, _MOOR, ("2019", "2023"))


def _draw(rendering: Rendering, *, is_paper: bool = False, scale: int | None = None) -> str:
    made = _made()
    pairs = [(one.book, one.ruling) for one in made.given]
    return draw_rulings(made.incident, made.course, pairs, is_paper=is_paper, scale=scale, rendering=rendering)


def _about(half_m: float) -> Bounds:
    x_m, y_m = _point().xy
    return (x_m - half_m, y_m - half_m / 2, x_m + half_m, y_m + half_m / 2)


def _point() -> Position:
    """The point that lateral relief is measured from."""
    options = _made().given[-1].ruling.options
    return next(option.references[0].position for option in options if "lateral" in option.procedure)


def _places(svg: str, name: str) -> list[tuple[float, float]]:
    found = re.findall(rf'<g transform="translate\(([\d.-]+) ([\d.-]+)\)"><circle class="{name}"', svg)
    return [(float(x), float(y)) for x, y in found]


def test_without_words_the_drawing_is_the_window_and_nothing_else() -> None:
    svg = draw_course(GROUND, hole=None, rendering=Rendering(window=(-10, -5, 30, 15), has_words=False, width_px=400))
    assert 'width="400.00" height="200.00" viewBox="0 0 400.00 200.00"' in svg  # 40 m by 20 m at 10 units a metre
    assert "<text" not in svg
    # The patch lies 11 m to 15 m from the left edge and 11 m to 13 m below the upper one.
    (patch,) = re.findall(r'<path class="gur" [^>]*d="M([^"]*)Z"', svg)
    corners = {tuple(map(float, corner.split())) for corner in patch.split("L")}
    assert corners == {(110.0, 110.0), (150.0, 110.0), (150.0, 130.0), (110.0, 130.0)}


def test_a_ruling_without_words_puts_its_point_where_the_window_says() -> None:
    svg = _draw(Rendering(window=_about(8.0), has_words=False, width_px=320))
    assert 'viewBox="0 0 320.00 160.00"' in svg
    assert (160.0, 80.0) in _places(svg, "st-case")
    assert 'class="dim"' in svg  # lengths are drawn; their numbers are words
    assert "<text" not in svg
    assert "<desc>Plan, north up. Under " in svg  # those who cannot see it are told all the same


def test_a_window_moved_by_a_metre_moves_the_ground_by_a_metre() -> None:
    least_x, least_y, most_x, most_y = _about(8.0)
    svg = _draw(Rendering(window=(least_x + 1, least_y - 1, most_x + 1, most_y - 1), has_words=False, width_px=320))
    assert (140.0, 60.0) in _places(svg, "st-case")  # east: to the left by 20 units; south: up by 20


def test_without_a_window_it_is_chosen_as_for_the_screen() -> None:
    made = ruled_files(_PATH, _MOOR, ("2019", "2023"))  # its map shows all and stands alone on the whole width
    pairs = [(one.book, one.ruling) for one in made.given]
    whole, bare = (
        draw_rulings(made.incident, made.course, pairs, is_paper=False, rendering=rendering)
        for rendering in (Rendering(), Rendering(has_words=False, width_px=792))
    )
    (x, y), (bare_x, bare_y) = _places(whole, "st-case")[0], _places(bare, "st-case")[0]
    assert (bare_x, bare_y) == pytest.approx((x - 34, y - 86), abs=0.011)  # the map stands 34 units in and 86 down
    assert 'height="520.00"' in bare


def test_without_words_there_is_no_plan_of_the_hole() -> None:
    assert "THE WHOLE HOLE" in _draw(Rendering())
    assert "clip-plan" not in _draw(Rendering(has_words=False))


def test_with_words_the_sheet_is_filled_about_the_window() -> None:
    near, far = _draw(Rendering(window=_about(10.0))), _draw(Rendering(window=_about(40.0)))
    for svg, half_m in ((near, 10.0), (far, 40.0)):
        assert (34.0 + 396.0, 86.0 + 260.0) in _places(svg, "st-case")  # the middle of a map of 792 by 520
        shown = re.findall(r'class="coord" text-anchor="middle" x="[^"]*" y="[^"]*">([\d.\u2212]+)', svg)
        east_m = [float(number.replace("\u2212", "-")) for number in shown]
        assert max(east_m) <= _point().x_m + half_m
        assert min(east_m) >= _point().x_m - half_m
        assert "<text" in svg


def test_a_tall_window_is_seen_whole() -> None:
    x_m, y_m = _point().xy
    svg = _draw(Rendering(window=(x_m - 2, y_m - 26, x_m + 2, y_m + 26)))
    north_m = [float(found) for found in re.findall(r'rotate\(-90\)">([\d.-]+)', svg)]
    assert 40 <= max(north_m) - min(north_m) <= 52  # ticks each 10 m of the 52 m asked


def test_a_window_on_paper_sets_the_scale() -> None:
    # 24 m across at 1:150 are 160 mm of the 210 - 2 * 44 * 0.27 = 186.24 mm that the map has; at 1:100 they would be 240 mm.
    assert "1:150" in _draw(Rendering(window=_about(12.0)), is_paper=True)
    with pytest.raises(DataError, match="At 1:100 the area does not fit"):
        _draw(Rendering(window=_about(12.0)), is_paper=True, scale=100)


def test_a_light_is_asked_for() -> None:
    assert NIGHT.pencil in _draw(Rendering(palette=NIGHT))
    assert NIGHT.pencil not in _draw(Rendering())


def test_a_drawing_without_words_has_no_scale() -> None:
    with pytest.raises(DataError, match="no scale"):
        _draw(Rendering(has_words=False), is_paper=True, scale=100)


@pytest.mark.parametrize(
    ("window", "words"),
    [
        ((0.0, 0.0, math.nan, 1.0), "four numbers"),
        ((0.0, 0.0, math.inf, 1.0), "four numbers"),
        ((1.0, 0.0, 0.0, 1.0), "no inside"),
        ((0.0, 1.0, 1.0, 1.0), "no inside"),
        ((0.0, 0.0, 0.4, 0.4), "cannot be drawn"),
        ((0.0, 0.0, 20_001.0, 20_000.0), "cannot be drawn"),
        ((0.0, 0.0, 21.0, 1.0), "cannot be drawn"),
        ((0.0, 0.0, 1.0, 21.0), "cannot be drawn"),
    ],
)
def test_a_window_that_cannot_be_drawn_is_refused(window: Bounds, words: str) -> None:
    with pytest.raises(DataError, match=words) as refused:
        Rendering(window=window)
    assert refused.value.where == "window"
    assert refused.value.hint


@pytest.mark.parametrize("window", [(0.0, 0.0, 0.5, 0.5), (0.0, 0.0, 20_000.0, 20_000.0), (0.0, 0.0, 20.0, 1.0), (-5.0, -5.0, 5.0, 5.0)])
def test_a_window_at_the_limit_is_drawn(window: Bounds) -> None:
    for has_words in (True, False):
        assert draw_course(GROUND, hole=None, rendering=Rendering(window=window, has_words=has_words)).startswith("<svg")


@pytest.mark.parametrize("width_px", [0.0, -1.0, 99.0, 10_001.0, math.nan, math.inf])
def test_a_width_that_cannot_be_drawn_is_refused(width_px: float) -> None:
    with pytest.raises(DataError, match="px wide"):
        Rendering(width_px=width_px)


@pytest.mark.parametrize("name", ['a"b', "a b", "a)", "<b>"])
def test_a_name_that_would_break_the_page_is_refused(name: str) -> None:
    with pytest.raises(DataError, match="cannot be named"):
        Rendering(on_page=name)


@settings(max_examples=25, deadline=None)
@given(st.floats(-500, 500), st.floats(-500, 500), st.floats(2, 300), st.floats(2, 300), st.floats(100, 2000))
def test_a_window_keeps_its_shape(x_m: float, y_m: float, width_m: float, height_m: float, width_px: float) -> None:
    if max(width_m, height_m) > 19.9 * min(width_m, height_m):
        return
    rendering = Rendering(window=(x_m, y_m, x_m + width_m, y_m + height_m), has_words=False, width_px=width_px)
    svg = draw_course(GROUND, hole=None, rendering=rendering)
    found = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
    assert found is not None
    assert float(found[1]) == pytest.approx(width_px, abs=0.01)
    assert float(found[2]) == pytest.approx(width_px * height_m / width_m, abs=0.01)


def test_a_window_on_a_sheet_of_paper_sets_the_scale() -> None:
    # A4 upright leaves 182 mm by 249 mm for the map: 30 m by 40 m need 1:165 at least; lying they need 1:247. The series has 1:200.
    asked: Bounds = (-15.0, -20.0, 15.0, 20.0)
    assert "scale 1:200," in draw_course_on_paper(GROUND, hole=None, paper=Paper.A4, scale=None, window=asked)
    with pytest.raises(SurveyError, match="At 1:150 the ground does not fit A4"):
        draw_course_on_paper(GROUND, hole=None, paper=Paper.A4, scale=150, window=asked)
    with pytest.raises(DataError, match="no inside"):
        draw_course_on_paper(GROUND, hole=None, paper=Paper.A4, scale=None, window=(0.0, 0.0, 0.0, 0.0))


def test_a_bare_file_has_the_light_that_is_asked() -> None:
    svg = draw_course(GROUND, hole=None, rendering=Rendering(has_words=False, palette=NIGHT))
    assert NIGHT.rough in svg
    assert DAY.rough not in svg
