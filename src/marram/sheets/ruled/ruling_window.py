"""What ground the map of a ruling shows: the areas of every book large, then as much as fits of all else that the rulings speak of."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import Point, box
from shapely.geometry.base import BaseGeometry

from marram.core.errors import SurveyError
from marram.course.course import Course
from marram.course.frame import Position
from marram.relief.area.shapes import Crescent
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Option, Ruling
from marram.sheets.drawn.relief_shapes import main_option
from marram.sheets.ruled.ruled_place import Given, RuledPlace
from marram.sheets.scene.rendering import Bounds
from marram.sheets.scene.scene import Window
from marram.sheets.scene.svg import UNIT_MM

SCALES = (20, 25, 40, 50, 75, 100, 150, 200, 250, 400, 500, 1000, 2000, 5000, 10_000, 20_000)
LEAST_SIZE_PX, LEAST_SIZE_MM = 70.0, 45.0
"""How large an area is drawn at least, from its point to its edge, on the screen and on paper."""
_MOST = 2.2
"""How many times the least size it is drawn at most, so that the ground about it is seen."""
USUAL_MARGIN = 40.0
"""Ground about what is shown, drawing units, so that the words for it have room."""
_USUAL_BREADTH_M = 2.0
"""What is drawn large where no area is measured: the ground about a point."""
_SMALLEST_M = 6.0
"""What a drawing shows at least across, where no area is measured."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The room that a drawing has for its map.

    Attributes:
        width: Width of the map, drawing units.
        height: Height of the map.
        is_paper: Whether the scale must be one of a fair series.
        asked: On paper 1 to so many; None for the largest that fits.
        margin: Ground about what is shown, drawing units.
        share: How large an area is drawn at least, as a share of what is usual.
    """

    width: float
    height: float
    is_paper: bool
    asked: int | None = None
    margin: float = USUAL_MARGIN
    share: float = 1.0

    def fits(self, bounds: Bounds, units_per_m: float) -> bool:
        """Whether ground fits, with room about it."""
        return units_per_m <= self.most_units(bounds)

    def most_units(self, bounds: Bounds) -> float:
        """Drawing units for a metre at which ground just fits."""
        width_m, height_m = max(bounds[2] - bounds[0], 1e-6), max(bounds[3] - bounds[1], 1e-6)
        return min((self.width - 2 * self.margin) / width_m, (self.height - 2 * self.margin) / height_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoken:
    """The ground that rulings speak of.

    Attributes:
        points: What must be seen: the points that the areas in question are measured from, and the areas about a point.
        areas: Other outlines of the areas in question: seen whole where that leaves them large enough, else where they begin.
        wanted: Everything else, the most needful first.
        breadth_m: What must be drawn large: the size of the area, or its shorter side; a usual size where there is none.
    """

    points: Bounds
    areas: tuple[Bounds, ...]
    wanted: tuple[Bounds, ...]
    breadth_m: float


def spoken_of(place: RuledPlace) -> Spoken:
    """What the rulings of all books speak of.

    Args:
        place: What happened, with the rulings of its books.
    """
    incident, hole, force = place.incident, place.hole, place.force[1]
    main = main_option(force, place.chosen)
    alike = [main_option(ruling, main) for _, ruling in place.given]
    mains = [option for option in [main, *alike] if option is not None and _has_place(option)]
    points = [*(reference.position.xy for option in mains for reference in option.references)]
    round_areas = [_outline(option).bounds for option in mains if _is_round(option)]
    areas = tuple(_outline(option).bounds for option in mains if not _is_round(option) and not _outline(option).is_empty)
    if not points and not round_areas and not areas:
        points = [(_of_incident(incident, force) or hole).xy]
    about = union([*(_spot(*xy) for xy in points), *round_areas]) if points or round_areas else _middle_of(areas[0])
    return Spoken(
        points=about,
        areas=areas,
        wanted=tuple(_wanted(place.given, mains, incident, place.course, hole, about)),
        breadth_m=(_breadth_m(mains[0]) if mains else None) or _USUAL_BREADTH_M,
    )


def _has_place(option: Option) -> bool:
    return bool(option.references) or not _outline(option).is_empty


def _is_round(option: Option) -> bool:
    return option.relief_area is not None and isinstance(option.relief_area.shape, Crescent) and not _outline(option).is_empty


def _outline(option: Option) -> BaseGeometry:
    """The outline of an option's area; empty where it has none."""
    return option.relief_area.outline() if option.relief_area is not None and option.relief_area.parts else Point()


