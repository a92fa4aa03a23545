"""Which edge a ball crossed, of the water that holds it and of water of other marks that this meets.

Lateral relief hangs on the mark of the edge that was crossed last (Rules of Golf 2016, Rule 26-1c; January 2019, Rule 17.1d(3)). The edge
nearest to the place that was stated is meant; where one of another mark runs as near, as far as estimate and survey can tell, an official
asks (docs/design/parts.md). Relief leads out of the water that holds the ball and of that whose edge it crossed.
"""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from tests.published.geometry.oracle.ground import TOUCHES_M, XY, Ground, Part
from tests.published.geometry.oracle.outlines import on_edge

_FARTHEST_M, _SAME_M = 2.0, 0.02
"""Of edges whose survey nobody knows, one 2 m farther off may be meant; one 2 cm farther off nobody can tell from the nearest."""


@dataclass(frozen=True)
class Crossed:
    """Where a ball crossed an edge.

    Attributes:
        at: The place on the edge.
        part: The water whose edge it is.
        left: What relief leads out of.
        must_ask: Whether nobody could tell which of two marks was crossed.
        may_ask: Whether an official may ask.
        is_sure: Whether rounding of the outlines cannot change which water is meant.
    """

    at: XY
    part: Part
    left: BaseGeometry
    must_ask: bool
    may_ask: bool
    is_sure: bool


def where_crossed(ground: Ground, stated: XY, holding: Part | None, mark: str | None) -> Crossed:
    """Where a ball crossed an edge.

    Args:
        ground: The course.
        stated: Where somebody says that it crossed.
        holding: The water that holds the ball; None where it has not been found.
        mark: The mark of the edge, where that has been said.
    """
    point = Point(stated)
    met = ground.water if holding is None else [holding, *(part for part in ground.water if _meets(part, holding))]
    off_m = {id(part): float(part.ground.boundary.distance(point)) for part in met}
    ranked = sorted(met, key=lambda part: (off_m[id(part)], float(part.ground.distance(point)), part is not holding))
    nearest_m = off_m[id(ranked[0])]
    others_m = [off_m[id(part)] - nearest_m for part in ranked if part.mark != ranked[0].mark]
    may_ask = min(others_m, default=9.0) <= max(_FARTHEST_M, nearest_m)
    part = ranked[0] if mark is None else next(part for part in ranked if part.mark == mark)
    apart_m = [off_m[id(other)] - off_m[id(part)] for other in met if other is not part and other.mark == part.mark]
    return Crossed(
        at=on_edge(stated, part.ground),
        part=part,
        left=part.ground if holding is None else shapely.union_all([holding.ground, part.ground]),
        must_ask=mark is None and min(others_m, default=9.0) <= _SAME_M,
        may_ask=mark is None and may_ask,
        is_sure=holding is not None or not any(abs(each_m) <= 0.003 for each_m in apart_m),
    )


def _meets(part: Part, holding: Part) -> bool:
    return part.mark != holding.mark and bool(shapely.dwithin(part.ground, holding.ground, TOUCHES_M))
