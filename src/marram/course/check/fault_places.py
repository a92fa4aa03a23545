"""Where a fault lies: a place to go to, the holes that it touches, and names in a sentence."""

from __future__ import annotations

import re
from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position

NEAR_M = 60.0
"""What lies this near a hole's line, green or tee can matter to its players (a distance of our own)."""
_NAMED = 8
_OF_A_HOLE = frozenset({FeatureKind.LINE_OF_PLAY, FeatureKind.PUTTING_GREEN, FeatureKind.TEEING_AREA})


def inner_point(geometry: BaseGeometry) -> Position:
    """A place on a geometry to go and look at."""
    point = geometry.representative_point()
    return Position(x_m=float(point.x), y_m=float(point.y))


def listed(names: Sequence[str]) -> str:
    """The first names of a list, and how many more there are."""
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return ", ".join(names[:_NAMED]) + more


def in_order(name: str) -> tuple[tuple[int, int, str], ...]:
    """A key that sorts names as people count, ``tee-2`` before ``tee-10``."""
    parts = re.findall(r"[0-9]+|[^0-9]+", name)
    return tuple((0, int(part), "") if part.isdecimal() else (1, 0, part) for part in parts)


class HolesNear:
    """Tells which holes a feature touches: those that it serves, else those whose line, green or tee is near."""

    def __init__(self, course: Course) -> None:
        self._features = [feature for feature in course.features if feature.kind in _OF_A_HOLE and feature.holes]
        self._tree = shapely.STRtree([feature.geometry for feature in self._features])

    def holes_of(self, feature: Feature) -> tuple[int, ...]:
        """Numbers of the holes that a feature touches; the nearest hole where none is within 60 m, empty where there are no holes."""
        if feature.holes or feature.kind is FeatureKind.BOUNDARY or not self._features:
            return feature.holes
        near = self._tree.query(feature.geometry, predicate="dwithin", distance=NEAR_M).tolist()
        chosen = near or self._tree.query_nearest(feature.geometry).tolist()
        return tuple(sorted({number for each in chosen for number in self._features[each].holes}))
