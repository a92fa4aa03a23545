"""The frames of a guide: one place drawn again and again, each time with one step more."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Mark
from marram.course.frame import Position
from marram.rulings.case.ruling import Option, Ruling
from marram.sheets.drawn.ground_shapes import ground_items, ground_labels
from marram.sheets.drawn.relief_marks import Marks, ruling_marks
from marram.sheets.guide.content import GuideDrawing
from marram.sheets.scene.labels import Rectangle
from marram.sheets.scene.palette import DAY, PRINT
from marram.sheets.scene.scene import Item, Label, LabelKind, Role, Scene, Spot, SpotKind, Window
from marram.sheets.scene.style import page_of
from marram.sheets.scene.svg import UNIT_MM, View, draw_view
from marram.showing.drop_examples import DropExample
from marram.showing.forbidden import Carried

_SCALES = (20, 25, 40, 50, 75, 100, 150, 200, 250, 300, 400, 500, 750, 1000, 1500, 2000, 2500, 3000, 4000, 5000, 6000, 7500, 10_000)
_LARGE_SCALES = (12_500, 15_000, 20_000, 25_000, 50_000)
_STEPS = (
    120.0,
    90.0,
    70.0,
    58.0,
    46.0,
    38.0,
    30.0,
    24.0,
    20.0,
    16.0,
    12.0,
    9.0,
    7.0,
    5.0,
    4.0,
    3.0,
    2.0,
    1.5,
    1.0,
    0.7,
    0.5,
    0.35,
    0.25,
    0.15,
    0.1,
)
"""Drawing units for a metre on a screen."""
_LEAST_M = 3.0
_BAR = 84.0
_BARS_M = (0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
_NEAR, _NEAR_M = 4.0, 6.0
"""A ball farther off than so many times the size of what is shown, and so many metres, is told by an arrow instead."""
_POINT_ROLES = frozenset({Role.FLIGHT, Role.LINE_TO_HOLE, Role.FOOT, Role.LINE_BACK, Role.LINE_BARRED})
_AREA_ROLES = _POINT_ROLES | {Role.RELIEF, Role.HOLE_ARC}


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What a drawing is drawn for.

    Attributes:
        width: Width in drawing units: 0.27 mm of paper, or a pixel of a page at its usual size.
        height: Height in the same.
        is_paper: Whether it is printed in black, at a scale that it states.
    """

    width: float
    height: float
    is_paper: bool

    @property
    def scales(self) -> tuple[float, ...]:
        """How many drawing units a metre may be, the most first."""
        return tuple(1000 / scale / UNIT_MM for scale in (*_SCALES, *_LARGE_SCALES)) if self.is_paper else _STEPS


def paper_frame(width_mm: float, height_mm: float) -> Frame:
    """A frame on paper of so many millimetres."""
    return Frame(width=width_mm / UNIT_MM, height=height_mm / UNIT_MM, is_paper=True)


A4_FRAME = paper_frame(88.0, 56.0)
"""Two such frames stand beside each other on A4."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing in one frame.

    Attributes:
        svg: The drawing.
        width: Width, millimetres on paper, else drawing units.
        height: Height in the same.
        scale: On paper, 1 to so many.
    """

    svg: str
    width: float
    height: float
    scale: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot:
    """What one place looks like under one book: everything that a frame may show.

    Attributes:
        carried: The option that is shown.
        ruling: Its ruling, with that option alone.
        drops: Examples of drops.
    """

    carried: Carried
    ruling: Ruling
    drops: tuple[DropExample, ...]

    @property
    def option(self) -> Option:
        """The option that is shown."""
        return self.carried.option


def only_option(ruling: Ruling, option: Option) -> Ruling:
    """A ruling with one option alone, so that a frame shows nothing else."""
    return replace(ruling, options=(option,))


def places_of(shot: Shot) -> list[Position]:
    """Every place that the close frames of a shot must hold."""
    option = shot.option
    places = [reference.position for reference in option.references]
    places += [place for drop in shot.drops for place in (drop.touch, drop.rest)]
    if option.relief_area is not None and option.relief_area.parts:
        places += _corners(option.relief_area.outline(), places)
    return places or [shot.carried.case.incident.ball or shot.carried.case.hole_at]


def places_about(shot: Shot, close: list[Position]) -> list[Position]:
    """What the first frame must hold as well: the ball, where it is not far off, and the way that it came."""
    case = shot.carried.case
    near_m = _NEAR * max(close[0].distance_m(place) for place in close) + _NEAR_M
    seen = [case.incident.ball, *(case.incident.flight or ())]
    return [*close, *(place for place in seen if place is not None and place.distance_m(close[0]) <= near_m)]


