"""Finding places for words: clear of lines, points, frame and each other, the first free one of a list for each."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import shapely
from shapely import affinity
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from marram.sheets.scene.labels import Placed, Rectangle, Try, places_for
from marram.sheets.scene.scene import Dimension, Item, Label, LabelKind, Role

if TYPE_CHECKING:
    from marram.sheets.scene.svg import View

_GAP = 2.0
"""Least distance of words from other words and points, drawing units."""
_FROM_FRAME = 6.0
_OVER_EDGE, _OVER_AREA, _OFF_OWN = 22.0, 55.0, 60.0
"""So much farther a place counts that lies over the edge of some ground, or over an area that the words do not name, or a letter
off its own area."""
_OVER_ALL = 1000.0
"""Farther than any other place: the line to the number of a place crosses what stands already only where nothing else is free."""
_GAP_OF_GROUND, _GROUND_FARTHER = 8.0, 4.0
"""A name of ground has all the ground to stand on: it crowds nothing, and sooner goes far than over an edge."""
_LINE_ROLES: Mapping[Role, float] = {
    Role.BOUNDARY: 10.0,
    Role.RED_EDGE: 7.5,
    Role.YELLOW_EDGE: 8.0,
    Role.UNMARKED_EDGE: 3.0,
    Role.HOLE_ARC: 3.0,
    Role.LINE_TO_HOLE: 2.5,
    Role.FLIGHT: 3.0,
    Role.LINE_BARRED: 3.0,
    Role.LINE_BACK: 3.0,
    Role.RELIEF: 3.0,
    Role.RELIEF_SECOND: 3.0,
    Role.OTHER_BOOK: 3.5,
    Role.THIRD_BOOK: 3.5,
    Role.OTHER_ESTIMATE: 3.0,
    Role.FAN: 2.0,
    Role.FOOT: 2.5,
}
"""Lines that no word covers, with how far each reaches to a side with its studs and ticks, drawing units."""
_WHOLE_ROLES = frozenset({Role.FOOT})
"""Small areas that no word covers, and not their edges only."""
_GROUND_EDGES = frozenset(
    {
        Role.BUNKER,
        Role.OBSTRUCTION,
        Role.WALL,
        Role.GREEN,
        Role.WRONG_GREEN,
        Role.TEE,
        Role.REPAIR,
        Role.TEMPORARY_WATER,
        Role.ANIMAL_HOLE,
        Role.NO_PLAY_ZONE,
        Role.DROPPING_ZONE,
        Role.TREES,
    }
)
"""Edges that words may cover where there is nothing better: the halo of the letters breaks a thin line that goes on beyond them."""
_AREAS = frozenset({Role.RELIEF, Role.RELIEF_SECOND, Role.COMMON_GROUND})
_START = {LabelKind.FACT: 14.5, LabelKind.NUMBER: 14.5, LabelKind.PLACE: 2.0}
"""How far from its anchor the line to a label begins: clear of the sign of a point."""
ORDER = (LabelKind.LETTER, LabelKind.NUMBER, LabelKind.PLACE, LabelKind.FACT, LabelKind.RULING, LabelKind.BOOK, LabelKind.GROUND)


def on_drawing(geometry: BaseGeometry, view: View) -> BaseGeometry:
    """A shape of the course in drawing units."""
    least_x, _, _, most_y = view.window.bounds
    k = view.units_per_m
    return affinity.affine_transform(geometry, [k, 0, 0, -k, view.x - least_x * k, view.y + most_y * k])


@dataclass(slots=True, kw_only=True)
class Room:
    """What is still free on a view.

    Attributes:
        frame: The part that may carry words.
        lines: What no word covers: lines by their role, and measured lengths.
        thin: Edges that words cover only where nothing better is free.
        areas: Areas that words cover only where nothing better is free.
        taken: What stands already.
    """

    frame: BaseGeometry
    lines: dict[Role | Dimension, BaseGeometry]
    thin: BaseGeometry
    areas: BaseGeometry
    taken: list[BaseGeometry] = field(default_factory=list)

    def take(self, shapes: Iterable[BaseGeometry]) -> None:
        """Keep words off some shapes from now on."""
        self.taken += [shape for shape in shapes if not shape.is_empty]

    def is_free(self, shape: BaseGeometry, but: Role | Dimension | None = None, gap: float = _GAP) -> bool:
        """Whether words may stand there.

        Args:
            shape: Their outline on the drawing.
            but: A line that they may cover, since they name it.
            gap: Least distance from what stands already.
        """
        if not self.frame.covers(shape):
            return False
        roomy = shape.buffer(gap, join_style="mitre")
        if any(shapely.intersects(roomy, other) for other in self.taken):
            return False
        return not any(shapely.intersects(shape, line) for role, line in self.lines.items() if role != but)

    def place(self, label: Label, view: View) -> Placed | None:
        """The first free place of a label, where the edge of some ground beneath it counts as farther off."""
        anchor = view.place(*label.anchor.xy)
        along = None if label.along is None else on_drawing(label.along, view)
        ground = None if label.ground is None else on_drawing(label.ground, view)
        best: tuple[float, Placed] | None = None
        for each in places_for(label, anchor, along if isinstance(along, LineString) else None):
            far = each.far
            if best is not None and far >= best[0]:
                continue
            placed = self._stands(label, each, anchor, ground)
            if placed is None:
                continue
            far += self._dearer(placed, ground)
            if best is None or far < best[0]:
                best = (far, placed)
        if best is None:
            return None
        placed = best[1]
        self.take([placed.box.outline, *([] if placed.leader is None else [LineString(placed.leader)])])
        return placed

    def _stands(self, label: Label, each: Try, anchor: tuple[float, float], ground: BaseGeometry | None) -> Placed | None:
        """The label at a place, with the line that leads to it where one must; None where it cannot stand there."""
        outline = each.box.outline
        is_on_own = ground is not None and ground.covers(outline)
        if ground is not None and not is_on_own and label.kind is LabelKind.GROUND:
            return None
        if not self.is_free(outline, label.names, _GAP_OF_GROUND if label.kind is LabelKind.GROUND else _GAP):
            return None
        is_off = label.kind is LabelKind.LETTER and ground is not None and not is_on_own
        leader = leader_to(anchor, each.box, _START.get(label.kind, 4.0)) if each.has_leader or is_off else None
        if leader is not None and label.kind is not LabelKind.PLACE and self._crosses(leader):
            if not is_off:
                return None
            leader = None  # a letter is shown though no line can lead to it
        return Placed(label=label, box=each.box, leader=leader)

    def _crosses(self, leader: tuple[tuple[float, float], tuple[float, float]]) -> bool:
        """Whether the line to a label crosses what stands already."""
        return any(shapely.intersects(LineString(leader), other) for other in self.taken)

    def _dearer(self, placed: Placed, ground: BaseGeometry | None) -> float:
        """How much farther a place counts for what lies beneath it; a letter within its own area covers nothing else."""
        outline = placed.box.outline
        if placed.label.kind is LabelKind.PLACE and placed.leader is not None and self._crosses(placed.leader):
            return _OVER_ALL  # its list counts on it: a crowded place has its number all the same
        is_letter = placed.label.kind is LabelKind.LETTER and ground is not None
        if is_letter and ground is not None and ground.covers(outline):
            return 0.0
        off = 0.0 if not is_letter else _OFF_OWN if placed.leader is not None else 2 * _OFF_OWN
        edge = _OVER_EDGE if shapely.intersects(self.thin, outline) else 0.0
        area = _OVER_AREA if shapely.intersects(self.areas, outline) else 0.0
        if placed.label.kind is not LabelKind.GROUND:
            return off + edge + area
        # A name without ground of its own stays by its place, though an area may cover that.
        return _GROUND_FARTHER * (edge + area) if ground is not None else 0.0


def room_of(items: Iterable[Item], view: View) -> Room:
    """What of a view is free before any word stands."""
    window = shapely.box(*view.window.bounds).buffer(20.0 / view.units_per_m)
    lines: dict[Role, list[BaseGeometry]] = {}
    thin: list[BaseGeometry] = []
    areas: list[BaseGeometry] = []
    for item in items:
        seen = on_drawing(item.geometry.intersection(window), view)
        if seen.is_empty:
            continue
        # The edge is that of the whole shape: the window cuts it and adds none of its own.
        edge = on_drawing(item.geometry.boundary.intersection(window), view) if item.geometry.area else seen
        if item.role in _LINE_ROLES:
            lines.setdefault(item.role, []).append((seen if item.role in _WHOLE_ROLES else edge).buffer(_LINE_ROLES[item.role]))
        if item.role in _GROUND_EDGES:
            thin.append(edge.buffer(1.5))
        if item.role in _AREAS:
            areas.append(seen)
    box = view.box
    inner = shapely.box(box.x, box.y, box.x + box.width, box.y + box.height).buffer(-_FROM_FRAME, join_style="mitre")
    joined: dict[Role | Dimension, BaseGeometry] = {role: shapely.union_all(shapes) for role, shapes in lines.items()}
    edges, covered = shapely.union_all(thin), shapely.union_all(areas)
    for shape in (*joined.values(), edges, covered, inner):
        shapely.prepare(shape)
    return Room(frame=inner, lines=joined, thin=edges, areas=covered)


def leader_to(anchor: tuple[float, float], box: Rectangle, start: float) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """The way from a point to the nearest side of words, begun so far from the point and ended a little before the words."""
    x = min(max(anchor[0], box.x), box.x + box.width)
    y = min(max(anchor[1], box.y), box.y + box.height)
    length = math.hypot(x - anchor[0], y - anchor[1])
    if length < start + 6:
        return None
    dx, dy = (x - anchor[0]) / length, (y - anchor[1]) / length
    return (anchor[0] + start * dx, anchor[1] + start * dy), (x - 1.5 * dx, y - 1.5 * dy)
