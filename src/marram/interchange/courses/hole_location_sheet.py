"""Sheets of hole locations, as officials write them: hole, so far on, so far from the left or right edge of the green."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from shapely.geometry import Point

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.core.units import INCH_M
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.hole_locations import Side, edge_distance_m, place_location
from marram.course.written_features import on_grid, with_location, written
from marram.interchange.courses.imported import Imported
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import read_rows, read_table

PACE_M = 36 * INCH_M
"""One pace is taken as one yard (common practice)."""
LEAST_FROM_EDGE_M = 1.0
"""A hole nearer to the edge of its green is taken for a mistake of the sheet (our own limit)."""
_FARTHEST_M = 150.0
_HINT = "See docs/formats/hole-locations.md."
_COLUMNS = {
    "hole": ("no", "number", "hole_no"),
    "on_paces": ("on", "depth", "from_front", "on_p"),
    "on_m": ("depth_m", "from_front_m"),
    "left_paces": ("left", "from_left", "l"),
    "left_m": ("from_left_m",),
    "right_paces": ("right", "from_right", "r"),
    "right_m": ("from_right_m",),
}
_NEEDED = tuple(("hole", on, side) for on in ("on_paces", "on_m") for side in ("left_paces", "left_m", "right_paces", "right_m"))


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenLocation:
    """Where a hole is cut, as it is written.

    Attributes:
        hole: Number of the hole.
        on: How far on from the front of the green.
        side: The edge from which the other distance is measured.
        from_edge: How far from that edge.
        unit: ``paces`` or ``m``.
    """

    hole: int
    on: float
    side: Side
    from_edge: float
    unit: str

    @property
    def properties(self) -> Mapping[str, object]:
        """The written form, as the course file keeps it."""
        return {"on": self.on, self.side.value: self.from_edge, "unit": self.unit}

    @property
    def words(self) -> str:
        """The written form in words, such as ``12 on, 5 from the left (paces)``."""
        return f"{self.on:g} on, {self.from_edge:g} from the {self.side} ({self.unit})"


def read_hole_locations(course: Course, path: Path, *, pace_m: float = PACE_M) -> Imported:
    """Put the hole locations of a sheet on a course.

    Args:
        course: The course.
        path: A table with one hole a row.
        pace_m: Length of one pace, metres.

    Returns:
        The course; a location replaces the one that its hole had.

    Raises:
        SurveyError: The file cannot be used; the message lists every fault.
    """
    table = read_table(path, _COLUMNS, _NEEDED, what="a table of hole locations", error=SurveyError)
    faults = Faults(where=table.where, error=SurveyError, hint=_HINT)
    found: dict[int, Feature] = {}

    def read(row: RowReader) -> None:
        written_at = _written(row)
        if written_at is None:
            return
        if written_at.hole in found:
            row.fault("hole", f"hole {written_at.hole} stands in an earlier row as well")
        try:
            found[written_at.hole] = location_feature(course, written_at, pace_m=pace_m, more={"source": path.name})
        except SurveyError as problem:
            row.faults.add(f"row {row.row.number}, hole {written_at.hole}", f"{problem.message} {problem.hint}".strip())

    check_pace(pace_m)
    read_rows(table, faults, read)
    faults.refuse()
    if not found:
        raise SurveyError("The table holds no hole.", where=table.where, hint=_HINT)
    placed = course
    for feature in found.values():
        placed = with_location(placed, feature)
    return Imported(course=placed, left_out=(), remarks=tuple(_remarks(placed, found, table.not_read)))


def check_pace(pace_m: float) -> None:
    """Refuse a pace that nobody takes.

    Raises:
        SurveyError: It is shorter than 0.5 m or longer than 1.2 m.
    """
    if not 0.5 <= pace_m <= 1.2:
        raise SurveyError(f"A pace of {pace_m:g} m cannot be.", where="pace_m", hint="Give metres from 0.5 to 1.2; a yard is 0.9144.")


def location_feature(course: Course, told: WrittenLocation, *, pace_m: float, more: Mapping[str, object]) -> Feature:
    """The hole location that somebody wrote down.

    Args:
        course: The course.
        told: What was written.
        pace_m: Length of one pace, metres.
        more: Further properties to keep, such as the source.

    Raises:
        SurveyError: There is no such hole, the place is off its green or too near its edge.
    """
    factor_m = pace_m if told.unit == "paces" else 1.0
    place = place_location(course.hole(told.hole), on_m=told.on * factor_m, side=told.side, in_m=told.from_edge * factor_m)
    paced = {"pace_m": pace_m} if told.unit == "paces" else {}
    return location_at(course, told.hole, place, {"written": told.properties, **more, **paced})


def location_at(course: Course, number: int, place: Position, more: Mapping[str, object], *, sigma_m: float | None = None) -> Feature:
    """A hole location at a place, which must lie well on the green of its hole.

    Args:
        course: The course.
        number: Number of the hole.
        place: The place.
        more: Further properties to keep, such as the written form.
        sigma_m: Accuracy, one standard deviation, metres; None where unknown, as it is for paces.

    Raises:
        SurveyError: There is no such hole, or the place is off its green or nearer to its edge than 1 m.
    """
    in_m = edge_distance_m(course.hole(number), place)
    if in_m < 0:
        raise SurveyError(f"The place is {-in_m:.1f} m off the green.", where=f"hole {number}")
    if in_m < LEAST_FROM_EDGE_M:
        raise SurveyError(
            f"The place is {in_m:.2f} m from the edge of the green; {LEAST_FROM_EDGE_M:g} m is the least.", where=f"hole {number}"
        )
    feature = Feature(
        id=_name(course, number),
        kind=FeatureKind.HOLE_LOCATION,
        geometry=on_grid(Point(place.xy)),  # type: ignore[arg-type]
        holes=(number,),
        sigma_m=sigma_m,
    )
    return written(feature, more)


def _name(course: Course, number: int) -> str:
    """The name of the hole's location: the one that it has, or a new one."""
    for feature in course.of_kind(FeatureKind.HOLE_LOCATION):
        if feature.holes == (number,):
            return feature.id
    taken = {feature.id for feature in course.features}
    return next(name for name in (f"hole-{number}", f"hole-location-{number}", f"hole-location-of-{number}") if name not in taken)


