"""Courses as GeoJSON (RFC 7946), with the properties that docs/formats/course.md lists."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry import mapping, shape
from shapely.geometry.base import BaseGeometry

from marram.core.errors import SurveyError
from marram.core.json_text import read_json
from marram.core.terms import FeatureKind, Mark
from marram.core.words import fault_list, odd_sign, on_one_line, shortened, shortly
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Frame
from marram.course.mending import Mended, close_rings, mend
from marram.interchange.tables.reading import LARGEST_COURSE_BYTES, read_text

_SHAPES = {
    FeatureKind.LINE_OF_PLAY: ("LineString",),
    FeatureKind.HOLE_LOCATION: ("Point",),
}
_DECIDED = (Mark.RED, Mark.YELLOW)
_AREAS = ("Polygon", "MultiPolygon")
_NAMES = ("id", "what", "serves", "named", "tee", "repaired", "assumed")
_WIDEST_M = 20_000
_SMALLEST_COURSE_M2 = 100.0


class _CourseReader:
    """Reads features and collects every fault."""

    def __init__(self, frame: Frame, sigma_m: float | None) -> None:
        self.frame = frame
        self.sigma_m = sigma_m
        self.faults: list[str] = []
        self.ids: dict[str, int] = {}

    def fault(self, where: str, message: str) -> None:
        self.faults.append(f"{where}: {message}")

    def read(self, number: int, raw: object) -> Feature | None:
        where = f"feature {number}"
        properties = raw.get("properties") if isinstance(raw, dict) else None
        if not isinstance(raw, dict) or not isinstance(properties, dict):
            self.fault(where, "a feature with properties is expected")
            return None
        name = properties.get("id")
        where = f"{where} ({on_one_line(shortened(name))})" if isinstance(name, str) else where
        if not isinstance(name, str) or not name:
            self.fault(where, f"id is {shortly(name)}; expected a name of its own, such as green-7")
        elif name in self.ids:
            self.fault(where, f"feature {self.ids[name]} has the id {name} already; give each feature a name of its own")
        self.ids.setdefault(str(name), number)
        kind = properties.get("kind")
        if kind not in list(FeatureKind):
            self.fault(where, f"kind is {shortly(kind)}; expected one of {', '.join(FeatureKind)}")
            return None
        outline = self._geometry(where, FeatureKind(kind), raw.get("geometry"))
        return None if outline is None else self._feature(where, str(name), FeatureKind(kind), outline, properties)

    def _feature(self, where: str, name: str, kind: FeatureKind, outline: Mended, properties: Mapping[str, object]) -> Feature:
        mark = properties.get("mark")
        for member in _NAMES:
            sign = odd_sign(str(properties.get(member, "")))
            if sign:
                self.fault(where, f"{member} holds the sign {sign}; a name is one line of letters")
        told = self._text(where, "repaired", properties.get("repaired", ""))
        repaired = "; ".join(word for word in (told, outline.how) if word)
        if kind is FeatureKind.PENALTY_AREA and mark not in list(Mark):
            self.fault(where, f"mark is {shortly(mark)}; a penalty area is one of {', '.join(Mark)}")
            mark = Mark.UNMARKED
        return Feature(
            id=name,
            kind=kind,
            geometry=outline.geometry,  # type: ignore[arg-type]
            holes=self._holes(where, properties.get("holes", [])),
            mark=Mark(str(mark)) if kind is FeatureKind.PENALTY_AREA else None,
            what=str(properties.get("what", "")),
            serves=str(properties.get("serves", "")),
            named=self._named(where, kind, properties.get("named", "")),
            stands=self._yes_no(where, "stands", properties.get("stands")),
            sigma_m=self._sigma(where, properties.get("sigma_m", self.sigma_m)),
            par=self._count(where, "par", properties.get("par")),
            stroke_index=self._count(where, "stroke_index", properties.get("stroke_index")),
            proposed=self._proposed(where, properties.get("proposed")),
            assumed=self._assumed(where, properties.get("assumed", {})),
            repaired=repaired,
            properties=json.dumps({**properties, "repaired": repaired} if outline.how else properties, sort_keys=True),
        )

    def _holes(self, where: str, raw: object) -> tuple[int, ...]:
        if isinstance(raw, list) and all(isinstance(n, int) and not isinstance(n, bool) and 1 <= n <= 99 for n in raw):
            return tuple(raw)
        self.fault(where, f"holes is {shortly(raw)}; expected a list of hole numbers")
        return ()

    def _proposed(self, where: str, raw: object) -> Mark | None:
        if raw is None or raw in _DECIDED:
            return None if raw is None else Mark(str(raw))
        self.fault(where, f"proposed is {shortly(raw)}; expected one of {', '.join(_DECIDED)}")
        return None

    def _assumed(self, where: str, raw: object) -> tuple[tuple[str, str], ...]:
        if isinstance(raw, dict) and all(isinstance(words, str) for words in raw.values()):
            return tuple(sorted(raw.items()))
        self.fault(where, f"assumed is {shortly(raw)}; expected names with words, such as {{'width': '2 m'}}")
        return ()

    def _text(self, where: str, name: str, raw: object) -> str:
        if isinstance(raw, str):
            return raw
        self.fault(where, f"{name} is {shortly(raw)}; expected words")
        return ""

    def _named(self, where: str, kind: FeatureKind, raw: object) -> str:
        """What a trial calls an other condition; other kinds have no such name."""
        name = self._text(where, "named", raw)
        if bool(name) != (kind is FeatureKind.OTHER_CONDITION):
            self.fault(
                where, f"named is {shortly(name)}; an {FeatureKind.OTHER_CONDITION} says what a trial calls it, and nothing else does"
            )
        return name

    def _yes_no(self, where: str, name: str, raw: object) -> bool | None:
        if raw is None or isinstance(raw, bool):
            return raw
        self.fault(where, f"{name} is {shortly(raw)}; expected true or false")
        return None

    def _count(self, where: str, name: str, raw: object) -> int | None:
        if raw is None:
            return None
        if isinstance(raw, int) and not isinstance(raw, bool) and 1 <= raw <= 99:
            return raw
        self.fault(where, f"{name} is {shortly(raw)}; expected a whole number from 1")
        return None

    def _sigma(self, where: str, raw: object) -> float | None:
        if raw is None:
            return None
        if isinstance(raw, int | float) and not isinstance(raw, bool) and 0 <= raw <= _WIDEST_M:
            return float(raw)
        self.fault(where, f"sigma_m is {shortly(raw)}; expected metres, zero or more")
        return None

    def _geometry(self, where: str, kind: FeatureKind, raw: object) -> Mended | None:
        expected = _SHAPES.get(kind, _AREAS)
        if not isinstance(raw, dict) or raw.get("type") not in expected:
            given = raw.get("type") if isinstance(raw, dict) else raw
            self.fault(where, f"the geometry is {shortly(given)}; a {kind} is a {' or '.join(expected)}")
            return None
        try:
            closed = close_rings(raw)
            with np.errstate(invalid="ignore"):  # what is no number is told below
                degrees = shapely.force_2d(shape(closed.geometry))
        except (
            ValueError,
            TypeError,
            LookupError,
            AttributeError,
            ArithmeticError,
            RecursionError,
            shapely.errors.ShapelyError,
        ) as problem:
            self.fault(where, f"the geometry cannot be read: {problem}")
            return None
        return self._in_metres(where, degrees, closed.sides)

    def _in_metres(self, where: str, degrees: BaseGeometry, sides: Sequence[tuple[object, object]]) -> Mended | None:
        if degrees.is_empty or not all(math.isfinite(number) for number in degrees.bounds):
            self.fault(where, "the geometry is empty or has coordinates that are not numbers")
            return None
        stray = _stray(degrees, self.frame)
        if stray:
            self.fault(where, stray)
            return None
        metres = shapely.transform(degrees, self.frame.to_metres, interleaved=False)  # type: ignore[arg-type]
        metres = shapely.transform(metres, lambda xy: xy.round(3))
        mended = mend(metres)
        if mended.geometry.is_empty:
            self.fault(where, "the outline holds no ground; draw both sides of what it stands for")
            return None
        if mended.geometry.geom_type == "LineString" and mended.geometry.length == 0:
            self.fault(where, "the line begins where it ends and has no length; draw it from the back tee to the middle of the green")
            return None
        closed = [f"a ring was open; it was closed by a straight side of {self._length_m(*side):.1f} m" for side in sides]
        return Mended(geometry=mended.geometry, how="; ".join([*closed, *([mended.how] if mended.how else [])]))

    def _length_m(self, first: object, last: object) -> float:
        """How long the side is that closes a ring."""
        ends = [self.frame.to_position(*xy) for xy in shapely.force_2d(shapely.linestrings([first, last])).coords]  # type: ignore[list-item]
        return ends[0].distance_m(ends[1])


def _stray(degrees: BaseGeometry, frame: Frame) -> str:
    """Why the coordinates cannot belong to this course; empty where they can."""
    for lon_deg, lat_deg in shapely.get_coordinates(degrees):
        if _is_near(lon_deg, lat_deg, frame):
            continue
        if _is_near(lat_deg, lon_deg, frame):
            return f"longitude {lon_deg:g} and latitude {lat_deg:g} look swapped; GeoJSON puts longitude first"
        return f"longitude {lon_deg:g}, latitude {lat_deg:g} is more than 20 km from the origin of the course"
    return ""


def _is_near(lon_deg: float, lat_deg: float, frame: Frame) -> bool:
    """Whether a place is within 20 km of the origin (on a sphere, which is near enough to tell)."""
    north_m = math.radians(lat_deg - frame.lat_deg) * 6_371_000
    east_deg = (lon_deg - frame.lon_deg + 180) % 360 - 180  # a course may lie across the date line
    east_m = math.radians(east_deg) * 6_371_000 * math.cos(math.radians(frame.lat_deg))
    return math.hypot(north_m, east_m) <= _WIDEST_M


def read_course(path: Path) -> Course:
    """Read a course file.

    Args:
        path: A GeoJSON file as docs/formats/course.md describes it.

    Raises:
        SurveyError: The file cannot be used; the message lists every fault.
    """
    text = read_text(path, what="a course", largest_bytes=LARGEST_COURSE_BYTES, error=SurveyError)
    return parse_course(text, where=path.name)


def parse_course(text: str, *, where: str) -> Course:
    """Read a course from the text of a GeoJSON file.

    Raises:
        SurveyError: The text cannot be used; the message lists every fault.
    """
    raw = read_json(text, where=where, hint="See docs/formats/course.md.", error=SurveyError)
    if not isinstance(raw, dict) or raw.get("type") != "FeatureCollection" or not isinstance(raw.get("features"), list):
        raise SurveyError("A GeoJSON FeatureCollection is expected.", where=where, hint="See docs/formats/course.md.")
    name, frame, sigma_m = _head(raw.get("course"), where)
    reader = _CourseReader(frame, sigma_m)
    features = [reader.read(number, entry) for number, entry in enumerate(raw["features"], start=1)]
    kept = tuple(feature for feature in features if feature is not None)
    for feature in kept:
        if feature.kind is FeatureKind.BOUNDARY and feature.geometry.area < _SMALLEST_COURSE_M2:
            reader.fault("boundary", f"it holds {feature.geometry.area:.3f} m²; a course is larger than {_SMALLEST_COURSE_M2:g} m²")
    if not kept:
        reader.fault("features", "there are none, not even a boundary")
    if reader.faults:
        raise SurveyError(f"The course has {fault_list(reader.faults)}", where=where, hint="See docs/formats/course.md.")
    extra = {key: value for key, value in raw.items() if key not in {"type", "features"}}
    return Course(name=name, frame=frame, sigma_m=sigma_m, features=kept, extra=json.dumps(extra, sort_keys=True))


def _head(raw: object, where: str) -> tuple[str, Frame, float | None]:
    """Name, frame and survey accuracy of the course."""
    head = raw if isinstance(raw, dict) else {}
    name, origin, sigma_m = head.get("name"), head.get("origin"), head.get("sigma_m")
    numbers = [n for n in origin if isinstance(n, int | float)] if isinstance(origin, list) else []
    is_sound = (
        isinstance(name, str)
        and isinstance(origin, list)
        and len(numbers) == len(origin) == 2
        and abs(numbers[0]) <= 180
        and abs(numbers[1]) <= 85
    )
    if not is_sound or not (sigma_m is None or (isinstance(sigma_m, int | float) and 0 <= sigma_m <= _WIDEST_M)):
        raise SurveyError(
            "The member `course` must give name, origin as [longitude, latitude] (latitude up to 85) and, if known, sigma_m.",
            where=where,
            hint="See docs/formats/course.md.",
        )
    if odd_sign(str(name)):
        message = f"The name of the course holds the sign {odd_sign(str(name))}; a name is one line of letters."
        raise SurveyError(message, where=where, hint="See docs/formats/course.md.")
    return str(name), Frame(float(numbers[0]), float(numbers[1])), None if sigma_m is None else float(sigma_m)


def write_course(course: Course) -> str:
    """The course as the text of a GeoJSON file, one feature a line, the same bytes for the same course."""
    lines = ",\n".join(_dump(_feature_object(course.frame, feature)) for feature in course.features)
    members = [f"{_dump(key)}: {_dump(value)}" for key, value in sorted(json.loads(course.extra).items())]
    head = ",\n".join(['"type": "FeatureCollection"', *members])
    return f'{{\n{head},\n"features": [\n{lines}\n]\n}}\n'


def _dump(value: object) -> str:
    return json.dumps(value, sort_keys=True, ensure_ascii=False)


def _feature_object(frame: Frame, feature: Feature) -> dict[str, object]:
    """A feature as GeoJSON writes it; nine decimals of a degree are a tenth of a millimetre."""
    degrees = to_degrees(frame, feature.geometry)
    return {"type": "Feature", "properties": json.loads(feature.properties), "geometry": degrees}


def to_degrees(frame: Frame, geometry: BaseGeometry) -> dict[str, object]:
    """A geometry in longitude and latitude as a GeoJSON object, nine decimals."""
    degrees = shapely.transform(geometry, frame.to_degrees, interleaved=False)  # type: ignore[arg-type]
    rounded = shapely.transform(degrees, lambda xy: xy.round(9))
    return {"type": geometry.geom_type, "coordinates": mapping(rounded)["coordinates"]}
