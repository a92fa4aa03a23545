"""A small invented course for tests: one hole, a red pond, a yellow stream, a bunker, a path, a boundary."""

from __future__ import annotations

import json

from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box

from marram.core.terms import FeatureKind, Mark
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Frame, Position

FRAME = Frame(-2.0, 55.0)
HOLE = Position(x_m=0.0, y_m=0.0)


def feature(
    name: str,
    kind: FeatureKind,
    geometry: Polygon | MultiPolygon | LineString | Point,
    *,
    mark: Mark | None = None,
    holes: tuple[int, ...] = (),
    what: str = "",
    sigma_m: float | None = 0.05,
) -> Feature:
    """A feature with the properties that a file would hold."""
    properties = {"id": name, "kind": kind.value, "holes": list(holes), "what": what}
    if mark:
        properties["mark"] = mark.value
    if sigma_m is not None:
        properties["sigma_m"] = sigma_m  # type: ignore[assignment]
    if kind is FeatureKind.LINE_OF_PLAY:
        properties |= {"par": 4, "stroke_index": 1}  # type: ignore[dict-item]
    is_line = kind is FeatureKind.LINE_OF_PLAY
    return Feature(
        id=name,
        kind=kind,
        geometry=geometry,
        mark=mark,
        holes=holes,
        what=what,
        sigma_m=sigma_m,
        par=4 if is_line else None,
        stroke_index=1 if is_line else None,
        properties=json.dumps(properties, sort_keys=True),
    )


def course(*features: Feature, boundary: Polygon | None = None) -> Course:
    """A course of 600 m by 600 m about the hole, with the features given on top of tee, green and hole."""
    ground = boundary if boundary is not None else box(-300, -450, 300, 150)
    own = (
        feature("edge", FeatureKind.BOUNDARY, ground),
        feature("green-1", FeatureKind.PUTTING_GREEN, Point(0, 0).buffer(12, quad_segs=16), holes=(1,)),
        feature("tee-1", FeatureKind.TEEING_AREA, box(-5, -385, 5, -375), holes=(1,)),
        feature("line-1", FeatureKind.LINE_OF_PLAY, LineString([(0, -380), (0, 0)]), holes=(1,)),
        feature("hole-1", FeatureKind.HOLE_LOCATION, Point(0, 0), holes=(1,)),
    )
    extra = json.dumps({"course": {"name": "Test Ground", "origin": [FRAME.lon_deg, FRAME.lat_deg], "sigma_m": 0.05}})
    return Course(name="Test Ground", frame=FRAME, sigma_m=0.05, features=(*own, *features), extra=extra)


def pond(mark: Mark = Mark.RED) -> Feature:
    """A pond 30 m wide whose near edge runs east to west 40 m short of the hole."""
    return feature("pond", FeatureKind.PENALTY_AREA, box(-15, -70, 15, -40), mark=mark, what="pond", sigma_m=0.1)