def _written(row: RowReader) -> WrittenLocation | None:
    before = len(row.faults.told)
    hole = row.whole("hole", least=1, most=99)
    given = {name: row.number(name, least=0, most=_FARTHEST_M) for name in _COLUMNS if name != "hole"}
    if len(row.faults.told) > before:
        return None
    ons = {name: value for name, value in given.items() if name.startswith("on_") and value is not None}
    sides = {name: value for name, value in given.items() if not name.startswith("on_") and value is not None}
    if hole is None:
        row.fault("hole", "the number of the hole is missing")
    elif len(ons) != 1:
        row.fault("on", "say once how far on from the front of the green (on, on_paces or on_m)")
    elif len(sides) != 1:
        row.fault("left or right", "say once how far from the left or from the right edge")
    else:
        (on_name, on), (side_name, from_edge) = next(iter(ons.items())), next(iter(sides.items()))
        side, _, unit = side_name.partition("_")
        if on_name == f"on_{unit}":
            return WrittenLocation(hole=hole, on=on, side=Side(side), from_edge=from_edge, unit=unit)
        row.fault(side_name, f"{on_name} and {side_name} are in two units; use one for both")
    return None


def _remarks(course: Course, found: Mapping[int, Feature], not_read: tuple[str, ...]) -> list[str]:
    remarks = [f"Columns not read: {', '.join(not_read)}."] if not_read else []
    left = [str(number) for number, hole in course.holes.items() if number not in found and hole.green is not None]
    if left:
        remarks.append(f"Holes that the sheet does not name keep their location: {', '.join(left)}.")
    return remarks
