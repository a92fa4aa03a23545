"""The inks of a drawing. Violet is what Marram says; red, yellow, white and blue stand only for what the trade paints on the ground."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """Colours and type of a drawing.

    Attributes:
        name: ``day`` or ``print``.
        paper: Ground of the page.
        sheet: Ground of answers and halos.
        ink: Text and edges.
        ink_2: Lesser text.
        rule: Hairlines.
        pencil: What the ruling says.
        wash: Fill of a relief area.
        red: Red marks.
        yellow: Yellow marks.
        blue: Blue marks.
        rough: General area.
        rough_line: Its tufts.
        fairway: Fairway.
        fairway_line: Its mowing lines.
        green: Greens and tees.
        green_line: Their edge.
        sand: Bunkers.
        sand_line: Their edge and stipple.
        water: Water.
        water_line: Shore lines.
        path: Paths.
        path_line: Their edge and dots.
        book_font: Titles, rules and steps.
        board_font: Labels and numbers.
    """

    name: str
    paper: str
    sheet: str
    ink: str
    ink_2: str
    rule: str
    pencil: str
    wash: str
    red: str
    yellow: str
    blue: str
    rough: str
    rough_line: str
    fairway: str
    fairway_line: str
    green: str
    green_line: str
    sand: str
    sand_line: str
    water: str
    water_line: str
    path: str
    path_line: str
    book_font: str
    board_font: str


_BOOK = "Charter,'Bitstream Charter','Iowan Old Style','Sitka Text',Cambria,'Libertinus Serif','Noto Serif','Liberation Serif',serif"
_BOARD = "Bahnschrift,'Avenir Next',Roboto,'DejaVu Sans Condensed','Noto Sans','Liberation Sans',Arial,sans-serif"

DAY = Palette(
    name="day",
    paper="#efe8d9",
    sheet="#faf7ef",
    ink="#221d17",
    ink_2="#564c3f",
    rule="#c9bda5",
    pencil="#5a2a82",
    wash="#5a2a82",
    red="#c0161c",
    yellow="#f2c200",
    blue="#1c4fa1",
    rough="#eeead8",
    rough_line="#b9b48f",
    fairway="#e0e6c6",
    fairway_line="#cfd7ae",
    green="#c8dab0",
    green_line="#8fa971",
    sand="#f3e3b6",
    sand_line="#a98a45",
    water="#d7e4e4",
    water_line="#5d868d",
    path="#ddd6c8",
    path_line="#776c5c",
    book_font=_BOOK,
    board_font=_BOARD,
)
PRINT = Palette(
    name="print",
    paper="#fff",
    sheet="#fff",
    ink="#000",
    ink_2="#222",
    rule="#888",
    pencil="#000",
    wash="#000",
    red="#000",
    yellow="#fff",
    blue="#000",
    rough="#fff",
    rough_line="#777",
    fairway="#fff",
    fairway_line="#b5b5b5",
    green="#fff",
    green_line="#000",
    sand="#fff",
    sand_line="#000",
    water="#f3f3f3",
    water_line="#666",
    path="#f3f3f3",
    path_line="#000",
    book_font="'Libertinus Serif','Liberation Serif',serif",
    board_font="'Libertinus Serif','Liberation Serif',serif",
)
