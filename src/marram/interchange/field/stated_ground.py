"""Places and conditions as an official states them in a file, put on a course."""

from __future__ import annotations

import math
from collections.abc import Collection
from typing import Annotated, Literal, get_args

from msgspec import Meta, Struct
from shapely.geometry import Point, Polygon

from marram.core.errors import DataError
from marram.core.terms import FeatureKind
from marram.core.words import odd_sign
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.rulebook.values import nearest_names

FARTHEST_M = 5_000.0
LonLat = tuple[float, float]
ConditionName = Literal[
    "immovable-obstruction",
    "ground-under-repair",
    "temporary-water",
    "animal-hole",
    "no-play-zone",
    "dropping-zone",
    "dangerous-animal",
    "young-tree",
    "aeration-hole",
    "temporary-immovable-obstruction",
]
CONDITIONS: tuple[str, ...] = get_args(ConditionName)
"""Kinds of condition that may be met under every book; a trial may add others."""


class ConditionTable(Struct, forbid_unknown_fields=True):
    """Something met today and not surveyed: a disc, or a ring of places."""

    kind: str
    at: LonLat | None = None
    x_m: float | None = None
    y_m: float | None = None
    radius_m: Annotated[float, Meta(gt=0, le=200)] | None = None
    ring: list[LonLat] | None = None
    what: str = ""
    stands: bool | None = None
    sigma_m: Annotated[float, Meta(ge=0, le=100)] = 0.02


class StatedGround:
    """Puts what a file states on a course."""

    def __init__(self, course: Course, error: type[DataError], added_kinds: Collection[str] = ()) -> None:
        """Take the course, the error to raise, and the kinds of condition that the books asked add."""
        self.course = course
        self.error = error
        self.added_kinds = added_kinds

    def place(self, where: str, at: LonLat | None, x_m: float | None, y_m: float | None) -> Position:
        """A place given in longitude and latitude, or in metres of the course frame.

        Args:
            where: The table in the file.
            at: Longitude and latitude, degrees.
            x_m: Metres east of the frame's origin.
            y_m: Metres north of it.

        Raises:
            DataError: The place is given in neither way or in both, or cannot be.
        """
        if at is not None and x_m is None and y_m is None:
            return self.from_degrees(where, at)
        if at is None and x_m is not None and y_m is not None:
            return self.near(where, Position(x_m=x_m, y_m=y_m))
        raise self.error("Give a place as at = [lon, lat] or as x_m and y_m.", where=where)

    def from_degrees(self, where: str, at: LonLat) -> Position:
        """A place given in longitude and latitude.

        Raises:
            DataError: It is no such place, its numbers look swapped or it lies far from the course.
        """
        lon_deg, lat_deg = at
        if not all(map(math.isfinite, at)) or abs(lat_deg) > 90 or abs(lon_deg) > 180:
            raise self.error(
                f"{lon_deg:g}, {lat_deg:g} is no longitude and latitude.",
                where=where,
                hint="Longitude comes first, from -180 to 180; then latitude, from -90 to 90.",
            )
        place = self.course.frame.to_position(lon_deg, lat_deg)
        if not _is_within(place) and abs(lon_deg) <= 90 and _is_within(self.course.frame.to_position(lat_deg, lon_deg)):
            raise self.error(
                f"Longitude {lon_deg:g} and latitude {lat_deg:g} look swapped.",
                where=where,
                hint=f"Longitude comes first: [{lat_deg:g}, {lon_deg:g}] lies on the course's ground.",
            )
        return self.near(where, place)

    def near(self, where: str, place: Position) -> Position:
        """The place, if it can belong to the course.

        Raises:
            DataError: It lies more than 5 km from the middle of the course.
        """
        if not _is_within(place):
            raise self.error(
                f"The place is {math.hypot(*place.xy) / 1000:.0f} km from the middle of {self.course.name}.",
                where=where,
            )
        return place

    def before_green(self, where: str, number: int, before_green_m: float, right_m: float) -> Position:
        """A place along the line of play of a hole.

        Raises:
            DataError: The hole has no line of play that meets its green, or the place lies far from the course.
        """
        if not math.isfinite(before_green_m) or not math.isfinite(right_m):
            raise self.error(f"{before_green_m:g} m before the green and {right_m:g} m to the right is no place.", where=where)
        place = self.course.hole(number).before_green(before_green_m, right_m)
        if place is None:
            raise self.error(
                f"Hole {number} has no line of play that meets its green, so nothing can be measured along it.",
                where=f"{where}.before_green_m",
            )
        return self.near(where, place)

    def condition(self, where: str, name: str, table: ConditionTable) -> Feature:
        """A condition that was met, as a feature that holds for one incident.

        Args:
            where: The table in the file.
            name: Name of the feature.
            table: What the file says.

        Raises:
            DataError: It has no sound outline, or cannot lie there.
        """
        for member, text in (("kind", table.kind), ("what", table.what)):
            if odd_sign(text):
                raise self.error(f"It holds the sign {odd_sign(text)}; a name is one line of letters.", where=f"{where}.{member}")
        has_place = table.at is not None or table.x_m is not None
        middle = self.place(where, table.at, table.x_m, table.y_m) if has_place else None
        is_added = table.kind in self.added_kinds
        if not is_added and table.kind not in CONDITIONS:
            known = (*CONDITIONS, *self.added_kinds)
            near = nearest_names(table.kind, known)
            hint = f"Known under the books asked: {', '.join(known)}." + (f" Nearest: {', '.join(near)}." if near else "")
            raise self.error(f"There is no condition of the kind {table.kind!r}.", where=f"{where}.kind", hint=hint)
        return Feature(
            id=name,
            kind=FeatureKind.OTHER_CONDITION if is_added else FeatureKind(table.kind),
            named=table.kind if is_added else "",
            geometry=self.outline(where, middle, table.radius_m, table.ring),
            what=table.what,
            stands=table.stands,
            sigma_m=table.sigma_m,
            is_surveyed=False,
        )

    def outline(self, where: str, middle: Position | None, radius_m: float | None, ring: list[LonLat] | None) -> Polygon:
        """The ground of a condition: a disc about a place, or a ring of places.

        Raises:
            DataError: Neither is given, or both, or the ring crosses itself.
        """
        if (ring is None) == (middle is None) or (middle is not None) != (radius_m is not None):
            raise self.error("Give a place with radius_m, or a ring of places.", where=where)
        if middle is not None:
            return Point(middle.xy).buffer(radius_m or 0.0, quad_segs=64)
        corners = [self.from_degrees(where, corner).xy for corner in ring or []]
        ground = Polygon(corners) if len(corners) >= 3 else Polygon()
        if ground.is_empty or not ground.is_valid or ground.area == 0:
            raise self.error("The ring is no sound outline: at least three places, not crossing itself.", where=where)
        return ground


def _is_within(place: Position) -> bool:
    return math.hypot(*place.xy) <= FARTHEST_M
