"""The words of a view: beside what they speak of, and never over a point, a measured length or each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from html import escape
from typing import TYPE_CHECKING

import shapely

from marram.sheets.scene.away import away_marks
from marram.sheets.scene.labels import Placed, Rectangle, place_labels
from marram.sheets.scene.scene import Dimension, Label, LabelKind, Scene, SpotKind

if TYPE_CHECKING:
    from marram.sheets.scene.svg import View

_ON_ITS_GROUND = 0.6
"""Least share of a ground's name that stands on the ground."""


def letter_view(scene: Scene, view: View, dimensions: list[Dimension], blocked: list[Rectangle]) -> Iterator[str]:
    """The words of a view: arrows to what lies outside, then labels, each where it covers nothing.

    Args:
        scene: What is shown.
        view: Where.
        dimensions: The measured lengths that are drawn.
        blocked: Parts of the view that other things cover.
    """
    taken = list(blocked)
    for spot in scene.spots:
        x, y = view.place(*spot.position.xy)
        size = 26.0 if spot.kind is SpotKind.STATION else 14.0
        taken.append(Rectangle(x=x - size / 2, y=y - size / 2, width=size, height=size))
    for dimension in dimensions:
        taken += _beads(dimension, view)
    box = view.box
    frame = Rectangle(x=box.x + 6, y=box.y + 6, width=box.width - 12, height=box.height - 12)
    for mark in away_marks(scene, view, taken):
        taken.append(mark.box)
        yield from mark.draw()
    anchored = [(label, view.place(*label.anchor.xy)) for label in scene.labels]
    for placed in place_labels(anchored, frame, taken, lambda label, box: _is_on_its_ground(label, box, view)):
        yield from _label(placed)


def _is_on_its_ground(label: Label, box: Rectangle, view: View) -> bool:
    """Whether the name of a piece of ground stands on that ground, and not on what lies beside it."""
    if label.ground is None:
        return True
    least_x, _, _, most_y = view.window.bounds
    k = view.units_per_m
    x_m, y_m = least_x + (box.x - view.x) / k, most_y - (box.y - view.y) / k
    stands_on = shapely.box(x_m, y_m - box.height / k, x_m + box.width / k, y_m)
    return bool(label.ground.intersection(stands_on).area >= _ON_ITS_GROUND * stands_on.area)


def _beads(dimension: Dimension, view: View) -> list[Rectangle]:
    """Small boxes along a measured length and its number, to keep other words off."""
    (x1, y1), (x2, y2) = view.place(*dimension.start.xy), view.place(*dimension.end.xy)
    count = max(2, int(math.hypot(x2 - x1, y2 - y1) / 14))
    across = math.hypot(x2 - x1, y2 - y1) or 1.0
    side = (-(y2 - y1) / across, (x2 - x1) / across)
    side = side if side[1] < 0 else (-side[0], -side[1])
    beads = []
    for number in range(count + 1):
        x, y = x1 + number * (x2 - x1) / count, y1 + number * (y2 - y1) / count
        for lift in (0.0, 11.0):
            beads.append(Rectangle(x=x + side[0] * lift - 5, y=y + side[1] * lift - 5, width=10, height=10))
    return beads


_CLASSES = {
    LabelKind.RULING: "lab pencil",
    LabelKind.FACT: "lab",
    LabelKind.GROUND: "lab ground",
    LabelKind.BOOK: "lab book",
}


def _label(placed: Placed) -> Iterator[str]:
    box, label = placed.box, placed.label
    x, y = box.x + box.width / 2, box.y
    if placed.leader_from is not None:
        ax, ay = placed.leader_from
        yield f'<path class="leader" d="M{ax:.1f} {ay:.1f}L{x:.1f} {y + box.height / 2:.1f}"/>'
    if label.kind is LabelKind.LETTER:
        yield (
            f'<g class="tag"><rect x="{x - 11:.1f}" y="{y - 3.5:.1f}" width="22" height="22"/>'
            f'<text text-anchor="middle" x="{x:.1f}" y="{y + 13:.1f}">{escape(label.lines[0])}</text></g>'
        )
        return
    for number, line in enumerate(label.lines):
        yield (
            f'<text class="{_CLASSES[label.kind]}" text-anchor="middle" x="{x:.1f}" y="{y + 12 + 15 * number:.1f}">{escape(line)}</text>'
        )
