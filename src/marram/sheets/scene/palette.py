"""The inks of a drawing. Violet is what Marram says; red, yellow, white and blue stand only for what the trade paints on the ground."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """Colours, type and the widths that a light changes, of a drawing and of the page about it.

    Attributes:
        name: ``day``, ``night``, ``sun`` or ``print``.
        paper: Ground of the page.
        sheet: Ground of answers and halos.
        ink: Text and edges.
        ink_2: Lesser text.
        rule: Hairlines.
        rule_2: Edges of what can be pressed or filled in.
        well: Ground of a field to fill in.
        bar: Fill of an interval.
        pencil: What the ruling says.
        on_pencil: Words on it.
        wash: Fill of a relief area.
        case: Dark casing of yellow and white marks.
        white: White marks, and a ball.
        ball_edge: Edge of a ball.
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
        edge_width: Edge of the chosen area, drawing units.
        line_width: A measured length, drawing units.
    """

    name: str
    paper: str
    sheet: str
    ink: str
    ink_2: str
    rule: str
    rule_2: str
    well: str
    bar: str
    pencil: str
    on_pencil: str
    wash: str
    case: str
    white: str
    ball_edge: str
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
    edge_width: str
    line_width: str

    @property
    def tokens(self) -> Mapping[str, str]:
        """What each token of a style sheet stands for, as ``ink-2`` to ``#564c3f``."""
        return {field.replace("_", "-"): value for field, value in asdict(self).items() if field != "name"}


_BOOK = "Charter,'Bitstream Charter','Iowan Old Style','Sitka Text',Cambria,'Libertinus Serif','Noto Serif','Liberation Serif',serif"
_BOARD = "Bahnschrift,'Avenir Next',Roboto,'DejaVu Sans Condensed','Noto Sans','Liberation Sans',Arial,sans-serif"

_PAPER = "'Libertinus Serif','Liberation Serif','Times New Roman',Times,'DejaVu Serif Condensed',serif"

DAY = Palette(
    name="day",
    paper="#efe8d9",
    sheet="#faf7ef",
    ink="#221d17",
    ink_2="#564c3f",
    rule="#c9bda5",
    rule_2="#7d705e",
    well="#f4efe2",
    bar="#8a887f",
    pencil="#5a2a82",
    on_pencil="#faf7ef",
    wash="#5a2a82",
    case="#221d17",
    white="#fff",
    ball_edge="#16120d",
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
    edge_width="2.5",
    line_width="1.5",
)
NIGHT = Palette(
    name="night",
    paper="#15130f",
    sheet="#1e1b16",
    ink="#ece5d6",
    ink_2="#b8ad9a",
    rule="#484032",
    rule_2="#8d8069",
    well="#262219",
    bar="#988c78",
    pencil="#cfaef2",
    on_pencil="#1b1026",
    wash="#cfaef2",
    case="#0d0b08",
    white="#fff",
    ball_edge="#16120d",
    red="#ff5b57",
    yellow="#ffd21f",
    blue="#7fb0ff",
    rough="#2a271e",
    rough_line="#4b4634",
    fairway="#2d3323",
    fairway_line="#3a422c",
    green="#37452b",
    green_line="#6c8550",
    sand="#4a4028",
    sand_line="#b09a5f",
    water="#20303a",
    water_line="#6f9aa6",
    path="#3a352b",
    path_line="#988c78",
    book_font=_BOOK,
    board_font=_BOARD,
    edge_width="2.5",
    line_width="1.5",
)
SUN = Palette(
    name="sun",
    paper="#fff",
    sheet="#fff",
    ink="#000",
    ink_2="#1c1c1c",
    rule="#6b6b6b",
    rule_2="#000",
    well="#fff",
    bar="#6b6b6b",
    pencil="#3c006e",
    on_pencil="#fff",
    wash="#3c006e",
    case="#000",
    white="#fff",
    ball_edge="#16120d",
    red="#b40008",
    yellow="#f2c200",
    blue="#1c4fa1",
    rough="#fff",
    rough_line="#9a9a9a",
    fairway="#f2f2ea",
    fairway_line="#c4c4b4",
    green="#dfe9d2",
    green_line="#4d6a2c",
    sand="#fff6d8",
    sand_line="#6d5310",
    water="#e2eeee",
    water_line="#2c5a62",
    path="#e8e8e8",
    path_line="#2d2d2d",
    book_font=_BOOK,
    board_font=_BOARD,
    edge_width="3.5",
    line_width="2",
)
PRINT = Palette(
    name="print",
    paper="#fff",
    sheet="#fff",
    ink="#000",
    ink_2="#222",
    rule="#888",
    rule_2="#000",
    well="#fff",
    bar="#888",
    pencil="#000",
    on_pencil="#fff",
    wash="#000",
    case="#000",
    white="#fff",
    ball_edge="#16120d",
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
    book_font=_PAPER,
    board_font=_PAPER,
    edge_width="2.5",
    line_width="1.5",
)
PALETTES = {palette.name: palette for palette in (DAY, NIGHT, SUN, PRINT)}
