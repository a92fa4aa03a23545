"""The legend of a drawing: every sign that it uses and no name explains, drawn as on the map and named once."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape

from shapely.geometry import LineString, box

from marram.course.frame import Position
from marram.sheets.scene.lettering import Lettering
from marram.sheets.scene.scene import Item, Role, Scene, SpotKind, Window
from marram.sheets.scene.svg import View, draw_item, draw_spot
from marram.sheets.scene.type_widths import Face, fit_words, words_width, wrap_words

_SAMPLE, _ROW, _GAP, _COLUMNS = 34.0, 22.0, 8.0, 4
_DENSE_ROW = 20.0
_SIZE = 13.0
_NOTHING_ELSE: Mapping[Role | SpotKind, str] = {}
_MOST_NOUNS = 3
"""So many things of one sign are named one by one."""
_LINE = LineString([(-_SAMPLE / 2 + 1, 0), (_SAMPLE / 2 - 1, 0)])
_AREA = box(-_SAMPLE / 2 + 2, -6, _SAMPLE / 2 - 2, 6)
_GROUND: Mapping[Role, str] = {
    Role.FAIRWAY: "fairway",
    Role.OTHER_TEE: "tee of another hole",
    Role.TREES: "trees",
    Role.GREEN: "putting green",
    Role.WRONG_GREEN: "wrong green",
    Role.BUNKER: "bunker",
    Role.OBSTRUCTION: "immovable obstruction",
    Role.WALL: "wall or fence",
    Role.ANIMAL_HOLE: "animal hole",
    Role.OUT_OF_BOUNDS: "out of bounds",
}
"""Ground that is named here only where its name found no place on the map."""
_NOT_OF_THE_HOLE = frozenset({Role.WRONG_GREEN, Role.OTHER_TEE})
"""Ground whose noun says too little: it serves another hole."""
_LETTERED: Mapping[Role, tuple[str, str]] = {
    Role.TEE: ("T", "teeing area"),
    Role.REPAIR: ("GUR", "ground under repair"),
    Role.TEMPORARY_WATER: ("TW", "temporary water"),
    Role.NO_PLAY_ZONE: ("NPZ", "no play zone"),
    Role.DROPPING_ZONE: ("DZ", "dropping zone"),
}
"""Ground whose letters on the map are explained here."""
_LINES: Mapping[Role, str] = {
    Role.BOUNDARY: "boundary: ticks point out of bounds",
    Role.LINE_TO_HOLE: "line to the hole",
    Role.FLIGHT: "way of the ball",
    Role.LINE_BACK: "line straight back from the hole",
    Role.LINE_BARRED: "part of that line not to be used",
    Role.HOLE_ARC: "no nearer the hole than this line",
}
_AREAS: Mapping[Role, str] = {
    Role.RELIEF: "relief area",
    Role.RELIEF_SECOND: "area of another option",
    Role.FAN: "where the line may run, by the accuracy of the survey",
    Role.OTHER_ESTIMATE: "area by the other estimate",
    Role.COMMON_GROUND: "ground in both areas",
    Role.FOOT: "feet in the stance taken",
    Role.MAP_FRAME: "ground of the map above",
}
_EDGES: Mapping[Role, str] = {Role.RED_EDGE: "red", Role.YELLOW_EDGE: "yellow", Role.UNMARKED_EDGE: "unmarked"}
_SPOTS: Mapping[SpotKind, str] = {
    SpotKind.BALL: "ball",
    SpotKind.STATION: "point measured from",
    SpotKind.CHOSEN: "spot chosen on the line",
    SpotKind.HOLE: "hole with its flag",
    SpotKind.FIRST_TOUCH: "where the ball first touched the ground",
    SpotKind.BALL_NOT_IN_PLAY: "ball not in play",
}
_OF_RULINGS = frozenset([*_LINES, *_AREAS, *_EDGES, *_SPOTS])


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """An entry of a legend.

    Attributes:
        sign: The shape, line or point that is explained; None for words alone.
        words: What it means.
    """

    sign: Role | SpotKind | None
    words: str


def signs_of(
    scene: Scene,
    view: View,
    lettering: Lettering,
    edge_names: Mapping[str, str],
    *,
    books: Mapping[Role | SpotKind, str] = _NOTHING_ELSE,
    told: Mapping[Role | SpotKind, str] = _NOTHING_ELSE,
) -> list[Sign]:
    """The signs of a drawing that must be explained, in the order of the drawing from the ground up.

    Args:
        scene: What is shown.
        view: Where; what lies outside is not explained.
        lettering: The words that found a place.
        edge_names: What a book calls each kind of marked area, by its mark.
        books: What each style of edge stands for.
        told: What else a sign means on this drawing than on others.
    """
    window = box(*view.window.bounds)
    seen: dict[Role, list[str]] = {}
    for item in scene.items:
        if item.geometry.intersects(window):
            seen.setdefault(item.role, []).append(item.title)
    found = [sign for role in Role if role in seen for sign in _of_role(role, seen[role], lettering, edge_names, {**told, **books})]
    words = {" ".join(label.lines) for label in lettering.placed}
    spots = {spot.kind for spot in scene.spots if view.window.holds(spot.position)}
    silent = [
        Sign(sign=None, words=f"{book}: no edge of its own here")
        for role, book in books.items()
        if role not in seen and not seen.keys().isdisjoint(books)
    ]
    points = [(kind, told.get(kind, _SPOTS[kind])) for kind in SpotKind if kind in spots]
    return [*found, *silent, *(Sign(sign=kind, words=meaning) for kind, meaning in points if meaning not in words)]


def further_signs(scene: Scene, view: View, edge_names: Mapping[str, str], known: Sequence[Sign]) -> list[Sign]:
    """What a small drawing shows of the ruling that no legend above it explains; its ground is that of the map.

    Args:
        scene: What it shows.
        view: Where.
        edge_names: What a book calls each kind of marked area, by its mark.
        known: What is explained already.
    """
    told = {sign.sign for sign in known}
    found = signs_of(scene, view, Lettering(), edge_names)
    return [sign for sign in found if sign.sign not in told and sign.sign in _OF_RULINGS]


def _of_role(
    role: Role, titles: Sequence[str], lettering: Lettering, edge_names: Mapping[str, str], told: Mapping[Role | SpotKind, str]
) -> Iterator[Sign]:
    if role in told:
        yield Sign(sign=role, words=told[role])
    elif role in _LETTERED:
        letters, words = _LETTERED[role]
        yield Sign(sign=role, words=f"{letters}: {words}" if letters in lettering.named else words)
    elif role in _GROUND:
        own = {} if role in _NOT_OF_THE_HOLE else dict.fromkeys(title for title in titles if title)
        untold = [words for words in own or (_GROUND[role],) if words not in lettering.named]
        if untold:
            yield Sign(sign=role, words=", ".join(untold) if len(untold) <= _MOST_NOUNS else _GROUND[role])
    elif role in _EDGES:
        yield Sign(sign=role, words=f"edge of {edge_names[_EDGES[role]]}")
    elif role in _LINES:
        yield Sign(sign=role, words=next(filter(None, titles), _LINES[role]))
    elif role in _AREAS:
        yield Sign(sign=role, words=_AREAS[role])


def draw_legend(
    body: list[str], signs: Sequence[Sign], left: Sequence[str], view: View, y: float, *, is_paper: bool, columns: int = _COLUMNS
) -> float:
    """Draw the legend in rows beneath a map, with what found no place on it.

    Args:
        body: The marks, to which the legend is added.
        signs: What is explained.
        left: Words that the map had no room for.
        view: The map.
        y: Where the legend begins.
        is_paper: Whether it is set in the face of paper.
        columns: How many columns it has.

    Returns:
        Where it ends.
    """
    face = Face.PAPER if is_paper else Face.BOARD
    start, end = view.box.x - 5, view.box.x + view.box.width + 5
    column = (end - start + _GAP) / columns
    row_height = _DENSE_ROW if is_paper else _ROW
    entries = [_entry(sign, end - start, column, face, is_broken=columns < _COLUMNS) for sign in signs]
    body.append('<g class="legend">')
    for number, row in enumerate(_rows(entries, columns, is_dense=is_paper)):
        y += row_height if number else 0.0
        x = start
        for entry in row:
            body += _sample(entry.sign, view, x, y)
            for below, line in enumerate(entry.lines):
                body.append(f'<text class="t4" x="{x + entry.indent:.1f}" y="{y + 15 + 18 * below:.1f}">{escape(line)}</text>')
            x += entry.columns * column
        y += 18 * (len(row[-1].lines) - 1)
    body.append("</g>")
    y += row_height if signs else 0.0
    told = f"No room on the drawing for: {'; '.join(left)}." if left else ""
    for line in wrap_words(told, end - start, face, _SIZE):
        body.append(f'<text class="t4" x="{start:.1f}" y="{y + 15:.1f}">{escape(line)}</text>')
        y += 18
    return y


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    """A sign with its words in lines, and how many columns it takes."""

    sign: Sign
    lines: tuple[str, ...]
    indent: float
    columns: int


def _entry(sign: Sign, width: float, column: float, face: Face, *, is_broken: bool) -> _Entry:
    room = width - _SAMPLE - _GAP
    lines = wrap_words(sign.words, room, face, _SIZE) if is_broken else [fit_words(sign.words, room, face, _SIZE)]
    indent = 0.0 if sign.sign is None else _SAMPLE + _GAP
    columns = math.ceil((indent + words_width(lines[0], face, _SIZE) + _GAP) / column)
    return _Entry(sign=sign, lines=tuple(lines), indent=indent, columns=columns)


def _rows(entries: Sequence[_Entry], columns: int, *, is_dense: bool) -> Iterator[list[_Entry]]:
    """Rows of entries: in their order, or dense, where a later one that fits fills what the next leaves free."""
    waiting = [*entries]
    while waiting:
        row = [waiting.pop(0)]
        while waiting:
            left = columns - sum(entry.columns for entry in row)
            fitting = next((entry for entry in (waiting if is_dense else waiting[:1]) if entry.columns <= left), None)
            if fitting is None:
                break
            waiting.remove(fitting)
            row.append(fitting)
        yield row


def _sample(sign: Sign, view: View, x: float, y: float) -> Iterator[str]:
    """The sign as the map draws it."""
    if isinstance(sign.sign, SpotKind):
        scale = 0.5 if sign.sign is SpotKind.HOLE else 0.85
        drop = 17.0 if sign.sign is SpotKind.HOLE else 0.0
        yield f'<g transform="translate({x + _SAMPLE / 2:.1f} {y + 11:.1f}) scale({scale:g})">{draw_spot(sign.sign, 0.0, drop)}</g>'
    elif sign.sign is not None:
        window = Window(middle=Position(x_m=0.0, y_m=0.0), width_m=_SAMPLE, height_m=_ROW)
        small = View(window=window, x=x, y=y, units_per_m=1.0, name="sample", prefix=view.prefix)
        is_line = sign.sign in _LINES or sign.sign in _EDGES or sign.sign in {Role.OTHER_BOOK, Role.THIRD_BOOK}
        yield from draw_item(Item(role=sign.sign, geometry=_LINE if is_line else _AREA), small)