def _breadth_m(option: Option) -> float | None:
    """The size of an area about a point, else the shorter side of an area; None where there is none."""
    if _is_round(option):
        return option.size_m
    outline = _outline(option)
    if outline.is_empty:
        return None
    (x1, y1), (x2, y2), (x3, y3) = shapely.get_coordinates(outline.minimum_rotated_rectangle)[:3].tolist()
    return min(math.hypot(x2 - x1, y2 - y1), math.hypot(x3 - x2, y3 - y2))


def _of_incident(incident: Incident, ruling: Ruling) -> Position | None:
    """Where something happened, for a ruling that measures nothing."""
    stroke = incident.previous_stroke.at if incident.previous_stroke else None
    found = next((option.references[0].position for option in ruling.options if option.references), None)
    return incident.ball or incident.crossed_at or incident.estimated_at or found or stroke


def _wanted(given: Given, mains: Sequence[Option], incident: Incident, course: Course, hole: Position, about: Bounds) -> Iterator[Bounds]:
    """The edge that the rulings hang on, then what other options speak of, the nearest first, then the ball and the hole."""
    for edge in edges_hung_on(mains, incident, course):
        yield _spot(*edge.xy)
    others = [bounds for _, ruling in given for option in ruling.options if option not in mains for bounds in _of_option(option)]
    middle = Point(*_middle_xy(about))
    yield from sorted(dict.fromkeys(others), key=lambda bounds: (middle.distance(box(*bounds)), bounds))
    for place in (incident.ball, *(incident.flight or ()), incident.estimated_at, incident.other_crossed_at, hole):
        if place is not None:
            yield _spot(*place.xy)


def _of_option(option: Option) -> Iterator[Bounds]:
    if _is_round(option):
        yield _outline(option).bounds
    for reference in option.references:
        yield _spot(*reference.position.xy)
    if option.line is not None and option.line.intervals_m and not _is_round(option):
        near_m, far_m = option.line.intervals_m[0]
        yield union([_spot(*option.line.place_at(back_m).xy) for back_m in (near_m, min(near_m + 3.0, far_m))])


def edges_hung_on(mains: Sequence[Option], incident: Incident, course: Course) -> Iterator[Position]:
    """The nearest places of the edges that a ruling hangs on: of the condition in the way, and of the boundary for a ball beyond it."""
    for option in mains:
        if option.met is not None and option.references and not option.met.condition.geometry.is_empty:
            yield _nearest_on(option.met.condition.geometry, option.references[0].position)
    beyond = boundary_place(incident, course)
    if beyond is not None:
        yield beyond


def boundary_place(incident: Incident, course: Course) -> Position | None:
    """Where the boundary is, for a ball beyond it whose place, or the place of whose crossing, is stated; else None."""
    if incident.situation != "out-of-bounds":
        return None
    near = incident.ball or incident.crossed_at or incident.estimated_at
    return None if near is None or course.boundary.is_empty else _nearest_on(course.boundary.boundary, near)


def _nearest_on(geometry: BaseGeometry, near: Position) -> Position:
    x_m, y_m = shapely.shortest_line(geometry, Point(near.xy)).coords[0]
    return Position(x_m=x_m, y_m=y_m)


