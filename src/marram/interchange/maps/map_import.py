"""A course from an OpenStreetMap file: read, built, numbered, named and marked."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from pathlib import Path

from shapely.geometry.base import BaseGeometry

from marram.core.errors import SurveyError
from marram.core.field_names import Field
from marram.core.terms import FeatureKind, Mark
from marram.core.work import Work
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.written_features import on_grid, written
from marram.interchange.courses.imported import Imported
from marram.interchange.maps.building import Ground, Raw, build_ground
from marram.interchange.maps.mapped_holes import Numbered, draw_lines, number_holes
from marram.interchange.maps.osm_reading import read_map

ATTRIBUTION = "Map data © OpenStreetMap contributors."
LICENCE = "Open Database License (ODbL) 1.0"
_SHORT = {
    FeatureKind.PUTTING_GREEN: "green",
    FeatureKind.TEEING_AREA: "tee",
    FeatureKind.LINE_OF_PLAY: "line",
    FeatureKind.HOLE_LOCATION: "hole",
    FeatureKind.TREES: "trees",
    FeatureKind.BUNKER: "bunker",
    FeatureKind.FAIRWAY: "fairway",
}
_OF_HOLES = frozenset({FeatureKind.PUTTING_GREEN, FeatureKind.TEEING_AREA, FeatureKind.LINE_OF_PLAY, FeatureKind.HOLE_LOCATION})
_ALL, _AS_PROPOSED = "all", "proposed"


@dataclass(frozen=True, slots=True, kw_only=True)
class MapOptions:
    """What the official decides when a map is brought in.

    Attributes:
        outline: Which golf course of the file, such as ``way/1`` or what it is called; empty where there is one.
        name: What the course is called; empty for the file's name.
        sigma_m: Accuracy that the official states, one standard deviation, metres; None where unknown.
        marks: How water is marked: a name of ours or of the map, ``all``, or ``proposed``, and the mark.
        holes: Which hole a green, tee or line serves: its name and the number; a thing that is named serves no others.
        draws_lines: Whether holes with a tee and a green and no line of play get a straight one.
    """

    outline: str = ""
    name: str = ""
    sigma_m: float | None = None
    marks: tuple[tuple[str, str], ...] = ()
    holes: tuple[tuple[str, int], ...] = field(default=())
    draws_lines: bool = False


def import_map(path: Path, options: MapOptions, work: Work | None = None) -> Imported:
    """Bring in a course from a map file.

    Args:
        path: OpenStreetMap data, XML or PBF.
        options: What the official decides.
        work: Told how far the reading is; it may be stopped.

    Raises:
        SurveyError: The file cannot be used, or an option names nothing in it.
    """
    ground = build_ground(read_map(path, options.outline, work), path.name)
    raws = [ground.boundary, *ground.raws]
    as_mapped = _names(raws, number_holes([replace(raw) for raw in raws], {}))
    numbered = number_holes(raws, _stated_holes(raws, as_mapped, options.holes, path.name))
    if options.draws_lines:
        draw_lines(raws, numbered)
    names = _names(raws, numbered)
    marks = _marks(raws, names, options.marks, path.name)
    features = [_feature(raw, names[place], place, numbered, marks, options) for place, raw in enumerate(raws)]
    features += [_location(number, point, words, options) for number, point, words in numbered.locations]
    course = Course(
        name=options.name or path.name.split(".")[0],
        frame=ground.frame,
        sigma_m=options.sigma_m,
        features=tuple(features),
        extra=json.dumps({"course": _head(path, ground, options)}, sort_keys=True),
    )
    return Imported(course=course, left_out=ground.left_out, remarks=(*ground.remarks, *numbered.remarks))


def _head(path: Path, ground: Ground, options: MapOptions) -> dict[str, object]:
    known: dict[str, object] = {} if options.sigma_m is None else {"sigma_m": options.sigma_m}
    return known | {
        "name": options.name or path.name.split(".")[0],
        "origin": [ground.frame.lon_deg, ground.frame.lat_deg],
        "source": path.name,
        "licence": LICENCE,
        "attribution": ATTRIBUTION,
        "left_out": [{"what": entry.what, "why": entry.why, "names": list(entry.names)} for entry in ground.left_out],
    }


# Names ---------------------------------------------------------------------------------------------------------------


def _names(raws: Sequence[Raw], numbered: Numbered) -> list[str]:
    """A readable name for each thing: by its hole where it serves one, else by its noun and a count."""
    counts: Counter[str] = Counter()
    alike = Counter((raw.kind, numbered.holes.get(place)) for place, raw in enumerate(raws) if numbered.holes.get(place))
    names = []
    for place, raw in enumerate(raws):
        if raw.kind is FeatureKind.BOUNDARY:
            names.append("boundary")
            continue
        short = _SHORT.get(raw.kind) or raw.what.replace(" ", "-") or raw.kind.value
        holes = numbered.holes.get(place, ())
        if holes:
            stem = f"{short}-{'-'.join(map(str, holes))}"
            counts[stem] += 1
            names.append(stem if alike[raw.kind, holes] == 1 else f"{stem}{_letter(counts[stem])}")
        else:
            stem = f"{short}-x" if raw.kind in _OF_HOLES else short
            counts[stem] += 1
            names.append(f"{stem}{'' if stem.endswith('x') else '-'}{counts[stem]}")
    return names


def _letter(number: int) -> str:
    """a, b, … z, then za, zb."""
    return chr(96 + number) if number <= 26 else "z" + _letter(number - 26)


# Decisions of the official -------------------------------------------------------------------------------------------


def _stated_holes(raws: Sequence[Raw], names: Sequence[str], asked: Sequence[tuple[str, int]], where: str) -> dict[int, tuple[int, ...]]:
    """The holes that the official states, by the thing's place in the list."""
    stated: dict[int, tuple[int, ...]] = {}
    for name, number in asked:
        places = [place for place in _named(raws, names, name, where, Field.HOLES) if raws[place].kind in _OF_HOLES]
        if not places:
            raise SurveyError(
                f"{name} serves no hole: only greens, tees, lines of play and hole locations do.", where=where, field=Field.HOLES
            )
        for place in places:
            stated[place] = tuple(sorted({*stated.get(place, ()), number}))
    return stated


