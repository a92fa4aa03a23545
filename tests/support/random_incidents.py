"""Random incidents over a course: every situation, balls where such a thing can happen and now and then where it cannot."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from shapely.geometry import MultiPoint, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, Club, FeatureKind, Form, Hand
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.rulings import Choice, Incident, Player, PreviousStroke

# kinds of condition that the demo course does not hold, laid about the ball
_LAID = {
    "dangerous-animal": FeatureKind.DANGEROUS_ANIMAL,
    "young-tree": FeatureKind.YOUNG_TREE,
    "aeration-hole": FeatureKind.AERATION_HOLE,
    "temporary-immovable-obstruction": FeatureKind.TEMPORARY_IMMOVABLE_OBSTRUCTION,
}
_SURVEYED = {
    "immovable-obstruction": FeatureKind.IMMOVABLE_OBSTRUCTION,
    "ground-under-repair": FeatureKind.GROUND_UNDER_REPAIR,
    "temporary-water": FeatureKind.TEMPORARY_WATER,
    "animal-hole": FeatureKind.ANIMAL_HOLE,
    "no-play-zone": FeatureKind.NO_PLAY_ZONE,
    "wrong-green": FeatureKind.PUTTING_GREEN,
    "penalty-area": FeatureKind.PENALTY_AREA,
}
_GROUNDS = (Area.BUNKER, Area.PUTTING_GREEN, Area.TEEING_AREA, Area.PENALTY_AREA)


def random_incident(course: Course, situation: str, facts: Sequence[str], random: np.random.Generator) -> Incident:
    """One incident of a situation; of the facts that a book may ask for, each is yes, no or not known."""
    hole = int(random.choice(list(course.holes)))
    near = _near(course, situation, hole, random)
    ball = Position(x_m=near.x_m + random.normal(0, 0.7), y_m=near.y_m + random.normal(0, 0.7))
    known = {fact: bool(random.random() < 0.5) for fact in facts if random.random() < 0.6}
    return Incident(
        hole=hole,
        situation=situation,
        form=Form.STROKE_PLAY,
        ball=None if random.random() < 0.15 else ball,
        player=Player(
            hand=Hand.LEFT if random.random() < 0.3 else Hand.RIGHT,
            longest_club_in=float(random.uniform(38, 46)),
            club=list(Club)[int(random.integers(len(Club)))],
        ),
        facts=known,
        crossed_at=_crossing(course, situation, ball, random),
        previous_stroke=_stroke(course, random),
        last_stroke_outside=_stroke(course, random),
        estimated_at=ball if random.random() < 0.5 else None,
        choice=Choice(back_m=float(random.choice([1.0, 5.0, 30.0])) if random.random() < 0.6 else None),
        conditions=_conditions(situation, ball, random),
    )


def _near(course: Course, situation: str, hole: int, random: np.random.Generator) -> Position:
    """A place on or beside something of the situation's kind; else anywhere along the hole."""
    features = course.of_kind(_SURVEYED[situation]) if situation in _SURVEYED else ()
    if features:
        return _on(features[int(random.integers(len(features)))].geometry, random)
    draw = random.random()
    if draw < 0.4:
        pieces = [piece for piece in course.pieces if piece.area is _GROUNDS[int(random.integers(len(_GROUNDS)))]]
        if pieces:
            return _on(pieces[int(random.integers(len(pieces)))].geometry, random)
    line = course.holes[hole].line
    if line is None:
        return _on(course.boundary, random)
    place = line.interpolate(random.random(), normalized=True)
    return Position(x_m=place.x, y_m=place.y)


def _on(ground: BaseGeometry, random: np.random.Generator) -> Position:
    rim = ground.boundary.interpolate(random.random(), normalized=True)
    inside = ground.representative_point()
    share = random.random() ** 2
    return Position(x_m=rim.x + share * (inside.x - rim.x), y_m=rim.y + share * (inside.y - rim.y))


def _crossing(course: Course, situation: str, ball: Position, random: np.random.Generator) -> Position | None:
    if random.random() < 0.1:
        return None
    grounds: list[BaseGeometry] = [area.geometry for area in course.penalty_areas]
    if situation in _SURVEYED and situation != "penalty-area":
        grounds = [feature.geometry for feature in course.of_kind(_SURVEYED[situation])] or grounds
    if not grounds:
        return None
    ground = min(grounds, key=lambda area: area.distance(Point(ball.xy)))
    edge = ground.boundary
    place = edge.interpolate(edge.project(Point(ball.xy)) + random.normal(0, 3))
    return Position(x_m=place.x, y_m=place.y)


def _stroke(course: Course, random: np.random.Generator) -> PreviousStroke:
    x_m, y_m = (float(random.uniform(least, most)) for least, most in zip(*np.reshape(course.boundary.bounds, (2, 2)), strict=True))
    if random.random() < 0.3:
        return PreviousStroke(at=None, area=Area.TEEING_AREA)
    if course.penalty_areas and random.random() < 0.3:
        water = course.penalty_areas[int(random.integers(len(course.penalty_areas)))].geometry.representative_point()
        return PreviousStroke(at=Position(x_m=water.x, y_m=water.y), area=None)
    return PreviousStroke(at=Position(x_m=x_m, y_m=y_m), area=None)


def _conditions(situation: str, ball: Position, random: np.random.Generator) -> tuple[Feature, ...]:
    if situation not in _LAID:
        return ()
    middle = ball.moved(float(random.normal(0, 1)), float(random.normal(0, 1)))
    turns = np.sort(random.uniform(0, 2 * np.pi, 12))
    radii_m = random.uniform(0.3, 2.5, 12)
    rim = np.column_stack([middle.x_m + radii_m * np.cos(turns), middle.y_m + radii_m * np.sin(turns)])
    ground = MultiPoint(rim).convex_hull
    assert isinstance(ground, Polygon)
    return (Feature(id="met-today", kind=_LAID[situation], geometry=ground, sigma_m=0.02, is_surveyed=False),)
