"""What a page or a phone asks of a drawing: window, words, light, and the style sheet that it stands under."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.core.errors import DataError
from marram.core.lengths import IN_METRES, Lengths

if TYPE_CHECKING:
    from marram.sheets.scene.palette import Palette
    from marram.sheets.scene.rendering import Bounds, Rendering


def ask_drawing(
    *,
    window: Bounds | None = None,
    has_words: bool = True,
    is_map_alone: bool = False,
    light: str = "",
    on_page: str = "",
    width_px: float = 860.0,
    lengths: Lengths = IN_METRES,
) -> Rendering:
    """Say how a drawing is wanted.

    Args:
        window: Least x, least y, greatest x, greatest y of what must be seen, metres of the course; None where the drawing chooses.
        has_words: Whether labels, frame, heading and caption are drawn; without them the drawing is the window and nothing else.
        is_map_alone: Whether the map stands in its frame without heading and caption.
        light: ``day``, ``night``, ``sun`` or ``print``; empty for that of the sheet.
        on_page: Name of the drawing on a page that carries ``drawing_style``; empty for a file that carries its own.
        width_px: Width of a drawing without words, drawing units; of a map that stands alone, less than 600 for a phone.
        lengths: How lengths are told in its words.

    Raises:
        DataError: The window, the light, the name or the width cannot be drawn.
    """
    from marram.sheets.scene.rendering import Rendering

    palette = _palette(light) if light else None
    return Rendering(
        window=window,
        has_words=has_words,
        is_map_alone=is_map_alone,
        palette=palette,
        on_page=on_page,
        width_px=width_px,
        lengths=lengths,
    )


def drawing_style(light: str = "day") -> str:
    """The style sheet of a page on which drawings stand without a style of their own: tokens of every light, and the classes.

    Args:
        light: The light of a page that states none; ``data-light`` on an element states another for what is in it.

    Raises:
        DataError: There is no such light.
    """
    from marram.sheets.scene.style import page_style

    return page_style(_palette(light))


def print_style() -> str:
    """What a page adds to ``drawing_style`` so that it prints in the inks of paper, whatever light it is shown in."""
    from marram.sheets.scene.palette import PRINT
    from marram.sheets.scene.style import tokens_of

    return f"@media print{{{tokens_of(PRINT, ':root,[data-light]')}}}"


def _palette(light: str) -> Palette:
    from marram.sheets.scene.palette import PALETTES

    if light not in PALETTES:
        raise DataError(f"There is no light named {light!r}.", where="light", hint=f"Lights: {', '.join(PALETTES)}.")
    return PALETTES[light]
