"""What every drawing of a report is made of: its frame, words of known width, and five patterns that are told apart without colour."""

from __future__ import annotations

from html import escape

from marram.sheets.scene.palette import PRINT
from marram.sheets.scene.style import plain_classes

UNITS_PER_MM = 4.0
"""On paper: words of 13 units are 3.25 mm high."""
_LETTER = 7.2  # mean width of a letter of 13 units, with 12 % to spare for another font


def told_width(text: str) -> float:
    """Width that a text of the drawing takes, with some to spare."""
    return len(text) * _LETTER


def words_at(x: float, y: float, text: str, anchor: str = "start") -> str:
    """A text of the drawing."""
    return f'<text x="{x:.2f}" y="{y:.2f}" class="figure" text-anchor="{anchor}">{escape(text)}</text>'


def drawn(body: list[str], width: float, height: float, words: str, *, is_on_page: bool) -> str:
    """A whole drawing.

    Args:
        body: Its marks.
        width: Width in drawing units.
        height: Height in drawing units.
        words: What it shows, for those who cannot see it.
        is_on_page: Whether it stands on a page that carries the style, else in a file for paper.
    """
    told = escape(words, quote=True)
    style = "" if is_on_page else f"<style>\n{plain_classes(PRINT)}</style>"
    size = f'viewBox="0 0 {width:g} {height:g}" width="{width:g}" height="{height:g}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" {size} role="img" aria-label="{told}">'
    return "\n".join(part for part in (head, f"<title>{told}</title>", style, *body, "</svg>") if part)


FIVE = ("solid", "dense", "open", "sparse", "dots")
"""The five patterns, dark to light."""


_STEP = {"dense": 7.0, "sparse": 9.4}
_DOTS, _DOT = 6.4, 1.3


def box(x: float, y: float, width: float, height: float, pattern: str) -> str:
    """A box in one of the patterns, or ``lost``: a broken edge with nothing in it.

    Hatches are lines of their own: a repeated tile shows its seams on paper.
    """
    width = max(width, 0.0)
    place = f'x="{x:.2f}" y="{y:.2f}" width="{width:.2f}" height="{height:.2f}"'
    if pattern in {"open", "lost"}:
        return f'<rect {place} class="{pattern}"/>'
    if pattern == "solid":
        return f'<rect {place} class="solid edge"/>'
    inside = _dots(x, y, width, height) if pattern == "dots" else _hatch(x, y, width, height, pattern)
    return f'<rect {place} class="open"/>{inside}'


def _hatch(x: float, y: float, width: float, height: float, pattern: str) -> str:
    """Lines at 45 degrees, each from edge to edge of the box; thin ones lean the other way."""
    step = _STEP[pattern]
    ends, at = [], step / 2
    while at < width + height:
        x1, y1, x2, y2 = min(at, width), max(0.0, at - width), max(0.0, at - height), min(at, height)
        if pattern == "sparse":
            y1, y2 = height - y1, height - y2
        ends.append(f"M{x + x1:.2f} {y + y1:.2f}L{x + x2:.2f} {y + y2:.2f}")
        at += step
    return f'<path d="{"".join(ends)}" class="{pattern}"/>'


def _dots(x: float, y: float, width: float, height: float) -> str:
    """Dots in rows, none over the edge."""
    across, down = int((width - 2 * _DOT) / _DOTS) + 1, int((height - 2 * _DOT) / _DOTS)
    if width < 2 * _DOT + 1:
        return ""
    left, top = x + (width - (across - 1) * _DOTS) / 2, y + (height - (down - 1) * _DOTS) / 2
    places = ((left + column * _DOTS, top + row * _DOTS) for column in range(across) for row in range(down))
    return "".join(f'<circle cx="{at:.2f}" cy="{below:.2f}" r="{_DOT}" class="speck"/>' for at, below in places)


def grouped(number: int) -> str:
    """A number with its thousands apart."""
    return f"{number:,}".replace(",", "\u2009")
