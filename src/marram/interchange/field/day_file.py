"""The conditions of a day as a TOML file: water, ground under repair and the like, and where the holes are cut."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Annotated, Literal, TypeVar

import msgspec
from msgspec import Meta, Struct

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Mark
from marram.core.toml_text import read_toml
from marram.core.words import odd_sign
from marram.course.course import Course
from marram.course.day import Day
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.hole_locations import Side
from marram.course.written_features import on_grid, written
from marram.interchange.courses.hole_location_sheet import PACE_M, WrittenLocation, check_pace, location_at, location_feature
from marram.interchange.field.stated_ground import ConditionName, LonLat, StatedGround
from marram.interchange.tables.file_faults import structure_fault
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
from marram.interchange.tables.table_rows import Faults

_HINT = "See docs/formats/day.md."
_Accuracy = Annotated[float, Meta(ge=0, le=100)]
_Count = Annotated[int, Meta(ge=1, le=99)]
_Distance = Annotated[float, Meta(ge=0, le=150)]
T = TypeVar("T")


class DayConditionTable(Struct, forbid_unknown_fields=True):
    """Something that lies on the course today."""

    kind: ConditionName | Literal["penalty-area", "other-condition"]
    id: str = ""
    at: LonLat | None = None
    x_m: float | None = None
    y_m: float | None = None
    hole: _Count | None = None
    before_green_m: float | None = None
    right_m: float | None = None
    radius_m: Annotated[float, Meta(gt=0, le=200)] | None = None
    ring: list[LonLat] | None = None
    what: str = ""
    mark: Mark | None = None
    serves: str = ""
    named: str = ""
    holes: list[_Count] = msgspec.field(default_factory=list)
    stands: bool | None = None
    sigma_m: _Accuracy | None = None


class DayLocationTable(Struct, forbid_unknown_fields=True):
    """Where a hole is cut today."""

    hole: _Count
    at: LonLat | None = None
    x_m: float | None = None
    y_m: float | None = None
    on_paces: _Distance | None = None
    left_paces: _Distance | None = None
    right_paces: _Distance | None = None
    on_m: _Distance | None = None
    left_m: _Distance | None = None
    right_m: _Distance | None = None
    sigma_m: _Accuracy | None = None


class DayTable(Struct, forbid_unknown_fields=True):
    """The conditions of a day."""

    date: datetime.date
    sigma_m: _Accuracy | None = None
    pace_m: float = PACE_M
    conditions: list[DayConditionTable] = msgspec.field(default_factory=list)
    hole_locations: list[DayLocationTable] = msgspec.field(default_factory=list)


def day_schema() -> dict[str, object]:
    """JSON Schema of a day's file."""
    return msgspec.json.schema(DayTable)


def read_day(path: Path, course: Course) -> Day:
    """Read the conditions of a day and place them on a course.

    Args:
        path: A TOML file as docs/formats/day.md describes it.
        course: The course as surveyed.

    Raises:
        SurveyError: The file cannot be used; the message lists every fault.
    """
    text = read_text(path, what="the conditions of a day", largest_bytes=LARGEST_TEXT_BYTES, error=SurveyError)
    return parse_day(text, course, where=path.name)


def parse_day(text: str, course: Course, *, where: str) -> Day:
    """Read the conditions of a day from the text of a TOML file."""
    raw = read_toml(text, where=where, hint=_HINT, error=SurveyError)
    try:
        table = msgspec.convert(raw, DayTable)
    except msgspec.ValidationError as problem:
        message, place = structure_fault(str(problem))
        raise SurveyError(message, where=f"{where}, {place}" if place else where, hint=_HINT) from None
    return _DayReader(table, course, where).day()


