"""From a scene in metres to SVG: one place where shapes, points, lengths and words become marks.

One drawing unit is one CSS pixel on the screen and 0.27 mm on paper, so that line widths and hatches keep their proportion.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from html import escape

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from marram.core.lengths import IN_METRES, Lengths
from marram.course.frame import Position
from marram.sheets.scene.labels import Rectangle
from marram.sheets.scene.lettering import Lettering, lengths_in_sight, letter_view
from marram.sheets.scene.scene import ORDER, Dimension, Item, Role, Scene, SpotKind, Window

UNIT_MM = 0.27
_HAIR = 0.2
_STUD_EVERY = 74.0
_TICK_EVERY = 30.0


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Where on the drawing a window lies, and at what scale.

    Attributes:
        window: The ground shown.
        x: Left edge on the drawing.
        y: Upper edge.
        units_per_m: Drawing units for a metre.
        name: Name of the view in the drawing, for clip paths.
        prefix: What the drawing's names begin with on a page with several; empty for a file.
        is_in_layers: Whether it states the ground shown and stands in layers, for a page that reckons places and moves things on it.
        lengths: How lengths are told.
    """

    window: Window
    x: float
    y: float
    units_per_m: float
    name: str
    prefix: str = ""
    is_in_layers: bool = False
    lengths: Lengths = IN_METRES

    @property
    def box(self) -> Rectangle:
        """The view's frame on the drawing."""
        k = self.units_per_m
        return Rectangle(x=self.x, y=self.y, width=self.window.width_m * k, height=self.window.height_m * k)

    def named(self, name: str) -> str:
        """A clip path or a pattern of this drawing, as an attribute names it."""
        return f"url(#{self.prefix}{name})"

    def place(self, x_m: float, y_m: float) -> tuple[float, float]:
        """A place of the course on the drawing."""
        least_x, _, _, most_y = self.window.bounds
        return (self.x + (x_m - least_x) * self.units_per_m, self.y + (most_y - y_m) * self.units_per_m)

    def path(self, geometry: BaseGeometry) -> str:
        """Path data of a geometry; on a page without places that lie within a hair of the line, which only make it slow."""
        pieces = []
        if self.is_in_layers:
            geometry = shapely.simplify(geometry, _HAIR / self.units_per_m)
        for part in shapely.get_parts(geometry):
            if part.geom_type == "Polygon":
                pieces += [self._chain(ring) + "Z" for ring in (part.exterior, *part.interiors)]
            elif part.geom_type in {"LineString", "LinearRing"} and not part.is_empty:
                pieces.append(self._chain(part))
        return "".join(pieces)

    def _chain(self, line: BaseGeometry) -> str:
        (least_x, _, _, most_y), k, figures = self.window.bounds, self.units_per_m, 1 if self.is_in_layers else 2
        points = [(self.x + (x - least_x) * k, self.y + (most_y - y) * k) for x, y in shapely.get_coordinates(line).tolist()]
        return "M" + "L".join(f"{x:.{figures}f} {y:.{figures}f}" for x, y in points)


_EDGED = {
    Role.FAIRWAY: "fairway",
    Role.GREEN: "green",
    Role.WRONG_GREEN: "green wrong",
    Role.TEE: "tee",
    Role.OTHER_TEE: "tee quiet",
    Role.TREES: "trees",
    Role.BUNKER: "bunker",
    Role.OBSTRUCTION: "path",
    Role.WALL: "wall",
    Role.REPAIR: "gur",
    Role.TEMPORARY_WATER: "tw",
    Role.ANIMAL_HOLE: "burrow",
    Role.NO_PLAY_ZONE: "npz",
    Role.DROPPING_ZONE: "dz",
    Role.OUT_OF_BOUNDS: "oob",
    Role.RELIEF: "relief",
    Role.RELIEF_SECOND: "relief second",
    Role.FAN: "fan",
    Role.OTHER_ESTIMATE: "estimate",
    Role.COMMON_GROUND: "common",
    Role.FOOT: "foot",
    Role.MAP_FRAME: "map-frame",
    Role.LINE_TO_HOLE: "toward",
    Role.FLIGHT: "flight",
    Role.LINE_BARRED: "back barred",
    Role.LINE_BACK: "back",
}
_TEXTURES = {
    Role.FAIRWAY: "t-fair",
    Role.GREEN: "t-green",
    Role.BUNKER: "t-sand",
    Role.OBSTRUCTION: "t-path",
    Role.TREES: "t-trees",
}
"""Drawn over what the class fills."""
_FILLS = {
    Role.REPAIR: "t-gur",
    Role.TEMPORARY_WATER: "t-tw",
    Role.NO_PLAY_ZONE: "t-npz",
    Role.OUT_OF_BOUNDS: "t-oob",
    Role.RELIEF: "t-relief",
    Role.RELIEF_SECOND: "t-second",
}
"""Patterns in place of a fill; named in the drawing, since a name in the style sheet of a page would be looked for in that sheet."""

