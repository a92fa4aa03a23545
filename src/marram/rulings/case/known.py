"""What is known of a case: stated by the official, seen from the survey, or settled by a test that the rule data gives."""

from __future__ import annotations

from collections.abc import Callable

from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, FeatureKind
from marram.core.units import BALL_RADIUS_M
from marram.course.features import Feature
from marram.course.locate import TOUCH_M, locate
from marram.rulebook.named_facts import NamedFact
from marram.rulings.case.case import Case

_REACH_M = 5.0


def known(case: Case, fact: str) -> bool | None:
    """Whether a fact is true, false, or not known."""
    stated = case.incident.facts.get(fact)
    if stated is not None:
        return stated
    seen = _SEEN.get(fact)
    return seen(case) if seen is not None else _tested(case, fact)


def _tested(case: Case, fact: str) -> bool | None:
    """The outcome of the edition's own test of a fact, where it has one."""
    row = case.book.tests.get(fact)
    if row is None:
        return None
    asked = [case.incident.facts.get(name) for name in case.book.words(f"{row}.all_of").value]
    against = [case.incident.facts.get(name) for name in case.book.words(f"{row}.none_of").value]
    if False in asked or True in against:
        return False
    return True if None not in asked + against else None


def zones_for(case: Case) -> tuple[Feature, ...]:
    """The dropping zones that serve the hole and the penalty area; one that names none serves all."""
    zones = case.course.of_kind(FeatureKind.DROPPING_ZONE)
    left = {feature.id for feature in case.penalty_area.features} if case.penalty_area is not None else set()
    return tuple(
        zone for zone in zones if (not zone.holes or case.incident.hole in zone.holes) and (not zone.serves or zone.serves in left)
    )


def _dropping_zone_here(case: Case) -> bool:
    return bool(zones_for(case))


def _previous_stroke_from_penalty_area(case: Case) -> bool | None:
    previous = case.incident.previous_stroke
    if previous is None:
        return None
    if previous.area is not None:
        return previous.area is Area.PENALTY_AREA
    return previous.at is not None and locate(case.course, case.incident.hole, previous.at).area is Area.PENALTY_AREA


def _zones_near(case: Case) -> list[Feature]:
    """No play zones near the ball; where protected trees are asked about, these are the zones."""
    if case.place is None:
        return []
    ball = Point(case.place.position.xy)
    kinds = case.book.words(f"situation.{case.incident.situation}.conditions").value
    kind = FeatureKind.YOUNG_TREE if FeatureKind.YOUNG_TREE.value in kinds else FeatureKind.NO_PLAY_ZONE
    return [zone for zone in case.course.of_kind(kind) if zone.geometry.distance(ball) <= _REACH_M]


def _ball_in_zone(case: Case) -> bool | None:
    if case.place is None:
        return None
    ball = Point(case.place.position.xy)
    return any(zone.geometry.distance(ball) <= BALL_RADIUS_M + TOUCH_M for zone in _zones_near(case))


def _zone_elsewhere(case: Case) -> bool:
    """Whether the zone near the ball lies, for the most part, out of bounds or in a penalty area."""
    return any(_lies_beyond(case, zone.geometry) for zone in _zones_near(case))


def _lies_beyond(case: Case, zone: BaseGeometry) -> bool:
    areas = [area.geometry for area in case.course.penalty_areas if area.geometry.intersects(zone)]
    beyond_m2 = zone.difference(case.course.boundary).area + sum(zone.intersection(area).area for area in areas)
    return bool(beyond_m2 > zone.area / 2)


def _on_fairway_height(case: Case) -> bool | None:
    """Surveyed fairways are cut to fairway height; of other ground the survey says nothing unless fairways were surveyed."""
    fairways = case.course.of_kind(FeatureKind.FAIRWAY)
    if case.place is None or not fairways:
        return None
    ball = Point(case.place.position.xy)
    return any(fairway.geometry.distance(ball) <= BALL_RADIUS_M for fairway in fairways)


_SEEN: dict[str, Callable[[Case], bool | None]] = {
    NamedFact.DROPPING_ZONE_HERE: _dropping_zone_here,
    NamedFact.PREVIOUS_STROKE_FROM_PENALTY_AREA: _previous_stroke_from_penalty_area,
    NamedFact.BALL_IN_ZONE: _ball_in_zone,
    NamedFact.ZONE_ELSEWHERE: _zone_elsewhere,
    NamedFact.ON_FAIRWAY_HEIGHT: _on_fairway_height,
}