class _DayReader:
    """Puts what the file says on the course and collects every fault."""

    def __init__(self, table: DayTable, course: Course, where: str) -> None:
        self.table = table
        self.course = course
        self.where = where
        self.ground = StatedGround(course, SurveyError)
        self.faults = Faults(where=where, error=SurveyError, hint=_HINT)
        self.ids = {feature.id for feature in course.features}

    def day(self) -> Day:
        self._noted("pace_m", partial(check_pace, self.table.pace_m))
        features = [
            self._noted(f"conditions {number}", partial(self._condition, number, entry))
            for number, entry in enumerate(self.table.conditions, start=1)
        ]
        locations = [
            self._noted(f"hole_locations {number}", partial(self._location, entry))
            for number, entry in enumerate(self.table.hole_locations, start=1)
        ]
        numbers = [entry.hole for entry in self.table.hole_locations]
        for twice in sorted({hole for hole in numbers if numbers.count(hole) > 1}):
            self.faults.add("hole_locations", f"hole {twice} is given more than once")
        self.faults.refuse()
        kept = tuple(feature for feature in features if feature is not None)
        return Day(
            date=self.table.date,
            source=self.where,
            features=kept,
            locations=tuple(location for location in locations if location is not None),
            remarks=self._remarks(kept),
        )

    def _noted(self, place: str, read: Callable[[], T]) -> T | None:
        """What is read, or None with its fault noted."""
        try:
            return read()
        except SurveyError as problem:
            self.faults.add(place, f"{problem.message} {problem.hint}".strip())
            return None

    def _condition(self, number: int, table: DayConditionTable) -> Feature:
        name = table.id or f"today-{number}"
        if name in self.ids:
            raise SurveyError(f"There is something called {name!r} already.", hint="Give it an id of its own.")
        self.ids.add(name)
        self._refuse_unfit(table)
        outline = self.ground.outline("", self._middle(table), table.radius_m, table.ring)
        sigma_m = table.sigma_m if table.sigma_m is not None else self.table.sigma_m
        feature = Feature(
            id=name,
            kind=FeatureKind(table.kind),
            geometry=on_grid(outline),  # type: ignore[arg-type]
            holes=tuple(table.holes),
            mark=table.mark,
            what=table.what,
            serves=table.serves,
            named=table.named,
            stands=table.stands,
            sigma_m=sigma_m,
        )
        return written(feature, {"source": self.where, "of_the_day": self.table.date.isoformat()})

    def _refuse_unfit(self, table: DayConditionTable) -> None:
        for member, text in (("id", table.id), ("what", table.what), ("named", table.named)):
            if odd_sign(text):
                raise SurveyError(f"{member} holds the sign {odd_sign(text)}; a name is one line of letters.")
        if (table.kind == "penalty-area") != (table.mark is not None):
            raise SurveyError("A penalty area, and nothing else, has a mark: red, yellow or unmarked.")
        if (table.kind == "other-condition") != bool(table.named):
            raise SurveyError("An other condition, and nothing else, is named as a trial calls it.")
        if table.serves and table.kind != "dropping-zone":
            raise SurveyError("Only a dropping zone serves something.")
        if table.serves and all(feature.id != table.serves for feature in self.course.features):
            raise SurveyError(f"There is nothing called {table.serves!r} on {self.course.name}.")
        for number in table.holes:
            self.course.hole(number)

    def _middle(self, table: DayConditionTable) -> Position | None:
        is_along = table.before_green_m is not None
        is_placed = table.at is not None or table.x_m is not None or table.y_m is not None
        if is_along and is_placed:
            raise SurveyError("Give the place once: at, or x_m and y_m, or hole and before_green_m.")
        if is_along != (table.hole is not None) or (table.right_m is not None and not is_along):
            raise SurveyError("Along a hole a place is hole, before_green_m and, if it lies to the side, right_m.")
        if table.before_green_m is not None and table.hole is not None:
            return self.ground.before_green("", table.hole, table.before_green_m, table.right_m or 0.0)
        return self.ground.place("", table.at, table.x_m, table.y_m) if is_placed else None

    def _location(self, table: DayLocationTable) -> Feature:
        self.course.hole(table.hole)
        more = {"source": self.where, "of_the_day": self.table.date.isoformat()}
        if table.at is not None or table.x_m is not None or table.y_m is not None:
            place = self.ground.place("", table.at, table.x_m, table.y_m)
            if _written(table):
                raise SurveyError("Give the place once: at, or x_m and y_m, or on and left or right.")
            sigma_m = table.sigma_m if table.sigma_m is not None else self.table.sigma_m
            return location_at(self.course, table.hole, place, more, sigma_m=sigma_m)
        told = _written(table)
        if len(told) != 2 or not told[0][0].startswith("on_") or len({name.partition("_")[2] for name, _ in told}) != 1:
            raise SurveyError("Say on_paces and left_paces or right_paces, or all in metres (on_m, left_m, right_m), or at = [lon, lat].")
        (on_name, on), (side_name, from_edge) = told
        unit, side = on_name.partition("_")[2], Side(side_name.partition("_")[0])
        location = WrittenLocation(hole=table.hole, on=on, side=side, from_edge=from_edge, unit=unit)
        return location_feature(self.course, location, pace_m=self.table.pace_m, more=more)

    def _remarks(self, features: tuple[Feature, ...]) -> tuple[str, ...]:
        if not self.course.of_kind(FeatureKind.BOUNDARY):
            return ()
        outside = [feature.id for feature in features if not self.course.boundary.intersects(feature.geometry)]
        return (f"Outside the boundary: {', '.join(outside)}.",) if outside else ()


def _written(table: DayLocationTable) -> list[tuple[str, float]]:
    """The distances that are given, how far on first."""
    names = ("on_paces", "on_m", "left_paces", "right_paces", "left_m", "right_m")
    given = [(name, getattr(table, name)) for name in names]
    return [(name, float(value)) for name, value in given if value is not None]
