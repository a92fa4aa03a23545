"""The holes: line of play, par, stroke index and where the hole is cut."""

from __future__ import annotations

from dataclasses import dataclass

from shapely.geometry import LineString, Point

from marram.course.features import Feature
from marram.course.frame import Position

_ROUNDS = (9, 18, 27, 36)


def likely_round(there: int, *, least: int) -> int:
    """How many holes a course has of which so many greens are there.

    Args:
        there: Greens, or lines of play; a practice green or two more, or one that nobody mapped, makes no other round.
        least: The highest number that is known.
    """
    return min((count for count in _ROUNDS if count >= least), key=lambda count: abs(count - there), default=least)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """One hole of the course.

    Attributes:
        number: Its number, from 1.
        line: Line of play from the back tee to the middle of the green, metres; None where the survey has none.
        location: Where the hole is cut today; None where the survey has none.
        par: Its par, where given.
        stroke_index: Its stroke index, where given.
        green: The putting green that serves it.
    """

    number: int
    line: LineString | None
    location: Position | None
    par: int | None
    stroke_index: int | None
    green: Feature | None

    @property
    def length_m(self) -> float | None:
        """Length of the line of play, metres."""
        return None if self.line is None else float(self.line.length)

    def before_green(self, before_m: float, right_m: float) -> Position | None:
        """The place so far before the front of the green along the line of play, and so far to the right of it.

        Args:
            before_m: Metres before the place where the line of play first meets the green; negative is beyond it.
            right_m: Metres to the right, looking along the line; negative is left.

        Returns:
            The place, or None where the hole has no line of play or its line does not meet its green.
        """
        if self.line is None or self.green is None:
            return None
        on_green = self.line.intersection(self.green.geometry)
        if on_green.is_empty:
            return None
        points = [Point(xy) for part in getattr(on_green, "geoms", [on_green]) for xy in part.coords]
        front_m = min(self.line.project(point) for point in points)
        return _beside(self.line, front_m - before_m, right_m)


def _beside(line: LineString, along_m: float, right_m: float) -> Position:
    """A place along a line, which goes on straight beyond both ends, and to the right of it."""
    held_m = min(max(along_m, 0.0), line.length)
    step_m = min(0.5, line.length / 2)
    near, far = line.interpolate(max(held_m - step_m, 0.0)), line.interpolate(min(held_m + step_m, line.length))
    if near.equals(far):  # the line turns back on itself here: ahead is where it goes on
        near = line.interpolate(held_m)
    length_m = near.distance(far)
    ahead_x, ahead_y = (far.x - near.x) / length_m, (far.y - near.y) / length_m
    base, over_m = line.interpolate(held_m), along_m - held_m
    return Position(
        x_m=base.x + over_m * ahead_x + right_m * ahead_y,
        y_m=base.y + over_m * ahead_y - right_m * ahead_x,
    )


def how_to_give_location(number: int) -> str:
    """What to do where it is not known where a hole is cut.

    Args:
        number: The hole.
    """
    return f"Add a feature of kind hole-location for hole {number} to the course, or state it among the hole_locations of the day."
