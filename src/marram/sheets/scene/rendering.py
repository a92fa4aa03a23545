"""What whoever shows a drawing asks of it: the ground in sight, with words or without, in which light, as a file or on a page."""

from __future__ import annotations

import math
from dataclasses import dataclass

from marram.core.errors import DataError
from marram.core.lengths import IN_METRES, Lengths
from marram.course.frame import Position
from marram.sheets.scene.palette import Palette
from marram.sheets.scene.scene import Scene, Window
from marram.sheets.scene.style import page_of
from marram.sheets.scene.svg import View, draw_view

Bounds = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y, metres of the course."""
_LEAST_SIDE_M, _MOST_SIDE_M, _LONGEST = 0.5, 20_000.0, 20.0
"""No smaller than what a drawing can tell apart, no larger than a map with a grid, and no longer than so many times its width."""

TOP_ALONE, FOOT_ALONE = 8.0, 28.0
"""Room above a map that stands alone, for its outer line, and below it, for the figures of its frame; drawing units."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rendering:
    """How a drawing is given to whoever shows it.

    Attributes:
        window: What must be seen; None where the drawing chooses. A sheet with heading and frame is filled about it, and without words the
            drawing is the window and nothing else.
        has_words: Whether labels, lengths, heading, frame, title block and caption are drawn.
        is_map_alone: Whether the map stands in its frame without heading and caption, which the page about it has.
        palette: The light; None for that of the sheet: print on paper, else day.
        on_page: Name of the drawing on a page that carries the style; empty for a file that carries its own.
        lengths: How lengths are told in its words.
        width_px: Width of a drawing without words, or of a map that stands alone, drawing units: line widths, hatches and words keep their
            size, whatever the screen. A map alone that is narrower than a page is redrawn for a phone, with the chosen area large.

    Raises:
        DataError: The window or the width cannot be drawn.
    """

    window: Bounds | None = None
    has_words: bool = True
    is_map_alone: bool = False
    palette: Palette | None = None
    on_page: str = ""
    width_px: float = 860.0
    lengths: Lengths = IN_METRES

    def __post_init__(self) -> None:
        if self.window is not None:
            refuse_window(self.window)
        if not 100.0 <= self.width_px <= 10_000.0:  # not-a-number is refused too
            raise DataError(f"A drawing cannot be {self.width_px:g} px wide.", where="width_px", hint="Give 100 to 10000.")
        if self.on_page and not all(letter.isalnum() or letter in "-_" for letter in self.on_page):
            raise DataError(f"A drawing cannot be named {self.on_page!r}.", where="on_page", hint="Use letters, digits, - and _.")

    @property
    def prefix(self) -> str:
        """What the drawing's names begin with."""
        return f"{self.on_page}-" if self.on_page else ""


AS_FILE = Rendering()
"""A file with words, its window chosen by what is drawn."""


def refuse_window(bounds: Bounds) -> None:
    """Refuse a window that cannot be drawn.

    Raises:
        DataError: It has no inside, is too small or too large, or is a mere strip.
    """
    hint = "Give least x, least y, greatest x, greatest y in metres of the course."
    if not all(map(math.isfinite, bounds)):
        raise DataError("A window needs four numbers.", where="window", hint=hint)
    width_m, height_m = bounds[2] - bounds[0], bounds[3] - bounds[1]
    if width_m <= 0 or height_m <= 0:
        raise DataError("The window has no inside.", where="window", hint=hint)
    short_m, long_m = sorted((width_m, height_m))
    if short_m < _LEAST_SIDE_M or long_m > _MOST_SIDE_M or long_m > _LONGEST * short_m:
        raise DataError(
            f"A window of {width_m:g} m by {height_m:g} m cannot be drawn.",
            where="window",
            hint=f"Its sides are {_LEAST_SIDE_M:g} m to {_MOST_SIDE_M:g} m, one at most {_LONGEST:g} times the other.",
        )


def window_of(bounds: Bounds) -> Window:
    """The window within bounds."""
    least_x, least_y, most_x, most_y = bounds
    middle = Position(x_m=(least_x + most_x) / 2, y_m=(least_y + most_y) / 2)
    return Window(middle=middle, width_m=most_x - least_x, height_m=most_y - least_y)


def draw_bare(scene: Scene, window: Window, rendering: Rendering, palette: Palette, *, title: str, words: str) -> str:
    """Draw a scene and nothing about it: no label, frame, heading or caption.

    Args:
        scene: What is shown.
        window: Where; the drawing is the window, so that any place on it can be reckoned.
        rendering: How it is given.
        palette: The inks, where the rendering names none.
        title: What the drawing is called.
        words: What it shows, for those who cannot see it.
    """
    units_per_m = rendering.width_px / window.width_m
    view = View(window=window, x=0.0, y=0.0, units_per_m=units_per_m, name="main", prefix=rendering.prefix, lengths=rendering.lengths)
    width, height = view.box.width, view.box.height
    return page_of(
        list(draw_view(scene, view, [], has_words=False)),
        rendering.palette or palette,
        width,
        height,
        size=f'width="{width:.2f}" height="{height:.2f}"',
        title=title,
        words=rendering.lengths.told(words),
        prefix=rendering.prefix,
    )
