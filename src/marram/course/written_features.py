"""Features made here, with the properties that the course file holds for them, and features put into a course."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature


def written(feature: Feature, more: Mapping[str, object]) -> Feature:
    """A feature with its properties as the course file will hold them.

    Args:
        feature: The feature.
        more: Properties that Marram keeps and does not read, such as ``source``.

    Returns:
        The feature; its accuracy is always written, and as null where unknown, so that the course's own is not taken for it.
    """
    own = {name: value for name, value in _own(feature) if value not in ("", None, [], {})}
    properties = {"id": feature.id, "kind": feature.kind.value, "sigma_m": feature.sigma_m, **own, **more}
    return replace(feature, properties=json.dumps(properties, sort_keys=True))


def _own(feature: Feature) -> Iterator[tuple[str, object]]:
    yield "holes", list(feature.holes)
    yield "mark", None if feature.mark is None else feature.mark.value
    yield "what", feature.what
    yield "serves", feature.serves
    yield "named", feature.named
    yield "stands", feature.stands
    yield "par", feature.par
    yield "stroke_index", feature.stroke_index
    yield "proposed", None if feature.proposed is None else feature.proposed.value
    yield "assumed", dict(feature.assumed)
    yield "repaired", feature.repaired


def with_properties(feature: Feature, more: Mapping[str, object]) -> Feature:
    """A feature with some of its written properties changed; None takes one away."""
    properties = json.loads(feature.properties) | dict(more)
    kept = {name: value for name, value in properties.items() if value is not None or (name == "sigma_m" and name not in more)}
    return replace(feature, properties=json.dumps(kept, sort_keys=True))


def put_in(course: Course, feature: Feature) -> Course:
    """The course with a feature in the place of the one of the same name, or at the end."""
    if any(other.id == feature.id for other in course.features):
        return replace(course, features=tuple(feature if other.id == feature.id else other for other in course.features))
    return replace(course, features=(*course.features, feature))


def with_location(course: Course, location: Feature) -> Course:
    """The course with a hole location in the place of the one that its hole had."""
    numbers = set(location.holes)
    kept = [feature for feature in course.features if feature.kind is not FeatureKind.HOLE_LOCATION or not numbers & set(feature.holes)]
    shared = [
        with_properties(replace(feature, holes=rest), {"holes": list(rest)})
        for feature in course.features
        if feature.kind is FeatureKind.HOLE_LOCATION and numbers & set(feature.holes) and (rest := _others(feature, numbers))
    ]
    return replace(course, features=(*kept, *shared, location))


def _others(feature: Feature, numbers: set[int]) -> tuple[int, ...]:
    return tuple(number for number in feature.holes if number not in numbers)


def on_grid(geometry: BaseGeometry) -> BaseGeometry:
    """A geometry on whole millimetres, as the course file is read."""
    return shapely.transform(geometry, lambda xy: xy.round(3))
