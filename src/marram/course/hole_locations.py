"""Where the hole is cut, told as officials tell it: so far on from the front of the green, so far in from its left or right edge.

Depth is measured along the line of play, which goes on straight beyond its end; the side on a line square to it at that depth.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from shapely import get_parts
from shapely.geometry import LineString, Point

from marram.core.errors import SurveyError
from marram.course.along_hole import tell_along
from marram.course.frame import Position
from marram.course.holes import Hole

_HALF_SECTION_M = 300.0
_TOUCH_M = 1e-6


class Side(StrEnum):
    """The edge of the green from which a hole location is measured, looking along the line of play."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class LocationOnGreen:
    """A place on a green.

    Attributes:
        on_m: Metres from the front of the green along the line of play.
        left_m: Metres from the left edge of the green, square to the line of play.
        right_m: Metres from the right edge.
    """

    on_m: float
    left_m: float
    right_m: float


def place_location(hole: Hole, *, on_m: float, side: Side, in_m: float) -> Position:
    """The place so far on from the front of the green and so far in from one of its edges.

    Args:
        hole: The hole.
        on_m: Metres from the place where the line of play first meets the green.
        side: The edge from which is measured.
        in_m: Metres from that edge.

    Returns:
        The place, on the green.

    Raises:
        SurveyError: The hole has no line of play that meets its green, or there is no green at that place, or more than one place.
    """
    where = f"hole {hole.number}"
    stretches = _stretches(hole, on_m)
    if not stretches:
        raise SurveyError(f"{on_m:.1f} m on from its front there is no green.", where=where)
    sign = 1 if side is Side.LEFT else -1
    starts = [least if side is Side.LEFT else most for least, most in stretches]
    fitting = [start + sign * in_m for start, (least, most) in zip(starts, stretches, strict=True) if 0 <= in_m <= most - least]
    if not fitting:
        widths = " and ".join(f"{most - least:.1f} m" for least, most in stretches)
        raise SurveyError(f"{on_m:.1f} m on, the green is {widths} wide, so {in_m:.1f} m from its {side} edge is off it.", where=where)
    if len(fitting) > 1:
        raise SurveyError(
            f"{on_m:.1f} m on, the green lies in {len(stretches)} stretches, and {in_m:.1f} m from the {side} edge fits {len(fitting)}.",
            where=where,
            hint="Give the place in longitude and latitude.",
        )
    place = hole.before_green(-on_m, fitting[0])
    if place is None:
        raise _no_front(hole)
    return place


def tell_location(hole: Hole, position: Position) -> LocationOnGreen | None:
    """Tell a place on the green from its front and its edges; the inverse of ``place_location``.

    Args:
        hole: The hole.
        position: The place.

    Returns:
        The three distances, or None where the place is off the green or the hole has no line of play that meets its green.
    """
    along = tell_along(hole, position)
    if along is None:
        return None
    for least, most in _stretches(hole, -along.before_green_m):
        if least - 0.001 <= along.right_m <= most + 0.001:
            return LocationOnGreen(on_m=-along.before_green_m, left_m=along.right_m - least, right_m=most - along.right_m)
    return None


def edge_distance_m(hole: Hole, position: Position) -> float:
    """How far a place lies from the edge of the hole's green, metres; negative off the green.

    Raises:
        SurveyError: The hole has no green.
    """
    if hole.green is None:
        raise _no_front(hole)
    point = Point(position.xy)
    distance_m = float(hole.green.geometry.boundary.distance(point))
    return distance_m if hole.green.geometry.covers(point) else -distance_m


def _stretches(hole: Hole, on_m: float) -> list[tuple[float, float]]:
    """Stretches of the green on the line square to the line of play, as metres to the right of it, from left to right."""
    left, right, base = (hole.before_green(-on_m, right_m) for right_m in (-_HALF_SECTION_M, _HALF_SECTION_M, 0.0))
    if left is None or right is None or base is None or hole.green is None:
        raise _no_front(hole)
    section = LineString([left.xy, right.xy])
    met = section.intersection(hole.green.geometry)
    parts = [part for part in get_parts(met) if isinstance(part, LineString) and part.length > _TOUCH_M]
    ends = [sorted(_along_m(section, xy) - _HALF_SECTION_M for xy in (part.coords[0], part.coords[-1])) for part in parts]
    return sorted((least, most) for least, most in ends)


def _along_m(section: LineString, xy: tuple[float, ...]) -> float:
    return float(section.project(Point(xy)))


def _no_front(hole: Hole) -> SurveyError:
    return SurveyError(
        f"Hole {hole.number} has no line of play that meets its green, so nothing can be measured from its front.",
        where=f"hole {hole.number}",
        hint="Survey its green and its line of play.",
    )
