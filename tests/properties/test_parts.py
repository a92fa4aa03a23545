"""Water, sand and paths drawn as several outlines that touch rule as one, and nothing hangs on the order of a file."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from shapely.geometry import Point, Polygon, box

from marram.core.terms import FeatureKind, Form, Hand, Mark
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.locate import locate
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Choice, Incident, Player, PreviousStroke, Ruling, rule_on
from tests.support.cut_ground import cut_at_corners, cut_in_parts, numbers_of, shuffled, with_parts, words_of
from tests.support.ground import course, feature
from tests.support.random_ground import blob

BOOKS = [open_book(edition, [], packaged_catalogue()) for edition in packaged_catalogue().editions]
SAME_M = 0.001
MOVED_M, GRAZED_M = 0.002, 0.02
PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45)


def at_length(number: int) -> object:
    """A case of the long proofs."""
    return pytest.param(number, marks=pytest.mark.long)


NUMBERS = [*range(12), *(at_length(number) for number in range(12, 150))]


def placed(xy: tuple[float, float]) -> Position:
    return Position(x_m=round(xy[0], 3), y_m=round(xy[1], 3))


def on_millimetres(outline: Polygon) -> Polygon:
    return shapely.transform(outline, lambda xy: xy.round(3))


def wet(rng: np.random.Generator) -> tuple[Feature, Course]:
    """A pond with a bunker, a path and other ground about it."""
    pond = feature("pond", FeatureKind.PENALTY_AREA, on_millimetres(blob(rng, 0, -60, 9)), mark=Mark.RED)
    about = (
        feature("sand", FeatureKind.BUNKER, on_millimetres(blob(rng, 9, -66, 4))),
        feature("bench", FeatureKind.IMMOVABLE_OBSTRUCTION, box(-14, -50, -12, -49), what="bench"),
        feature("far", FeatureKind.PENALTY_AREA, on_millimetres(blob(rng, 30, -90, 6)), mark=Mark.YELLOW),
    )
    return pond, course(pond, *about)


def inside(rng: np.random.Generator, ground: Polygon) -> Position:
    least_x, least_y, most_x, most_y = ground.bounds
    while True:
        x, y = rng.uniform(least_x, most_x), rng.uniform(least_y, most_y)
        if ground.contains(Point(x, y)) and ground.boundary.distance(Point(x, y)) > 0.05:
            return placed((float(x), float(y)))


def crossed(rng: np.random.Generator, ground: Polygon) -> Position:
    """A place near the edge, as far off as an estimate may be."""
    edge = ground.exterior.interpolate(float(rng.uniform(0, ground.exterior.length)))
    return placed((edge.x + float(rng.normal(0, 0.2)), edge.y + float(rng.normal(0, 0.2))))


def same(first: Ruling, second: Ruling, within_m: float) -> None:
    """Two rulings say the same, their numbers within a distance."""
    ours, theirs = numbers_of(first), numbers_of(second)
    assert ours.keys() == theirs.keys()
    for name, numbers in ours.items():
        assert numbers == pytest.approx(theirs[name], abs=within_m), name
    assert words_of(first) == words_of(second)


def in_water(rng: np.random.Generator, pond: Feature, *, is_lost: bool = False) -> Incident:
    """A ball in a pond, with everything that an official states of one."""
    assert isinstance(pond.geometry, Polygon)
    return Incident(
        hole=1,
        situation="penalty-area",
        form=Form.STROKE_PLAY,
        ball=None if is_lost else inside(rng, pond.geometry),
        player=PLAYER,
        facts={"known_in_penalty_area": True},
        crossed_at=crossed(rng, pond.geometry),
        previous_stroke=PreviousStroke(at=inside(rng, pond.geometry), area=None),
        last_stroke_outside=PreviousStroke(at=Position(x_m=0.0, y_m=-200.0), area=None),
        choice=Choice(back_m=15.0),
    )


@pytest.mark.parametrize("number", NUMBERS)
def test_a_pond_cut_into_parts_that_share_their_edges_rules_as_the_pond_to_a_millimetre(number: int) -> None:
    rng = np.random.default_rng(number)
    pond, ground = wet(rng)
    cut = shuffled(with_parts(ground, "pond", cut_at_corners(pond, rng, int(rng.integers(2, 6)))), rng)
    stated = in_water(rng, pond, is_lost=number % 3 == 0)
    for book in BOOKS:
        same(rule_on(stated, ground, book), rule_on(stated, cut, book), SAME_M)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_pond_cut_anywhere_rules_as_the_pond(number: int) -> None:
    """Where a cut meets the edge the edge is held to whole millimetres anew; a line that grazes it there ends up to 2 cm elsewhere."""
    rng = np.random.default_rng(number)
    pond, ground = wet(rng)
    parts = cut_in_parts(pond, rng, int(rng.integers(1, 4)))
    assert len(parts) >= 2
    cut = shuffled(with_parts(ground, "pond", parts), rng)
    (whole,) = [area.geometry for area in ground.penalty_areas if area.mark is Mark.RED]
    (joined,) = [area.geometry for area in cut.penalty_areas if area.mark is Mark.RED]
    assert joined.symmetric_difference(whole).area < MOVED_M * whole.length
    stated = in_water(rng, pond)
    for book in BOOKS:
        same(rule_on(stated, ground, book), rule_on(stated, cut, book), GRAZED_M)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_bunker_cut_into_parts_rules_as_the_bunker(number: int) -> None:
    """Relief within a bunker stays within that bunker, and the whole of it may be used."""
    rng = np.random.default_rng(number)
    sand = feature("sand", FeatureKind.BUNKER, on_millimetres(blob(rng, 0, -60, 6)))
    puddle = feature("puddle", FeatureKind.TEMPORARY_WATER, on_millimetres(blob(rng, 1, -61, 1.5)))
    other = feature("other", FeatureKind.BUNKER, box(20, -70, 30, -60))
    ground = course(sand, puddle, other)
    cut = shuffled(with_parts(ground, "sand", cut_at_corners(sand, rng, 3)), rng)
    assert isinstance(puddle.geometry, Polygon)
    for situation in ("temporary-water", "unplayable"):
        stated = Incident(
            hole=1, situation=situation, form=Form.STROKE_PLAY, ball=inside(rng, puddle.geometry), player=PLAYER, choice=Choice(back_m=2.0)
        )
        for book in (BOOKS[0], BOOKS[-1]):
            same(rule_on(stated, ground, book), rule_on(stated, cut, book), SAME_M)


def strewn(rng: np.random.Generator) -> Course:
    """Ground on which areas of one kind overlap: water of two marks, bunkers, greens and tees of three holes."""
    kinds = (FeatureKind.PENALTY_AREA, FeatureKind.BUNKER, FeatureKind.PUTTING_GREEN, FeatureKind.TEEING_AREA)
    strewn = []
    for number in range(12):
        kind = kinds[number % 4]
        mark = (Mark.RED, Mark.YELLOW)[int(rng.integers(2))] if kind is FeatureKind.PENALTY_AREA else None
        outline = on_millimetres(blob(rng, float(rng.uniform(-20, 20)), float(rng.uniform(-80, -40)), float(rng.uniform(3, 9))))
        strewn.append(feature(f"area-{number}", kind, outline, mark=mark, holes=(int(rng.integers(1, 4)),)))
    return course(*strewn)


@pytest.mark.parametrize("number", NUMBERS)
def test_the_order_of_a_file_changes_no_place(number: int) -> None:
    rng = np.random.default_rng(number)
    ground = strewn(rng)
    other = shuffled(ground, rng)
    for x, y in rng.uniform((-30, -95), (30, -30), (60, 2)).tolist():
        at = Position(x_m=x, y_m=y)
        for hole in (1, 2, 3):
            ours, theirs = locate(ground, hole, at), locate(other, hole, at)
            assert (ours.area, ours.mark) == (theirs.area, theirs.mark)
            assert ours.margin_m == pytest.approx(theirs.margin_m, abs=2 * SAME_M)
            assert (ours.ground is None) == (theirs.ground is None)
            if ours.ground is not None and theirs.ground is not None:
                assert ours.ground.symmetric_difference(theirs.ground).area < SAME_M * ours.ground.length


@pytest.mark.parametrize("situation", ["immovable-obstruction", "ground-under-repair"])
@pytest.mark.parametrize("number", NUMBERS)
def test_a_condition_cut_into_parts_gives_the_same_relief(number: int, situation: str) -> None:
    rng = np.random.default_rng(number)
    whole = feature("thing", FeatureKind(situation), on_millimetres(blob(rng, 0, -60, 3)), what="path")
    ground = course(whole, feature("sand", FeatureKind.BUNKER, box(4, -70, 9, -55)))
    cut = shuffled(with_parts(ground, "thing", cut_at_corners(whole, rng, int(rng.integers(2, 6)))), rng)
    assert isinstance(whole.geometry, Polygon)
    stated = Incident(
        hole=1,
        situation=situation,
        form=Form.STROKE_PLAY,
        ball=inside(rng, whole.geometry),
        player=PLAYER,
        facts={"another_reason_makes_stroke_unreasonable": False},
    )
    for book in (BOOKS[0], BOOKS[-1]):
        same(rule_on(stated, ground, book), rule_on(stated, cut, book), SAME_M)
