"""The conditions of a day as outsiders read them beside an answer."""

from __future__ import annotations

import json

from shapely.geometry import Point

from marram.answers.rules.ruling_answer import position_object
from marram.course.day import Day
from marram.course.frame import Frame, Position


def day_object(day: Day, frame: Frame) -> dict[str, object]:
    """What is of the day and not of the survey."""
    return {
        "date": day.date.isoformat(),
        "file": day.source,
        "conditions": [
            {"id": feature.id, "kind": feature.kind.value, "what": feature.what, "sigma_m": feature.sigma_m} for feature in day.features
        ],
        "hole_locations": [
            position_object(frame, Position(x_m=location.geometry.x, y_m=location.geometry.y))
            | {"hole": location.holes[0], "written": json.loads(location.properties).get("written")}
            for location in day.locations
            if isinstance(location.geometry, Point)
        ],
        "remarks": list(day.remarks),
    }
