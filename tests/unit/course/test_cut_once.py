"""A course is cut into its areas once: what is laid on it for a day or for one incident cuts anew only what it touches."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from shapely.geometry import Point, Polygon

import marram.course.areas
from marram.core.terms import Area, FeatureKind, Form, Hand
from marram.course.day import Day, with_day
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.partition import Piece, make_partition
from marram.interchange.courses.course_geojson import read_course
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Incident, Player, rule_on

DEMO = Path(__file__).parents[3] / "examples" / "courses" / "thimble-moor.geojson"
BALL = Position(x_m=378.26, y_m=-216.09)
"""On the path beside the fifteenth green."""
PUDDLE = Feature(id="puddle", kind=FeatureKind.TEMPORARY_WATER, geometry=Point(BALL.xy).buffer(2.0), is_surveyed=False)
BUNKER = Feature(id="new-bunker", kind=FeatureKind.BUNKER, geometry=Point(BALL.xy).buffer(3.0), is_surveyed=False)


@pytest.fixture
def cuts(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[int]]:
    """The number of features that each cut was given."""
    seen = list[int]()

    def counted(boundary: Polygon, features: tuple[Feature, ...]) -> tuple[Piece, ...]:
        seen.append(len(features))
        return make_partition(boundary, features)

    monkeypatch.setattr(marram.course.areas, "make_partition", counted)
    yield seen


def test_what_lies_on_the_ground_cuts_nothing(cuts: list[int]) -> None:
    course = read_course(DEMO)
    assert course.pieces
    wet = course.with_conditions([PUDDLE])
    assert wet.pieces == course.pieces and len(cuts) == 1
    assert [thing.names for thing in wet.conditions("temporary-water", 15) if "puddle" in thing.names]
    assert not [thing.names for thing in course.conditions("temporary-water", 15) if "puddle" in thing.names]


def test_the_course_may_be_cut_after_the_thing_was_laid_on_it(cuts: list[int]) -> None:
    course = read_course(DEMO)
    assert course.with_conditions([PUDDLE]).pieces == course.pieces and len(cuts) == 1


def test_a_new_bunker_is_cut_in(cuts: list[int]) -> None:
    course = read_course(DEMO)
    changed = course.with_conditions([BUNKER])
    assert "new-bunker" not in {piece.feature.id for piece in course.pieces if piece.feature is not None}
    assert "new-bunker" in {piece.feature.id for piece in changed.pieces if piece.feature is not None and piece.area is Area.BUNKER}
    assert len(cuts) == 2 and cuts[1] == cuts[0] + 1


def test_a_day_of_puddles_and_hole_locations_cuts_nothing(cuts: list[int]) -> None:
    course = read_course(DEMO)
    number, hole = next((number, hole) for number, hole in course.holes.items() if hole.location is not None)
    assert hole.location is not None
    moved = Feature(id="today", kind=FeatureKind.HOLE_LOCATION, geometry=Point(hole.location.moved(1.0, 0.0).xy), holes=(number,))
    today = with_day(course, Day(date=datetime.date(2026, 6, 13), source="day", features=(PUDDLE,), locations=(moved,)))
    assert today.pieces == course.pieces and len(cuts) == 1
    at = today.holes[number].location
    assert at is not None and at.distance_m(hole.location) == pytest.approx(1.0)


def test_a_second_ruling_cuts_nothing(cuts: list[int]) -> None:
    course, book = read_course(DEMO), open_book("2023", [], packaged_catalogue())
    stated = Incident(
        hole=15,
        situation="temporary-water",
        form=Form.STROKE_PLAY,
        ball=BALL,
        player=Player(hand=Hand.RIGHT, longest_club_in=45),
        conditions=(PUDDLE,),
    )
    first = rule_on(stated, course, book)
    later = rule_on(replace(stated, ball=BALL.moved(0.2, 0.1)), course, book)
    assert first.options and later.options and len(cuts) == 1


def test_a_course_of_other_features_shares_no_answer() -> None:
    course = read_course(DEMO)
    dry = replace(course, features=tuple(thing for thing in course.features if thing.kind is not FeatureKind.PENALTY_AREA))
    assert course.penalty_areas and not dry.penalty_areas
