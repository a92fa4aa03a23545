"""What else is in the way of a ball at a point of relief: conditions other than the one that relief was from.

Relief is from one condition at a time (Decisions on the Rules of Golf 2016, 1-4/8): another one does not move the point, and is told.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from shapely.geometry import Point

from tests.published.geometry.oracle.answers import Oracle
from tests.published.geometry.oracle.asked import Asked
from tests.published.geometry.oracle.expected import Expected
from tests.published.geometry.oracle.ground import XY
from tests.published.geometry.oracle.nearest import Nearest
from tests.published.geometry.oracle.stance import Condition, clear_m, player

CONDITIONS = ("immovable-obstruction", "ground-under-repair", "temporary-water", "animal-hole")
REACH_M = 5.0


@dataclass(frozen=True)
class InTheWay:
    """Other conditions of one kind at a point: the least gap to them, below zero where they interfere, and where relief is next."""

    gap_m: float
    next_point: Nearest | None


def also_in_the_way(oracle: Oracle, asked: Asked, edition: str, first: Expected, at: XY) -> dict[str, InTheWay]:
    """For each kind of condition what it does to a ball at a point of relief.

    Args:
        oracle: The oracle.
        asked: The question.
        edition: The edition.
        first: The relief that led to the point.
        at: The point.
    """
    assert first.relief is not None
    hole, found = oracle.ground.holes[asked.hole], {}
    for kind in CONDITIONS:
        pairs = oracle.ground.conditions(kind)
        others = [Condition(*pair) for pair in pairs if not pair[0].equals(first.relief.condition.ground)]
        near = [each for each in others if each.ground.distance(Point(at)) <= REACH_M]
        gaps_m = [float(clear_m(np.array([at]), hole, player(asked.club, asked.hand), each)[0]) for each in near]
        gap_m = min(gaps_m, default=REACH_M)
        found[kind] = InTheWay(gap_m, _next(oracle, asked, edition, kind, at) if gap_m < 0 and kind != asked.situation else None)
    return found


def _next(oracle: Oracle, asked: Asked, edition: str, kind: str, at: XY) -> Nearest | None:
    there = replace(asked, situation=kind, ball=oracle.ground.projection.degrees(*at))
    return next((option.found for option in oracle.answer(there, edition).options if option.found is not None), None)
