"""The small plan of the whole hole beside a ruling's map: where the ball, the boundary and the stroke before lie."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry import Point, box

from marram.course.course import Course
from marram.course.frame import Position
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Option, Ruling
from marram.sheets.drawn.ground_shapes import TEE_LETTER, ground_items, ground_labels
from marram.sheets.drawn.hole_names import ground_of_hole
from marram.sheets.drawn.option_places import LETTERS, option_place
from marram.sheets.drawn.relief_shapes import goes_back, line_items
from marram.sheets.ruled.ruling_window import boundary_place, union
from marram.sheets.scene.border import draw_scale_bar
from marram.sheets.scene.rendering import Bounds, Rendering, window_of
from marram.sheets.scene.scene import Item, Label, LabelKind, Role, Scene, Spot, SpotKind, Window
from marram.sheets.scene.svg import View, draw_view

_NAMED = {TEE_LETTER, ("out of bounds",)}
_ABOUT_M, _ABOUT = 12.0, 0.08
"""Ground about the hole, metres and as a share of its length, so that a flag stands whole in the plan."""
_LEAST_FRAME_PX, _ONE_PLACE_PX = 14.0, 16.0
_FAR = 3.0
"""A place farther off than so many lengths of the hole would shrink the plan to nothing, and is told by its arrow alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HolePlan:
    """What the plan shows.

    Attributes:
        bounds: The ground.
        places: Options whose places lie outside the map, by their letters.
        beyond: Where the boundary is that a ball went over; None where the ruling hangs on none.
        is_wide: Whether the plan lies beneath the map and not beside it, since the ground is larger there.
    """

    bounds: Bounds
    places: tuple[tuple[str, Option, Position], ...]
    beyond: Position | None
    is_wide: bool = False


def plan_of(ruling: Ruling, incident: Incident, course: Course, window: Window) -> HolePlan | None:
    """The plan that a map needs; None where the map shows everything but the hole.

    Args:
        ruling: The ruling that the drawing is about.
        incident: What happened.
        course: The course with the day's conditions.
        window: What the map shows.
    """
    placed = [(letter, option, option_place(option)) for letter, option in zip(LETTERS, ruling.options, strict=False)]
    away = tuple((letter, option, place) for letter, option, place in placed if place is not None and not window.holds(place))
    ball = incident.ball
    hangs = incident.situation == "out-of-bounds"
    is_needed = away or (hangs and not _is_seen(boundary_place(incident, course), window)) or any(map(goes_back, ruling.options))
    if not is_needed and (ball is None or window.holds(ball)):
        return None
    ground = list(ground_of_hole(course, incident.hole))
    if not ground:
        return None
    hole = union([shape.bounds for shape in ground])
    length_m = max(hole[2] - hole[0], hole[3] - hole[1], 50.0)
    beyond = _boundary_by(incident, course) if hangs else None
    spots = [place for _, _, place in away] + [place for place in (ball, beyond) if place is not None]
    near = [place for place in spots if Point(place.xy).distance(box(*hole)) <= _FAR * length_m]
    about = union([hole, window.bounds, *((*place.xy, *place.xy) for place in near)])
    about_m = max(_ABOUT_M, _ABOUT * max(about[2] - about[0], about[3] - about[1]))
    bounds = (about[0] - about_m, about[1] - about_m, about[2] + about_m, about[3] + about_m)
    return HolePlan(bounds=bounds, places=away, beyond=beyond)


def _is_seen(place: Position | None, window: Window) -> bool:
    return place is not None and window.holds(place)


def _boundary_by(incident: Incident, course: Course) -> Position | None:
    """The boundary that a ball went over: by its place, else where the boundary comes nearest to the line of play."""
    stated = boundary_place(incident, course)
    line = course.hole(incident.hole).line
    if stated is not None or line is None or course.boundary.is_empty:
        return stated
    edge = course.boundary.boundary
    x_m, y_m = shapely.shortest_line(edge, line).coords[0]
    return Position(x_m=x_m, y_m=y_m)


