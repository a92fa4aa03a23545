"""Drawings and pages under a strict content policy: colours are classes and tokens, and every light can be read."""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import asdict
from functools import lru_cache
from pathlib import Path

import pytest

from marram.evidence.telling.resting import Band, Loss, Step
from marram.interchange.books.book_files import read_book
from marram.interchange.courses.course_geojson import read_course
from marram.office.play.give_ruling import draw_ruling
from marram.records.rows import Arm
from marram.rulebook.differences.differences import tell_differences
from marram.sheets.drawn.course_drawing import draw_course
from marram.sheets.drawn.course_paper import Paper, draw_course_on_paper
from marram.sheets.drawn.effect_plot import axis_of, draw_foot, draw_head, draw_strip
from marram.sheets.drawn.marking_drawing import draw_marking
from marram.sheets.drawn.report_bars import draw_answers, draw_band, draw_key
from marram.sheets.drawn.season_drawing import draw_season
from marram.sheets.pages.difference_sheet import differences_html
from marram.sheets.scene.palette import PALETTES, PRINT, Palette
from marram.sheets.scene.rendering import Rendering
from marram.sheets.scene.sealed import seal_page
from marram.sheets.scene.style import drawing_classes, page_style, plain_classes, tokens_of
from tests.support.first_pages import answer_bar, effect_row, season_of
from tests.support.ruled_files import ruled_files

_ROOT = Path(__file__).parents[3]
_MOOR = _ROOT / "examples" / "courses" / "thimble-moor.geojson"
_POND = _ROOT / "examples" / "incidents" / "pond-7.toml"
_GROUNDS = ("paper", "sheet", "rough", "fairway", "green", "sand", "water", "path")
_STYLE = re.compile(r"<style>.*?</style>", re.DOTALL)


@lru_cache
def _drawings() -> dict[str, str]:
    course, made = read_course(_MOOR), ruled_files(_POND, _MOOR, ("2016", "2019", "2023"))
    return {
        "ruling": draw_ruling(made),
        "ruling on paper": draw_ruling(made, is_paper=True),
        "course": draw_course(course, hole=None, names_all=True),
        "hole": draw_course(course, hole=10),
        "hole on paper": draw_course_on_paper(course, hole=10, paper=Paper.A4, scale=None),
        "marking": next(draw_marking(course, [(read_book("2023"), None, [], "")]))[1],
        "effect": draw_strip(effect_row(0.8, (0.2, 1.4), by_definition=0.3), axis_of([effect_row(0.8, (0.2, 1.4))], 360)),
        "axis": draw_foot(axis_of([], 360)),
        "head": draw_head(axis_of([], 360)),
        "season": draw_season(season_of([Arm.TRIAL, Arm.ORDINARY, None]), 576),
        "band": draw_band(Band(steps=(Step(count=9, word="read"), Step(count=8, word="whole", losses=(Loss(count=1, reason="x"),)))), 576),
        "answers": draw_answers(answer_bar((3, 1, 4, 1, 5)), 360),
        "key": draw_key(576),
    }


def test_no_drawing_carries_a_colour_or_a_style_on_a_mark() -> None:
    for name, svg in _drawings().items():
        assert len(_STYLE.findall(svg)) == 1, name
        marks = _STYLE.sub("", svg)
        assert "style=" not in marks, name
        assert not re.search(r'\b(?:stroke|stroke-\w+|font-\w+|color|stop-color)="', marks), name
        assert set(re.findall(r'\bfill="([^"]*)"', marks)) <= {f"url(#t-{what})" for what in _patterns(marks)}, name


def _patterns(svg: str) -> set[str]:
    return set(re.findall(r'<pattern id="t-([a-z]+)"', svg))


def test_every_class_of_a_drawing_is_in_the_style_sheet() -> None:
    known = set(re.findall(r"\.([a-z][a-z0-9-]*)", drawing_classes()))
    for name, svg in _drawings().items():
        used = {word for words in re.findall(r'class="([^"]*)"', svg) for word in words.split()}
        assert used - {"oob", "tag", "disc"} <= known, name  # a pattern alone; a box with its letter; a plate with its number


def test_a_file_knows_no_token_and_a_page_states_each_once() -> None:
    for svg in _drawings().values():
        assert "var(" not in svg
    used = set(re.findall(r"var\(--([a-z0-9-]+)\)", drawing_classes()))
    for palette in PALETTES.values():
        assert used <= set(palette.tokens)
        assert tokens_of(palette).count("--ink:") == 1
    for palette in PALETTES.values():
        assert f"[data-light={palette.name}]{{--paper:{palette.paper};" in page_style()


