"""What several pages show alike: the head with the book in force and its stamp, and the course that is meant."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import DataError
from marram.core.lengths import IN_METRES, Lengths
from marram.desk.pages.case_address import Address
from marram.desk.pages.page import Desk
from marram.office.at_desk.desk_folder import Holding
from marram.office.drawing_asked import ask_drawing

if TYPE_CHECKING:
    from marram.rulebook.book import Book
    from marram.sheets.scene.rendering import Bounds, Rendering

MAP, NARROW = "map", "narrow"
WIDE_PX, NARROW_PX = 860.0, 360.0
"""The map as a wide page has it, and as it is drawn anew for a phone: a page holds both and shows the one that fits."""
LIGHTS = ("day", "night", "sun")


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """The head of a page.

    Attributes:
        light: The light that the page is shown in.
        next_light: The one that follows it.
        stamps: Name and stamp of each book that is asked.
    """

    light: str
    next_light: str
    stamps: tuple[tuple[str, str], ...]


def head(desk: Desk, address: Address, books: Sequence[Book] = ()) -> Head:
    """The head of a page.

    Args:
        desk: What pages are made with.
        address: What the address states.
        books: The books that are asked.

    Raises:
        DataError: There is no such light.
    """
    light = address.first("light") or LIGHTS[0]
    if light not in (*LIGHTS, "print"):
        raise DataError(f"There is no light named {light!r}.", where="light", hint=f"Lights: {', '.join(LIGHTS)}, print.")
    after = LIGHTS[(LIGHTS.index(light) + 1) % len(LIGHTS)] if light in LIGHTS else LIGHTS[0]
    return Head(light=light, next_light=after, stamps=tuple((book.name, book.stamp) for book in books))


def chosen_course(desk: Desk, address: Address) -> str:
    """The course that is meant: the one stated, else the first of the folder.

    Raises:
        DataError: The folder holds no course.
    """
    names = desk.folder.names(Holding.COURSE)
    if not names:
        raise DataError("The folder holds no course.", where="course", hint="Put a course file (.geojson) into it, and open the desk anew.")
    return address.first("course") or names[0]


def map_rendering(width_px: float, window: Bounds | None = None, lengths: Lengths = IN_METRES) -> Rendering:
    """How the map of a page is drawn.

    Args:
        width_px: Its width, drawing units.
        window: The ground that it shows, where that is known.
        lengths: How lengths are told.

    Raises:
        DataError: The window or the width cannot be drawn.
    """
    name = NARROW if width_px == NARROW_PX else MAP
    return ask_drawing(is_map_alone=True, on_page=name, width_px=width_px, window=window, lengths=lengths)
