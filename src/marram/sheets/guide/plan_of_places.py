"""The plan of a guide: the whole course with the places numbered at which procedures are shown."""

from __future__ import annotations

from collections.abc import Sequence

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.frame import Position
from marram.sheets.drawn.course_drawing import play_lines
from marram.sheets.drawn.ground_shapes import ground_items
from marram.sheets.drawn.hole_names import hole_numbers
from marram.sheets.guide.content import GuideDrawing
from marram.sheets.guide.frames import draw_frame_of
from marram.sheets.scene.scene import Label, LabelKind, Role, Scene, Spot, SpotKind, Window

PLAN_MM = (182.0, 104.0)
_SCALES = (500, 750, 1000, 1500, 2000, 2500, 3000, 4000, 5000, 6000, 7500, 10_000, 12_500, 15_000, 20_000, 25_000, 50_000)


def draw_plan(course: Course, places: Sequence[Position]) -> GuideDrawing | None:
    """Draw the course with numbered places; None where there is no place, or no boundary to draw within."""
    if not places or not course.of_kind(FeatureKind.BOUNDARY):
        return None
    least_x, least_y, most_x, most_y = course.boundary.bounds
    need_m = 1.04 * (most_x - least_x), 1.04 * (most_y - least_y)
    scale = next((n for n in _SCALES if all(m <= mm * n / 1000 for m, mm in zip(need_m, PLAN_MM, strict=True))), _SCALES[-1])
    width_m = PLAN_MM[0] * scale / 1000
    height_m = min(PLAN_MM[1] * scale / 1000, need_m[1])
    window = Window(middle=Position(x_m=(least_x + most_x) / 2, y_m=(least_y + most_y) / 2), width_m=width_m, height_m=height_m)
    numbers = [Label(lines=(str(number),), kind=LabelKind.LETTER, anchor=place) for number, place in enumerate(places, start=1)]
    ground = [item for item in ground_items(course, None, window) if item.role is not Role.OUT_OF_BOUNDS]
    scene = Scene(
        items=(*ground, *play_lines(course)),
        spots=tuple(Spot(kind=SpotKind.CHOSEN, position=place) for place in places),
        labels=(*numbers, *hole_numbers(course)),
    )
    return draw_frame_of(scene, window, scale, name="plan", alt=f"Plan of {course.name} with {len(places)} numbered places")