_EDGES = frozenset(ORDER[ORDER.index(Role.RED_EDGE) : ORDER.index(Role.FOOT)])
_PENCIL = frozenset(ORDER[ORDER.index(Role.FAN) : ORDER.index(Role.RED_EDGE)])
_GROUND = frozenset(ORDER[: ORDER.index(Role.FAN)])


def draw_view(
    scene: Scene, view: View, blocked: list[Rectangle], *, has_words: bool = True, lettering: Lettering | None = None
) -> Iterator[str]:
    """All of a scene within its view, bottom to top.

    Args:
        scene: What is shown.
        view: Where.
        blocked: Parts of the view that other things cover: north arrow, title block.
        has_words: Whether the words stand in the drawing; whoever shows it may letter it himself.
        lettering: Its words, where they were placed before; None where they are placed now.
    """
    box = view.box
    clip = f"{view.prefix}clip-{view.name}"
    rect = f'x="{box.x:.2f}" y="{box.y:.2f}" width="{box.width:.2f}" height="{box.height:.2f}"'
    yield f'<clipPath id="{clip}"><rect {rect}/></clipPath><g clip-path="{view.named(f"clip-{view.name}")}"{_reckoning(view)}>'
    ground = [f'<rect class="rough" {rect}/><rect {rect} fill="{view.named("t-rough")}"/>', *_items(scene, view, _GROUND)]
    yield from _layer("ground", ground, view)
    yield from _layer("pencil", _items(scene, view, _PENCIL), view)
    yield from _layer("edges", _items(scene, view, _EDGES), view)
    words = lettering or (letter_view(scene, view, blocked) if has_words else Lettering(lengths=lengths_in_sight(scene, view, blocked)))
    yield from _layer("points", _points(scene, view, words), view)
    yield from _layer("words", words.marks, view)
    yield "</g>"


def draw_pencil(scene: Scene, view: View) -> tuple[str, str]:
    """What a ruling puts on the ground, without a word: its shapes, which lie under the edges of penalty areas, and its points.

    Args:
        scene: What is shown; ground in it is left out.
        view: Where.
    """
    points = _points(scene, view, Lettering(lengths=lengths_in_sight(scene, view, [])))
    return "".join(_items(scene, view, _PENCIL)), "".join(points)


def _reckoning(view: View) -> str:
    """The ground shown and where it lies on the drawing, so that a place can be reckoned from a touch."""
    if not view.is_in_layers:
        return ""
    bounds, box = " ".join(f"{at:.4f}" for at in view.window.bounds), view.box
    return f' data-bounds="{bounds}" data-box="{box.x:.2f} {box.y:.2f} {box.width:.2f} {box.height:.2f}"'


def _layer(name: str, marks: Iterable[str], view: View) -> Iterator[str]:
    """Marks as a layer that a page can hide or lay something under; in a file they stand as they are."""
    yield from (f'<g class="layer-{name}">', *marks, "</g>") if view.is_in_layers else marks


def _items(scene: Scene, view: View, roles: frozenset[Role]) -> Iterator[str]:
    for item in sorted(scene.items, key=lambda item: ORDER.index(item.role)):
        if item.role in roles:
            yield from draw_item(item, view)


def _points(scene: Scene, view: View, words: Lettering) -> Iterator[str]:
    """Feet, lengths and points, which lie above all other shapes."""
    yield from _items(scene, view, frozenset({Role.FOOT}))
    for dimension in words.lengths:
        yield from _dimension_line(dimension, view)
    for spot in scene.spots:
        yield draw_spot(spot.kind, *view.place(*spot.position.xy))


def draw_item(item: Item, view: View) -> Iterator[str]:
    """The marks of one shape."""
    path = view.path(item.geometry)
    if not path:
        return
    match item.role:
        case Role.WATER:
            yield f'<path class="water" fill-rule="evenodd" d="{path}"><title>{escape(item.title)}</title></path>'
            yield from _shore_lines(item.geometry, view)
        case Role.RED_EDGE:
            yield f'<path class="red-case" d="{path}"/><path class="red" d="{path}"/>'
            yield from _studs(item.geometry, view, "red")
        case Role.YELLOW_EDGE:
            yield f'<path class="yellow-case" d="{path}"/><path class="yellow" d="{path}"/>'
            yield from _studs(item.geometry, view, "yellow")
        case Role.UNMARKED_EDGE:
            yield f'<path class="unmarked" d="{path}"/>'
        case Role.BOUNDARY:
            yield f'<path class="bound-case" d="{path}"/><path class="bound" d="{path}"/>'
            yield from _ticks(item.geometry, view)
        case Role.HOLE_ARC:
            yield f'<path class="arc-case" d="{path}"/><path class="arc" d="{path}"/>'
        case Role.OTHER_BOOK | Role.THIRD_BOOK:
            name = "other" if item.role is Role.OTHER_BOOK else "third"
            yield f'<path class="other-case" d="{path}"/><path class="{name}" d="{path}"/>'
        case _:
            yield from _ground_item(item, path, view)


