"""Draw the rulings of several books beside each other: small, without words, of the same ground and at one scale."""

from __future__ import annotations

from marram.core.lengths import IN_METRES, Lengths
from marram.office.play.give_ruling import Rulings

_WIDTH_PX = 260.0


def draw_beside(rulings: Rulings, about: str = "", lengths: Lengths = IN_METRES) -> dict[str, str]:
    """Draw each book's ruling by itself, about the relief that the book in force is drawn about.

    Args:
        rulings: The rulings.
        about: Name of the option that they are about, where one was chosen.
        lengths: How lengths are told.

    Returns:
        SVG under the name of each book, for a page that carries the style of drawings; nothing where no place is measured.
    """
    from marram.sheets.ruled.small_drawing import draw_small

    given = [(one.book, one.ruling) for one in rulings.given]
    drawn = list(draw_small(rulings.incident, rulings.course, given, on_page="book", width_px=_WIDTH_PX, chosen=about, lengths=lengths))
    return {book.name: svg for (book, _), svg in zip(given, drawn, strict=True)} if drawn else {}
