"""The ground of the local rule in place of stroke and distance: from where the ball was lost across to the fairway."""

from __future__ import annotations

from dataclasses import dataclass

import shapely

from marram.core.citations import Cited
from marram.core.terms import FeatureKind
from marram.core.units import Size
from marram.course.partition import polygons_of
from marram.relief.area.area import ReliefArea
from marram.relief.area.band import Band
from marram.relief.area.fairway_point import nearest_point_on_ground
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import FoundPoint, Reference
from marram.rulings.measure.ground import measure_on
from marram.rulings.measure.references import Referred


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredBand:
    """The band on the ground.

    Attributes:
        references: Where the ball was lost or left the course, and the fairway point.
        area: The relief area.
        no_nearer_m: Least distance from the hole.
        size: Margin outside either line, as stated.
        size_m: The same on the ground.
    """

    references: tuple[Reference, ...]
    area: ReliefArea
    no_nearer_m: float
    size: Cited[Size]
    size_m: float


def measure_band(procedure: Procedure, found: Referred) -> MeasuredBand | None:
    """Measure the band; None where the course has no fairway that is not nearer the hole."""
    case = procedure.case
    fairways = [feature.geometry for feature in case.course.of_kind(FeatureKind.FAIRWAY)]
    if not found.points or not fairways:
        return None
    start = found.points[0].position
    fairway = polygons_of(shapely.union_all(fairways))
    point = nearest_point_on_ground(start, case.hole_at, fairway)
    if point is None:
        return None
    size, size_m = procedure.size()
    least_x, least_y, most_x, most_y = case.course.boundary.bounds
    shape = Band(
        first=start,
        second=point,
        hole=case.hole_at,
        margin_m=size_m,
        least_m=start.distance_m(case.hole_at),
        far_m=2 * max(most_x - least_x, most_y - least_y),
    )
    references = (found.points[0], Reference(position=point, kind=FoundPoint.FAIRWAY, distance_m=point.distance_m(start)))
    area = measure_on(procedure, shape, start)
    return MeasuredBand(references=references, area=area, no_nearer_m=shape.least_m, size=size, size_m=size_m)
