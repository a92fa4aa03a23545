"""Bring a survey in: map data, GeoJSON from elsewhere, stake walks, hole locations and tees, each by its own reader."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from marram.core.errors import SurveyError
from marram.core.field_names import Field
from marram.core.terms import FeatureKind, Mark
from marram.core.work import Work
from marram.course.course import Course
from marram.interchange.courses.hole_location_sheet import PACE_M, read_hole_locations
from marram.interchange.courses.imported import Imported
from marram.interchange.courses.stake_walk import Closing, Walked, add_stake_walk
from marram.interchange.courses.tee_sheet import read_tee_sheet
from marram.interchange.maps.foreign_geojson import Foreign, read_foreign_geojson
from marram.interchange.maps.foreign_terms import read_terms
from marram.interchange.maps.map_import import MapOptions, import_map


class SourceKind(StrEnum):
    """What a file brings."""

    MAP = "map"
    GEOJSON = "geojson"
    WALK = "walk"
    HOLE_LOCATIONS = "hole-locations"
    TEES = "tees"


_BY_ENDING = {
    ".osm": SourceKind.MAP,
    ".osm.gz": SourceKind.MAP,
    ".osm.bz2": SourceKind.MAP,
    ".pbf": SourceKind.MAP,
    ".geojson": SourceKind.GEOJSON,
    ".json": SourceKind.GEOJSON,
    ".gpx": SourceKind.WALK,
}
_ONTO = frozenset({SourceKind.WALK, SourceKind.HOLE_LOCATIONS, SourceKind.TEES})


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyOptions:
    """What the official states about a source; what does not apply to it is an error, not ignored.

    Attributes:
        onto: The course to which a walk, hole locations or tees are added; None for a new course.
        kind: What the file brings; None to tell by its ending.
        outline: Which golf course of a map.
        name: What the course is called.
        sigma_m: Accuracy, one standard deviation, metres.
        draws_lines: Whether holes of a map without a line of play get a straight one.
        marks: ``NAME=MARK`` for a map, one plain mark for a walk.
        holes: ``NAME=NUMBER`` for a map, plain numbers for a walk.
        properties: ``OURS=THEIRS`` for GeoJSON.
        values: ``THEIRS=OURS`` for GeoJSON.
        feature: Kind of the feature that a walk makes.
        id: Its name.
        what: Its noun.
        close: How it is closed.
        width_m: Width of a walked line.
        radius_m: Radius of a single walked point.
        track: Which track of the file.
        pace_m: Length of a pace.
    """

    onto: Course | None = None
    kind: SourceKind | None = None
    outline: str = ""
    name: str = ""
    sigma_m: float | None = None
    draws_lines: bool = False
    marks: tuple[str, ...] = ()
    holes: tuple[str, ...] = ()
    properties: tuple[str, ...] = ()
    values: tuple[str, ...] = ()
    feature: str = ""
    id: str = ""
    what: str = ""
    close: str = Closing.RING.value
    width_m: float | None = None
    radius_m: float | None = None
    track: str = ""
    pace_m: float = PACE_M


def survey_course(source: Path, options: SurveyOptions, work: Work | None = None) -> Imported:
    """Bring a source in.

    Args:
        source: The file. A map is read in passes and never held whole, so this job takes what it reads from as a file.
        options: What the official states.
        work: Told how far the reading of a map is; it may be stopped.

    Raises:
        SurveyError: The file cannot be used, or an option does not fit it.
    """
    kind = options.kind or _kind_of(source)
    if kind in _ONTO and options.onto is None:
        raise SurveyError(
            f"{kind.value.replace('-', ' ').capitalize()} are added to a course.", where=source.name, hint="Name it in `onto`."
        )
    if kind not in _ONTO and options.onto is not None:
        raise SurveyError("A map makes a course of its own and is not added to one.", where=source.name, hint="Leave `onto` out.")
    if kind is SourceKind.MAP:
        return import_map(source, _map_options(source, options), work)
    if kind is SourceKind.GEOJSON:
        terms = read_terms(options.properties, options.values)
        return read_foreign_geojson(source, Foreign(terms=terms, name=options.name, sigma_m=options.sigma_m))
    assert options.onto is not None
    return _ADDERS[kind](options.onto, source, options)


def _kind_of(source: Path) -> SourceKind:
    name = source.name.lower()
    found = next((kind for ending, kind in _BY_ENDING.items() if name.endswith(ending)), None)
    if found is None:
        kinds = ", ".join(SourceKind)
        raise SurveyError("What the file brings cannot be told from its ending.", where=source.name, hint=f"Say it in `kind`: {kinds}.")
    return found


def _map_options(source: Path, options: SurveyOptions) -> MapOptions:
    return MapOptions(
        outline=options.outline,
        name=options.name,
        sigma_m=options.sigma_m,
        draws_lines=options.draws_lines,
        marks=tuple(_pair(source, Field.MARKS, text) if text != "proposed" else ("proposed", "") for text in options.marks),
        holes=tuple((name, _number(source, text)) for name, text in (_pair(source, Field.HOLES, text) for text in options.holes)),
    )


def _pair(source: Path, field: Field, text: str) -> tuple[str, str]:
    name, _, value = text.partition("=")
    if not name or not value:
        raise SurveyError(f"{text!r} is not of the form NAME=VALUE.", where=source.name, field=field, hint=f"Such as `{field}=pond-1=red`.")
    return name, value


def _number(source: Path, text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 99:
        raise SurveyError(f"{text!r} is no hole number.", where=source.name, field=Field.HOLES, hint="Give a whole number from 1.")
    return int(text)


def _add_walk(course: Course, source: Path, options: SurveyOptions) -> Imported:
    kinds = ", ".join(FeatureKind)
    if options.feature not in list(FeatureKind) or not options.id:
        raise SurveyError("Say what was walked.", where=source.name, hint=f"Give `feature`, one of {kinds}, and a name in `id`.")
    mark = options.marks[-1] if options.marks else None
    if mark is not None and mark not in list(Mark):
        raise SurveyError(f"{mark!r} is no mark.", where=source.name, field=Field.MARKS, hint=f"Give one of {', '.join(Mark)}.")
    walked = Walked(
        kind=FeatureKind(options.feature),
        id=options.id,
        mark=None if mark is None else Mark(mark),
        holes=tuple(_number(source, number) for text in options.holes for number in text.split(",")),
        what=options.what,
        close=Closing(options.close),
        width_m=options.width_m,
        radius_m=options.radius_m,
        sigma_m=options.sigma_m,
        track=options.track,
    )
    return add_stake_walk(course, source, walked)


def _add_locations(course: Course, source: Path, options: SurveyOptions) -> Imported:
    return read_hole_locations(course, source, pace_m=options.pace_m)


def _add_tees(course: Course, source: Path, options: SurveyOptions) -> Imported:
    return read_tee_sheet(course, source)


_ADDERS: dict[SourceKind, Callable[[Course, Path, SurveyOptions], Imported]] = {
    SourceKind.WALK: _add_walk,
    SourceKind.HOLE_LOCATIONS: _add_locations,
    SourceKind.TEES: _add_tees,
}


def unmarked_water(course: Course) -> Sequence[str]:
    """Names of the water that nobody has marked yet."""
    return [feature.id for feature in course.of_kind(FeatureKind.PENALTY_AREA) if feature.mark is Mark.UNMARKED]
