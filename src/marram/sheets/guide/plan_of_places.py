"""The plan of a guide: the whole course with the places numbered at which procedures are shown."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.frame import Position
from marram.sheets.drawn.course_drawing import play_lines
from marram.sheets.drawn.ground_shapes import ground_items
from marram.sheets.drawn.hole_names import hole_numbers
from marram.sheets.guide.content import GuideDrawing
from marram.sheets.scene.scene import Label, LabelKind, Role, Scene, Window

_ROOM = 1.04


def draw_plan(course: Course, places: Sequence[Position]) -> GuideDrawing | None:
    """The course with numbered places; None where there is no place, or no boundary to draw within."""
    if not places or not course.of_kind(FeatureKind.BOUNDARY):
        return None
    least_x, least_y, most_x, most_y = course.boundary.bounds
    return GuideDrawing(
        name="plan",
        alt=f"Plan of {course.name} with {len(places)} numbered place{'s' * (len(places) != 1)}",
        scene_in=partial(_scene, course, tuple(places)),
        places=(Position(x_m=least_x, y_m=least_y), Position(x_m=most_x, y_m=most_y)),
        room=_ROOM,
    )


def _scene(course: Course, places: Sequence[Position], window: Window) -> Scene:
    numbers = [
        Label(lines=(str(number),), kind=LabelKind.LETTER, anchor=place, is_inside=True) for number, place in enumerate(places, start=1)
    ]
    ground = [item for item in ground_items(course, None, window) if item.role is not Role.OUT_OF_BOUNDS]
    return Scene(
        items=(*ground, *play_lines(course)),
        labels=(*numbers, *hole_numbers(course)),
    )