def _corners(outline: BaseGeometry, near: list[Position]) -> list[Position]:
    """Corners of an area; of a long strip only what lies near the other places."""
    if near:
        middle = near[-1]
        outline = shapely.clip_by_rect(outline, middle.x_m - 12, middle.y_m - 12, middle.x_m + 12, middle.y_m + 12)
    if outline.is_empty:
        return []
    least_x, least_y, most_x, most_y = outline.bounds
    return [Position(x_m=x, y_m=y) for x in (least_x, most_x) for y in (least_y, most_y)]


def choose_window(places: Sequence[Position], frame: Frame, room: float) -> tuple[Window, float]:
    """A window that holds places, at the largest fair scale of a frame.

    Returns:
        The window, and how many drawing units a metre is.
    """
    need_m, middle = needed(places, room)
    fair = (k for k in frame.scales if need_m[0] * k <= frame.width and need_m[1] * k <= frame.height)
    units_per_m = next(fair, frame.scales[-1])
    return Window(middle=middle, width_m=frame.width / units_per_m, height_m=frame.height / units_per_m), units_per_m


def needed(places: Sequence[Position], room: float) -> tuple[tuple[float, float], Position]:
    """How wide and high a window must be to hold places, metres, and its middle."""
    xs, ys = [place.x_m for place in places], [place.y_m for place in places]
    need_m = max((max(xs) - min(xs)) * room, _LEAST_M), max((max(ys) - min(ys)) * room, _LEAST_M)
    return need_m, Position(x_m=(max(xs) + min(xs)) / 2, y_m=(max(ys) + min(ys)) / 2)


def frame_point(shot: Shot, window: Window) -> Scene:
    """Where to measure from: the ball, how it came there, the point."""
    marks = _marks(shot, window)
    kept = [item for item in marks.items if item.role in _POINT_ROLES]
    labels = [label for label in marks.labels if label.kind is LabelKind.FACT]
    spots = tuple(spot for spot in marks.spots if spot.kind is not SpotKind.CHOSEN)
    return _scene(shot, window, items=kept, labels=labels, spots=spots, marks=marks)


def frame_measure(shot: Shot, window: Window) -> Scene:
    """The length, laid down from the point."""
    marks = _marks(shot, window)
    kept = [item for item in marks.items if item.role in _POINT_ROLES]
    return _scene(shot, window, items=kept, labels=[], spots=marks.spots, marks=marks, with_lengths=True)


def frame_area(shot: Shot, window: Window) -> Scene:
    """The ground in which the ball must be dropped."""
    marks = _marks(shot, window)
    kept = [item for item in marks.items if item.role in _AREA_ROLES]
    labels = [label for label in marks.labels if label.kind is LabelKind.RULING]
    return _scene(shot, window, items=kept, labels=labels, spots=marks.spots, marks=marks, with_lengths=True)


def frame_whole(shot: Shot, window: Window) -> Scene:
    """The place under one book, for the comparison."""
    marks = _marks(shot, window)
    kept = [item for item in marks.items if item.role in _AREA_ROLES]
    return _scene(shot, window, items=kept, labels=[], spots=marks.spots, marks=marks, with_lengths=True)


def frame_drops(shot: Shot, window: Window, drops: tuple[DropExample, ...]) -> Scene:
    """Dropped balls with their first touch, and where each came to rest."""
    marks = _marks(shot, window)
    kept = [item for item in marks.items if item.role in _AREA_ROLES and item.role is not Role.FLIGHT]
    spots = [spot for spot in marks.spots if spot.kind in {SpotKind.STATION, SpotKind.HOLE, SpotKind.CHOSEN}]
    labels = []
    for drop in drops:
        kept += [Item(role=Role.FLIGHT, geometry=LineString([drop.touch.xy, drop.rest.xy]))] if drop.touch != drop.rest else []
        kind = SpotKind.BALL if drop.counts else SpotKind.BALL_NOT_IN_PLAY
        spots += [Spot(kind=SpotKind.FIRST_TOUCH, position=drop.touch), Spot(kind=kind, position=drop.rest)]
        words = "in play" if drop.counts else _short(drop)
        labels.append(Label(lines=(words,), kind=LabelKind.RULING, anchor=drop.rest))
    return _scene(shot, window, items=kept, labels=labels, spots=tuple(spots), marks=marks)


