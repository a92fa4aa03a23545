"""Placing words on a drawing: beside what they speak of, never over a point, a letter or each other."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from textwrap import wrap

from marram.sheets.scene.scene import Label, LabelKind

LINE_PX = 15.0
_WIDTH_OF = {LabelKind.GROUND: 7.4, LabelKind.LETTER: 22.0, LabelKind.BOOK: 8.5}
"""Mean width of a letter, drawing units, with 12 % to spare for another font."""
_USUAL_WIDTH = 7.0
_HELD_TOGETHER = re.compile(r"(?<=\d) (?=(?:m²|m|cm|mm|inch|inches|metres?|yd|ft|%)(?!\w))|(?<=\bRule) (?=\d)|(?<=\bpage) (?=\d)")
"""Spaces at which no line is broken: before a unit, and before the number of a rule or a page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """A box on the drawing, in its units, y downward."""

    x: float
    y: float
    width: float
    height: float

    def meets(self, other: Rectangle, gap: float = 2.0) -> bool:
        """Whether two boxes overlap or nearly touch."""
        apart_x = self.x + self.width + gap <= other.x or other.x + other.width + gap <= self.x
        apart_y = self.y + self.height + gap <= other.y or other.y + other.height + gap <= self.y
        return not (apart_x or apart_y)

    def is_in(self, outer: Rectangle) -> bool:
        """Whether this box lies within another."""
        is_across = outer.x <= self.x and self.x + self.width <= outer.x + outer.width
        return is_across and outer.y <= self.y and self.y + self.height <= outer.y + outer.height


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A label with its place."""

    label: Label
    box: Rectangle
    leader_from: tuple[float, float] | None


def wrap_words(text: str, letters: int) -> list[str]:
    """Break text into lines of so many letters; a number keeps its unit, and a rule its number, on one line."""
    return wrap(_HELD_TOGETHER.sub("\u00a0", text), letters)


def text_width(label: Label) -> float:
    """Width of the longest line, with some to spare."""
    return max(len(line) for line in label.lines) * _WIDTH_OF.get(label.kind, _USUAL_WIDTH)


def place_labels(
    labels: list[tuple[Label, tuple[float, float]]],
    frame: Rectangle,
    taken: list[Rectangle],
    may_stand: Callable[[Label, Rectangle], bool] = lambda label, box: True,
) -> list[Placed]:
    """Give each label a free place, in order of importance.

    Args:
        labels: Labels with their anchors on the drawing.
        frame: The part of the drawing that may carry words.
        taken: Boxes that must stay clear: points, measured lengths, north arrow, title block.
        may_stand: Whether a label may stand on a box, besides its being free.

    Returns:
        The labels that found a place. A label that must be shown and finds none beside its anchor is moved away on a leader.
    """
    placed: list[Placed] = []
    used = list(taken)
    order = (LabelKind.LETTER, LabelKind.BOOK, LabelKind.FACT, LabelKind.RULING, LabelKind.GROUND)
    for label, anchor in sorted(labels, key=lambda pair: order.index(pair[0].kind)):
        found = _first_free(label, anchor, frame, used, may_stand)
        if found is not None:
            placed.append(found)
            used.append(found.box)
    return placed


def _first_free(
    label: Label, anchor: tuple[float, float], frame: Rectangle, used: list[Rectangle], may_stand: Callable[[Label, Rectangle], bool]
) -> Placed | None:
    width, height = text_width(label), LINE_PX * len(label.lines)
    for number, (dx, dy) in enumerate(_offsets(label, width, height)):
        box = Rectangle(x=anchor[0] + dx, y=anchor[1] + dy, width=width, height=height)
        if box.is_in(frame) and not any(box.meets(other) for other in used) and may_stand(label, box):
            is_far = not label.is_inside and number >= 8
            return Placed(label=label, box=box, leader_from=anchor if is_far else None)
    return None


def _offsets(label: Label, width: float, height: float) -> list[tuple[float, float]]:
    """Places to try, nearest first, as offsets of the box's corner from the anchor."""
    middle = (-width / 2, -height / 2)
    if label.is_inside:
        near = [middle]
        rings = [18.0, 30.0, 44.0, 60.0]
    else:
        gap = 13.0
        near = [
            (gap, -height / 2),
            (-width - gap, -height / 2),
            (-width / 2, -height - gap),
            (-width / 2, gap),
            (gap, -height - gap / 2),
            (gap, gap / 2),
            (-width - gap, -height - gap / 2),
            (-width - gap, gap / 2),
        ]
        rings = [50.0, 75.0, 105.0, 140.0] if label.must_show else [32.0]
    turns = [math.radians(30 * number) for number in range(12)]
    far = [
        (ring * math.cos(turn) - width * (1 - math.cos(turn)) / 2, ring * math.sin(turn) - height / 2) for ring in rings for turn in turns
    ]
    return near + far
