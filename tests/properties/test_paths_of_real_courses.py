"""Relief from the paths of a real course, as map data has them: no area lies on another path without a word.

Before paths that join were one obstruction, of 48 such areas two lay on the next path, one of them with 99.9 % of its ground.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import shapely
from shapely.geometry import Point, Polygon

from marram.core.terms import FeatureKind, Form, Hand
from marram.course.course import Course
from marram.course.frame import Position
from marram.interchange.maps.map_import import MapOptions, import_map
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Incident, Option, Player, rule_on

PARKLAND = Path(__file__).parents[1] / "data" / "courses" / "iom-parkland-18-ponds.osm"
BOOK = open_book("2023", [], packaged_catalogue())
LEAST_M2 = 0.01


def balls_on_paths(course: Course, count: int) -> list[Position]:
    rng = np.random.default_rng(1)
    paths = [path.geometry.intersection(course.boundary) for path in course.of_kind(FeatureKind.IMMOVABLE_OBSTRUCTION)]
    ground = [part for path in paths for part in shapely.get_parts(path) if isinstance(part, Polygon) and part.area > 1]
    found: list[Position] = []
    while len(found) < count:
        part = ground[int(rng.integers(len(ground)))]
        x, y = (float(value) for value in rng.uniform(part.bounds[:2], part.bounds[2:]))
        if part.contains(Point(x, y)):
            found.append(Position(x_m=x, y_m=y))
    return found


def relief_from_path(course: Course, ball: Position) -> list[Option]:
    hole = min(course.holes.values(), key=lambda hole: hole.line.distance(Point(ball.xy)) if hole.line is not None else np.inf)
    stated = Incident(
        hole=hole.number,
        situation="immovable-obstruction",
        form=Form.STROKE_PLAY,
        ball=ball,
        player=Player(hand=Hand.RIGHT, longest_club_in=46),
        facts={"another_reason_makes_stroke_unreasonable": False, "interference_only_by_unreasonable_stroke": False},
    )
    return [option for option in rule_on(stated, course, BOOK).options if option.relief_area is not None]


def test_no_area_lies_on_the_next_path_without_a_word() -> None:
    course = import_map(PARKLAND, MapOptions(draws_lines=True)).course
    paths = shapely.union_all([path.geometry for path in course.of_kind(FeatureKind.IMMOVABLE_OBSTRUCTION)])
    options = [option for ball in balls_on_paths(course, 60) for option in relief_from_path(course, ball)]
    assert len(options) > 30
    for option in options:
        assert option.relief_area is not None
        on_m2 = option.relief_area.outline().intersection(paths).area
        told_m2 = sum(further.on_area_m2 or 0.0 for further in option.further)
        assert on_m2 < LEAST_M2 or told_m2 > 0
