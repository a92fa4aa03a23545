"""What an option tells of its measures: margins, least distances, areas, and what is left where nothing is given."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import Point, box

from marram.core.terms import Area, Club, FeatureKind, Form, Hand
from marram.course.features import Feature
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Choice, Incident, Option, Player, PreviousStroke, Ruling, rule_on
from marram.rulings.case.case import Case
from marram.rulings.drop.dropping import guide_drop, read_events
from marram.rulings.following import ball_in_words
from tests.support.ground import course, feature, pond

BOOK = open_book("2023", [], packaged_catalogue())
IN_POND = Incident(
    hole=1,
    situation="penalty-area",
    form=Form.STROKE_PLAY,
    ball=Position(x_m=0, y_m=-55),
    player=Player(hand=Hand.RIGHT, longest_club_in=45, club=Club.IRON),
    crossed_at=Position(x_m=-15.3, y_m=-60),
    previous_stroke=PreviousStroke(at=None, area=Area.TEEING_AREA),
    choice=Choice(back_m=20),
)
GREEN = feature("green-2", FeatureKind.PUTTING_GREEN, Point(100, -100).buffer(10), holes=(2,))
ON_WRONG_GREEN = replace(IN_POND, situation="wrong-green", ball=Position(x_m=100, y_m=-100), crossed_at=None, previous_stroke=None)


def ruled(incident: Incident, *features: Feature) -> Ruling:
    return rule_on(incident, course(*features), BOOK)


def option(ruling: Ruling, procedure: str) -> Option:
    return next(entry for entry in ruling.options if entry.procedure == procedure)


def texts(ruling: Ruling) -> list[str]:
    return [line.text for line in ruling.lines]


def test_the_margin_is_that_of_the_nearest_edge_against_twice_its_accuracy() -> None:
    """The pond reaches from -70 to -40 m and the ball lies at -55 m: 15 m from its edge, which was surveyed to 0.1 m."""
    lateral = option(ruled(IN_POND, pond()), "penalty-area-lateral-red")
    assert (lateral.margin_m, lateral.accuracy_m) == pytest.approx((15.0, 0.2))


def test_how_far_the_crossing_point_was_moved_is_told_where_an_option_rests_on_it() -> None:
    """The place stated is 0.3 m west of the edge at -15 m; stroke and distance asks for no crossing point."""
    found = ruled(IN_POND, pond())
    assert option(found, "penalty-area-lateral-red").crossing_moved_m == pytest.approx(0.3)
    assert option(found, "penalty-area-stroke-and-distance").crossing_moved_m is None


def test_no_nearer_the_hole_is_told_in_metres() -> None:
    """From (-15, -60) to the hole: the root of 225 + 3600 is 61.85 m."""
    steps = option(ruled(IN_POND, pond()), "penalty-area-lateral-red").steps
    assert "no nearer the hole than 61.85 m" in " ".join(steps)


def test_a_line_of_the_ruling_tells_the_area() -> None:
    """One club-length of 45 in is 1.143 m: a full circle about the point chosen is 4.10 m² (Rules of Golf 2023, Rule 17.1d(2))."""
    told = texts(ruled(IN_POND, pond()))
    assert any(text.startswith("Back on the line: one penalty stroke;") and text.endswith("area 4.10 m².") for text in told)
    assert "Stroke and distance: one penalty stroke." in told


def test_where_relief_must_be_taken_that_comes_first() -> None:
    """Rules of Golf 2023, Rule 13.1f(2): a ball on a wrong green must not be played as it lies."""
    wrong = option(ruled(ON_WRONG_GREEN, GREEN), "wrong-green-relief")
    assert wrong.steps[0] == "The ball must not be played as it lies."
    assert wrong.is_mandatory
    assert "must not be played" not in option(ruled(IN_POND, pond()), "penalty-area-lateral-red").steps[0]


def test_in_a_penalty_area_what_is_left_costs_a_stroke() -> None:
    """Rules of Golf 2023, Rule 16.1a(2) and 17.3: no free relief from a path for a ball in a penalty area."""
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(-1, -60, 1, -50), what="path")
    found = ruled(replace(IN_POND, situation="immovable-obstruction", crossed_at=None), pond(), path)
    assert found.options == ()
    assert texts(found)[-1].startswith("What is left: play the ball as it lies, or take the relief from the penalty area")


def test_where_a_ball_is_stands_as_the_reason_why_a_procedure_is_closed() -> None:
    ground = course(pond())
    assert ball_in_words(Case(incident=IN_POND, course=ground, book=BOOK)) == (
        "This one lies in a red penalty area, 15.00 m from being elsewhere."
    )
    assert ball_in_words(Case(incident=replace(IN_POND, ball=None), course=ground, book=BOOK)) == "This one has not been found."


def test_a_drop_tells_what_it_has_cost_only_where_it_has() -> None:
    """Rules of Golf 2023, Rules 14.3b and 14.3c(1): dropped in the right way and at rest in the area costs nothing more; a stroke from
    inside the area after a drop in a wrong way costs one penalty stroke."""
    for events in ("", "right-way,first-touch-inside,rests-inside"):
        assert "so far" not in guide_drop(BOOK, "", read_events(events)).instruction
    assert "One penalty stroke so far." in guide_drop(BOOK, "", read_events("wrong-way,rests-inside,stroke")).instruction


@pytest.mark.parametrize(
    ("ground_sigma_m", "bunker_sigma_m", "is_of_bunker"),
    [(0.01, 0.05, False), (0.01, 0.4, True), (0.4, 0.4, False)],
    ids=["both known well", "the bunker known badly", "both known badly"],
)
def test_of_two_margins_the_one_that_its_accuracy_leaves_least_of_is_told(
    ground_sigma_m: float, bunker_sigma_m: float, is_of_bunker: bool
) -> None:
    """The bunker begins 1.00 m from the middle of the ball, 0.98 m from its side (1.68 in across: Equipment Rules, part 4, 2).

    The ground under repair is reached into by less, so that is told where both are known alike; 0.98 m known to 0.8 m is worth less.
    """
    repair = feature("repair", FeatureKind.GROUND_UNDER_REPAIR, box(40, -160, 60, -149.8), sigma_m=ground_sigma_m)
    bunker = feature("bunker", FeatureKind.BUNKER, box(40, -149.0, 60, -140), sigma_m=bunker_sigma_m)
    incident = replace(IN_POND, situation="ground-under-repair", ball=Position(x_m=50, y_m=-150), crossed_at=None)
    told = option(ruled(incident, repair, bunker), "ground-condition-general-area")
    assert told.met is not None and told.met.depth_m < 0.97
    expected = (1.00 - 1.68 * 0.0254 / 2, 2 * bunker_sigma_m) if is_of_bunker else (told.met.depth_m, 2 * ground_sigma_m)
    assert (told.margin_m, told.accuracy_m) == pytest.approx(expected, abs=0.001)


CLUB_M = 45 * 0.0254


@pytest.mark.parametrize(
    ("from_green_m", "from_ball_m", "is_given"),
    [
        (2 * CLUB_M - 0.02, 2 * CLUB_M - 0.02, True),
        (2 * CLUB_M + 0.02, 1.0, False),
        (1.0, 2 * CLUB_M + 0.02, False),
    ],
    ids=["within reach of both", "too far from the green", "too far from the ball"],
)
def test_an_object_near_the_green_is_within_two_club_lengths_of_green_and_of_ball(
    from_green_m: float, from_ball_m: float, is_given: bool
) -> None:
    """Rules of Golf (January 2023), Model Local Rule F-5: within two club-lengths of green and ball. The green ends 12 m south."""
    near = -12 - from_green_m
    head = feature("head", FeatureKind.IMMOVABLE_OBSTRUCTION, box(-0.15, near - 0.3, 0.15, near), what="sprinkler head", sigma_m=0.001)
    ball = Position(x_m=0, y_m=near - 0.3 - from_ball_m)
    facts = {"another_reason_makes_stroke_unreasonable": False, "interference_only_by_unreasonable_stroke": False}
    incident = replace(IN_POND, situation="immovable-obstruction", ball=ball, crossed_at=None, previous_stroke=None, facts=facts)
    book = read_book("2023+objects-near-the-green")
    found = rule_on(incident, course(head), book)
    names = {entry.procedure for entry in found.options}
    assert ("green-edge-obstruction-local-rule" in names) is is_given
