"""Faults of outlines: mended ones, and areas of the course that lie over each other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from marram.core.terms import FeatureKind, Mark
from marram.core.units import BALL_RADIUS_M
from marram.course.check.fault_places import HolesNear, inner_point
from marram.course.check.faults import Fault, FaultKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.mending import has_crossed, is_slight
from marram.course.partition import smaller_first

_ORDER = (FeatureKind.PENALTY_AREA, FeatureKind.BUNKER, FeatureKind.PUTTING_GREEN, FeatureKind.TEEING_AREA)
"""Which area comes first where two lie over each other (partition)."""
_HAVE_WIDTH = frozenset(
    {*_ORDER, FeatureKind.BOUNDARY, FeatureKind.GROUND_UNDER_REPAIR, FeatureKind.NO_PLAY_ZONE, FeatureKind.DROPPING_ZONE}
)
"""A wire or a rail may be thinner than a ball; ground may not."""
_SMALLEST_M2 = 0.5
_MOST_CORNERS = 10_000
"""No walk and no map has as many (a guard of our own); with 30,000 the check of the marking takes a minute or more."""


def check_outlines(course: Course, near: HolesNear) -> Iterator[Fault]:
    """Mended outlines, and overlaps with which area wins and by how much."""
    for feature in course.features:
        if feature.repaired:
            yield _mended(feature, near)
        if feature.kind in _HAVE_WIDTH and feature.geometry.buffer(-BALL_RADIUS_M).is_empty:
            yield _without_width(feature, near)
        if (count := _corners(feature)) > _MOST_CORNERS:
            yield _with_many_corners(feature, count, near)
    yield from _overlaps([feature for feature in course.features if feature.kind in _ORDER], near)


def _mended(feature: Feature, near: HolesNear) -> Fault:
    stops = feature.kind in {*_ORDER, FeatureKind.BOUNDARY} and not is_slight(feature.repaired)
    remedy = "Draw or walk it anew; until then measure on the ground there." if stops else "Look at it on the ground when you are near."
    return Fault(
        kind=FaultKind.SELF_CROSSING if has_crossed(feature.repaired) else FaultKind.OPEN_RING,
        feature=feature.id,
        at=inner_point(feature.geometry),
        message=f"{feature.id} ({feature.noun}) was not sound: {feature.repaired}.",
        remedy=remedy,
        stops_rulings=stops,
        holes=near.holes_of(feature),
    )


def _without_width(feature: Feature, near: HolesNear) -> Fault:
    along_m = feature.geometry.length / 2
    return Fault(
        kind=FaultKind.NO_WIDTH,
        feature=feature.id,
        at=inner_point(feature.geometry),
        message=(
            f"{feature.id} ({feature.noun}) is nowhere as wide as a ball: {feature.geometry.area:.3f} m² along {along_m:.1f} m, "
            "so no ball lies in it and no edge of it can be trusted."
        ),
        remedy="Draw both sides of it, or bring it in as a line with its width: `survey_course(source=WALK, onto=COURSE, width_m=M)`.",
        stops_rulings=False,
        holes=near.holes_of(feature),
    )


def _corners(feature: Feature) -> int:
    """How many corners its outline has; the one at which a ring is closed counts once."""
    rings = shapely.get_parts(feature.geometry.boundary) if feature.geometry.area else ()
    return int(shapely.get_num_coordinates(feature.geometry)) - len(rings)


def _with_many_corners(feature: Feature, count: int, near: HolesNear) -> Fault:
    apart_m = feature.geometry.length / count
    return Fault(
        kind=FaultKind.MANY_CORNERS,
        feature=feature.id,
        at=inner_point(feature.geometry),
        message=f"{feature.id} ({feature.noun}) has {count:,} corners, one every {apart_m:.3f} m: finer than any survey, and slow.",
        remedy="Draw it with corners as far apart as its accuracy asks for, and bring it in again.",
        stops_rulings=False,
        holes=near.holes_of(feature),
    )


def _overlaps(areas: Sequence[Feature], near: HolesNear) -> Iterator[Fault]:
    if not areas:  # an empty tree cannot be asked about nothing
        return
    tree = shapely.STRtree([feature.geometry for feature in areas])
    for first, second in tree.query([feature.geometry for feature in areas], predicate="intersects").T.tolist():
        if first >= second:
            continue
        over, under = sorted((areas[first], areas[second]), key=lambda feature: (_ORDER.index(feature.kind), smaller_first(feature)))
        if _is_one(over, under):
            continue
        shared = over.geometry.intersection(under.geometry)
        if shared.area >= _SMALLEST_M2:
            yield _overlap(over, under, shared, tuple(sorted({*near.holes_of(over), *near.holes_of(under)})))


def _is_one(over: Feature, under: Feature) -> bool:
    """Whether two areas are told as one: water under one mark, and greens or tees of several holes."""
    if over.kind is not under.kind:
        return False
    if over.kind is FeatureKind.PENALTY_AREA:
        return over.mark is under.mark
    return over.kind is not FeatureKind.BUNKER and bool(set(under.holes) ^ set(over.holes))


def _overlap(over: Feature, under: Feature, shared: BaseGeometry, holes: tuple[int, ...]) -> Fault:
    share = shared.area / under.geometry.area
    wins = f"{over.id} ({_noun(over)}) comes first there"
    return Fault(
        kind=FaultKind.OVERLAP,
        feature=under.id,
        at=inner_point(shared),
        message=f"{shared.area:.1f} m² of {under.id} ({_noun(under)}, {share:.0%} of it) lie under {over.id}; {wins}.",
        remedy="Nothing to do where that is so on the ground; else draw one of the two anew.",
        stops_rulings=False,
        holes=holes,
    )


def _noun(feature: Feature) -> str:
    is_marked = feature.mark is not None and feature.mark is not Mark.UNMARKED
    return f"{feature.mark} {feature.noun}" if is_marked else feature.noun
