"""What a browser makes of a drawing: the box of every line of words and every badge, as its own type sets them."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Sequence
from html import unescape
from pathlib import Path

from shapely.geometry import Polygon

from tests.support.drawn_words import Drawn, Words, read_drawing

_SCRIPT = """<script>
const found = [...document.querySelectorAll('svg')].map(svg => [...svg.querySelectorAll('text, .tag > rect')].map(each => {
  const b = each.getBBox(), m = each.getCTM();
  const at = (x, y) => [m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f];
  return [at(b.x, b.y), at(b.x + b.width, b.y), at(b.x + b.width, b.y + b.height), at(b.x, b.y + b.height)];
}));
document.body.innerHTML = '';
const told = document.createElement('pre');
told.id = 'told';
told.textContent = JSON.stringify(found);
document.body.append(told);
</script>"""
_TOLD = re.compile(r'<pre id="told">(.*?)</pre>', re.DOTALL)
_SIZE = re.compile(r'(<svg [^>]*?)width="[^"]*" height="[^"]*" viewBox="0 0 ([\d.]+) ([\d.]+)"')


def read_in_browser(drawings: Sequence[str], folder: Path) -> list[Drawn]:
    """Read drawings back with the boxes that Chromium gives their words.

    Args:
        drawings: SVG files.
        folder: Where the page may be written.
    """
    page = folder / "drawings.html"
    # One unit is one pixel, so that the boxes are those of the drawing; each file keeps its style to itself in a page of its own kind.
    shown = "".join(_SIZE.sub(r'\1width="\2" height="\3" viewBox="0 0 \2 \3"', each) for each in drawings)
    page.write_text(f"<!doctype html><meta charset='utf-8'><body>{shown}{_SCRIPT}</body>", encoding="utf-8")
    command = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--virtual-time-budget=10000", "--dump-dom", page.as_uri()]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
    told = _TOLD.search(done.stdout)
    assert told is not None, "the browser told nothing"
    return [_with_boxes(svg, boxes) for svg, boxes in zip(drawings, json.loads(unescape(told[1])), strict=True)]


def _with_boxes(svg: str, boxes: list[list[list[float]]]) -> Drawn:
    """The drawing with the browser's boxes in place of those that are reckoned; the letter of a badge stands in its badge."""
    drawn = read_drawing(svg)
    elements = iter(boxes)
    words = []
    for each in drawn.words:
        outline = Polygon(next(elements))
        if each.kind == "badge":
            letter = Polygon(next(elements))
            assert outline.covers(letter), f"the letter {each.text} leaves its badge"
        words.append(Words(text=each.text, kind=each.kind, outline=outline, is_on_map=each.is_on_map, class_names=each.class_names))
    assert next(elements, None) is None
    drawn.words = words
    return drawn
