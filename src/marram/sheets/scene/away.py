"""Where things outside the window lie: arrows at the frame with words, clear of each other and of the lines that matter."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

import shapely
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.sheets.scene.labels import Rectangle
from marram.sheets.scene.scene import Role, Scene, SpotKind

if TYPE_CHECKING:
    from marram.sheets.scene.svg import View

_LETTER, _HEIGHT, _BESIDE, _GAP = 7.0, 30.0, 6.0, 6.0
"""Width of a letter, height of words with their arrow, distance from the frame, and least distance between two: drawing units."""
_STEPS, _STEP = 24, 12.0
_OVER_LINE = 200.0
"""How many drawing units farther words are moved so as not to stand on a line."""
_INWARD = 3.0
"""How much dearer a way into the map is than one along the side by which the way leaves, where arrows are looked for."""
_LINES = frozenset(
    {
        Role.RELIEF,
        Role.RELIEF_SECOND,
        Role.LINE_BACK,
        Role.LINE_BARRED,
        Role.FLIGHT,
        Role.HOLE_ARC,
        Role.OTHER_BOOK,
        Role.THIRD_BOOK,
        Role.RED_EDGE,
        Role.YELLOW_EDGE,
        Role.UNMARKED_EDGE,
        Role.BOUNDARY,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AwayMark:
    """An arrow with its words.

    Attributes:
        words: What lies there, and how far off.
        box: The place of both on the drawing.
        turn_deg: Which way the arrow points, clockwise from the right.
    """

    words: str
    box: Rectangle
    turn_deg: float

    def draw(self) -> Iterator[str]:
        """The words with their arrow beneath."""
        x, y = self.box.x + self.box.width / 2, self.box.y + 12
        yield f'<path class="arrow" d="M-9 0H4M-1-5L5 0L-1 5" transform="translate({x:.1f} {y + 9:.1f}) rotate({self.turn_deg:.0f})"/>'
        yield f'<text class="lab" text-anchor="middle" x="{x:.1f}" y="{y - 1:.1f}">{escape(self.words)}</text>'


def away_marks(scene: Scene, view: View, taken: Sequence[Rectangle]) -> list[AwayMark]:
    """Place an arrow for each thing outside the window.

    Args:
        scene: What is shown.
        view: Where.
        taken: What must stay clear: title block, north arrow, points, measured lengths.

    Returns:
        A mark for each, near where the way to it leaves the window, with the distance from the point measured from, else the middle.
    """
    middle = view.window.middle
    measured_from = next((spot.position for spot in scene.spots if spot.kind is SpotKind.STATION), middle)
    lines = _lines(scene, view) if scene.away else shapely.MultiLineString()
    used = list(taken)
    marks = []
    for position, words in scene.away:
        told = f"{words}, {measured_from.distance_m(position):.0f} m"
        place = _best_box(told, position, view, used, lines)
        x, y = view.place(*position.xy)
        turn = math.degrees(math.atan2(y - (place.y + 21), x - (place.x + place.width / 2)))
        marks.append(AwayMark(words=told, box=place, turn_deg=turn))
        used.append(place)
    return marks


def _lines(scene: Scene, view: View) -> BaseGeometry:
    """The lines that words should not cover, in metres; an area gives its edge."""
    window = box(*view.window.bounds)
    shapes = [item.geometry for item in scene.items if item.role in _LINES]
    edges = [shape.boundary if shape.geom_type.endswith("Polygon") else shape for shape in shapes]
    return shapely.union_all([edge.intersection(window) for edge in edges])


def _best_box(words: str, position: Position, view: View, used: Sequence[Rectangle], lines: BaseGeometry) -> Rectangle:
    """The free place that is nearest to where the way from the middle leaves the window, with lines counted as far."""
    width = _LETTER * len(words) + 8
    frame = view.box
    low, high = frame.x + _BESIDE, frame.x + frame.width - _BESIDE - width
    top, bottom = frame.y + _BESIDE, frame.y + frame.height - _BESIDE - _HEIGHT
    want_x, want_y = _leaving(position, view)
    want_x, want_y = min(max(want_x - width / 2, low), high), min(max(want_y - _HEIGHT / 2, top), bottom)
    is_side, is_end = want_x in {low, high}, want_y in {top, bottom}
    best = Rectangle(x=want_x, y=want_y, width=width, height=_HEIGHT)
    least = math.inf
    for across in range(-_STEPS, _STEPS + 1):
        for down in range(-_STEPS // 2, _STEPS // 2 + 1):
            x, y = min(max(want_x + across * _STEP, low), high), min(max(want_y + down * _STEP, top), bottom)
            place = Rectangle(x=x, y=y, width=width, height=_HEIGHT)
            inward = min(abs(x - want_x) if is_side else math.inf, abs(y - want_y) if is_end else math.inf)
            cost = math.hypot(x - want_x, y - want_y) + _INWARD * inward
            if cost >= least or any(place.meets(other, gap=_GAP) for other in used):
                continue
            cost += _OVER_LINE if lines.intersects(_on_ground(place, view)) else 0.0
            if cost < least:
                best, least = place, cost
    return best


def _leaving(position: Position, view: View) -> tuple[float, float]:
    """Where the straight way from the middle of the window to a place leaves the window."""
    frame = view.box
    bearing = math.radians(view.window.middle.bearing_deg(position))
    dx, dy = math.sin(bearing), -math.cos(bearing)
    reach = min(
        frame.width / 2 / abs(dx) if abs(dx) > 1e-9 else math.inf,
        frame.height / 2 / abs(dy) if abs(dy) > 1e-9 else math.inf,
    )
    return frame.x + frame.width / 2 + dx * reach, frame.y + frame.height / 2 + dy * reach


def _on_ground(place: Rectangle, view: View) -> BaseGeometry:
    least_x, _, _, most_y = view.window.bounds
    k = view.units_per_m
    x_m, y_m = least_x + (place.x - view.x) / k, most_y - (place.y - view.y) / k
    return box(x_m, y_m - place.height / k, x_m + place.width / k, y_m)
