"""Worked examples of the Rules about relief, each as a ruling on a small course.

Each test names where the example comes from. Examples that are about acts, scores or matches and not about relief stand in ``NOT_RELIEF``.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import Point, Polygon, box

from marram.core.terms import Area, Club, FeatureKind, Form, Hand, Mark
from marram.core.units import BALL_RADIUS_M, INCH_M
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.locate import locate
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Choice, Incident, Option, Player, PreviousStroke, Ruling, rule_on
from tests.support.ground import HOLE, course, feature, pond

EDITIONS = tuple(packaged_catalogue().editions)
DRIVER_IN = 45.0
CLUB_M = DRIVER_IN * INCH_M
FROM_TEE = PreviousStroke(at=None, area=Area.TEEING_AREA)
FROM_ROUGH = PreviousStroke(at=Position(x_m=40, y_m=-250), area=None)
BANK = Position(x_m=-15, y_m=-60)
"""A place on the western edge of the pond."""

NOT_RELIEF = {
    2: "scores a ball and its provisional",
    8: "who may say where a ball crossed",
    11: "an act",
    14: "an act: dropping once too often",
    15: "an act",
    17: "an act",
    20: "an act",
    22: "a ball in motion strikes a flagstick",
    23: "an act",
    24: "when a ball is holed",
    25: "how many penalties one act carries",
    26: "how many penalties one act carries",
    27: "an act",
    28: "a match",
    29: "a match",
    30: "a stroke that may not count",
    31: "a card signed without a penalty",
    32: "a concession",
    33: "a starting time",
    34: "an act",
    35: "clubs",
}
"""Numbers of examples that are left to scoring and to acts, or that the notes do not hold, and what they are about."""


def incident(situation: str, x_m: float | None, y_m: float = 0.0, *, hand: Hand | None = Hand.RIGHT, **facts: bool) -> Incident:
    return Incident(
        hole=1,
        situation=situation,
        form=Form.STROKE_PLAY,
        ball=None if x_m is None else Position(x_m=x_m, y_m=y_m),
        player=Player(hand=hand, longest_club_in=DRIVER_IN, club=Club.IRON),
        facts=facts,
        previous_stroke=FROM_TEE,
    )


def ruled(edition: str, stated: Incident, *features: Feature, ground: Course | None = None) -> Ruling:
    return rule_on(stated, ground or course(*features), open_book(edition, [], packaged_catalogue()))


def names(ruling: Ruling) -> list[str]:
    return [option.procedure for option in ruling.options]


def option_of(ruling: Ruling, procedure: str) -> Option:
    (found,) = [option for option in ruling.options if option.procedure == procedure]
    return found


def why_not(ruling: Ruling, procedure: str) -> str:
    (found,) = [entry.because for entry in ruling.not_available if entry.procedure == procedure]
    return found


def inches(length_m: float | None) -> float:
    assert length_m is not None
    return length_m / INCH_M


@pytest.mark.parametrize("edition", EDITIONS)
def test_an_unfound_ball_called_unplayable_leaves_stroke_and_distance_alone(edition: str) -> None:
    """Example 1. Decisions on the Rules of Golf 2016, Decision 28/1; Rules of Golf (January 2019), Rule 19.2."""
    ruling = ruled(edition, incident("unplayable", None))
    (option,) = ruling.options
    assert option.procedure == "unplayable-stroke-and-distance"
    assert option.penalty_strokes == 1
    assert option.put == "play"


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_ball_over_the_edge_in_the_air_is_in_the_penalty_area(edition: str) -> None:
    """Example 3. Decisions on the Rules of Golf 2016, Decision 26/1; Rules of Golf (January 2019), Rule 17.1a: the edge goes up."""
    hanging = replace(incident("penalty-area", -15 - BALL_RADIUS_M / 2, -60), crossed_at=BANK)
    assert "penalty-area-lateral-red" in names(ruled(edition, hanging, pond()))
    clear = replace(incident("penalty-area", -15 - 3 * BALL_RADIUS_M, -60), crossed_at=BANK)
    assert names(ruled(edition, clear, pond())) == []


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("kind", [FeatureKind.BUNKER, FeatureKind.PUTTING_GREEN])
def test_a_ball_on_the_line_of_two_areas_is_in_the_penalty_area(edition: str, kind: FeatureKind) -> None:
    """Example 4. Decisions on the Rules of Golf 2016, Decision 26/1.5; Rules of Golf (January 2019), Rule 2.2c (from memory)."""
    beside = feature("beside", kind, box(-25, -65, -15, -55), holes=(1,))
    touching = replace(incident("penalty-area", -15 - BALL_RADIUS_M / 2, -60), crossed_at=BANK)
    assert "penalty-area-back-on-line" in names(ruled(edition, touching, pond(), beside))
    assert names(ruled(edition, replace(touching, situation="temporary-water"), pond(), beside)) == []


def test_water_outside_badly_set_stakes_is_no_casual_water() -> None:
    """Example 5. Decisions on the Rules of Golf 2016, Decision 26/2: the natural margin counts, and it is what is surveyed."""
    flood = feature("flood", FeatureKind.TEMPORARY_WATER, box(-18, -70, 0, -50), what="water")
    inside = ruled("2016", incident("temporary-water", -14, -60), pond(), flood)
    assert names(inside) == []
    assert "no free relief" in why_not(inside, "penalty-area-free-relief")
    assert names(ruled("2016", incident("temporary-water", -17, -60), pond(), flood)) == ["ground-condition-general-area"]


@pytest.mark.parametrize("edition", ["2016", "2019", "2023"])
def test_grass_inside_a_bunker_is_not_in_it(edition: str) -> None:
    """Example 6. Rules of Golf (January 2019), Rule 12.1; Rules of Golf (January 2016), Definition of Bunker."""
    island = Polygon(Point(60, -60).buffer(10).exterior, [list(Point(60, -60).buffer(3).exterior.coords)])
    sand = feature("sand", FeatureKind.BUNKER, island)
    on_grass = ruled(edition, incident("unplayable", 60, -60), sand)
    assert "unplayable-in-bunker-outside" not in names(on_grass) + [entry.procedure for entry in on_grass.not_available]
    lateral = option_of(on_grass, "unplayable-lateral")
    assert lateral.relief_area is not None
    in_sand = ruled(edition, incident("unplayable", 66, -60), sand)
    assert ("unplayable-in-bunker-outside" in names(in_sand)) is (edition != "2016")


@pytest.mark.parametrize("edition", ["2016", "2019", "2023"])
def test_the_nearest_point_may_need_a_stance_beyond_a_boundary_wall(edition: str) -> None:
    """Example 7, ball 1. Quiz on Decision 24-2b/3.5 (2016); Rules of Golf (2019 and 2023), Definition of Nearest Point, diagram.

    A right-handed player with the hole to the north stands west of the ball, so that a ball just west of the path needs no step on it.
    """
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(-299.6, -200, -297, -50), what="path")
    ruling = ruled(edition, incident("immovable-obstruction", -299.4, -150), path)
    (option,) = ruling.options
    reference = option.references[0]
    assert -300 < reference.position.x_m < -299.6
    assert reference.distance_m is not None
    assert reference.distance_m < 0.5
    # The feet of a right-handed player stand more than the 0.4 m that lie between there and the wall away from the ball.
    assert option.relief_area is not None
    assert option.relief_area.outline().bounds[0] >= -300 - 1e-6


@pytest.mark.parametrize("edition", ["2016", "2019", "2023"])
def test_the_nearest_point_may_be_inside_a_tree(edition: str) -> None:
    """Example 7, ball 2. Quiz on Decision 24-2b/3.5 (2016): the point is where it is, and the drop is within one club-length of it."""
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(50, -200, 53, -50), what="path")
    bare = ruled(edition, incident("immovable-obstruction", 50.5, -150), path)
    nearest = bare.options[0].references[0].position
    trunk = feature("oak", FeatureKind.TREES, Point(nearest.xy).buffer(0.4), what="oak")
    (option,) = ruled(edition, incident("immovable-obstruction", 50.5, -150), path, trunk).options
    assert option.references[0].position.distance_m(nearest) < 1e-9
    assert inches(option.size_m) == pytest.approx(45)


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_hedge_that_makes_the_stroke_unreasonable_takes_relief_from_the_fence_away(edition: str) -> None:
    """Example 9. Rules of Golf (January 2016), Exception to Rule 24-2; Rules of Golf (January 2019), Rule 16.1a(3) (from memory)."""
    fence = feature("fence", FeatureKind.IMMOVABLE_OBSTRUCTION, box(50, -200, 50.1, -50), what="fence")
    stated = incident("immovable-obstruction", 50.3, -150, another_reason_makes_stroke_unreasonable=True)
    ruling = ruled(edition, stated, fence)
    assert ruling.options == ()
    assert "the answer is yes" in why_not(ruling, "immovable-obstruction-general-area")
    free = replace(stated, facts={"another_reason_makes_stroke_unreasonable": False, "interference_only_by_unreasonable_stroke": False})
    assert names(ruled(edition, free, fence)) == ["immovable-obstruction-general-area"]


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_a_left_handed_stroke_gives_relief_where_it_is_reasonable(edition: str) -> None:
    """Example 10. Clarifications 16.1a(3)/1 and 16.1a(3)/2 to the Rules of Golf (January 2019 and January 2023)."""
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(50.3, -200, 53, -50), what="path")
    right = ruled(edition, incident("immovable-obstruction", 49.9, -150, hand=Hand.RIGHT), path)
    assert right.options == ()
    must = incident("immovable-obstruction", 49.9, -150, hand=Hand.LEFT, interference_only_by_unreasonable_stroke=False)
    (option,) = ruled(edition, must, path).options
    assert option.penalty_strokes == 0
    assert option.met is not None
    assert "stance" in option.met.parts
    chosen = replace(must, facts={"interference_only_by_unreasonable_stroke": True})
    assert ruled(edition, chosen, path).options == ()
