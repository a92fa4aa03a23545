"""Conditions that lie over the areas of the course: things of one kind that touch are one for whoever stands on both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.joining import ACCURACY_SIGMAS, JOINED_M, groups_touching

WRONG_GREEN = "wrong-green"
"""What the rule data calls the greens of other holes among the kinds of condition."""
WIDEST_GAP_M = 0.05
"""A gap wider than a tape can tell on rough ground is one, however coarse the survey (common practice)."""


@dataclass(frozen=True, kw_only=True)
class Condition:
    """All things of one kind that hang together.

    Attributes:
        features: The surveyed things, by name.
        geometry: Their ground together, metres.
        standing: What of it rises above the ground; empty where nothing does.
        is_by_accuracy: Whether some of them are drawn apart, by less than the survey can tell.
    """

    features: tuple[Feature, ...]
    geometry: BaseGeometry
    standing: Polygon | MultiPolygon
    is_by_accuracy: bool = False

    @cached_property
    def names(self) -> frozenset[str]:
        """Names of the things."""
        return frozenset(feature.id for feature in self.features)

    @cached_property
    def _grounds(self) -> NDArray[np.object_]:
        return np.array([feature.geometry for feature in self.features], dtype=object)

    @cached_property
    def _is_standing(self) -> bool:
        return all(feature.is_standing for feature in self.features)

    def seen_from(self, position: Position) -> Feature:
        """The condition under the name of the thing nearest to a place; it stands up only where all of it does."""
        if len(self.features) == 1:
            return self.features[0]
        # Of things equally near the first by name counts; they stand by name.
        nearest = self.features[int(shapely.distance(self._grounds, Point(position.xy)).argmin())]
        return replace(nearest, geometry=self.geometry, stands=self._is_standing)  # type: ignore[arg-type]

    def near(self, position: Position, reach_m: float) -> tuple[Feature, ...]:
        """The things of it that lie within reach of a place."""
        if not shapely.dwithin(self.geometry, Point(position.xy), reach_m):
            return ()
        is_near = shapely.dwithin(self._grounds, Point(position.xy), reach_m)
        return tuple(self.features[number] for number in np.flatnonzero(is_near).tolist())


def join_conditions(features: Sequence[Feature]) -> tuple[Condition, ...]:
    """Join things of one kind that touch, or lie apart by less than the survey can tell.

    Args:
        features: Things of one kind, in any order.

    Returns:
        The conditions, by the first name in each.
    """
    named = sorted(features, key=lambda feature: feature.id)
    grounds = [feature.geometry for feature in named]
    touching = {number: group for group in groups_touching(grounds) for number in group}
    joined = groups_touching(grounds, _widest_gap_m(named))
    return tuple(_condition([named[number] for number in group], group != touching[group[0]]) for group in joined)


def _widest_gap_m(features: Sequence[Feature]) -> float:
    """The widest gap that counts as none: what the survey cannot tell, but never more than a tape can."""
    sigmas_m = [WIDEST_GAP_M if feature.sigma_m is None else ACCURACY_SIGMAS * feature.sigma_m for feature in features]
    return max(JOINED_M, min(WIDEST_GAP_M, max(sigmas_m, default=0.0)))


def _condition(features: Sequence[Feature], is_by_accuracy: bool) -> Condition:  # noqa: FBT001
    standing = [feature.geometry for feature in features if feature.is_standing]
    together = features[0].geometry if len(features) == 1 else shapely.union_all([feature.geometry for feature in features])
    upright = [part for part in shapely.get_parts(shapely.union_all(standing)) if isinstance(part, Polygon)]
    return Condition(features=tuple(features), geometry=together, standing=MultiPolygon(upright), is_by_accuracy=is_by_accuracy)


def wrong_greens(greens: Sequence[Feature], hole: int) -> tuple[Feature, ...]:
    """The greens of other holes, without what of them is the green of the hole being played.

    Args:
        greens: All putting greens.
        hole: Number of the hole being played.
    """
    own = shapely.union_all([green.geometry for green in greens if hole in green.holes])
    others = []
    for green in (green for green in greens if hole not in green.holes):
        ground = green.geometry.difference(own) if green.geometry.intersects(own) else green.geometry
        if isinstance(ground, Polygon | MultiPolygon) and not ground.is_empty:
            noun = f"green of hole {green.holes[0]}" if green.holes else "wrong green"
            others.append(replace(green, geometry=ground, what=noun))
    return tuple(others)
