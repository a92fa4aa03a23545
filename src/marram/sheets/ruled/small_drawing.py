"""Small drawings of one ball under several books for a page: the same ground at one scale, each about the same relief."""

from __future__ import annotations

from collections.abc import Iterator

from marram.core.lengths import IN_METRES, Lengths
from marram.course.course import Course
from marram.rulings.case.incident import Incident
from marram.sheets.drawn.ground_shapes import ground_items
from marram.sheets.drawn.relief_marks import ruling_marks
from marram.sheets.drawn.relief_shapes import main_option
from marram.sheets.drawn.ruling_caption import Given, told
from marram.sheets.ruled.ruled_place import chosen_option, in_force
from marram.sheets.scene.palette import DAY
from marram.sheets.scene.rendering import Bounds, Rendering, draw_bare, window_of
from marram.sheets.scene.scene import Scene

_SIDES = 1.35
"""So many times as wide as high."""
_ROUND, _LEAST_M = 2.4, 3.0
"""So many times the size of the area about its reference point, and no less than so many metres, are shown to each side."""


def draw_small(
    incident: Incident, course: Course, given: Given, *, on_page: str, width_px: float, chosen: str = "", lengths: Lengths = IN_METRES
) -> Iterator[str]:
    """Draw each book's ruling by itself, about the relief that the book in force is drawn about.

    Args:
        incident: What happened.
        course: The course with the day's conditions.
        given: Books with their rulings.
        on_page: What the names of the drawings begin with on their page.
        width_px: Width of each, drawing units.
        chosen: Name of the option that they are about; empty where nobody chose one.
        lengths: How lengths are told in what they say to those who cannot see them.

    Returns:
        One drawing for each book; none where the book in force measures no place, or the hole has no location.
    """
    force = in_force(given)[1]
    about, hole = main_option(force, chosen_option(force, chosen)), course.hole(incident.hole).location
    if about is None or not about.references or hole is None:
        return
    middle, up_m = about.references[0].position, max(_LEAST_M, _ROUND * (about.size_m or 0.0))
    bounds: Bounds = (middle.x_m - _SIDES * up_m, middle.y_m - up_m, middle.x_m + _SIDES * up_m, middle.y_m + up_m)
    window = window_of(bounds)
    for number, (book, ruling) in enumerate(given, start=1):
        rendering = Rendering(window=bounds, has_words=False, on_page=f"{on_page}-{number}", width_px=width_px, lengths=lengths)
        marks = ruling_marks(ruling, incident, hole, window, lettered=False, like=about)
        scene = Scene(items=(*ground_items(course, incident.hole, window), *marks.items), spots=marks.spots, dimensions=marks.dimensions)
        yield draw_bare(scene, window, rendering, DAY, title=book.name, words=told([(book, ruling)], None))
