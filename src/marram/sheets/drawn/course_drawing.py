"""A hole, or the whole course, drawn to scale with its marking; the ground on which other drawings stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from html import escape

import shapely
from shapely.geometry.base import BaseGeometry

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Mark
from marram.course.course import Course
from marram.course.frame import Position
from marram.sheets.drawn.ground_shapes import ground_items, ground_labels
from marram.sheets.drawn.hole_names import NO_BOUNDARY, MapMarks, ground_of_hole, hole_marks, hole_names, with_any_boundary
from marram.sheets.drawn.legend import Sign, draw_legend, signs_of
from marram.sheets.scene.border import draw_frame, draw_north, draw_scale_bar, draw_title_block, north_box, title_block_box
from marram.sheets.scene.lettering import letter_view
from marram.sheets.scene.map_layout import MapLayout, draw_plate, foot_of, layout_of, plate_box
from marram.sheets.scene.palette import DAY
from marram.sheets.scene.rendering import AS_FILE, TOP_ALONE, Bounds, Rendering, draw_bare, window_of
from marram.sheets.scene.scene import Item, Label, LabelKind, Role, Scene, Spot, SpotKind, Window
from marram.sheets.scene.style import fitted_heading, page_of
from marram.sheets.scene.svg import View, draw_view
from marram.sheets.scene.type_widths import Face, wrap_words

WIDTH, EDGE = 860.0, 34.0
_TALLEST, _LOWEST, _TOP = 1000.0, 360.0, 76.0
_TALLEST_NARROW, _LOWEST_NARROW = 420.0, 230.0
_BESIDE_M, _BESIDE_TEE_M = 35.0, 5.0
"""Ground shown beside the line of play, and beside tees and greens that lie off it."""
MARK_WORDS = {Mark.RED: "red penalty area", Mark.YELLOW: "yellow penalty area", Mark.UNMARKED: "unmarked water"}


def draw_course(
    course: Course,
    *,
    hole: int | None,
    names_all: bool = False,
    ball: Position | None = None,
    listed: Sequence[tuple[str, Position]] = (),
    rendering: Rendering = AS_FILE,
) -> str:
    """Draw a hole, or the whole course.

    Args:
        course: The course.
        hole: Number of the hole; None for the whole course, on which what serves no hole is named.
        names_all: Whether every green, tee, line and hole location is named.
        ball: Where a ball lies that nothing is ruled on yet; None where there is none.
        listed: Places of a list beside the drawing, each with its number there; one that finds no room is told by the list alone.
        rendering: How the drawing is given.

    Raises:
        SurveyError: The course has no such hole, or nothing to show.
    """
    marks = marks_to_show(course, hole, names_all=names_all)
    if ball is not None:
        marks = replace(marks, spots=(*marks.spots, Spot(kind=SpotKind.BALL, position=ball)))
    squares = tuple(Label(lines=(number,), kind=LabelKind.PLACE, anchor=place) for number, place in listed)
    is_crowded = bool(listed) and layout_of(rendering).is_narrow  # the list beside a small plan names what has no number yet
    kept = tuple(label for label in marks.labels if label.kind is not LabelKind.FACT or not is_crowded)
    marks = replace(marks, labels=(*kept, *squares))
    bounds = rendering.window or ground_to_show(course, hole)
    shown = with_any_boundary(course)
    caption = [] if shown is course else [NO_BOUNDARY]
    rest = "" if hole is None else f" · hole {hole}"
    return draw_map(shown, hole, bounds, title=course.name, rest=rest, marks=marks, caption=caption, rendering=rendering)


def marks_to_show(course: Course, hole: int | None, *, names_all: bool) -> MapMarks:
    """What a drawing of a hole, or of the whole course, says of holes besides the ground itself.

    Args:
        course: The course.
        hole: Number of the hole; None for the whole course.
        names_all: Whether every green, tee, line and hole location is named.
    """
    if hole is None:
        return hole_marks(course, names_all=names_all)
    location = course.hole(hole).location
    spots = () if location is None else (Spot(kind=SpotKind.HOLE, position=location),)
    named = hole_names(course, hole) if names_all else ()
    line = course.hole(hole).line
    items = () if line is None else (Item(role=Role.LINE_TO_HOLE, geometry=line, title="line of play"),)
    return MapMarks(labels=named, items=items, spots=spots)


def ground_to_show(course: Course, hole: int | None) -> Bounds:
    """Least x, least y, greatest x, greatest y of a hole, or of the whole course, metres.

    Raises:
        SurveyError: The course has no such hole, or a hole nothing that can be shown.
    """
    if hole is None and course.of_kind(FeatureKind.BOUNDARY):
        return course.boundary.bounds
    line = None if hole is None else course.hole(hole).line
    about = [line] if line is not None else _mapped(course, hole)
    if not about:
        raise SurveyError(
            f"Hole {hole} has no line of play, green, tee or hole location, so there is nothing to centre the drawing on.",
            where=course.name,
            hint="Draw or walk one of them, or draw the whole course without `hole`.",
        )
    own = [] if hole is None else [shape.buffer(_BESIDE_TEE_M) for shape in ground_of_hole(course, hole)]
    return shapely.union_all([shapely.union_all(about).buffer(_BESIDE_M), *own]).bounds


def _mapped(course: Course, hole: int | None) -> list[BaseGeometry]:
    """What there is of a hole, or of a course without a boundary."""
    return [feature.geometry for feature in course.features] if hole is None else list(ground_of_hole(course, hole))


def draw_map(
    course: Course,
    hole: int | None,
    bounds: Bounds,
    *,
    title: str,
    rest: str = "",
    marks: MapMarks,
    caption: Sequence[str],
    rendering: Rendering = AS_FILE,
) -> str:
    """Draw ground with anything on it.

    Args:
        course: The course.
        hole: The hole being played; None where no hole is, and each green is a green.
        bounds: What must be seen.
        title: Heading; it ends in an ellipsis where it is too long.
        rest: What follows it and stands whole.
        marks: Words, shapes and points on the map.
        caption: Lines beneath the map.
        rendering: How the drawing is given.
    """
    if not rendering.has_words:
        window = window_of(bounds)
        bare = Scene(items=(*ground_items(course, hole, window), *marks.items), spots=marks.spots)
        return draw_bare(bare, window, rendering, DAY, title=title + rest, words=told(bare, caption))
    view = _view(bounds, rendering)
    scene = _scene(course, hole, view.window, marks)
    own: dict[Role | SpotKind, str] = {item.role: item.title for item in marks.items if item.title}
    own.update(marks.meanings)
    body: list[str] = []
    if not rendering.is_map_alone:
        body.append(f'<text class="t1" x="{EDGE - 5:.0f}" y="40">{fitted_heading(title, rest, WIDTH - 2 * EDGE + 10, Face.BOOK)}</text>')
        body.append(f'<path class="line3" d="M{EDGE - 5:.0f} 54H{WIDTH - EDGE + 5:.0f}"/>')
    layout = layout_of(rendering)
    signs, left = _draw_in_frame(body, scene, view, course, hole, own, layout)
    y = draw_legend(body, signs, left, view, foot_of(layout, view), is_paper=False, columns=layout.columns)
    height = y + 4 if rendering.is_map_alone else _draw_beneath(body, view, y, [*caption, course.attribution], has_scale=hole is None)
    return page_of(
        body,
        rendering.palette or DAY,
        layout.width,
        height,
        size=f'width="{layout.width:.0f}" height="{height:.0f}"',
        title=title + rest,
        words=told(scene, caption),
        prefix=rendering.prefix,
    )


def _scene(course: Course, hole: int | None, window: Window, marks: MapMarks) -> Scene:
    names = ground_labels(course, hole, window, MARK_WORDS) if hole is not None else []
    seen = (label for label in marks.labels if label.kind is not LabelKind.PLACE or window.holds(label.anchor))
    return Scene(items=(*ground_items(course, hole, window), *marks.items), spots=marks.spots, labels=(*seen, *names))


def _draw_beneath(body: list[str], view: View, y: float, caption: Sequence[str], *, has_scale: bool) -> float:
    """Scale and caption beneath the map; returns where the drawing ends."""
    y += 20
    if has_scale:  # a block in the corner would hide a part of the course
        body += draw_scale_bar(view, WIDTH - EDGE - 170, y, 150)
        y += 30
    for told_line in caption:
        for line in wrap_words(told_line, WIDTH - 2 * EDGE + 10, Face.BOOK, 15.0):
            body.append(f'<text class="t3" x="{EDGE - 5:.0f}" y="{y:.0f}">{escape(line)}</text>')
            y += 19
    return y


def _draw_in_frame(
    body: list[str], scene: Scene, view: View, course: Course, hole: int | None, own: Mapping[Role | SpotKind, str], layout: MapLayout
) -> tuple[list[Sign], Sequence[str]]:
    """The map in its frame, with north, and for one hole with its title block; returns the signs to explain and what had no room."""
    clear_of = [spot.position for spot in scene.spots]
    block = plate_box(view, clear_of) if layout.is_narrow else title_block_box(view, clear_of)
    covers = [north_box(view), *([] if hole is None else [block])]
    words = letter_view(scene, view, covers)
    body += draw_view(scene, view, covers, lettering=words)
    body += draw_frame(view, has_figures=not layout.is_narrow)
    body.append(draw_north(view))
    if hole is not None and layout.is_narrow:
        body += draw_plate(view, block)
    elif hole is not None:
        body += draw_title_block(view, _block(course, hole), block)
    names = {mark.value: name for mark, name in MARK_WORDS.items()}
    return signs_of(scene, view, words, names, told=own), words.left


def told(scene: Scene, caption: Sequence[str] = ()) -> str:
    """What a map shows, for those who cannot see it."""
    shown = ", ".join(sorted({item.title for item in scene.items if item.title}))
    return " ".join(["Plan, north up.", f"Shown: {shown or 'open ground'}.", *caption])


def _block(course: Course, hole: int) -> tuple[str, str, str]:
    accuracy = "accuracy unknown" if course.sigma_m is None else f"survey ±{2 * course.sigma_m:.2f} m"
    return (course.name, f"hole {hole}", accuracy)


def _view(bounds: Bounds, rendering: Rendering) -> View:
    seen = window_of(bounds)
    width_m, height_m = 1.04 * seen.width_m, 1.04 * seen.height_m
    layout = layout_of(rendering)
    tallest, lowest = (_TALLEST_NARROW, _LOWEST_NARROW) if layout.is_narrow else (_TALLEST, _LOWEST)
    units_per_m = min(layout.map_width / width_m, tallest / height_m)
    window = Window(middle=seen.middle, width_m=layout.map_width / units_per_m, height_m=max(height_m, lowest / units_per_m))
    top = TOP_ALONE if rendering.is_map_alone else _TOP
    return View(
        window=window,
        x=layout.edge,
        y=top,
        units_per_m=units_per_m,
        name="map",
        prefix=rendering.prefix,
        is_in_layers=rendering.is_map_alone,
        lengths=rendering.lengths,
    )


def play_lines(course: Course) -> list[Item]:
    """The lines of play, as thin lines."""
    return [Item(role=Role.LINE_TO_HOLE, geometry=hole.line) for hole in course.holes.values() if hole.line is not None]