@pytest.mark.parametrize("palette", PALETTES.values(), ids=PALETTES)
def test_a_drawing_on_a_page_is_the_file_without_its_style(palette: Palette) -> None:
    course = read_course(_MOOR)
    file = draw_course(course, hole=7, rendering=Rendering(palette=palette))
    page = draw_course(course, hole=7, rendering=Rendering(palette=palette, on_page="h7"))
    assert plain_classes(palette) in file
    assert "<style" not in page
    assert _STYLE.sub("", file).replace("\n\n", "\n") == page.replace('id="h7-', 'id="').replace("url(#h7-", "url(#")
    assert len(re.findall(r'\bid="', page)) == len(re.findall(r'\bid="h7-', page)) > 10


def test_pages_allow_their_own_style_and_nothing_else() -> None:
    books = (read_book("2019"), read_book("2023"))
    html = differences_html(tell_differences(books))
    (sheet,) = re.findall(r"<style>(.*?)</style>", html, re.DOTALL)
    digest = base64.b64encode(hashlib.sha256(sheet.encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    assert html.index(f'<meta http-equiv="Content-Security-Policy" content="{policy}">') < html.index("<style>")
    assert "style=" not in html
    assert "<script" not in html
    assert "#1c1c1a" not in html


def test_no_page_is_written_with_a_style_on_an_element_or_a_colour_of_its_own() -> None:
    pages = sorted((_ROOT / "src" / "marram" / "sheets" / "templates").glob("*.html"))
    assert len(pages) >= 5
    for page in pages:
        text = page.read_text(encoding="utf-8")
        assert " style=" not in text, page.name
        assert set(re.findall(r"#[0-9a-fA-F]{3,8}\b", text)) <= {"#fff"}, page.name  # white paper, where a page is printed


def test_a_page_without_a_style_sheet_allows_none() -> None:
    assert "style-src 'none'" in seal_page('<head><meta charset="utf-8"></head>')


def _luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, W3C 2023, definition of relative luminance)."""
    digits = colour.removeprefix("#")
    digits = "".join(2 * digit for digit in digits) if len(digits) == 3 else digits
    parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(one: str, other: str) -> float:
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_reckoned_as_published() -> None:
    assert _contrast("#fff", "#000") == pytest.approx(21.0)  # WCAG 2.2, contrast ratio: 1 to 21
    assert _contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)  # the best-known grey that just fails 4.5


@pytest.mark.parametrize("palette", PALETTES.values(), ids=PALETTES)
def test_words_can_be_read_on_every_ground(palette: Palette) -> None:
    """4.5 to 1: WCAG 2.2, success criterion 1.4.3."""
    tokens = palette.tokens
    for ground in _GROUNDS:
        for words in ("ink", "ink-2", "pencil"):
            assert _contrast(tokens[words], tokens[ground]) >= 4.5, (words, ground)
    assert _contrast(palette.on_pencil, palette.pencil) >= 4.5


@pytest.mark.parametrize("palette", PALETTES.values(), ids=PALETTES)
def test_lines_that_rule_can_be_told_from_every_ground(palette: Palette) -> None:
    """3 to 1: WCAG 2.2, success criterion 1.4.11. Textures of the ground and hairlines are ornament and have no least."""
    tokens = palette.tokens
    for ground in _GROUNDS:
        for line in ("ink", "pencil", "red", "blue", "path-line"):
            assert _contrast(tokens[line], tokens[ground]) >= 3.0, (line, ground)
        for mark in ("yellow", "white"):  # yellow and white never stand without their casing: one of the two is seen
            assert max(_contrast(tokens[mark], tokens[ground]), _contrast(palette.case, tokens[ground])) >= 3.0, (mark, ground)
        assert max(_contrast(palette.white, tokens[ground]), _contrast(palette.ball_edge, tokens[ground])) >= 3.0
    assert min(_contrast(palette.yellow, palette.case), _contrast(palette.white, palette.case)) >= 3.0
    assert _contrast(palette.water_line, palette.water) >= 3.0
    assert _contrast(palette.bar, palette.sheet) >= 3.0


def _rgb(colour: str) -> tuple[int, int, int]:
    digits = colour.removeprefix("#")
    digits = "".join(2 * digit for digit in digits) if len(digits) == 3 else digits
    return int(digits[:2], 16), int(digits[2:4], 16), int(digits[4:], 16)


@pytest.mark.parametrize("name", ["day", "night", "sun"])
def test_colours_of_the_trade_stay_what_they_are_called(name: str) -> None:
    palette = PALETTES[name]
    red, yellow, blue, pencil = map(_rgb, (palette.red, palette.yellow, palette.blue, palette.pencil))
    assert red[0] > 2 * max(red[1:])
    assert min(yellow[:2]) > 2 * yellow[2]
    assert blue[2] > max(blue[:2])
    assert min(pencil[0], pencil[2]) > pencil[1]  # violet: red and blue without green
    assert palette.white == "#fff"


def test_print_is_black_and_white() -> None:
    colours = [value for value in asdict(PRINT).values() if value.startswith("#") and value != PRINT.ball_edge]
    assert len(colours) > 20
    assert all(len(set(_rgb(colour))) == 1 for colour in colours)