def together(first: GuideDrawing, second: GuideDrawing) -> GuideDrawing:
    """Two drawings of the same places in one."""
    return replace(first, name=f"{first.name}-and-{second.name}", alt=f"{first.alt} {second.alt}", scene_in=partial(_both, first, second))


def _both(first: GuideDrawing, second: GuideDrawing, window: Window) -> Scene:
    one, two = first.scene_in(window), second.scene_in(window)
    return replace(
        one,
        items=(*one.items, *(item for item in two.items if item not in one.items)),
        spots=(*one.spots, *(spot for spot in two.spots if spot not in one.spots)),
        labels=(*one.labels, *(label for label in two.labels if label not in one.labels)),
    )


def _short(drop: DropExample) -> str:
    return drop.because.partition(":")[0]


def _marks(shot: Shot, window: Window) -> Marks:
    case = shot.carried.case
    return ruling_marks(shot.ruling, case.incident, case.hole_at, window, lettered=True)


def _scene(
    shot: Shot,
    window: Window,
    *,
    items: list[Item],
    labels: list[Label],
    spots: tuple[Spot, ...],
    marks: Marks,
    with_lengths: bool = False,
) -> Scene:
    case = shot.carried.case
    names = {mark: case.book.word(f"terms.penalty_area_{mark.value}").value for mark in Mark}
    ground = ground_labels(case.course, case.incident.hole, window, names)
    return Scene(
        items=(*ground_items(case.course, case.incident.hole, window), *items),
        spots=spots,
        labels=(*labels, *ground),
        dimensions=marks.dimensions if with_lengths else (),
        away=tuple(entry for entry in marks.away if entry[1] == "hole"),
    )


def paper_scale(places: Sequence[Position], room: float) -> int:
    """At which scale places are drawn on A4: 1 to so many."""
    return round(1000 / choose_window(places, A4_FRAME, room)[1] / UNIT_MM)


def draw_in(drawing: GuideDrawing, frame: Frame) -> Picture:
    """Draw for a frame: a file for paper, true to the scale that it states; or a drawing for a page, which carries the style."""
    window, units_per_m = choose_window(drawing.places, frame, drawing.room)
    prefix = "" if frame.is_paper else f"{drawing.name}-"
    view = View(window=window, x=0.0, y=0.0, units_per_m=units_per_m, name="frame", prefix=prefix)
    bar = Rectangle(x=6, y=frame.height - 30, width=104, height=25)
    scale = round(1000 / units_per_m / UNIT_MM)
    words = f"1:{scale}" if frame.is_paper else ""
    body = [*draw_view(drawing.scene_in(window), view, [bar]), *_bar(view, bar, words), *_edge(frame.width, frame.height)]
    unit, ending = (UNIT_MM, "mm") if frame.is_paper else (1.0, "")
    size = f'width="{frame.width * unit:.3f}{ending}" height="{frame.height * unit:.3f}{ending}"'
    inks = PRINT if frame.is_paper else DAY
    svg = page_of(body, inks, frame.width, frame.height, size=size, title=drawing.alt, prefix=prefix)
    return Picture(svg=svg, width=frame.width * unit, height=frame.height * unit, scale=scale)


def _bar(view: View, box: Rectangle, words: str) -> Iterator[str]:
    """A bar of one length, since a frame has no room for figures between its ends."""
    length_m = max((m for m in _BARS_M if m * view.units_per_m <= _BAR), default=_BARS_M[0])
    x, y, width = box.x + 8, box.y + 14, length_m * view.units_per_m
    yield f'<rect class="plate" x="{box.x:.1f}" y="{box.y:.1f}" width="{box.width:.1f}" height="{box.height:.1f}"/>'
    yield f'<rect class="bar1" x="{x:.2f}" y="{y:.1f}" width="{width / 2:.2f}" height="5"/>'
    yield f'<rect class="bar0" x="{x + width / 2:.2f}" y="{y:.1f}" width="{width / 2:.2f}" height="5"/>'
    yield f'<text class="small" x="{x:.1f}" y="{y - 2.5:.1f}">{length_m:g} m</text>'
    if words:
        yield f'<text class="small" text-anchor="end" x="{box.x + box.width - 5:.1f}" y="{y - 2.5:.1f}">{words}</text>'


def _edge(width: float, height: float) -> Iterator[str]:
    yield f'<rect class="neat" x="0.75" y="0.75" width="{width - 1.5:.2f}" height="{height - 1.5:.2f}"/>'
