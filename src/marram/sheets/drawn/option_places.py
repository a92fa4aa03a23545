"""Where the options of a ruling are on the ground, and how a drawing points to one that it cannot show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import shapely
from shapely.geometry import Point

from marram.course.frame import Position
from marram.relief.area.shapes import Crescent
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulings.case.ruling import FoundPoint, Option
from marram.sheets.scene.scene import Window

LETTERS = "ABCDEFGHIJKLMNOP"
_STEP_M = 0.25
_LOOKED_AT_M = 200.0
_LEAST_SEEN_M2 = 0.01
STATION_WORDS: Mapping[MeasuredFrom | FoundPoint, str] = {
    MeasuredFrom.CROSSING_POINT: "crossing point",
    MeasuredFrom.OPPOSITE_EDGE: "opposite point",
    MeasuredFrom.BALL_SPOT: "spot of the ball",
    MeasuredFrom.PREVIOUS_STROKE: "previous stroke",
    MeasuredFrom.LAST_STROKE_OUTSIDE: "last stroke from outside",
    MeasuredFrom.STATED_CROSSING: "crossing point",
    MeasuredFrom.SPOT_BEHIND_BALL: "right behind the ball",
    MeasuredFrom.ESTIMATED_SPOT: "estimated spot",
    FoundPoint.FAIRWAY: "fairway point",
    MeasuredFrom.NEAREST_POINT_OF_COMPLETE_RELIEF: "nearest point",
    FoundPoint.MAXIMUM_AVAILABLE_RELIEF: "most relief",
    MeasuredFrom.EQUAL_ARC_POINT: "sideways, as far from the hole",
}


def option_place(option: Option) -> Position | None:
    """Where a player goes for an option: to the area chosen on a line, the point measured from, the begin of a line, or into an area.

    Returns:
        The place; None where nothing places the option on the ground.
    """
    area = option.relief_area
    if option.line is not None and area is not None and isinstance(area.shape, Crescent):
        return area.shape.centre
    if option.references:
        return option.references[0].position
    if option.line is not None and option.line.intervals_m:
        return option.line.place_at(option.line.intervals_m[0][0])
    if area is not None and not area.outline().is_empty:
        point = area.outline().representative_point()
        return Position(x_m=point.x, y_m=point.y)
    return None


def is_only_a_point(option: Option) -> bool:
    """Whether neither an area nor a usable line is drawn for an option, so that its letter stands beside its point."""
    has_area = option.relief_area is not None and not option.relief_area.outline().is_empty
    return not has_area and not (option.line is not None and option.line.intervals_m)


def options_away(options: Sequence[Option], window: Window) -> list[tuple[Position, str]]:
    """What of the options lies outside the window, for arrows at the frame: one for all that lie at one place, by their letters."""
    found: dict[tuple[str, float, float], tuple[Position, list[str]]] = {}
    for letter, option in zip(LETTERS, options, strict=False):
        away = option_away(option, window)
        if away is not None:
            place, words = away
            found.setdefault((words, round(place.x_m), round(place.y_m)), (place, []))[1].append(letter)
    return [(place, f"{', '.join(letters)}: {words}") for (words, _, _), (place, letters) in found.items()]


def option_away(option: Option, window: Window) -> tuple[Position, str] | None:
    """What of an option lies outside the window, with words for it; None where enough of it is seen."""
    place = option_place(option)
    if place is None:
        return None
    if not window.holds(place):
        return place, _place_words(option)
    return (_begin(option) or place, _begin_words(option)) if letter_place(option, window) is None else None


def _begin(option: Option) -> Position | None:
    """Where the ground begins that an option may use, where its point is seen and the ground is not."""
    if option.line is not None and option.line.intervals_m:
        return option.line.place_at(option.line.intervals_m[0][0])
    if option.relief_area is None or not option.relief_area.parts or not option.references:
        return None
    outline = option.relief_area.outline()
    if outline.is_empty:
        return None
    x_m, y_m = shapely.shortest_line(outline, Point(option.references[0].position.xy)).coords[0]
    return Position(x_m=x_m, y_m=y_m)


def _begin_words(option: Option) -> str:
    return "back on the line" if option.line is not None else "area"


def _place_words(option: Option) -> str:
    area = option.relief_area
    if option.line is not None and area is not None and isinstance(area.shape, Crescent):
        return "area on the line"
    if option.references:
        return STATION_WORDS[option.references[0].kind]
    return "back on the line" if option.line is not None else option.title[:1].lower() + option.title[1:]


def last_seen_m(option: Option, window: Window) -> float | None:
    """How far back the nearest usable stretch of a line can be seen in the window."""
    line = option.line
    if line is None or not line.intervals_m:
        return None
    near_m, far_m = line.intervals_m[0]
    seen = [near_m + _STEP_M * step for step in range(int(min(far_m - near_m, _LOOKED_AT_M) / _STEP_M) + 1)]
    inside = [back_m for back_m in seen if window.holds(line.place_at(back_m), 0.2)]
    return max(inside, default=None)


def letter_place(option: Option, window: Window) -> Position | None:
    """Where an option's letter stands: well inside its area, else on its line, else by its point; None where none of them is seen."""
    if option.relief_area is not None and option.relief_area.parts:
        seen = shapely.clip_by_rect(option.relief_area.outline(), *window.bounds)
        parts = [part for part in shapely.get_parts(seen) if part.area > _LEAST_SEEN_M2]
        if parts:
            circle = shapely.maximum_inscribed_circle(max(parts, key=lambda part: part.area), tolerance=0.01)
            x_m, y_m = circle.coords[0]
            return Position(x_m=x_m, y_m=y_m)
    at_m = last_seen_m(option, window)
    if option.line is not None and at_m is not None:
        near_m = option.line.intervals_m[0][0]
        return option.line.place_at(near_m + 0.45 * (at_m - near_m))
    points = [reference.position for reference in option.references if window.holds(reference.position)]
    return points[0] if points and is_only_a_point(option) else None