def plan_view(plan: HolePlan, x: float, y: float, width: float, height: float, rendering: Rendering) -> View:
    """The view of a plan that fills a room, with the ground in its middle."""
    seen = window_of(plan.bounds)
    units_per_m = min(width / seen.width_m, height / seen.height_m)
    window = Window(middle=seen.middle, width_m=width / units_per_m, height_m=height / units_per_m)
    return View(window=window, x=x, y=y, units_per_m=units_per_m, name="plan", prefix=rendering.prefix, lengths=rendering.lengths)


def draw_plan(scene: Scene, view: View) -> Iterator[str]:
    """Draw the plan with its heading and scale bar; whatever it has no room for has its arrow on the map."""
    room = view.box
    yield f'<text class="head" x="{room.x:.1f}" y="{room.y - 7:.1f}">THE WHOLE HOLE</text>'
    yield from draw_view(scene, view, [])
    yield f'<rect class="neat" x="{room.x:.1f}" y="{room.y:.1f}" width="{room.width:.1f}" height="{room.height:.1f}"/>'
    yield from draw_scale_bar(view, room.x + 8, room.y + room.height + 20, 120)


def plan_scene(plan: HolePlan, incident: Incident, course: Course, hole: Position, shown: Window, view: View) -> Scene:
    """What the plan of a whole hole shows.

    Args:
        plan: The places on it.
        incident: What happened.
        course: The course.
        hole: Where the hole is.
        shown: What the map shows, framed on the plan.
        view: Where the plan stands.
    """
    items = [*ground_items(course, incident.hole, view.window), *_play_line(course, incident.hole)]
    items += [item for _, option, _ in plan.places for item in line_items(option)]
    items.append(Item(role=Role.MAP_FRAME, geometry=box(*_frame(shown, view)), title="the map"))
    spots = [Spot(kind=SpotKind.HOLE, position=hole)]
    labels = [label for label in ground_labels(course, incident.hole, view.window, {}) if label.lines in _NAMED]
    if incident.ball is not None and not shown.holds(incident.ball) and view.window.holds(incident.ball):
        spots.append(Spot(kind=SpotKind.BALL, position=incident.ball))
        labels.append(Label(lines=("ball",), kind=LabelKind.FACT, anchor=incident.ball))
    spots += [Spot(kind=_spot_kind(option), position=place) for _, option, place in plan.places]
    labels += _letters(plan, view)
    return Scene(items=tuple(items), spots=tuple(dict.fromkeys(spots)), labels=tuple(labels))


def _spot_kind(option: Option) -> SpotKind:
    return SpotKind.STATION if option.references else SpotKind.CHOSEN


def _letters(plan: HolePlan, view: View) -> Iterator[Label]:
    """The letters of the options, those that lie at one place together."""
    near_m = _ONE_PLACE_PX / view.units_per_m
    groups: list[tuple[Position, list[str]]] = []
    for letter, _, place in plan.places:
        if view.window.holds(place):
            group = next((letters for at, letters in groups if at.distance_m(place) < near_m), None)
            groups.append((place, [letter])) if group is None else group.append(letter)
    for place, letters in groups:
        kind = LabelKind.LETTER if len(letters) == 1 else LabelKind.BOOK
        yield Label(lines=(", ".join(letters),), kind=kind, anchor=place)


def _play_line(course: Course, number: int) -> Iterator[Item]:
    line = course.hole(number).line
    if line is not None:
        yield Item(role=Role.LINE_TO_HOLE, geometry=line, title="line of play")


def _frame(shown: Window, view: View) -> Bounds:
    """The ground of the map, at the least so large that its frame can be seen."""
    least_m = _LEAST_FRAME_PX / view.units_per_m
    half_x, half_y = max(shown.width_m, least_m) / 2, max(shown.height_m, least_m) / 2
    x_m, y_m = shown.middle.xy
    return (x_m - half_x, y_m - half_y, x_m + half_x, y_m + half_y)
