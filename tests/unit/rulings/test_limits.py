"""The limits of single procedures, each where breaking it would show: what is left, what is kept off, how near the hole."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely.geometry import Point, box

from marram.core.errors import IncidentError
from marram.core.terms import Club, FeatureKind, Form, Hand, Mark
from marram.core.units import BALL_RADIUS_M, INCH_M
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulings import Incident, Option, Player, PreviousStroke, Ruling, rule_on
from tests.support.ground import HOLE, course, feature

SAND = feature("sand", FeatureKind.BUNKER, box(30, -110, 50, -90))
ROUGH = PreviousStroke(at=Position(x_m=30, y_m=-250), area=None)


def stated(situation: str, x_m: float, y_m: float, **facts: bool) -> Incident:
    return Incident(
        hole=1,
        situation=situation,
        form=Form.STROKE_PLAY,
        ball=Position(x_m=x_m, y_m=y_m),
        player=Player(hand=Hand.RIGHT, longest_club_in=45, club=Club.IRON),
        facts=facts,
        previous_stroke=ROUGH,
    )


def option(ruling: Ruling, procedure: str) -> Option:
    return next(found for found in ruling.options if found.procedure == procedure)


@pytest.mark.parametrize("edition", ["draft-2017", "2019", "2023"])
def test_the_two_stroke_way_out_of_a_bunker_begins_beyond_it(edition: str) -> None:
    """Rule 19.3b: back on the line, outside the bunker."""
    way = option(rule_on(stated("unplayable", 40, -100), course(SAND), read_book(edition)), "unplayable-in-bunker-outside")
    assert way.line is not None
    first_m = way.line.intervals_m[0][0]
    assert first_m == pytest.approx(10 * math.hypot(40, 100) / 100, abs=1e-6)
    assert SAND.geometry.distance(Point(way.line.place_at(first_m).xy)) == pytest.approx(0, abs=1e-6)
    assert not SAND.geometry.contains(Point(way.line.place_at(first_m + 0.01).xy))


def test_relief_of_the_oldest_edition_keeps_off_every_green() -> None:
    """Rule 24-2b (2016): not on a putting green, that of another hole included; later editions ask for the general area alone."""
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(60, -160, 62, -140), what="path")
    other_green = feature("green-2", FeatureKind.PUTTING_GREEN, box(40, -170, 60, -130), holes=(2,))
    ground = course(path, other_green)
    ball = stated("immovable-obstruction", 60.2, -150)
    on_green = {}
    for edition in ("2016", "2019"):
        relief = option(rule_on(ball, ground, read_book(edition)), "immovable-obstruction-general-area")
        assert relief.relief_area is not None
        points = [Point(relief.references[0].position.xy), relief.relief_area.outline().buffer(-0.01)]
        on_green[edition] = any(other_green.geometry.buffer(-0.005).intersects(point) for point in points)
    assert on_green == {"2016": False, "2019": True}


def test_placing_to_suit_a_device_may_go_nearer_the_hole() -> None:
    """Model Local Rule M-1 (2023): six inches in any direction."""
    book = read_book("2023+wheeled-device-placing")
    way = option(rule_on(stated("wheeled-device", 30, -150, uses_wheeled_device=True), course(), book), "wheeled-device-placing-local-rule")
    assert way.relief_area is not None
    assert way.relief_area.area_m2 == pytest.approx(math.pi * (6 * INCH_M) ** 2, rel=1e-6)
    assert way.no_nearer_m == 0


@pytest.mark.parametrize("edition", ["draft-2017", "2019", "2023"])
def test_an_embedded_ball_is_measured_from_right_behind_it(edition: str) -> None:
    """Rule 16.3b: the reference point is the spot right behind the ball."""
    ruling = rule_on(stated("embedded", 30, -150, embedded=True, embedded_in_sand=False), course(), read_book(edition))
    way = option(ruling, "embedded-ball-general")
    reference = way.references[0].position
    ball = Position(x_m=30, y_m=-150)
    assert reference.distance_m(ball) == pytest.approx(BALL_RADIUS_M)
    assert reference.distance_m(HOLE) == pytest.approx(ball.distance_m(HOLE) + BALL_RADIUS_M)


def test_two_estimates_share_what_lies_in_both_areas() -> None:
    """Two crossing points 1 m apart on a straight edge square to the line of play: the ground in common is that of both crescents."""
    pond = feature("pond", FeatureKind.PENALTY_AREA, box(-15, -70, 15, -40), mark=Mark.RED)
    first = replace(stated("penalty-area", 0, -60), crossed_at=Position(x_m=0, y_m=-70), other_crossed_at=Position(x_m=1, y_m=-70))
    way = option(rule_on(first, course(pond), read_book("2023")), "penalty-area-lateral-red")
    doubt = way.doubt
    assert doubt is not None and doubt.other_area is not None and way.relief_area is not None
    assert doubt.overlap_m2 is not None
    both = way.relief_area.outline().intersection(doubt.other_area.outline()).area
    assert doubt.overlap_m2 == pytest.approx(both, abs=1e-9)
    radius_m = 2 * 45 * INCH_M
    lens_m2 = 2 * radius_m**2 * math.acos(1 / (2 * radius_m)) - math.sqrt(4 * radius_m**2 - 1) / 2
    # Half the lens of the two discs, less the sliver between the edge and the hole's circles.
    assert doubt.overlap_m2 == pytest.approx(lens_m2 / 2, rel=0.03)
    assert doubt.overlap_m2 < 0.85 * way.relief_area.area_m2


def test_a_ball_lost_in_water_is_taken_from_the_edge_that_it_crossed() -> None:
    """Rule 16.1e (2023): the estimated point on the edge of the condition; a stated place a little off is taken to the edge."""
    water = feature("puddle", FeatureKind.TEMPORARY_WATER, box(40, -160, 50, -150), what="puddle")
    lost = replace(stated("temporary-water", 0, 0, known_in_condition=True), ball=None, crossed_at=Position(x_m=39.5, y_m=-155))
    way = option(rule_on(lost, course(water), read_book("2023")), "ball-lost-in-condition")
    assert way.penalty_strokes == 0
    # The player stands to the left, over the water; relief leads away to the right-hand side of the crossing.
    assert 0.1 < way.references[0].position.distance_m(Position(x_m=40, y_m=-155)) < 2.5
    far = replace(lost, crossed_at=Position(x_m=30, y_m=-155))
    with pytest.raises(IncidentError, match=r"10\.0 m from the edge of the temporary water"):
        rule_on(far, course(water), read_book("2023"))


def test_sideways_relief_is_told_on_the_nearer_side_alone() -> None:
    """Model Local Rule F-23: the nearest point at the same distance from the hole; both sides only where they are equally near."""
    book = read_book("2023+stands-and-tents")
    for middle_m, sides in ((0.0, 2), (1.0, 1)):
        tent = feature("tent", FeatureKind.TEMPORARY_IMMOVABLE_OBSTRUCTION, box(middle_m - 3, -130, middle_m + 3, -120), what="tent")
        ball = replace(stated("temporary-immovable-obstruction", 0, -150), player=Player(hand=Hand.RIGHT, longest_club_in=45))
        way = option(rule_on(ball, course(tent), book), "temporary-immovable-obstruction")
        assert len(way.references) == sides
        for reference in way.references:
            assert reference.position.distance_m(HOLE) == pytest.approx(150, abs=2e-3)


def test_a_dangerous_animal_brings_its_caution_first() -> None:
    for edition in ("2016", "draft-2017", "2019", "2023"):
        ruling = rule_on(stated("dangerous-animal", 30, -150), course(), read_book(edition))
        assert any("animal" in caution.text.lower() for caution in ruling.cautions)


def test_numbers_of_our_own_are_said_where_a_point_rests_on_them() -> None:
    """No rule gives the lengths of a stance or a measure of least interference: the ruling says so, and only where they were used."""
    flooded = feature("flood", FeatureKind.TEMPORARY_WATER, box(20, -120, 60, -80), what="flood")
    ruling = rule_on(stated("temporary-water", 40, -100), course(SAND, flooded), read_book("2023"))
    own = [line for line in ruling.lines if "from memory" in line.text]
    assert [line.text.split()[0] for line in own] == ["Stance", "The"]
    assert "lie was weighed 10" in own[1].text
    assert all(citation.provenance == "from memory" for line in own for citation in line.citations)
    green = feature("green-2", FeatureKind.PUTTING_GREEN, box(20, -160, 40, -140), holes=(2,))
    on_green = rule_on(stated("wrong-green", 30, -150), course(green), read_book("2016"))
    assert on_green.options
    assert not [line for line in on_green.lines if line.text.startswith("Stance")]