def _named(raws: Sequence[Raw], names: Sequence[str], name: str, where: str, field_of: Field) -> list[int]:
    places = [place for place, raw in enumerate(raws) if name in {names[place], raw.source}]
    if not places:
        near = ", ".join(get_close_matches(name, [*names, *(raw.source for raw in raws)], n=3, cutoff=0.0))
        raise SurveyError(f"There is no {name!r} in the map.", where=where, field=field_of, hint=f"Nearest: {near}.")
    return places


def _marks(raws: Sequence[Raw], names: Sequence[str], asked: Sequence[tuple[str, str]], where: str) -> dict[int, Mark]:
    """The mark of each penalty area: as decided, else unmarked."""
    water = [place for place, raw in enumerate(raws) if raw.kind is FeatureKind.PENALTY_AREA]
    marks = dict.fromkeys(water, Mark.UNMARKED)
    # What is said of all comes first, whatever its place in the list, so that single areas can differ from it.
    for name, mark in sorted(asked, key=lambda entry: (entry[0] not in {_ALL, _AS_PROPOSED}, entry[0] != _ALL)):
        if name == _AS_PROPOSED:
            marks |= {place: proposed for place in water if (proposed := raws[place].proposed) is not None}
            continue
        if mark not in list(Mark):
            raise SurveyError(f"{mark!r} is no mark.", where=where, field=Field.MARKS.of(name), hint=f"Give one of {', '.join(Mark)}.")
        places = water if name == _ALL else _named(raws, names, name, where, Field.MARKS)
        if not set(places) <= set(water):
            raise SurveyError(f"{name} is no water, so it is not marked.", where=where, field=Field.MARKS, hint=_water_listed(names, water))
        marks |= dict.fromkeys(places, Mark(mark))
    return marks


def _water_listed(names: Sequence[str], water: Sequence[int]) -> str:
    return f"Water: {', '.join(names[place] for place in water) or 'none'}."


# Features ------------------------------------------------------------------------------------------------------------


def _feature(raw: Raw, name: str, place: int, numbered: Numbered, marks: Mapping[int, Mark], options: MapOptions) -> Feature:
    geometry: BaseGeometry = on_grid(raw.geometry)
    feature = Feature(
        id=name,
        kind=raw.kind,
        geometry=geometry,  # type: ignore[arg-type]
        holes=numbered.holes.get(place, ()),
        mark=marks.get(place),
        what=raw.what,
        sigma_m=options.sigma_m,
        par=numbered.par.get(place),
        stroke_index=numbered.stroke_index.get(place),
        proposed=raw.proposed,
        assumed=tuple(sorted(raw.assumed.items())),
        repaired="; ".join(raw.repaired),
    )
    return written(feature, dict(_more(raw)))


def _more(raw: Raw) -> Iterator[tuple[str, object]]:
    if raw.source:
        yield "source", raw.source
    if raw.kind is FeatureKind.TEEING_AREA and "tee" in raw.tags:
        yield "tee", raw.tags["tee"]


def _location(number: int, point: BaseGeometry, words: str, options: MapOptions) -> Feature:
    feature = Feature(
        id=f"hole-{number}",
        kind=FeatureKind.HOLE_LOCATION,
        geometry=on_grid(point),  # type: ignore[arg-type]
        holes=(number,),
        sigma_m=options.sigma_m,
        assumed=(("place", words),),
    )
    return written(feature, {})
