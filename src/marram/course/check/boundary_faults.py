"""Faults of the boundary, and of what lies beyond it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import shapely
from shapely.geometry import MultiPolygon, Polygon

from marram.core.terms import FeatureKind
from marram.course.check.fault_places import HolesNear, inner_point
from marram.course.check.faults import Fault, FaultKind
from marram.course.course import Course
from marram.course.features import Feature

_SMALLEST_M2 = 0.5
_SHORTEST_M = 0.5
_MAY_LIE_OUT = frozenset(
    {
        FeatureKind.BOUNDARY,
        FeatureKind.BOUNDARY_OBJECT,
        FeatureKind.TREES,
        FeatureKind.IMMOVABLE_OBSTRUCTION,
        FeatureKind.PENALTY_AREA,
    }
)
"""Walls, woods, paths and streams run on beyond the edge without being wrong; of them only what lies wholly outside is told."""


def check_boundary(course: Course, near: HolesNear) -> Iterator[Fault]:
    """Whether there is a boundary, whether it was surveyed, and what lies outside it."""
    edges = course.of_kind(FeatureKind.BOUNDARY)
    if not edges:
        yield Fault(
            kind=FaultKind.NO_BOUNDARY,
            feature="",
            at=None,
            message="The course has no boundary, so nobody can say what is out of bounds or where the general area ends.",
            remedy="Walk the boundary and add it: `survey_course(source=WALK, onto=COURSE, feature=boundary, id=boundary)`.",
            stops_rulings=True,
        )
        return
    yield from _assumed(edges)
    parts = shapely.get_parts(course.boundary)
    if len(parts) > 1:
        sizes = ", ".join(f"{part.area / 10_000:.2f} ha" for part in sorted(parts, key=lambda part: -part.area))
        yield Fault(
            kind=FaultKind.BOUNDARY_IN_PIECES,
            feature=edges[0].id,
            at=inner_point(parts[-1]),
            message=f"The course lies in {len(parts)} pieces ({sizes}){_how_far(parts)}; what lies between them is out of bounds.",
            remedy=(
                "If players cross between them without being out of bounds, draw the boundary about both; "
                "if one is another course, leave it out."
            ),
            stops_rulings=False,
        )
    yield from _outside(course, near)


def _how_far(parts: Iterable[Polygon]) -> str:
    """How far the farthest piece lies from the nearest other one."""
    every = list(parts)
    apart_m = max(min(part.distance(other) for other in every if other is not part) for part in every)
    return f", up to {apart_m:.0f} m apart"


def _assumed(edges: tuple[Feature, ...]) -> Iterator[Fault]:
    for edge in edges:
        words = dict(edge.assumed).get("outline")
        if words is not None:
            yield Fault(
                kind=FaultKind.BOUNDARY_ASSUMED,
                feature=edge.id,
                at=inner_point(edge.geometry),
                message=f"The boundary was not surveyed but assumed: {words}.",
                remedy="Walk the boundary and add it: `survey_course(source=WALK, onto=COURSE, feature=boundary, id=boundary)`.",
                stops_rulings=True,
            )


def _outside(course: Course, near: HolesNear) -> Iterator[Fault]:
    ground = course.boundary
    shapely.prepare(ground)
    for feature in course.features:
        if feature.kind is FeatureKind.BOUNDARY or ground.covers(feature.geometry):
            continue
        told = _how_far_out(feature, ground)
        if told is not None:
            message, remedy = told
            yield Fault(
                kind=FaultKind.OUTSIDE_BOUNDARY,
                feature=feature.id,
                at=inner_point(feature.geometry),
                message=message,
                remedy=remedy,
                stops_rulings=False,
                holes=near.holes_of(feature),
            )


def _how_far_out(feature: Feature, ground: Polygon | MultiPolygon) -> tuple[str, str] | None:
    """What lies beyond the boundary, and what to do about it; None where that is as it should be."""
    if not ground.intersects(feature.geometry):
        if feature.kind is FeatureKind.BOUNDARY_OBJECT:
            return None
        return f"{feature.id} ({feature.noun}) lies wholly outside the boundary.", "Leave it out, or draw the boundary anew."
    if feature.kind in _MAY_LIE_OUT:
        return None
    out = feature.geometry.difference(ground)
    if feature.kind is FeatureKind.LINE_OF_PLAY and out.length >= _SHORTEST_M:
        return f"{out.length:.1f} m of {feature.id} run outside the boundary.", "Look whether the boundary is right there."
    if feature.kind is not FeatureKind.LINE_OF_PLAY and out.area >= _SMALLEST_M2:
        message = f"{out.area:.1f} m² of {feature.id} ({feature.noun}) lie outside the boundary and are cut off at its edge."
        return message, "Nothing to do where the edge is right; else draw the boundary or the feature anew."
    return None
