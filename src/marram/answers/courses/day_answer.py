"""The conditions of a day as outsiders read them beside an answer."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from marram.answers.place_answer import PlaceShape, lonlat_of
from marram.answers.shape import UNSET, Shape, UnsetType

if TYPE_CHECKING:  # what measures ground is loaded only where there is some
    from marram.course.day import Day
    from marram.course.features import Feature
    from marram.course.frame import Frame


class DayConditionShape(Shape, frozen=True, kw_only=True):
    """A condition of the day.

    Attributes:
        id: Its name.
        kind: What it is.
        what: Its noun.
        sigma_m: Accuracy of its outline, one standard deviation, metres; null where nobody stated it.
    """

    id: str
    kind: str
    what: str
    sigma_m: float | None


class WrittenShape(Shape, frozen=True, kw_only=True):
    """Where a hole is cut, as the sheet writes it.

    Attributes:
        on: How far on from the front of the green.
        left: How far from the left edge; left out where the other edge is measured from.
        right: How far from the right edge.
        unit: `paces` or `m`.
    """

    on: float
    left: float | UnsetType = UNSET
    right: float | UnsetType = UNSET
    unit: str


class HoleLocationShape(PlaceShape, frozen=True, kw_only=True):
    """Where a hole is cut on that day.

    Attributes:
        at: Longitude and latitude, degrees.
        x_m: Metres east in the course frame.
        y_m: Metres north in the course frame.
        hole: Number of the hole.
        written: How it stands on the sheet; null where it is stated as a place.
    """

    hole: int
    written: WrittenShape | None


class DayShape(Shape, frozen=True, kw_only=True):
    """What of a course is of the day and not of the survey.

    Attributes:
        date: The day.
        file: Name of the file that states it.
        conditions: What lies on the ground.
        hole_locations: Where holes are cut.
        remarks: What the official should know.
    """

    date: str
    file: str
    conditions: tuple[DayConditionShape, ...]
    hole_locations: tuple[HoleLocationShape, ...]
    remarks: tuple[str, ...]


def day_shape(day: Day, frame: Frame) -> DayShape:
    """What is of the day and not of the survey."""
    return DayShape(
        date=day.date.isoformat(),
        file=day.source,
        conditions=tuple(
            DayConditionShape(id=feature.id, kind=feature.kind.value, what=feature.what, sigma_m=feature.sigma_m)
            for feature in day.features
        ),
        hole_locations=_hole_locations(day, frame),
        remarks=tuple(day.remarks),
    )


def _hole_locations(day: Day, frame: Frame) -> tuple[HoleLocationShape, ...]:
    from shapely.geometry import Point

    from marram.course.frame import Position

    return tuple(
        HoleLocationShape(
            at=lonlat_of(frame, Position(x_m=point.x, y_m=point.y)),
            x_m=round(point.x, 3),
            y_m=round(point.y, 3),
            hole=location.holes[0],
            written=_written(location),
        )
        for location in day.locations
        if isinstance(point := location.geometry, Point)
    )


def _written(location: Feature) -> WrittenShape | None:
    told = json.loads(location.properties).get("written")
    return None if told is None else WrittenShape(**told)
