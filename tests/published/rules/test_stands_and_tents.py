"""Relief from a stand, by where the ball lies, under the local rule of each edition; the points are worked out by hand.

Source: Rules of Golf 2016, official Italian text, printed pages 171 to 173 (Appendix I, A-7, clause III): out of a hazard the nearest point
that is clear of the stand; in a hazard free of charge inside the same hazard, or one stroke outside. Since 2019 Model Local Rule F-23,
whose two ways in a bunker or penalty area are from memory.
"""

from __future__ import annotations

import pytest
from shapely.geometry import Point, box

from marram.core.terms import Club, FeatureKind, Form, Hand
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulings import Incident, Option, Player, Ruling, rule_on
from tests.support.ground import course, feature, pond

EDITIONS = ("2016", "draft-2017", "2019", "2023")
SAND = feature("sand", FeatureKind.BUNKER, Point(60, -60).buffer(8))
HAZARDS = SAND.geometry.union(pond().geometry)
INSIDE, OUTSIDE = "temporary-obstruction-in-hazard", "temporary-obstruction-outside-hazard"


def ruled(edition: str, ball: Position) -> tuple[Ruling, dict[str, Option]]:
    """The ruling on a ball one metre behind a stand of two metres by two."""
    stand = feature("stand", FeatureKind.TEMPORARY_IMMOVABLE_OBSTRUCTION, box(ball.x_m - 1, ball.y_m + 1, ball.x_m + 1, ball.y_m + 3))
    stated = Incident(
        hole=1,
        situation="temporary-immovable-obstruction",
        form=Form.STROKE_PLAY,
        ball=ball,
        player=Player(hand=Hand.RIGHT, longest_club_in=45, club=Club.WEDGE),
    )
    ground = course(pond(), SAND, stand)
    ruling = rule_on(stated, ground, read_book(f"{edition}+stands-and-tents"))
    for option in ruling.options:
        for reference in option.references:
            assert reference.position.distance_m(Position(x_m=0, y_m=0)) >= ball.distance_m(Position(x_m=0, y_m=0)) - 1e-3
    return ruling, {option.procedure: option for option in ruling.options}


def share_in_hazards(option: Option) -> float:
    """How much of the relief area lies in the bunker or the pond."""
    assert option.relief_area is not None
    outline = option.relief_area.outline()
    assert outline.area > 0.05
    return float(outline.intersection(HAZARDS).area / outline.area)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("ball", [Position(x_m=57, y_m=-62), Position(x_m=0, y_m=-55)], ids=["bunker", "water"])
def test_in_a_hazard_relief_stays_in_it_or_costs_a_stroke(edition: str, ball: Position) -> None:
    ruling, options = ruled(edition, ball)
    assert (options[INSIDE].penalty_strokes, options[OUTSIDE].penalty_strokes) == (0, 1)
    assert share_in_hazards(options[OUTSIDE]) == pytest.approx(0, abs=1e-3)
    assert "temporary-immovable-obstruction" not in options
    free = [option for option in ruling.options if option.penalty_strokes == 0]
    assert [share_in_hazards(option) for option in free] == [pytest.approx(1, abs=1e-3)] * len(free)


@pytest.mark.parametrize("edition", EDITIONS)
def test_elsewhere_it_is_free_and_the_ways_of_hazards_stay_unspoken(edition: str) -> None:
    _, options = ruled(edition, Position(x_m=40, y_m=-150))
    assert options["temporary-immovable-obstruction"].penalty_strokes == 0
    assert not {INSIDE, OUTSIDE} & set(options)


def test_the_oldest_edition_takes_the_nearest_point_and_no_way_sideways() -> None:
    """The line to the hole runs north; the stand is 2 m wide, so just over 1 m to either side is clear, unless behind it is nearer."""
    ball = Position(x_m=0, y_m=-150)
    _, options = ruled("2016", ball)
    reference = options["temporary-immovable-obstruction"].references[0]
    assert reference.kind == "nearest-point-of-complete-relief"
    assert 1.0 <= reference.position.distance_m(ball) <= 2.5
    _, later = ruled("2019", ball)
    assert later["temporary-immovable-obstruction"].references[0].kind == "equal-arc-point"
