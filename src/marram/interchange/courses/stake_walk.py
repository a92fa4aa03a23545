"""A walk along stakes or an edge, made into one feature of a course."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from shapely.geometry import LineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.validation import explain_validity

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Mark
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.mending import mend
from marram.course.written_features import on_grid, put_in, with_location, written
from marram.interchange.courses.along_boundary import close_along_boundary
from marram.interchange.courses.imported import Imported
from marram.interchange.courses.walk_points import read_walk

_DOUBLED_M = 0.01
_OF_THE_WALK = frozenset({"id", "kind", "holes", "mark", "what", "sigma_m", "proposed", "assumed", "repaired", "source"})
"""Properties that a new walk states anew; the others of what it replaces, such as the set of a tee, are kept."""
_HINT = "See docs/formats/stake-walk.md."


class Closing(StrEnum):
    """How the two ends of a walk are joined."""

    RING = "ring"
    TO_BOUNDARY = "to-boundary"


@dataclass(frozen=True, slots=True, kw_only=True)
class Walked:
    """What was walked.

    Attributes:
        kind: What it is.
        id: Name of the feature; one of the same name and kind is replaced, and what is not stated here is kept from it.
        mark: How a penalty area is marked.
        holes: Holes that it serves.
        what: A plain noun for it.
        close: How the ends are joined; not asked where a width or radius is given.
        width_m: Width of what was walked along its middle, metres.
        radius_m: Radius of what was walked to as one point, metres.
        sigma_m: Accuracy of the walk, one standard deviation, metres; None to take the worst that the file states.
        track: Which track of a GPX file with several.
    """

    kind: FeatureKind
    id: str
    mark: Mark | None = None
    holes: tuple[int, ...] = ()
    what: str = ""
    close: Closing = Closing.RING
    width_m: float | None = None
    radius_m: float | None = None
    sigma_m: float | None = None
    track: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shape:
    """The shape of what was walked."""

    geometry: Polygon | MultiPolygon | LineString | Point
    repaired: str = ""
    remarks: tuple[str, ...] = ()


def add_stake_walk(course: Course, path: Path, walked: Walked) -> Imported:
    """Add what somebody walked along to a course.

    Args:
        course: The course.
        path: The walk: GPX, or a table of points.
        walked: What it is.

    Raises:
        SurveyError: The file cannot be used, or the points make no such thing.
    """
    _refuse_unfit(walked)
    old = next((feature for feature in course.features if feature.id == walked.id), None)
    _refuse_second(course, walked, old)
    read = read_walk(path, course.frame, track=walked.track)
    points, doubled = _without_doubles(read.points)
    try:
        shape = _shape(course, points, walked)
    except SurveyError as problem:
        raise SurveyError(problem.message, where=path.name, hint=problem.hint or _HINT) from None
    sigma_m = walked.sigma_m if walked.sigma_m is not None else read.accuracy_m
    feature = _feature(walked, old, shape, sigma_m, path.name)
    remarks = [*read.remarks, *shape.remarks]
    if doubled:
        remarks.append(f"{doubled} point{'s' * (doubled > 1)} within {_DOUBLED_M * 100:g} cm of the one before dropped.")
    if shape.repaired:
        remarks.append(f"{walked.id} was mended: {shape.repaired}.")
    if sigma_m is None:
        remarks.append(
            f"The accuracy of {walked.id} is not known, so what is measured on it must be checked on the ground; state it in metres."
        )
    if old is not None:
        remarks.append(f"{walked.id} replaces the one of that name: {_size(old.geometry)} before, {_size(feature.geometry)} now.")
    placed = with_location(course, feature) if walked.kind is FeatureKind.HOLE_LOCATION else put_in(course, feature)
    return Imported(course=placed, left_out=(), remarks=tuple(remarks))


def _refuse_second(course: Course, walked: Walked, old: Feature | None) -> None:
    """Refuse a name that something else has, and a second one of what there is only one of."""
    if old is not None and old.kind is not walked.kind:
        raise SurveyError(f"{walked.id} is a {old.kind}, not a {walked.kind}.", where=course.name, hint="Give the walk another name.")
    others = [feature.id for feature in course.of_kind(walked.kind) if feature.id != walked.id]
    if walked.kind is FeatureKind.LINE_OF_PLAY:
        others = [name for name in others if any(f.id == name and set(f.holes) & set(walked.holes) for f in course.features)]
    elif walked.kind is not FeatureKind.BOUNDARY:
        return
    if old is None and others:
        whose = f"Hole {walked.holes[0]}" if walked.holes else course.name
        raise SurveyError(
            f"{whose} has a {walked.kind.value.replace('-', ' ')} already: {', '.join(others)}.",
            where=walked.id,
            hint="Give the walk that name, and it replaces it.",
        )


def _refuse_unfit(walked: Walked) -> None:
    where = walked.id or "name"
    is_line, is_point = walked.kind is FeatureKind.LINE_OF_PLAY, walked.kind is FeatureKind.HOLE_LOCATION
    problem = ""
    if not walked.id:
        problem = "What was walked needs a name."
    elif walked.mark is not None and walked.kind is not FeatureKind.PENALTY_AREA:
        problem = f"A {walked.kind} has no mark; penalty areas have one."
    elif (is_line or is_point) and (walked.width_m is not None or walked.radius_m is not None):
        problem = f"A {walked.kind} has neither width nor radius."
    elif (is_line or is_point) and len(walked.holes) != 1:
        problem = f"A {walked.kind} is of one hole: give its number."
    elif walked.width_m is not None and walked.radius_m is not None:
        problem = "Give a width for a line or a radius for a point, not both."
    elif any(size_m is not None and not 0 < size_m <= 200 for size_m in (walked.width_m, walked.radius_m)):
        problem = "A width or radius lies above 0 and is 200 m at most."
    elif walked.sigma_m is not None and not 0 <= walked.sigma_m <= 100:
        problem = f"An accuracy of {walked.sigma_m:g} m cannot be used; give metres from 0 to 100."
    if problem:
        raise SurveyError(problem, where=where, hint=_HINT)


def _without_doubles(points: Sequence[Position]) -> tuple[list[Position], int]:
    kept: list[Position] = []
    for point in points:
        if not kept or kept[-1].distance_m(point) > _DOUBLED_M:
            kept.append(point)
    return kept, len(points) - len(kept)


def _shape(course: Course, points: Sequence[Position], walked: Walked) -> _Shape:
    needs_one = walked.kind is FeatureKind.HOLE_LOCATION or walked.radius_m is not None
    if needs_one:
        if len(points) != 1:
            raise SurveyError(f"The walk has {len(points)} points; a {walked.kind} given as one place has one.")
        spot = Point(points[0].xy)
        geometry = spot if walked.radius_m is None else spot.buffer(walked.radius_m, quad_segs=32)
        return _Shape(geometry=_held(geometry))
    if walked.kind is FeatureKind.LINE_OF_PLAY or walked.width_m is not None:
        if len(points) < 2:
            raise SurveyError(f"The walk has {len(points)} point; a line has two or more.")
        line = LineString([point.xy for point in points])
        wide = line if walked.width_m is None else line.buffer(walked.width_m / 2, cap_style="flat", join_style="round")
        return _Shape(geometry=_held(wide))
    least = 2 if walked.close is Closing.TO_BOUNDARY else 3
    if len(points) < least:
        hint = "One place may be a hole location, or anything with a radius (`radius_m`)." if len(points) == 1 else ""
        raise SurveyError(f"The walk has {len(points)} point{'s' * (len(points) != 1)}; an area needs {least} or more.", hint=hint)
    if walked.close is Closing.TO_BOUNDARY:
        closed = close_along_boundary(points, course.boundary)
        return _area(course, closed.corners, (closed.told,))
    return _area(course, points, (f"The last point is joined to the first, {points[-1].distance_m(points[0]):.1f} m away.",))


def _area(course: Course, corners: Sequence[Position], remarks: tuple[str, ...]) -> _Shape:
    drawn = on_grid(Polygon([corner.xy for corner in corners]))
    mended = mend(drawn)
    if mended.geometry.is_empty:
        raise SurveyError("The points lie on one line and hold no ground.")
    repaired = f"near {_crossing(course, drawn)} {mended.how}" if mended.how else ""
    return _Shape(geometry=_held(mended.geometry), repaired=repaired, remarks=remarks)


def _crossing(course: Course, drawn: BaseGeometry) -> str:
    """Where an outline crosses itself, in metres and degrees."""
    said = explain_validity(drawn)
    x_m, y_m = (float(number) for number in said[said.index("[") + 1 : said.index("]")].split()[:2])
    lon_deg, lat_deg = course.frame.to_lonlat(Position(x_m=x_m, y_m=y_m))
    return f"x {x_m:.1f} m, y {y_m:.1f} m (longitude {lon_deg:.6f}, latitude {lat_deg:.6f})"


def _held(geometry: BaseGeometry) -> Polygon | MultiPolygon | LineString | Point:
    held = on_grid(geometry)
    if not isinstance(held, Polygon | MultiPolygon | LineString | Point):
        raise SurveyError(f"The points make a {held.geom_type}, which no feature is.")
    return held


def _feature(walked: Walked, old: Feature | None, shape: _Shape, sigma_m: float | None, source: str) -> Feature:
    mark = walked.mark or (old.mark if old else None)
    feature = Feature(
        id=walked.id,
        kind=walked.kind,
        geometry=shape.geometry,
        holes=walked.holes or (old.holes if old else ()),
        mark=(mark or Mark.UNMARKED) if walked.kind is FeatureKind.PENALTY_AREA else None,
        what=walked.what or (old.what if old else ""),
        serves=old.serves if old else "",
        stands=old.stands if old else None,
        sigma_m=sigma_m,
        par=old.par if old else None,
        stroke_index=old.stroke_index if old else None,
        proposed=old.proposed if old and walked.mark is None else None,
        repaired=shape.repaired,
    )
    kept = {name: value for name, value in json.loads(old.properties).items() if name not in _OF_THE_WALK} if old else {}
    return written(feature, {**kept, "source": source})


def _size(geometry: BaseGeometry) -> str:
    return f"{geometry.area:.1f} m²" if geometry.area else f"{geometry.length:.1f} m"
