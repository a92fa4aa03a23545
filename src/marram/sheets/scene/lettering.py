"""The words of a view: beside what they speak of, and never over a line, a point, a measured length or each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from html import escape
from typing import TYPE_CHECKING

from shapely import affinity
from shapely.geometry import LineString, Polygon, box

from marram.core.lengths import IN_METRES, Lengths
from marram.sheets.scene.away import place_away
from marram.sheets.scene.free_places import ORDER, Room, room_of
from marram.sheets.scene.labels import BADGE, DISC, SETTINGS, Placed, Rectangle, fitted_lines
from marram.sheets.scene.scene import Dimension, Label, LabelKind, Scene, Spot, SpotKind
from marram.sheets.scene.type_widths import words_width

if TYPE_CHECKING:
    from marram.sheets.scene.svg import View

_SHORTEST = 26.0
"""A measured length that is shorter on the drawing is not drawn: its number stands beneath."""
_SPOT_BOXES = {
    SpotKind.STATION: (-13.5, -13.5, 13.5, 13.5),
    SpotKind.HOLE: (-5.0, -36.0, 22.0, 5.0),
    SpotKind.BALL: (-7.0, -7.0, 7.0, 7.0),
    SpotKind.BALL_NOT_IN_PLAY: (-11.5, -11.5, 11.5, 11.5),
    SpotKind.CHOSEN: (-6.0, -6.0, 6.0, 6.0),
    SpotKind.FIRST_TOUCH: (-6.0, -6.0, 6.0, 6.0),
}
"""How far the sign of a point reaches: left, up, right and down."""
_ALONG = (0.55, 0.45, 0.65, 0.35, 0.74, 0.26)
_LIFT_LOW, _LIFT_HIGH = 2.5, 18.0
"""Where the number of a measured length stands beside its line, drawing units."""
_HALF_LINE = 2.25


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettering:
    """The words of a view.

    Attributes:
        marks: The words as they are drawn.
        lengths: The measured lengths that are drawn.
        placed: The labels that found a place.
        left: What found none, most important first; it is told beneath the drawing.
    """

    marks: tuple[str, ...] = ()
    lengths: tuple[Dimension, ...] = ()
    placed: tuple[Label, ...] = ()
    left: tuple[str, ...] = ()

    @property
    def named(self) -> frozenset[str]:
        """The names of ground that stand on the drawing."""
        return frozenset(" ".join(label.lines) for label in self.placed if label.kind is LabelKind.GROUND)


def letter_view(scene: Scene, view: View, blocked: Sequence[Rectangle]) -> Lettering:
    """Find a place for every word of a view.

    Args:
        scene: What is shown.
        view: Where.
        blocked: Parts of the view that other things cover: north arrow, title block.
    """
    scene = _told_in(scene, view.lengths)
    room = room_of(scene.items, view)
    room.take(each.outline for each in blocked)
    room.take(_spot_box(spot, view) for spot in scene.spots)
    lengths = lengths_in_sight(scene, view, blocked)
    room.lines |= {each: _line(each, view).buffer(_HALF_LINE) for each in lengths}
    arrows, left = place_away(scene, view, room)
    marks = [mark for arrow in arrows for mark in arrow.draw()]
    placed: list[Placed] = []
    labels = sorted(scene.labels, key=lambda label: ORDER.index(label.kind))
    letters = [label for label in labels if label.kind is LabelKind.LETTER]
    for label in letters:
        _keep(label, room.place(label, view), placed, left)
    for dimension in lengths:
        marks += _length_words(dimension, view, room)
    for label in labels[len(letters) :]:
        _keep(label, room.place(label, view), placed, left)
    for each in placed:
        marks += _label(each)
    return Lettering(marks=tuple(marks), lengths=lengths, placed=tuple(each.label for each in placed), left=tuple(dict.fromkeys(left)))


def _told_in(scene: Scene, lengths: Lengths) -> Scene:
    """The scene with its lengths as they are to be read."""
    if lengths == IN_METRES:
        return scene
    labels = tuple(replace(label, lines=tuple(map(lengths.told, label.lines))) for label in scene.labels)
    return replace(scene, labels=labels, dimensions=tuple(replace(each, text=lengths.told(each.text)) for each in scene.dimensions))


def _keep(label: Label, found: Placed | None, placed: list[Placed], left: list[str]) -> None:
    """Note where a label stands, or that it must be told beneath: names of ground and lines are in the legend, places in their list."""
    if found is not None:
        placed.append(found)
    elif label.kind not in {LabelKind.GROUND, LabelKind.BOOK, LabelKind.PLACE}:
        left.append(" ".join(label.lines))


def lengths_in_sight(scene: Scene, view: View, blocked: Sequence[Rectangle]) -> tuple[Dimension, ...]:
    """The measured lengths that are long enough to be drawn, and in sight from end to end."""
    covers = [each.outline for each in blocked]
    lines = ((dimension, _line(dimension, view)) for dimension in scene.dimensions)
    return tuple(
        dimension
        for dimension, line in lines
        if line.length >= _SHORTEST and view.box.outline.covers(line) and not any(line.intersects(cover) for cover in covers)
    )


def _spot_box(spot: Spot, view: View) -> Polygon:
    x, y = view.place(*spot.position.xy)
    left, up, right, down = _SPOT_BOXES[spot.kind]
    return box(x + left, y + up, x + right, y + down)


def _line(dimension: Dimension, view: View) -> LineString:
    return LineString([view.place(*dimension.start.xy), view.place(*dimension.end.xy)])


def _length_words(dimension: Dimension, view: View, room: Room) -> Iterator[str]:
    """The number of a measured length along its line; beside it on a leader where the line is short or crowded."""
    (x1, y1), (x2, y2) = view.place(*dimension.start.xy), view.place(*dimension.end.xy)
    turn = math.degrees(math.atan2(y2 - y1, x2 - x1))
    upright = turn - 180 if turn > 90 else turn + 180 if turn < -90 else turn
    setting = SETTINGS[LabelKind.RULING]
    half = words_width(dimension.text, setting.face, setting.size) / 2
    fits = 2 * half <= math.hypot(x2 - x1, y2 - y1) - 12
    for low, high, y in ((-_LIFT_HIGH, -_LIFT_LOW, -6.0), (_LIFT_LOW, _LIFT_HIGH, 15.0)):
        for share in _ALONG if fits else ():
            x, across = x1 + share * (x2 - x1), y1 + share * (y2 - y1)
            outline = affinity.translate(affinity.rotate(box(-half, low, half, high), upright, origin=(0, 0)), x, across)
            if room.is_free(outline, dimension):
                room.take([outline])
                yield (
                    f'<text class="lab pencil" text-anchor="middle" transform="translate({x:.1f} {across:.1f}) rotate({upright:.1f})" '
                    f'y="{y:g}">{escape(dimension.text)}</text>'
                )
                return
    middle = dimension.start.towards(dimension.end, dimension.start.distance_m(dimension.end) / 2)
    placed = room.place(Label(lines=(dimension.text,), kind=LabelKind.RULING, anchor=middle), view)
    if placed is not None:
        yield from _label(placed)


_CLASSES = {
    LabelKind.RULING: "lab pencil",
    LabelKind.FACT: "lab",
    LabelKind.GROUND: "lab ground",
    LabelKind.BOOK: "lab book",
}


def _label(placed: Placed) -> Iterator[str]:
    around, label = placed.box, placed.label
    x, y = around.x + around.width / 2, around.y
    if placed.leader is not None:
        (ax, ay), (bx, by) = placed.leader
        yield f'<path class="leader" d="M{ax:.1f} {ay:.1f}L{bx:.1f} {by:.1f}"/>'
    setting = SETTINGS[label.kind]
    if label.kind is LabelKind.LETTER:
        yield (
            f'<g class="tag"><rect x="{around.x:.1f}" y="{y:.1f}" width="{BADGE:g}" height="{BADGE:g}"/>'
            f'<text text-anchor="middle" x="{x:.1f}" y="{y + setting.rise:.1f}">{escape(label.lines[0])}</text></g>'
        )
        return
    if label.kind is LabelKind.NUMBER:
        yield (
            f'<g class="disc"><rect class="plate" rx="{DISC / 2:g}" x="{around.x:.1f}" y="{y:.1f}" width="{DISC:g}" height="{DISC:g}"/>'
            f'<text class="head" text-anchor="middle" x="{x:.1f}" y="{y + setting.rise:.1f}">{escape(label.lines[0])}</text></g>'
        )
        return
    if label.kind is LabelKind.PLACE:
        yield (
            f'<g class="place"><rect x="{around.x:.1f}" y="{y:.1f}" width="{around.width:.1f}" height="{around.height:.1f}"/>'
            f'<text text-anchor="middle" x="{x:.1f}" y="{y + setting.rise:.1f}">{escape(label.lines[0])}</text></g>'
        )
        return
    for number, line in enumerate(fitted_lines(label)):
        yield (
            f'<text class="{_CLASSES[label.kind]}" text-anchor="middle" x="{x:.1f}" y="{y + setting.rise + setting.line * number:.1f}">'
            f"{escape(line)}</text>"
        )
