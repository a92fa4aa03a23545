"""Any drawing as a PDF or a picture at its true size: the page is the drawing's own size, and a millimetre stays one."""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Sequence
from html import unescape

from marram.core.units import INCH_M
from marram.sheets.scene.svg import UNIT_MM
from marram.sheets.scene.typesetting import set_pdf, set_png

_SIZE = re.compile(r'<svg\b[^>]*?\bwidth="([\d.]+)(mm)?" height="([\d.]+)(mm)?"')
_WORDS = {name: re.compile(rf"<{name}>(.*?)</{name}>", re.DOTALL) for name in ("title", "desc")}
_PNG_HEAD = 8 + 25
"""Bytes before the second chunk of a PNG file: its mark, and the chunk IHDR (ISO/IEC 15948:2004, sections 5.2 and 11.2.2)."""


def drawing_pdf(svg: str, *, title: str, alt: str) -> bytes:
    """A drawing as a PDF whose page is as large as the drawing.

    Args:
        svg: One of Marram's drawings.
        title: What the drawing is called.
        alt: What the drawing shows, for those who cannot see it.

    Returns:
        The PDF, without a date; equal input gives equal bytes. Words stay words, and their type is embedded.
    """
    return pages_pdf([(svg, alt)], title=title)


def pages_pdf(pages: Sequence[tuple[str, str]], *, title: str) -> bytes:
    """Drawings as one PDF, each on a page as large as itself.

    Args:
        pages: Drawings, each with what it shows.
        title: What they are together.
    """
    source = "\n#pagebreak()\n".join(_page(number, svg, alt) for number, (svg, alt) in enumerate(pages))
    files = {_file(number): svg.encode() for number, (svg, _) in enumerate(pages)}
    return set_pdf(f"{_head(title)}\n{source}", files)


def drawing_png(svg: str, *, pixels_per_inch: float) -> bytes:
    """A drawing as a picture that states its true size.

    Args:
        svg: One of Marram's drawings.
        pixels_per_inch: Pixels to an inch of the drawing.
    """
    source = f"{_head('')}\n{_page(0, svg, 'drawing')}"
    return _with_size(set_png(source, {_file(0): svg.encode()}, pixels_per_inch=pixels_per_inch), pixels_per_inch)


def size_mm(svg: str) -> tuple[float, float]:
    """Width and height of a drawing on paper; one for the screen counts 0.27 mm for each of its units."""
    found = _SIZE.search(svg)
    if found is None:
        raise ValueError("not a drawing with a stated size")
    width, unit, height, _ = found.groups()
    factor = 1.0 if unit else UNIT_MM
    return float(width) * factor, float(height) * factor


def title_and_words(svg: str) -> tuple[str, str]:
    """The title of a drawing, and its title with what it says of itself."""
    title, words = ("" if (found := form.search(svg)) is None else unescape(found[1]) for form in _WORDS.values())
    return title, f"{title}. {words}" if words else title


def _file(number: int) -> str:
    return f"drawing-{number}.svg"


def _head(title: str) -> str:
    return f'#set document(title: "{_quoted(title)}", date: none)\n#set text(font: "Libertinus Serif", lang: "en", region: "GB")'


def _page(number: int, svg: str, alt: str) -> str:
    size = "width: {:.4f}mm, height: {:.4f}mm".format(*size_mm(svg))
    return f'#set page({size}, margin: 0mm)\n#image("{_file(number)}", alt: "{_quoted(alt)}", {size}, fit: "stretch")'


def _quoted(words: str) -> str:
    return words.replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ")


def _with_size(png: bytes, pixels_per_inch: float) -> bytes:
    """The picture with its size: pixels to the metre in the chunk pHYs.

    Source: ISO/IEC 15948:2004, section 11.3.5.3.
    """
    per_m = round(pixels_per_inch / INCH_M)
    content = b"pHYs" + struct.pack(">IIB", per_m, per_m, 1)
    chunk = struct.pack(">I", len(content) - 4) + content + struct.pack(">I", zlib.crc32(content))
    return png[:_PNG_HEAD] + chunk + png[_PNG_HEAD:]