def _ground_item(item: Item, path: str, view: View) -> Iterator[str]:
    """A shape that one class and perhaps one texture draw."""
    title = f"<title>{escape(item.title)}</title>" if item.title else ""
    fill = f'fill="{view.named(_FILLS[item.role])}" ' if item.role in _FILLS else ""
    yield f'<path class="{_EDGED[item.role]}" {fill}fill-rule="evenodd" d="{path}">{title}</path>'
    if item.role in _TEXTURES:
        yield f'<path fill="{view.named(_TEXTURES[item.role])}" fill-rule="evenodd" d="{path}"/>'


def _shore_lines(water: BaseGeometry, view: View) -> Iterator[str]:
    """Lines along the shore, nearer together nearer the edge; the window cuts the water but is no shore."""
    for depth in (6.0, 13.0, 22.0, 34.0):
        inner = water.buffer(-depth / view.units_per_m)
        if not inner.is_empty:
            yield f'<path class="shore" d="{view.path(inner)}"/>'


def _along(geometry: BaseGeometry, every_m: float) -> Iterator[tuple[Position, float]]:
    """Places at equal steps along lines, with the direction of the line there, radians."""
    merged = shapely.line_merge(geometry) if geometry.geom_type == "MultiLineString" else geometry
    for line in shapely.get_parts(merged):
        if not isinstance(line, LineString) or line.length < every_m / 4:
            continue
        for number in range(max(1, round(line.length / every_m))):
            at_m = (number + 0.5) * line.length / max(1, round(line.length / every_m))
            here, ahead = line.interpolate(at_m), line.interpolate(min(at_m + 0.05, line.length))
            yield Position(x_m=here.x, y_m=here.y), math.atan2(ahead.y - here.y, ahead.x - here.x)


def _studs(geometry: BaseGeometry, view: View, colour: str) -> Iterator[str]:
    shape = "M-4.5-4.5h9v9h-9z" if colour == "red" else "M0-6.5L5.8 4H-5.8z"
    for place, turn in _along(geometry, _STUD_EVERY / view.units_per_m):
        x, y = view.place(*place.xy)
        degrees = -math.degrees(turn) if colour == "red" else 0.0
        yield f'<path class="stud-{colour}" d="{shape}" transform="translate({x:.1f} {y:.1f}) rotate({degrees:.0f})"/>'


def _ticks(geometry: BaseGeometry, view: View) -> Iterator[str]:
    """Short strokes that point out of bounds; the boundary ring runs counter-clockwise, so out is to the right."""
    for place, turn in _along(geometry, _TICK_EVERY / view.units_per_m):
        x, y = view.place(*place.xy)
        dx, dy = math.sin(turn) * 9, math.cos(turn) * 9
        yield f'<path class="tick" d="M{x:.1f} {y:.1f}l{dx:.1f} {dy:.1f}"/>'


def draw_spot(kind: SpotKind, x: float, y: float) -> str:
    """The sign of a point."""
    at = f'transform="translate({x:.2f} {y:.2f})"'
    match kind:
        case SpotKind.BALL:
            return f'<circle class="ball" r="5.5" {at}/>'
        case SpotKind.STATION:
            cross = "M-13 0H-5M5 0H13M0-13V-5M0 5V13"
            return (
                f'<g {at}><circle class="st-case" r="9.5"/><circle class="st-ring" r="8"/>'
                f'<path class="st-cross" d="{cross}"/><circle class="st-dot" r="2.2"/></g>'
            )
        case SpotKind.FIRST_TOUCH:
            return f'<path class="touch-case" d="M-4-4L4 4M4-4L-4 4" {at}/><path class="touch" d="M-4-4L4 4M4-4L-4 4" {at}/>'
        case SpotKind.BALL_NOT_IN_PLAY:
            return f'<g {at}><circle class="ball" r="5.5"/><path class="not" d="M-10-10L10 10M10-10L-10 10"/></g>'
        case SpotKind.CHOSEN:
            return f'<circle class="chosen" r="4.5" {at}/>'
        case SpotKind.HOLE:
            return f'<g {at}><circle class="cup" r="4"/><path class="staff" d="M0 0V-34"/><path class="cloth" d="M0-34l20 6-20 6z"/></g>'


def _dimension_line(dimension: Dimension, view: View) -> Iterator[str]:
    (x1, y1), (x2, y2), turn = _ends(dimension, view)
    yield f'<path class="dim-case" d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}"/>'
    yield f'<path class="dim" d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}"/>'
    yield f'<path class="dim-end" d="M-5 5L5-5" transform="translate({x2:.1f} {y2:.1f}) rotate({turn:.1f})"/>'


def _ends(dimension: Dimension, view: View) -> tuple[tuple[float, float], tuple[float, float], float]:
    """Both ends of a measured length on the drawing, and its direction, degrees."""
    start, end = view.place(*dimension.start.xy), view.place(*dimension.end.xy)
    return start, end, math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
