"""A hole, or the whole course, on a sheet of paper at a stated scale."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from html import escape

from marram.core.errors import SurveyError
from marram.course.course import Course
from marram.course.frame import Position
from marram.sheets.drawn.course_drawing import MARK_WORDS, ground_to_show, marks_to_show, told
from marram.sheets.drawn.ground_shapes import ground_items, ground_labels
from marram.sheets.drawn.hole_names import NO_BOUNDARY, MapMarks, with_any_boundary
from marram.sheets.scene.border import PROOF_MM, draw_frame, draw_north, draw_proof_bar, draw_scale_bar, north_box
from marram.sheets.scene.palette import PRINT
from marram.sheets.scene.rendering import Bounds, refuse_window
from marram.sheets.scene.scene import Scene, Window
from marram.sheets.scene.style import fitted_heading, page_of
from marram.sheets.scene.svg import UNIT_MM, View, draw_view
from marram.sheets.scene.type_widths import Face, fit_words, wrap_words

SCALES = (
    50,
    75,
    100,
    150,
    200,
    250,
    300,
    400,
    500,
    750,
    1000,
    1250,
    1500,
    2000,
    2500,
    3000,
    4000,
    5000,
    7500,
    10_000,
    15_000,
    20_000,
    25_000,
)
_SMALL = 13.0
"""Size of the smaller type beneath a map, drawing units."""
_SIDE_MM, _HEAD_MM, _FOOT_MM = 14.0, 22.0, 26.0
"""Edges of the sheet that carry ticks, heading and scale."""


class Paper(StrEnum):
    """Sheets of the A series (ISO 216)."""

    A4 = "a4"
    A3 = "a3"
    A2 = "a2"
    A1 = "a1"


_SHORT_LONG_MM = {Paper.A4: (210.0, 297.0), Paper.A3: (297.0, 420.0), Paper.A2: (420.0, 594.0), Paper.A1: (594.0, 841.0)}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """A sheet lying one way round, with the map that fits it."""

    width_mm: float
    height_mm: float
    scale: int

    @property
    def map_mm(self) -> tuple[float, float]:
        return self.width_mm - 2 * _SIDE_MM, self.height_mm - _HEAD_MM - _FOOT_MM


def draw_course_on_paper(
    course: Course, *, hole: int | None, paper: Paper, scale: int | None, names_all: bool = False, window: Bounds | None = None
) -> str:
    """Draw a hole, or the whole course, at a scale: 1 m on the ground is 1000 / scale mm on the paper.

    Args:
        course: The course.
        hole: Number of the hole; None for the whole course.
        paper: The sheet; portrait or landscape, whichever holds more.
        scale: 1 to so many; None for the largest of a fair series that fits.
        names_all: Whether every green, tee, line and hole location is named.
        window: What must be seen; None for the hole, or the whole course. The sheet is filled about it.

    Raises:
        SurveyError: There is no such hole or nothing to draw it about, or the ground does not fit the sheet at that scale.
        DataError: The window cannot be drawn.
    """
    if window is not None:
        refuse_window(window)
    bounds = window or ground_to_show(course, hole)
    sheet = _sheet(course, bounds, paper, scale)
    width_mm, height_mm = sheet.map_mm
    middle = Position(x_m=(bounds[0] + bounds[2]) / 2, y_m=(bounds[1] + bounds[3]) / 2)
    shown_at = Window(middle=middle, width_m=width_mm * sheet.scale / 1000, height_m=height_mm * sheet.scale / 1000)
    view = View(window=shown_at, x=_SIDE_MM / UNIT_MM, y=_HEAD_MM / UNIT_MM, units_per_m=1000 / sheet.scale / UNIT_MM, name="map")
    width, height = sheet.width_mm / UNIT_MM, sheet.height_mm / UNIT_MM
    rest = "" if hole is None else f" · hole {hole}"
    title = course.name + rest
    shown = with_any_boundary(course)
    said = " ".join(word for word in (course.attribution, "" if shown is course else NO_BOUNDARY) if word)
    marks = marks_to_show(course, hole, names_all=names_all)
    scene = _scene(shown, hole, shown_at, marks)
    heading = fitted_heading(course.name, rest, view.box.width + 10, Face.PAPER)
    body = [
        f'<text class="t1" x="{view.x - 5:.1f}" y="{view.y - 34:.1f}">{heading}</text>',
        f'<path class="line3" d="M{view.x - 5:.1f} {view.y - 22:.1f}H{width - view.x + 5:.1f}"/>',
        *draw_view(scene, view, [north_box(view)]),
        *draw_frame(view),
        draw_north(view),
    ]
    body += _foot(course, view, sheet, said)
    size = f'width="{sheet.width_mm:g}mm" height="{sheet.height_mm:g}mm"'
    return page_of(body, PRINT, width, height, size=size, title=f"{title}, scale 1:{sheet.scale}", words=told(scene))


def _foot(course: Course, view: View, sheet: _Sheet, said: str) -> Iterator[str]:
    """What stands beneath the map: scale, accuracy, the bar by which a print is proved, and whose survey it is."""
    foot = view.y + view.box.height + 40
    accuracy = "survey accuracy unknown" if course.sigma_m is None else f"survey ±{2 * course.sigma_m:.2f} m"
    yield from draw_scale_bar(view, view.x, foot, 150)
    yield f'<text class="t3" x="{view.x + 200:.1f}" y="{foot + 7:.1f}">scale 1:{sheet.scale}, {accuracy}</text>'
    proof_x = sheet.width_mm / UNIT_MM - view.x - PROOF_MM / UNIT_MM
    for number, line in enumerate(_in_two_lines(said, proof_x - view.x - 16)):
        yield f'<text class="t4" x="{view.x:.1f}" y="{foot + 24 + 15 * number:.1f}">{escape(line)}</text>'
    yield from draw_proof_bar(proof_x, foot + 4)


def _in_two_lines(words: str, width: float) -> list[str]:
    """Words in the two lines that a sheet has room for; the second ends in an ellipsis where they are longer."""
    first, *rest = wrap_words(words, width, Face.PAPER, _SMALL) or [""]
    return [first, fit_words(" ".join(rest), width, Face.PAPER, _SMALL)]


def _sheet(course: Course, bounds: tuple[float, float, float, float], paper: Paper, scale: int | None) -> _Sheet:
    """The sheet, the way round that shows the ground larger."""
    need_m = (bounds[2] - bounds[0], bounds[3] - bounds[1])
    short_mm, long_mm = _SHORT_LONG_MM[paper]
    fits = []
    for width_mm, height_mm in ((short_mm, long_mm), (long_mm, short_mm)):
        sheet = _Sheet(width_mm=width_mm, height_mm=height_mm, scale=1)
        least = max(metres * 1000 / mm for metres, mm in zip(need_m, sheet.map_mm, strict=True))
        fits.append((least, width_mm, height_mm))
    least, width_mm, height_mm = min(fits)
    fitting = next((n for n in SCALES if n >= least), SCALES[-1])
    if scale is not None and scale < least:
        hint = f"1:{fitting} would fit; or take larger paper."
        raise SurveyError(f"At 1:{scale} the ground does not fit {paper.value.upper()}.", where=course.name, hint=hint)
    return _Sheet(width_mm=width_mm, height_mm=height_mm, scale=scale or fitting)


def _scene(course: Course, hole: int | None, window: Window, marks: MapMarks) -> Scene:
    names = [] if hole is None else ground_labels(course, hole, window, MARK_WORDS)
    return Scene(items=(*ground_items(course, hole, window), *marks.items), spots=marks.spots, labels=(*marks.labels, *names))
