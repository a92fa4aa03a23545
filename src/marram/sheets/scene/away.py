"""Where things outside the window lie: arrows at the frame with words, clear of each other and of the lines that matter."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from marram.course.frame import Position
from marram.sheets.scene.free_places import Room
from marram.sheets.scene.labels import Rectangle
from marram.sheets.scene.scene import Scene, SpotKind
from marram.sheets.scene.type_widths import Face, words_width

if TYPE_CHECKING:
    from marram.sheets.scene.svg import View

_SIZE, _HEIGHT, _BESIDE = 13.0, 30.0, 6.0
"""Size of the type, height of words with their arrow, distance from the frame: drawing units."""
_STEPS, _STEP = 36, 12.0
_INWARD = 3.0
"""How much dearer a way into the map is than one along the side by which the way leaves, where arrows are looked for."""


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


def place_away(scene: Scene, view: View, room: Room) -> tuple[list[AwayMark], list[str]]:
    """Place an arrow for each thing outside the window.

    Args:
        scene: What is shown.
        view: Where.
        room: What is free; each arrow takes its place there.

    Returns:
        A mark for each, near where the way to it leaves the window, with the distance from the point measured from, else the middle;
        and the words for which there was no place.
    """
    measured_from = next((spot.position for spot in scene.spots if spot.kind is SpotKind.STATION), view.window.middle)
    marks: list[AwayMark] = []
    left: list[str] = []
    for position, words in scene.away:
        far = view.lengths.told(f"{measured_from.distance_m(position):.0f} m")
        # Where the words find no room, the letters alone may.
        tries = [f"{words}, {far}", *([f"{words.partition(':')[0]}, {far}"] if ":" in words else [])]
        found = ((told, place) for told in tries for place in _places(told, position, view) if room.is_free(place.outline))
        told, place = next(found, (tries[0], None))
        if place is None:
            left.append(told)
            continue
        x, y = view.place(*position.xy)
        turn = math.degrees(math.atan2(y - (place.y + 21), x - (place.x + place.width / 2)))
        marks.append(AwayMark(words=told, box=place, turn_deg=turn))
        room.take([place.outline])
    return marks, left


def _places(words: str, position: Position, view: View) -> list[Rectangle]:
    """Places beside the frame, those nearest to where the way from the middle leaves the window first."""
    width = words_width(words, Face.BOARD, _SIZE) + 8
    frame = view.box
    low, high = frame.x + _BESIDE, frame.x + frame.width - _BESIDE - width
    top, bottom = frame.y + _BESIDE, frame.y + frame.height - _BESIDE - _HEIGHT
    want_x, want_y = _leaving(position, view)
    want_x, want_y = min(max(want_x - width / 2, low), high), min(max(want_y - _HEIGHT / 2, top), bottom)
    is_side, is_end = want_x in {low, high}, want_y in {top, bottom}
    found = {}
    for across in range(-_STEPS, _STEPS + 1):
        for down in range(-_STEPS // 2, _STEPS // 2 + 1):
            x, y = min(max(want_x + across * _STEP, low), high), min(max(want_y + down * _STEP, top), bottom)
            inward = min(abs(x - want_x) if is_side else math.inf, abs(y - want_y) if is_end else math.inf)
            found[x, y] = math.hypot(x - want_x, y - want_y) + _INWARD * inward
    return [Rectangle(x=x, y=y, width=width, height=_HEIGHT) for x, y in sorted(found, key=lambda corner: (found[corner], corner))]


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
