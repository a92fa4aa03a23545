"""The same ground drawn otherwise: outlines cut into parts that touch, features in another order, and rulings told as numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import split

from marram.course.course import Course
from marram.course.features import Feature
from marram.rulings import Ruling


def cut_in_parts(feature: Feature, rng: np.random.Generator, cuts: int) -> list[Feature]:
    """A feature cut along straight lines near its middle into features of their own, on whole millimetres as a file holds them."""
    parts: list[BaseGeometry] = [feature.geometry]
    middle, reach_m = feature.geometry.representative_point(), 2 * math.sqrt(feature.geometry.area) + feature.geometry.length
    for _ in range(cuts):
        turn = float(rng.uniform(0, math.pi))
        x, y = middle.x + float(rng.normal(0, 1)), middle.y + float(rng.normal(0, 1))
        east, north = reach_m * math.cos(turn), reach_m * math.sin(turn)
        blade = LineString([(x - east, y - north), (x + east, y + north)])
        parts = [piece for part in parts for piece in split(part, blade).geoms]
    rounded = [shapely.transform(part, lambda xy: xy.round(3)) for part in parts]
    kept = [part for part in rounded if isinstance(part, Polygon) and part.is_valid and part.area > 0.02]
    return [replace(feature, id=f"{feature.id}-part-{number}", geometry=part) for number, part in enumerate(kept)]


def cut_at_corners(feature: Feature, rng: np.random.Generator, count: int) -> list[Feature]:
    """A star-shaped feature cut from a place in its middle to some of its corners: the parts share their edges to the last digit."""
    assert isinstance(feature.geometry, Polygon)
    ring = list(feature.geometry.exterior.coords)[:-1]
    middle = tuple(round(value, 3) for value in (feature.geometry.centroid.x, feature.geometry.centroid.y))
    ends = sorted(rng.choice(len(ring), count, replace=False).tolist())
    parts = [
        Polygon([middle, *(ring[number % len(ring)] for number in range(first, last + 1))])
        for first, last in zip(ends, [*ends[1:], ends[0] + len(ring)], strict=True)
    ]
    return [replace(feature, id=f"{feature.id}-part-{number}", geometry=part) for number, part in enumerate(parts)]


def shuffled(course: Course, rng: np.random.Generator) -> Course:
    """The course with its features in another order."""
    return replace(course, features=tuple(course.features[number] for number in rng.permutation(len(course.features))))


def with_parts(course: Course, name: str, parts: Sequence[Feature]) -> Course:
    """The course with a feature's parts in its place."""
    return replace(course, features=tuple(part for each in course.features for part in (parts if each.id == name else (each,))))


def numbers_of(ruling: Ruling) -> dict[str, list[float]]:
    """What a ruling measures: under each option its points, its area, its stretches of a line, its margin."""
    told: dict[str, list[float]] = {}
    for option in ruling.options:
        numbers = [number for reference in option.references for number in reference.position.xy]
        numbers += [] if option.relief_area is None else [option.relief_area.area_m2]
        numbers += [] if option.line is None else [end_m for stretch in option.line.intervals_m for end_m in stretch]
        numbers += [] if option.margin_m is None else [option.margin_m]
        told[f"{option.procedure}/{option.carried_out_as}"] = numbers
    return told


def words_of(ruling: Ruling) -> list[str]:
    """What a ruling closes and asks."""
    return [entry.because for entry in ruling.not_available] + [entry.question for entry in ruling.facts_needed]
