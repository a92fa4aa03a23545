"""Contrast of every pair of inks that meet, in every light.

Source: Web Content Accessibility Guidelines (WCAG) 2.2, 5 October 2023: relative luminance, contrast ratio, and success criteria 1.4.3
(text: 4.5) and 1.4.11 (what can be pressed, and what is needed to understand a picture: 3).
"""

from __future__ import annotations

import re
from importlib import resources
from pathlib import Path

import pytest

from marram.sheets.scene.palette import PALETTES, Palette

DESK = Path(str(resources.files("marram.desk")))
STYLES = [*DESK.glob("static/*.css"), *DESK.glob("chapters/*/*.css")]
TEMPLATES = [*DESK.glob("pages/templates/*.html"), *DESK.glob("chapters/*/templates/*/*.html")]
TEXT, SIGN = 4.5, 3.0
OF_TEXT = [
    ("ink", "paper"),
    ("ink", "sheet"),
    ("ink", "well"),
    ("ink_2", "paper"),
    ("ink_2", "sheet"),
    ("pencil", "paper"),
    ("pencil", "sheet"),
    ("on_pencil", "pencil"),
    ("sheet", "ink"),
]
OF_SIGNS = [
    ("rule_2", "paper"),
    ("rule_2", "sheet"),
    ("pencil", "rough"),
    ("pencil", "fairway"),
    ("pencil", "green"),
    ("pencil", "water"),
    ("pencil", "path"),
    ("pencil", "sand"),
    ("red", "rough"),
    ("red", "water"),
    ("blue", "rough"),
    ("yellow", "case"),
]


def channels(colour: str) -> tuple[float, float, float]:
    digits = colour.removeprefix("#")
    wide = "".join(digit * 2 for digit in digits) if len(digits) == 3 else digits
    red, green, blue = (int(wide[at : at + 2], 16) / 255 for at in (0, 2, 4))
    return red, green, blue


def luminance(colour: str) -> float:
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels(colour)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_what_is_known() -> None:
    assert contrast("#fff", "#000") == pytest.approx(21.0)
    assert contrast("#777", "#fff") == pytest.approx(4.48, abs=0.01)  # the grey that just fails on white
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("palette", PALETTES.values(), ids=lambda palette: palette.name)
@pytest.mark.parametrize(("ink", "ground"), OF_TEXT)
def test_text_can_be_read(palette: Palette, ink: str, ground: str) -> None:
    assert contrast(getattr(palette, ink), getattr(palette, ground)) >= TEXT


@pytest.mark.parametrize("palette", [palette for palette in PALETTES.values() if palette.name != "print"], ids=lambda palette: palette.name)
@pytest.mark.parametrize(("ink", "ground"), OF_SIGNS)
def test_signs_can_be_seen(palette: Palette, ink: str, ground: str) -> None:
    assert contrast(getattr(palette, ink), getattr(palette, ground)) >= SIGN


def test_the_style_sheet_names_no_colour_of_its_own() -> None:
    text = "".join(file.read_text(encoding="utf-8") for file in STYLES)
    assert re.findall(r"#[0-9a-fA-F]{3,8}\b|rgba?\(|hsla?\(", text) == []


def test_the_style_sheet_uses_only_tokens_that_there_are() -> None:
    text = "".join(file.read_text(encoding="utf-8") for file in STYLES)
    known = set(next(iter(PALETTES.values())).tokens) | {"code-font", "touched"}
    assert set(re.findall(r"var\(--([a-z0-9-]+)\)", text)) <= known


def test_every_class_of_a_template_is_known_somewhere() -> None:
    """A class that no style and no script knows is a slip of the pen."""
    used = {
        name
        for file in TEMPLATES
        for value in re.findall(r'class="([^"]*)"', file.read_text(encoding="utf-8"))
        for name in re.sub(r"\{\{.*?\}\}|\{%.*?%\}", " ", value).split()
    }
    known = "".join(path.read_text(encoding="utf-8") for path in [*STYLES, *DESK.glob("static/*.js"), *DESK.glob("chapters/*/*.js")])
    unstyled = {"plan-l", "say-l", "change", "more", "marg", "reason"}
    assert {name for name in used if f".{name}" not in known and f'"{name}"' not in known} <= unstyled
