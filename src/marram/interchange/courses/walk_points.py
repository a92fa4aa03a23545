"""The points of a stake walk, read from GPX or from a table, in the order in which they were walked."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from marram.core.errors import SurveyError
from marram.course.frame import Frame, Position
from marram.interchange.tables.reading import LARGEST_COURSE_BYTES, read_text
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import read_rows, read_table

if TYPE_CHECKING:
    from gpxpy.gpx import GPX

FARTHEST_M = 20_000.0
_HINT = "See docs/formats/stake-walk.md."
_COLUMNS = {
    "lon_deg": ("lon", "longitude", "long", "lng"),
    "lat_deg": ("lat", "latitude"),
    "x_m": (),
    "y_m": (),
    "name": ("point", "stake", "label"),
    "accuracy_m": ("accuracy", "horizontal_accuracy_m", "sigma_m"),
}
_NEEDED = (("lon_deg", "lat_deg"), ("x_m", "y_m"))


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkPoints:
    """The points of one walk.

    Attributes:
        points: The places, in order.
        accuracy_m: The worst accuracy stated with a point, metres; None where none is.
        remarks: What was not read.
    """

    points: tuple[Position, ...]
    accuracy_m: float | None
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """One line of points in a GPX file."""

    name: str
    degrees: tuple[tuple[float, float], ...]
    has_heights: bool
    segments: int = 1


def read_walk(path: Path, frame: Frame, *, track: str = "") -> WalkPoints:
    """Read the points of a walk.

    Args:
        path: A GPX file, or a table (CSV or workbook) with one point a row.
        frame: Frame of the course.
        track: Which track, route or ``waypoints`` of a GPX file with several, by name or as listed.

    Raises:
        SurveyError: The file cannot be used; the message lists every fault.
    """
    if path.suffix.lower() == ".gpx":
        return _read_gpx(path, frame, track)
    return _read_points(path, frame)


def _read_points(path: Path, frame: Frame) -> WalkPoints:
    table = read_table(path, _COLUMNS, _NEEDED, what="a table of points", error=SurveyError)
    faults = Faults(where=table.where, error=SurveyError, hint=_HINT)
    points: list[Position | None] = []
    accuracies_m: list[float | None] = []

    def read(row: RowReader) -> None:
        points.append(_point(row, frame, table.columns))
        accuracies_m.append(row.number("accuracy_m", least=0, most=100, unit="m"))

    read_rows(table, faults, read)
    faults.refuse()
    known_m = [accuracy_m for accuracy_m in accuracies_m if accuracy_m is not None]
    remarks = [f"Columns not read: {', '.join(table.not_read)}. Heights are not used."] if table.not_read else []
    if known_m and len(known_m) < len(accuracies_m):
        remarks.append(
            f"{len(accuracies_m) - len(known_m)} of {len(accuracies_m)} points state no accuracy; the worst of the others is taken."
        )
    return WalkPoints(
        points=tuple(point for point in points if point is not None),
        accuracy_m=max(known_m, default=None),
        remarks=tuple(remarks),
    )


def _point(row: RowReader, frame: Frame, columns: frozenset[str]) -> Position | None:
    is_degrees = {"lon_deg", "lat_deg"} <= columns
    names, most, unit = (("lon_deg", "lat_deg"), (180.0, 90.0), "degrees") if is_degrees else (("x_m", "y_m"), (FARTHEST_M,) * 2, "m")
    before = len(row.faults.told)
    first, second = (row.number(name, least=-limit, most=limit, unit=unit) for name, limit in zip(names, most, strict=True))
    if first is None or second is None:
        if len(row.faults.told) == before:
            row.fault(names[0] if first is None else names[1], "it is empty")
        return None
    place = frame.to_position(first, second) if is_degrees else Position(x_m=first, y_m=second)
    stray = _stray(place, frame, (first, second) if is_degrees else None)
    if stray:
        row.fault(names[0], stray)
    return place


def _stray(place: Position, frame: Frame, degrees: tuple[float, float] | None) -> str:
    """Why a place cannot belong to the course; empty where it can."""
    if math.hypot(*place.xy) <= FARTHEST_M:
        return ""
    if degrees is None:
        return f"the place is {math.hypot(*place.xy) / 1000:.0f} km from the origin of the course"
    lon_deg, lat_deg = degrees
    if abs(lon_deg) <= 90 and math.hypot(*frame.to_position(lat_deg, lon_deg).xy) <= FARTHEST_M:
        return f"longitude {lon_deg:g} and latitude {lat_deg:g} look swapped"
    return f"longitude {lon_deg:g}, latitude {lat_deg:g} is more than {FARTHEST_M / 1000:g} km from the origin of the course"


def _read_gpx(path: Path, frame: Frame, track: str) -> WalkPoints:
    text = read_text(path, what="a GPX file", largest_bytes=LARGEST_COURSE_BYTES, error=SurveyError)
    lines = _lines(_parse(text, path.name))
    if not lines:
        raise SurveyError("The file holds no waypoints, route or track.", where=path.name, hint=_HINT)
    line = _chosen(lines, track, path.name)
    faults = Faults(where=path.name, error=SurveyError, hint=_HINT)
    points = [frame.to_position(*degrees) for degrees in line.degrees]
    for number, (point, degrees) in enumerate(zip(points, line.degrees, strict=True), start=1):
        stray = _stray(point, frame, degrees)
        if stray:
            faults.add(f"{line.name}, point {number}", stray)
    faults.refuse()
    remarks = ["Heights were not read; they are not used."] if line.has_heights else []
    if line.segments > 1:
        remarks.append(f"The {line.segments} segments of {line.name} were joined in their order.")
    return WalkPoints(points=tuple(points), accuracy_m=None, remarks=tuple(remarks))


def _parse(text: str, where: str) -> GPX:
    import gpxpy
    from gpxpy.gpx import GPXException

    try:
        return gpxpy.parse(text)
    except (GPXException, ValueError, TypeError, AttributeError, RecursionError) as problem:
        said = str(problem).splitlines()[0] if str(problem) else type(problem).__name__
        raise SurveyError(f"This is not GPX: {said}.", where=where, hint=_HINT) from None


def _lines(gpx: GPX) -> list[_Line]:
    """Every line of points in a GPX file, each with a name of its own kind."""
    lines = []
    if gpx.waypoints:
        has_heights = any(point.elevation is not None for point in gpx.waypoints)
        lines.append(_Line(name="waypoints", degrees=tuple((p.longitude, p.latitude) for p in gpx.waypoints), has_heights=has_heights))
    for number, route in enumerate(gpx.routes, start=1):
        name = route.name or f"route {number}"
        has_heights = any(point.elevation is not None for point in route.points)
        lines.append(_Line(name=name, degrees=tuple((p.longitude, p.latitude) for p in route.points), has_heights=has_heights))
    for number, track in enumerate(gpx.tracks, start=1):
        points = [point for segment in track.segments for point in segment.points]
        has_heights = any(point.elevation is not None for point in points)
        degrees = tuple((point.longitude, point.latitude) for point in points)
        name = track.name or f"track {number}"
        lines.append(_Line(name=name, degrees=degrees, has_heights=has_heights, segments=len(track.segments)))
    return [line for line in lines if line.degrees]


def _chosen(lines: Sequence[_Line], track: str, where: str) -> _Line:
    found = [line for line in lines if not track or line.name == track]
    if len(found) == 1:
        return found[0]
    held = "; ".join(f"{line.name!r} ({len(line.degrees)} points)" for line in lines)
    message = f"There is no track, route or set of waypoints {track!r}." if track and not found else f"The file holds {len(found)} walks."
    raise SurveyError(message, where=where, hint=f"Name one in `track`: {held}.")
