"""Random incidents of every situation over the demo course: an answer or a clear refusal, and every area is what the rule says.

The check looks at the relief areas from outside: points are scattered over each drawn area, and the size, the distance from the hole, the
area of the course and the gap to the condition are measured anew for each of them.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from shapely.geometry import Point

from marram.core.errors import MarramError
from marram.core.terms import Area, FeatureKind
from marram.course.course import Course
from marram.course.frame import Position
from marram.interchange.books.book_files import local_rules, read_book
from marram.interchange.courses.course_geojson import read_course
from marram.relief.area.band import Band
from marram.relief.area.shapes import Crescent
from marram.relief.clear.stance import STANCES, clearance_m, footprint
from marram.rulebook.book import Book
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings import Incident, Option, rule_on
from marram.rulings.case.facts_of_situation import known_facts
from marram.rulings.rule_on import situations
from tests.support.random_incidents import random_incident

COURSE = read_course(Path(__file__).resolve().parents[2] / "examples" / "courses" / "thimble-moor.geojson")
ADOPTED = "+".join(["2023", *(overlay.name for overlay in local_rules() if "2023" in overlay.on and overlay.name != "preferred-lies-6-in")])
BOOKS = [read_book(name) for name in ("2016", "draft-2017", "2019", "2023", ADOPTED)]
SITUATIONS = tuple(situations(BOOKS[0]))
FACTS = sorted(known_facts(packaged_catalogue()))
POINTS = 40
ROUNDING_M = 2e-3
_ORDER = (
    (FeatureKind.PENALTY_AREA, Area.PENALTY_AREA),
    (FeatureKind.BUNKER, Area.BUNKER),
    (FeatureKind.PUTTING_GREEN, Area.PUTTING_GREEN),
    (FeatureKind.TEEING_AREA, Area.TEEING_AREA),
)


def area_at(course: Course, hole: int, place: NDArray[np.float64]) -> Area:
    """The area of the course of a place, by asking each feature in the order of precedence."""
    point = Point(place)
    for kind, area in _ORDER:
        for feature in course.of_kind(kind):
            serves = hole in feature.holes or kind in {FeatureKind.PENALTY_AREA, FeatureKind.BUNKER}
            if feature.geometry.covers(point):
                return area if serves else Area.GENERAL_AREA
    return Area.GENERAL_AREA if course.boundary.covers(point) else Area.OUT_OF_BOUNDS


def scattered(option: Option, random: np.random.Generator) -> NDArray[np.float64]:
    """Points all over a drawn area, drawn in by a little more than the course's grid."""
    assert option.relief_area is not None
    inside = option.relief_area.outline().buffer(-ROUNDING_M)
    if inside.is_empty:
        return np.empty((0, 2))
    least_x, least_y, most_x, most_y = inside.bounds
    tried = random.uniform((least_x, least_y), (most_x, most_y), (40 * POINTS, 2))
    return tried[shapely.contains_xy(inside, tried[:, 0], tried[:, 1])][:POINTS]


def check_size(option: Option, hole: Position, points: NDArray[np.float64]) -> None:
    assert option.relief_area is not None
    shape = option.relief_area.shape
    if option.no_nearer_m is not None:
        assert np.hypot(*(points - hole.xy).T).min(initial=np.inf) >= option.no_nearer_m - 1e-6
    if isinstance(shape, Crescent):
        assert option.size_m is not None
        centre = shape.centre
        if option.line is None:
            assert any(centre == reference.position for reference in option.references)
        assert np.hypot(*(points - centre.xy).T).max(initial=0.0) <= option.size_m + 1e-6
    elif option.line is not None and option.size_m is not None:
        turn = np.radians(option.line.bearing_deg)
        across = (points - option.line.start.xy) @ np.array([np.cos(turn), -np.sin(turn)])
        assert np.abs(across).max(initial=0.0) <= option.size_m + 1e-6
    elif isinstance(shape, Band):
        assert option.size_m is not None and len(option.references) == 2


def check_ground(incident: Incident, course: Course, book: Book, option: Option, points: NDArray[np.float64]) -> None:
    row = f"relief.{option.carried_out_as or option.procedure}"
    allowed = {Area(word) for word in book.words(f"{row}.in_areas").value}
    left = book.word(f"{row}.leaves").value
    seen = [area_at(course, incident.hole, point) for point in points]
    assert Area.OUT_OF_BOUNDS not in seen
    if book.word(f"{row}.shape").value != "previous-spot":
        assert set(seen) <= allowed
    if left == "same-bunker" and incident.ball is not None:
        own = [f for f in course.of_kind(FeatureKind.BUNKER) if f.geometry.distance(Point(incident.ball.xy)) < 0.03]
        for point, area in zip(points, seen, strict=True):
            assert area is not Area.BUNKER or not any(bunker.geometry.covers(Point(point)) for bunker in own)


def check_clear(incident: Incident, course: Course, book: Book, option: Option, points: NDArray[np.float64]) -> None:
    """From every place of an area of complete relief the condition is out of the way."""
    kinds = {"nearest-point-of-complete-relief", "equal-arc-point"}
    if not option.references or option.references[0].kind not in kinds or option.relief_area is None:
        return
    parts = frozenset(book.words(f"relief.{option.carried_out_as or option.procedure}.clear_of").value)
    hand, club = incident.player.hand, incident.player.club
    assert hand is not None and club is not None
    hole = course.holes[incident.hole].location
    assert hole is not None
    assert option.met is not None
    samples = footprint(STANCES[club], hand, parts, with_shaft=option.met.condition.is_standing)
    for x_m, y_m in points[:10]:
        place = Position(x_m=float(x_m), y_m=float(y_m))
        assert clearance_m(place, hole, samples, option.met.condition.geometry) >= -ROUNDING_M


def check(incident: Incident, book: Book, random: np.random.Generator) -> int:
    """Rule on an incident and check every area; the number of areas checked."""
    try:
        ruling = rule_on(incident, COURSE, book)
    except MarramError:
        return 0
    course = COURSE.with_conditions(incident.conditions)
    hole = course.holes[incident.hole].location
    assert hole is not None
    assert ruling.options or ruling.not_available or ruling.facts_needed
    areas = 0
    for option in ruling.options:
        assert option.citations and option.steps
        if option.relief_area is None:
            continue
        outline = option.relief_area.outline()
        assert outline.is_valid
        assert outline.area <= option.relief_area.area_m2 + 1e-6
        assert sum(part.area_m2 for part in option.relief_area.parts) == pytest.approx(option.relief_area.area_m2)
        points = scattered(option, random)
        check_size(option, hole, points)
        check_ground(incident, course, book, option, points)
        check_clear(incident, course, book, option, points)
        areas += 1
    return areas


def run(incidents: int, seed: int) -> int:
    random = np.random.default_rng(seed)
    areas = 0
    for number in range(incidents):
        situation = SITUATIONS[number % len(SITUATIONS)]
        incident = random_incident(COURSE, situation, FACTS, random)
        for book in BOOKS:
            try:
                areas += check(incident, book, random)
            except Exception as problem:
                raise AssertionError(f"seed {seed}, incident {number}, {book.name}: {incident}") from problem
    return areas


def test_answer_or_clear_refusal() -> None:
    assert run(3 * len(SITUATIONS), seed=20) > 60


@pytest.mark.long
def test_a_thousand_incidents() -> None:
    assert run(1000, seed=1) > 1500