def choose_window(spoken: Spoken, sheet: Sheet, where: str) -> tuple[Window, float, int | None]:
    """A window that shows the areas large and as much else as fits.

    Args:
        spoken: What there is to show.
        sheet: The room for it.
        where: What the drawing is of, for errors.

    Returns:
        The window, drawing units for a metre, and on paper the scale: 1 to so many.

    Raises:
        SurveyError: What must be seen does not fit at the scale asked.
    """
    least = _least_units(spoken, sheet)
    must = must_see(spoken, sheet, least)
    if sheet.asked is not None:
        refuse_scale(sheet, sheet.most_units(must), where)
        least = 1000 / sheet.asked / UNIT_MM
    seen = must
    for bounds in spoken.wanted:
        wider = union([seen, bounds])
        seen = wider if sheet.fits(wider, least) else seen
    units = min(sheet.most_units(_at_least(seen)), _MOST * LEAST_SIZE_PX / spoken.breadth_m)
    return framed(middle_of(seen), sheet, max(units, min(least, sheet.most_units(seen))))


def framed(middle: Position, sheet: Sheet, units_per_m: float) -> tuple[Window, float, int | None]:
    """A window that fills the map about its middle, on paper at the largest fair scale that shows no less ground."""
    scale = None
    if sheet.is_paper:
        scale = sheet.asked or fair_scale(units_per_m)
        units_per_m = 1000 / scale / UNIT_MM
    return Window(middle=middle, width_m=sheet.width / units_per_m, height_m=sheet.height / units_per_m), units_per_m, scale


def fair_scale(units_per_m: float) -> int:
    """The largest fair scale at which a metre takes no more than so many drawing units."""
    return next((n for n in SCALES if 1000 / n / UNIT_MM <= units_per_m * (1 + 1e-9)), SCALES[-1])


def refuse_scale(sheet: Sheet, most_units_per_m: float, where: str) -> None:
    """Refuse a scale at which what must be seen does not fit.

    Raises:
        SurveyError: It does not.
    """
    fitting = fair_scale(most_units_per_m)
    if sheet.asked is not None and sheet.asked < fitting:
        raise SurveyError(f"At 1:{sheet.asked} the area does not fit the sheet.", where=where, hint=f"1:{fitting} would fit.")


def _least_units(spoken: Spoken, sheet: Sheet) -> float:
    """The least drawing units for a metre at which the area is large enough; on paper those of a fair scale."""
    if not sheet.is_paper:
        return LEAST_SIZE_PX * sheet.share / spoken.breadth_m
    fair = [n for n in SCALES if spoken.breadth_m * 1000 / n >= LEAST_SIZE_MM * sheet.share]
    return 1000 / (fair[-1] if fair else SCALES[0]) / UNIT_MM


def must_see(spoken: Spoken, sheet: Sheet, least: float) -> Bounds:
    """The points and the areas, of an area that is too long the part about where it is measured from.

    Args:
        spoken: What there is to show.
        sheet: The room for it.
        least: The least drawing units for a metre.
    """
    whole = union([spoken.points, *spoken.areas])
    if sheet.fits(whole, least) or not spoken.areas:
        return whole
    half_m = 0.4 * min(sheet.width, sheet.height) / least
    x_m, y_m = _middle_xy(spoken.points)
    near = box(x_m - half_m, y_m - half_m, x_m + half_m, y_m + half_m)
    cut = [near.intersection(box(*bounds)) for bounds in spoken.areas]
    return union([spoken.points, *(part.bounds for part in cut if not part.is_empty)])


def union(boxes: Iterable[Bounds]) -> Bounds:
    """The least box about boxes."""
    columns = list(zip(*boxes, strict=True))
    return (min(columns[0]), min(columns[1]), max(columns[2]), max(columns[3]))


def _at_least(bounds: Bounds) -> Bounds:
    """Ground widened to what a drawing shows at least."""
    x_m, y_m = _middle_xy(bounds)
    half_x = max(bounds[2] - bounds[0], _SMALLEST_M) / 2
    return (x_m - half_x, bounds[1], x_m + half_x, bounds[3])


def _spot(x_m: float, y_m: float) -> Bounds:
    return (x_m, y_m, x_m, y_m)


def _middle_xy(bounds: Bounds) -> tuple[float, float]:
    return ((bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2)


def _middle_of(bounds: Bounds) -> Bounds:
    return _spot(*_middle_xy(bounds))


def middle_of(bounds: Bounds) -> Position:
    """The middle of a box."""
    x_m, y_m = _middle_xy(bounds)
    return Position(x_m=x_m, y_m=y_m)
