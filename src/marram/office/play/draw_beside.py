"""Draw the rulings of several books beside each other: small, without words, of the same ground and at one scale."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from marram.office.play.give_ruling import Rulings, book_in_force

if TYPE_CHECKING:
    from marram.course.frame import Position
    from marram.sheets.scene.rendering import Bounds

_WIDTH_PX = 260.0
_SIDES = 1.35
"""So many times as wide as high."""
_ROUND, _LEAST_M = 2.4, 3.0
"""So many times the size of the area about its reference point, and no less than so many metres, are shown to each side."""


def draw_beside(rulings: Rulings) -> Iterator[tuple[str, str]]:
    """Draw each book's ruling by itself, on the ground about the area of the book in force.

    Args:
        rulings: The rulings.

    Returns:
        Names of books with SVG for a page that carries the style of drawings; nothing where the book in force measures no place.
    """
    from marram.sheets.ruled.ruling_drawing import draw_rulings
    from marram.sheets.scene.rendering import Rendering

    window = _window(rulings)
    for number, given in enumerate(rulings.given if window else (), start=1):
        rendering = Rendering(window=window, has_words=False, on_page=f"book-{number}", width_px=_WIDTH_PX)
        pair = [(given.book, given.ruling)]
        yield given.book.name, draw_rulings(rulings.incident, rulings.course, pair, is_paper=False, rendering=rendering)


def _window(rulings: Rulings) -> Bounds | None:
    from marram.sheets.drawn.relief_shapes import main_option

    option = main_option(book_in_force(rulings).ruling)
    if option is None or not option.references:
        return None
    centre: Position = option.references[0].position
    up_m = max(_LEAST_M, _ROUND * (option.size_m or 0.0))
    return (centre.x_m - _SIDES * up_m, centre.y_m - up_m, centre.x_m + _SIDES * up_m, centre.y_m + up_m)
