"""The style of a drawing: classes for its marks, whose colours are tokens, so that one drawing serves every light.

A file carries the classes with the plain colours of one palette, since what sets it for paper knows no tokens. On a page the drawing carries
no style: the page has the classes and the tokens once, in its own style sheet.
"""

from __future__ import annotations

import re
from functools import cache
from html import escape
from importlib import resources

from marram.sheets.scene.palette import DAY, PALETTES, Palette
from marram.sheets.scene.type_widths import Face, fit_words, words_width

_TOKEN = re.compile(r"var\(--([a-z0-9-]+)\)")
_HEADING = 28.0
"""Size of the type of a heading, drawing units."""
_NOTE = re.compile(r"/\*.*?\*/\n?", re.DOTALL)


@cache
def drawing_classes() -> str:
    """The classes of every drawing, for a page that carries the tokens."""
    written = resources.files("marram.sheets").joinpath("templates", "drawing.css").read_text(encoding="utf-8")
    return _NOTE.sub("", written)


@cache
def plain_classes(palette: Palette) -> str:
    """The classes of every drawing with the plain colours of a palette, for a file that stands alone."""
    tokens = palette.tokens
    return _TOKEN.sub(lambda found: tokens[found[1]], drawing_classes())


def tokens_of(palette: Palette, selector: str = ":root") -> str:
    """The tokens of a palette, for a style sheet.

    Args:
        palette: The palette.
        selector: What carries them: the whole page, or what states another light.
    """
    return f"{selector}{{{';'.join(f'--{name}:{value}' for name, value in palette.tokens.items())}}}"


def page_style(usual: Palette = DAY) -> str:
    """What the style sheet of a page needs, so that drawings stand on it without a style of their own.

    Args:
        usual: The palette of a page that states no light.

    Returns:
        The tokens of every palette and the classes of drawings. An element with ``data-light="night"`` (``day``, ``sun``, ``print``) shows
        what is in it in that light.
    """
    stated = (tokens_of(palette, f"[data-light={name}]") for name, palette in PALETTES.items())
    return "\n".join([tokens_of(usual), *stated, drawing_classes()])


def name_span(name: str) -> str:
    """A name that someone gave, in the direction of its own script, so that what stands beside it keeps its place."""
    return f'<tspan class="name">{escape(name)}</tspan>'


def fitted_heading(name: str, rest: str, width: float, face: Face) -> str:
    """A heading: a name as far as there is room, then what stands whole."""
    return name_span(fit_words(name, width - words_width(rest, face, _HEADING), face, _HEADING)) + escape(rest)


def definitions(prefix: str = "") -> str:
    """Patterns: one hatch or texture for each kind of ground, so that nothing is told by colour alone.

    Args:
        prefix: What the names of the patterns begin with, so that they are the drawing's own on a page with several.
    """
    return f"""<defs>
<pattern id="{prefix}t-relief" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect class="relief-wash" width="7" height="7"/><path class="relief-hatch" d="M0 0V7"/></pattern>
<pattern id="{prefix}t-second" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><rect class="second-wash" width="7" height="7"/><path class="second-hatch" d="M0 0V7"/></pattern>
<pattern id="{prefix}t-gur" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path class="gur-hatch" d="M0 0V6"/></pattern>
<pattern id="{prefix}t-tw" width="22" height="12" patternUnits="userSpaceOnUse"><path class="wave" d="M0 6q5.5-5 11 0t11 0"/></pattern>
<pattern id="{prefix}t-sand" width="9" height="9" patternUnits="userSpaceOnUse"><circle class="sand-dot" cx="2" cy="2" r=".9"/><circle class="sand-dot" cx="6.6" cy="5.8" r=".7"/></pattern>
<pattern id="{prefix}t-path" width="7" height="7" patternUnits="userSpaceOnUse"><circle class="path-dot" cx="1.5" cy="1.6" r=".55"/><circle class="path-dot" cx="5" cy="4.8" r=".55"/></pattern>
<pattern id="{prefix}t-rough" width="52" height="44" patternUnits="userSpaceOnUse"><path class="tuft" d="M9 14l-2-4M9 14v-5M9 14l2-4M36 36l-2-4M36 36v-5M36 36l2-4"/></pattern>
<pattern id="{prefix}t-fair" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(14)"><path class="mowing" d="M0 4H8"/></pattern>
<pattern id="{prefix}t-green" width="6" height="6" patternUnits="userSpaceOnUse"><circle class="green-dot" cx="3" cy="3" r=".7"/></pattern>
<pattern id="{prefix}t-trees" width="16" height="16" patternUnits="userSpaceOnUse"><circle class="tree" cx="5" cy="5" r="3.4"/><circle class="tree" cx="12" cy="12" r="2.6"/></pattern>
<pattern id="{prefix}t-oob" width="14" height="14" patternUnits="userSpaceOnUse"><path class="beyond" d="M4 4l5 5M9 4l-5 5"/></pattern>
<pattern id="{prefix}t-npz" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="npz-hatch" d="M0 0V8M0 0H8"/></pattern>
</defs>"""


def page_of(
    body: list[str], palette: Palette, width: float, height: float, *, size: str, title: str, words: str = "", prefix: str = ""
) -> str:
    """A whole drawing.

    Args:
        body: The marks.
        palette: The inks of a file that stands alone.
        width: Width in drawing units.
        height: Height in drawing units.
        size: Width and height as the file states them, with their unit.
        title: What the drawing is called.
        words: What it shows, for those who cannot see it.
        prefix: What its names begin with on a page that carries the style; empty for a file that carries its own.
    """
    view = f'viewBox="0 0 {width:.2f} {height:.2f}"'
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" {size} {view} role="img" lang="en">',
        f"<title>{escape(title)}</title>",
        *([f"<desc>{escape(words)}</desc>"] if words else []),
        *([] if prefix else [f"<style>\n{plain_classes(palette)}</style>"]),
        definitions(prefix),
        f'<rect class="page" width="{width:.2f}" height="{height:.2f}"/>',
        *body,
        "</svg>",
    ]
    return "\n".join(parts) + "\n"
