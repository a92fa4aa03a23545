"""How much room a map has: on a sheet or a wide screen, or redrawn for a phone, with the scale that shows an area large there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from marram.course.frame import Position
from marram.sheets.scene.border import draw_scale_bar
from marram.sheets.scene.labels import Rectangle
from marram.sheets.scene.rendering import FOOT_ALONE, Bounds, Rendering
from marram.sheets.scene.scene import Window
from marram.sheets.scene.svg import View

NARROW = 600.0
"""A map that stands alone and is narrower than this is redrawn as for a phone."""
_LEAST_SHARE, _FAIR_SHARE, _MOST_SHARE = 0.45, 0.6, 0.65
"""How much of the width of a narrow map the chosen area takes."""
_BEYOND_M, _ABOUT_M, _LEAST_M = 1.0, 3.0, 0.5
"""Ground beyond what must be seen, about a point alone, and what is no more than a point."""
_STEPS = (1.0, 1.4, 2.0, 3.0, 4.6, 7.0, 10.0, 14.0, 20.0, 30.0, 46.0, 70.0, 100.0)
"""Drawing units for a metre on a narrow map."""
_PLATE_WIDTH, _PLATE_HEIGHT, _BAR = 116.0, 34.0, 88.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MapLayout:
    """The room of a map, drawing units.

    Attributes:
        width: Width of the drawing.
        edge: Room at each side of the map.
        height: Height of the map.
        columns: Columns of the legend.
        is_narrow: Whether it is redrawn for a phone: no course metres at the sides, a scale bar instead of a title block.
    """

    width: float
    edge: float
    height: float
    columns: int = 4
    is_narrow: bool = False

    @property
    def map_width(self) -> float:
        """Width of the map."""
        return self.width - 2 * self.edge


WIDE = MapLayout(width=860.0, edge=34.0, height=520.0)


def layout_of(rendering: Rendering) -> MapLayout:
    """The room that a rendering gives a map on a screen."""
    if not rendering.is_map_alone or rendering.width_px >= NARROW:
        return WIDE
    return MapLayout(width=rendering.width_px, edge=7.0, height=min(316.0, 0.81 * rendering.width_px), columns=2, is_narrow=True)


def foot_of(layout: MapLayout, view: View) -> float:
    """Where what stands beneath a map that stands alone begins: below the figures of its frame, which a narrow one has not."""
    return view.box.y + view.box.height + (12.0 if layout.is_narrow else FOOT_ALONE)


def narrow_window(area: Bounds, besides: Iterable[Bounds], layout: MapLayout) -> Window:
    """The window of a narrow map: the chosen area large, with its reference points and a metre beyond.

    Args:
        area: Least x, least y, greatest x, greatest y of the area with its points; a point alone has some ground about it.
        besides: What is seen too, as long as the area stays large.
        layout: The room.
    """
    area = _with_ground(area)
    held, scale = area, _scale(area, area, layout)
    for other in besides:
        wider = (min(held[0], other[0]), min(held[1], other[1]), max(held[2], other[2]), max(held[3], other[3]))
        wider_scale = _scale(area, wider, layout)
        if (area[2] - area[0]) * wider_scale >= _LEAST_SHARE * layout.map_width:
            held, scale = wider, wider_scale
    middle = Position(x_m=(held[0] + held[2]) / 2, y_m=(held[1] + held[3]) / 2)
    return Window(middle=middle, width_m=layout.map_width / scale, height_m=layout.height / scale)


def _with_ground(area: Bounds) -> Bounds:
    """What is drawn large where no area is measured: the ground about a point."""
    if max(area[2] - area[0], area[3] - area[1]) > _LEAST_M:
        return area
    return (area[0] - _ABOUT_M, area[1] - _ABOUT_M, area[2] + _ABOUT_M, area[3] + _ABOUT_M)


def _scale(area: Bounds, held: Bounds, layout: MapLayout) -> float:
    """Drawing units for a metre: a step where one shows the area large, else what does."""
    width_m, height_m = held[2] - held[0] + 2 * _BEYOND_M, held[3] - held[1] + 2 * _BEYOND_M
    most = min(layout.map_width / width_m, layout.height / height_m)
    share_of_metre = max(area[2] - area[0], _LEAST_M) / layout.map_width
    for step in reversed(_STEPS):
        if step <= most and _LEAST_SHARE <= step * share_of_metre <= _MOST_SHARE:
            return step
    return min(most, _FAIR_SHARE / share_of_metre)


def plate_box(view: View, clear_of: Sequence[Position]) -> Rectangle:
    """Where the scale bar of a narrow map stands: in the lower corner that hides fewer places."""
    b = view.box
    corners = [
        Rectangle(x=x, y=b.y + b.height - _PLATE_HEIGHT - 6, width=_PLATE_WIDTH, height=_PLATE_HEIGHT)
        for x in (b.x + 6, b.x + b.width - _PLATE_WIDTH - 6)
    ]
    return min(corners, key=lambda corner: sum(_hides(corner, *view.place(*place.xy)) for place in clear_of))


def _hides(box: Rectangle, x: float, y: float) -> bool:
    return box.x - 12 <= x <= box.x + box.width + 12 and y >= box.y - 12


def draw_plate(view: View, box: Rectangle) -> Iterator[str]:
    """The scale bar of a narrow map."""
    yield f'<rect class="plate" x="{box.x:.1f}" y="{box.y:.1f}" width="{box.width:.1f}" height="{box.height:.1f}"/>'
    yield from draw_scale_bar(view, box.x + 10, box.y + 21, _BAR, (0, 4))
