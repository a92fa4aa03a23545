"""What a spot offers is what measuring every way and danger one by one gives, to the last digit."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import Point, Polygon, box

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.frame import Position
from marram.interchange.courses.course_geojson import read_course
from marram.showing.standing import PATHS, see_ground
from tests.support.ground import course, feature, pond

ROOT = Path(__file__).resolve().parents[3]
COURSES = ("examples/courses/thimble-moor.geojson", "tests/data/invented/gull-bank.geojson")


def nearest_way_m(ground: Course, spot: Position) -> float:
    """The nearest tee, path or fairway, each measured."""
    ways = [*ground.of_kind(FeatureKind.TEEING_AREA), *ground.of_kind(FeatureKind.FAIRWAY)]
    ways += [each for each in ground.of_kind(FeatureKind.IMMOVABLE_OBSTRUCTION) if each.noun in PATHS]
    return min(float(way.geometry.distance(Point(spot.xy))) for way in ways)


@pytest.mark.parametrize("name", COURSES)
def test_the_nearest_way_is_the_nearest_of_all(name: str) -> None:
    ground = read_course(ROOT / name)
    seen, chance = see_ground(ground), np.random.default_rng(17)
    west, south, east, north = ground.boundary.bounds
    for _ in range(150):
        spot = Position(x_m=float(chance.uniform(west - 30, east + 30)), y_m=float(chance.uniform(south - 30, north + 30)))
        assert seen.at(spot).reach_m == nearest_way_m(ground, spot)


@pytest.mark.parametrize(("away_m", "is_told"), [(2.99, True), (3.0, True), (3.01, False)])
def test_deep_water_is_told_of_as_far_as_three_metres(away_m: float, is_told: bool) -> None:
    standing = see_ground(course(pond())).at(Position(x_m=15.0 + away_m, y_m=-55.0))  # the pond's side lies at x = 15
    assert ("Beside deep water." in standing.dangers) is is_told


def test_of_two_ways_that_are_as_near_the_first_by_name_is_told() -> None:
    east = feature("b", FeatureKind.IMMOVABLE_OBSTRUCTION, box(110, -60, 112, -50), what="path")
    west = feature("a", FeatureKind.IMMOVABLE_OBSTRUCTION, box(88, -60, 90, -50), what="path")
    standing = see_ground(course(east, west)).at(Position(x_m=100.0, y_m=-55.0))
    assert (standing.reach_m, standing.reach_by) == (10.0, "the path a")


def test_a_slanting_way_is_measured_and_not_the_box_about_it() -> None:
    # From (100, -100) to (140, -60), 1 m wide or less; from (130, -90) to its line x - y = 200 it is 20 / sqrt(2) = 14.14 m.
    slanting = feature("s", FeatureKind.FAIRWAY, Polygon([(100, -100), (140, -60), (139.9, -60)]))
    flat = feature("f", FeatureKind.FAIRWAY, box(100, -120, 160, -105))
    standing = see_ground(course(slanting, flat)).at(Position(x_m=130.0, y_m=-90.0))
    assert standing.reach_m == pytest.approx(14.142, abs=0.001)
