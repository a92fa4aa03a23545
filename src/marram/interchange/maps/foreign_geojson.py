"""GeoJSON from elsewhere: its properties and values under their own names, taken over by a list of which means what."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry import shape
from shapely.geometry.base import BaseGeometry

from marram.core.errors import SurveyError
from marram.core.json_text import read_json
from marram.core.terms import FeatureKind, Mark
from marram.core.words import on_one_line
from marram.course.check.faults import LeftOut
from marram.course.frame import Frame
from marram.interchange.courses.course_geojson import parse_course, to_degrees
from marram.interchange.courses.imported import Imported
from marram.interchange.maps.foreign_terms import Terms
from marram.interchange.tables.reading import LARGEST_COURSE_BYTES, read_text
from marram.interchange.tables.table_rows import Faults

_HINT = "See docs/formats/foreign.md."
_WGS84 = frozenset({"CRS84", "4326", "84", "WGS84"})
_OUTLINE_PAD_M = 30.0
_WIDEST_M = 200.0
_DEEPEST = 4
"""Coordinates of a MultiPolygon are lists of parts of rings of places."""
_AREAS, _LINES, _POINTS = {"Polygon", "MultiPolygon"}, {"LineString", "MultiLineString"}, {"Point"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Foreign:
    """How a file from elsewhere is to be read.

    Attributes:
        terms: Which of its properties and values mean what.
        name: What the course is called; empty for the name that the file gives, or the file's own.
        sigma_m: Accuracy of the survey, one standard deviation, metres; None where unknown.
    """

    terms: Terms = field(default_factory=Terms)
    name: str = ""
    sigma_m: float | None = None


def read_foreign_geojson(path: Path, foreign: Foreign) -> Imported:
    """Read a course from GeoJSON that was not made for Marram.

    Args:
        path: A GeoJSON file in longitude and latitude.
        foreign: Which of its names mean what.

    Returns:
        The course, with what was left out counted by the value that nobody explained.

    Raises:
        SurveyError: The file cannot be used; the message lists every fault.
    """
    raw = _collection(path)
    reader = _Reader(path.name, foreign, _frame(raw["features"], path.name))
    for number, entry in enumerate(raw["features"], start=1):
        reader.read(number, entry)
    reader.faults.refuse()
    if not reader.made:
        raise SurveyError("No feature of the file could be taken over.", where=path.name, hint=reader.advice())
    remarks = reader.remarks()
    if not any(each["properties"]["kind"] == FeatureKind.BOUNDARY for each in reader.made):
        reader.made.insert(0, _assumed_boundary(reader))
        remarks.append(f"The file has no boundary; the ground within {_OUTLINE_PAD_M:g} m of everything mapped is assumed.")
    left_out = reader.left_out()
    course = {
        "name": foreign.name or _own_name(raw) or path.stem,
        "origin": [round(reader.frame.lon_deg, 7), round(reader.frame.lat_deg, 7)],
        "source": path.name,
        "left_out": [{"what": each.what, "why": each.why, "names": list(each.names)} for each in left_out],
    } | ({} if foreign.sigma_m is None else {"sigma_m": foreign.sigma_m})
    text = json.dumps({"type": "FeatureCollection", "course": course, "features": reader.made})
    return Imported(course=parse_course(text, where=path.name), left_out=left_out, remarks=tuple(remarks))


def _collection(path: Path) -> dict[str, list[object]]:
    text = read_text(path, what="a GeoJSON file", largest_bytes=LARGEST_COURSE_BYTES, error=SurveyError)
    raw = read_json(text, where=path.name, hint=_HINT, error=SurveyError)
    if not isinstance(raw, dict) or raw.get("type") != "FeatureCollection" or not isinstance(raw.get("features"), list):
        raise SurveyError("A GeoJSON FeatureCollection is expected.", where=path.name, hint=_HINT)
    reference = json.dumps(raw.get("crs"))
    if raw.get("crs") is not None and not any(reference.rstrip('"}] ').endswith(code) for code in _WGS84):
        raise SurveyError(
            f"The coordinates are in another reference system: {reference}.",
            where=path.name,
            hint="Save the file again in longitude and latitude, WGS 84 (EPSG:4326).",
        )
    return raw


def _own_name(raw: Mapping[str, object]) -> str:
    return on_one_line(str(raw["name"])) if isinstance(raw.get("name"), str) else ""


def _numbers(raw: object, depth: int = 1) -> Iterator[tuple[float, float]]:
    """The pairs of numbers in a member ``coordinates``, as deep as those of a MultiPolygon lie."""
    if isinstance(raw, list) and len(raw) >= 2 and all(isinstance(n, int | float) and not isinstance(n, bool) for n in raw[:2]):
        yield _float(raw[0]), _float(raw[1])
    elif isinstance(raw, list) and depth < _DEEPEST:
        for entry in raw:
            yield from _numbers(entry, depth + 1)


def _float(number: float) -> float:
    """A number; a whole one of hundreds of digits is infinite."""
    try:
        return float(number)
    except OverflowError:
        return math.inf


def _coordinates(entry: object) -> object:
    geometry = entry.get("geometry") if isinstance(entry, dict) else None
    return geometry.get("coordinates") if isinstance(geometry, dict) else None


def _frame(features: list[object], where: str) -> Frame:
    """A frame in the middle of everything; longitudes on both sides of 180 degrees are taken together."""
    pairs = [pair for entry in features for pair in _numbers(_coordinates(entry))]
    if not pairs:
        raise SurveyError("The file holds no coordinates.", where=where, hint=_HINT)
    odd = next((pair for pair in pairs if not (abs(pair[0]) <= 180 and abs(pair[1]) <= 90)), None)
    if odd is not None:
        is_swapped = abs(odd[0]) <= 90 and abs(odd[1]) <= 180
        raise SurveyError(
            f"{odd[0]:g}, {odd[1]:g} is no longitude and latitude" + ("; they look swapped." if is_swapped else "."),
            where=where,
            hint="Longitude comes first."
            if is_swapped
            else "The file seems to be in metres of a map projection; save it in WGS 84 (EPSG:4326).",
        )
    first = pairs[0][0]
    lons_deg = [first + math.remainder(lon_deg - first, 360) for lon_deg, _ in pairs]
    lats_deg = [lat_deg for _, lat_deg in pairs]
    lon_deg = math.remainder((min(lons_deg) + max(lons_deg)) / 2, 360)
    return Frame(lon_deg, (min(lats_deg) + max(lats_deg)) / 2)


class _Reader:
    """Takes features over one by one and collects what is wrong and what is left out."""

    def __init__(self, where: str, foreign: Foreign, frame: Frame) -> None:
        self.terms = foreign.terms
        self.frame = frame
        self.faults = Faults(where=where, error=SurveyError, hint=_HINT)
        self.made: list[dict[str, dict[str, object]]] = []
        self.unknown: dict[str, list[str]] = {}
        self.unfit: dict[tuple[str, str], list[str]] = {}
        self.ids: set[str] = set()
        self.unnamed = 0

    def read(self, number: int, entry: object) -> None:
        where = f"feature {number}"
        properties = entry.get("properties") if isinstance(entry, dict) else None
        geometry = entry.get("geometry") if isinstance(entry, dict) else None
        if not isinstance(entry, dict) or not isinstance(properties, dict | None) or not isinstance(geometry, dict | None):
            self.faults.add(where, "a feature with properties and a geometry is expected")
            return
        theirs = properties or {}
        given = theirs.get(self.terms.property_of("id"), entry.get("id"))
        source = str(given) if isinstance(given, str | int) and str(given) else where
        value = self.terms.value(theirs, "kind")
        kind = FeatureKind(value) if value in list(FeatureKind) else None
        if kind is None:
            self.unknown.setdefault(value or "(no value)", []).append(source)
            return
        ground = self._ground(where, kind, theirs, geometry or {}, source)
        if ground is not None:
            own = self._properties(where, kind, theirs)
            self.made.append({"type": "Feature", "properties": {"id": self._id(kind, given), "source": source} | own, "geometry": ground})  # type: ignore[dict-item]

    def _id(self, kind: FeatureKind, given: object) -> str:
        name = on_one_line(str(given)) if isinstance(given, str | int) and not isinstance(given, bool) else ""
        if not name or name in self.ids:
            self.unnamed += 1
            name = next(f"{kind}-{n}" for n in range(1, len(self.ids) + 2) if f"{kind}-{n}" not in self.ids)
        self.ids.add(name)
        return name

    def _ground(
        self, where: str, kind: FeatureKind, theirs: Mapping[str, object], geometry: Mapping[str, object], source: str
    ) -> dict[str, object] | None:
        """The geometry that a kind has: a line with a width and a point with a radius become areas."""
        given = str(geometry.get("type"))
        wanted = {FeatureKind.LINE_OF_PLAY: {"LineString"}, FeatureKind.HOLE_LOCATION: _POINTS}.get(kind, _AREAS)
        if given in wanted:
            return dict(geometry)
        size = "width_m" if given in _LINES else "radius_m" if given in _POINTS else ""
        if wanted is not _AREAS or not size:
            self.unfit.setdefault((str(kind), f"it is a {given}, not a {' or '.join(sorted(wanted))}"), []).append(source)
            return None
        size_m = self.terms.number(theirs, size, where, self.faults)
        if size_m is None:
            self.unfit.setdefault((str(kind), f"it is a {given} without {size}"), []).append(source)
            return None
        if size_m > _WIDEST_M:
            self.faults.add(where, f"{self.terms.property_of(size)} is {size_m:g} m; {_WIDEST_M:g} m is the most")
            return None
        return self._widened(where, geometry, size_m / 2 if size == "width_m" else size_m)

    def _widened(self, where: str, geometry: Mapping[str, object], half_m: float) -> dict[str, object] | None:
        try:
            with np.errstate(invalid="ignore"):  # coordinates that are no numbers are told when the course is read
                degrees = shapely.force_2d(shape(dict(geometry)))
        except (
            ValueError,
            TypeError,
            LookupError,
            AttributeError,
            ArithmeticError,
            RecursionError,
            shapely.errors.ShapelyError,
        ) as problem:
            self.faults.add(where, f"the geometry cannot be read: {problem}")
            return None
        metres: BaseGeometry = shapely.transform(degrees, self.frame.to_metres, interleaved=False)  # type: ignore[arg-type]
        return to_degrees(self.frame, metres.buffer(half_m, quad_segs=32, cap_style="round" if metres.geom_type == "Point" else "flat"))

    def _properties(self, where: str, kind: FeatureKind, theirs: Mapping[str, object]) -> dict[str, object]:
        own: dict[str, object] = {"kind": str(kind), "holes": self.terms.holes(theirs, where, self.faults)}
        if kind is FeatureKind.PENALTY_AREA:
            mark = self.terms.value(theirs, "mark")
            if mark and mark not in list(Mark):
                self.faults.add(where, f"mark is {mark!r}; expected one of {', '.join(Mark)}; explain it with `values={mark}=red`")
            own["mark"] = mark or Mark.UNMARKED.value
        for name in ("what", "tee", "serves"):
            text = self.terms.value(theirs, name)
            own |= {name: text} if text else {}
        for name in ("par", "stroke_index"):
            count = self.terms.number(theirs, name, where, self.faults)
            own |= {} if count is None else {name: int(count) if count == int(count) else count}
        sigma_m = self.terms.number(theirs, "sigma_m", where, self.faults)
        return own | ({} if sigma_m is None else {"sigma_m": sigma_m})

    def left_out(self) -> tuple[LeftOut, ...]:
        named = self.terms.property_of("kind")
        unknown = [
            LeftOut(what=value, why=f"its {named} is no kind that is known", names=tuple(names))
            for value, names in sorted(self.unknown.items())
        ]
        unfit = [LeftOut(what=kind, why=why, names=tuple(names)) for (kind, why), names in sorted(self.unfit.items())]
        return (*unknown, *unfit)

    def advice(self) -> str:
        """What would let the file be read."""
        counts = ", ".join(f"{value} ({len(names)})" for value, names in sorted(self.unknown.items())[:20])
        unfit = "; ".join(f"{kind}: {why} ({len(names)})" for (kind, why), names in sorted(self.unfit.items()))
        named = self.terms.property_of("kind")
        values = f"Values of {named!r}: {counts}. Explain them with `properties=kind=NAME` and `values=THEIRS=KIND`. " if counts else ""
        return f"{values}{unfit + '. ' if unfit else ''}Kinds: {', '.join(FeatureKind)}."

    def remarks(self) -> list[str]:
        count = f"{self.unnamed} feature{'s' * (self.unnamed > 1)}"
        return [f"{count} had no name of {'their' if self.unnamed > 1 else 'its'} own and got one."] if self.unnamed else []


def _assumed_boundary(reader: _Reader) -> dict[str, dict[str, object]]:
    """A boundary drawn round everything that was mapped."""
    points = [pair for entry in reader.made for pair in _numbers(_coordinates(entry))]
    xs_m, ys_m = reader.frame.to_metres([lon_deg for lon_deg, _ in points], [lat_deg for _, lat_deg in points])
    hull = shapely.MultiPoint(list(zip(xs_m, ys_m, strict=True))).convex_hull.buffer(_OUTLINE_PAD_M, quad_segs=8)
    name = next(name for name in ("boundary", "boundary-assumed", "boundary-assumed-1") if name not in reader.ids)
    told = {"outline": f"drawn {_OUTLINE_PAD_M:g} m outside everything mapped"}
    properties: dict[str, object] = {"id": name, "kind": "boundary", "assumed": told, "sigma_m": None}
    return {"type": "Feature", "properties": properties, "geometry": to_degrees(reader.frame, hull)}  # type: ignore[dict-item]
