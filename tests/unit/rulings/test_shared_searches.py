"""What rulings share is kept under all that it hangs on: another ground, other areas or another club is looked for anew."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import replace
from pathlib import Path

import pytest
from shapely.geometry import box

from marram.core.kept import Kept
from marram.core.terms import Area, Club, Form, Hand
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.interchange.courses.course_geojson import read_course
from marram.relief.clear.nearest import nearest_points_of_relief
from marram.relief.clear.stance import STANCES, footprint
from marram.rulings import Incident, Player, rule_on
from marram.rulings.case.case import Case
from marram.rulings.measure.ground import Limits, ground_near

COURSE = read_course(Path(__file__).resolve().parents[3] / "examples" / "courses" / "thimble-moor.geojson")
BOOK = read_book("2023")
BALL = Position(x_m=378.26, y_m=-216.09)


def incident(club: Club, hand: Hand, ball: Position = BALL) -> Incident:
    player = Player(hand=hand, club=club, longest_club_in=45.0)
    return Incident(hole=15, situation="immovable-obstruction", ball=ball, player=player, form=Form.STROKE_PLAY)


def test_other_ground_is_searched_anew() -> None:
    ball, hole, path = Position(x_m=0.0, y_m=0.0), Position(x_m=0.0, y_m=150.0), box(-1.0, -20.0, 1.2, 20.0)
    samples = footprint(STANCES[Club.IRON], Hand.RIGHT, frozenset({"lie", "stance", "swing"}))
    kept = Kept()

    def found(allowed: object, once: Callable[[Hashable, Callable[[], object]], object] | None) -> object:
        shared = {} if once is None else {"once": once}
        return nearest_points_of_relief(ball, hole, hole, path, samples, allowed, **shared).points  # type: ignore[arg-type]

    grounds = [box(-30, -30, 30, 30), box(0, -30, 30, 30), box(-30, -30, 0, 30)]
    assert [found(ground, kept.once) for ground in grounds] == [found(ground, None) for ground in grounds]
    assert found(grounds[1], None) != found(grounds[2], None)


def test_other_areas_are_cut_anew() -> None:
    case = Case(incident=incident(Club.IRON, Hand.RIGHT), course=replace(COURSE, kept=Kept()), book=BOOK)

    def size_m2(area: Area) -> float:
        limits = Limits(areas=frozenset({area}), within=None, left=None, off_greens=False, off_fairways=False)
        return float(ground_near(case, BALL, limits).area)

    general, green = size_m2(Area.GENERAL_AREA), size_m2(Area.PUTTING_GREEN)
    assert general > 10 * green > 0


@pytest.mark.parametrize("hand", list(Hand))
@pytest.mark.parametrize("club", list(Club))
def test_how_far_other_clubs_move_the_point_is_how_far_their_own_points_lie(club: Club, hand: Hand) -> None:
    def points(other: Club) -> list[Position]:
        ruling = rule_on(incident(other, hand), replace(COURSE, kept=Kept()), BOOK)
        return [reference.position for option in ruling.options for reference in option.references]

    ruling = rule_on(incident(club, hand), replace(COURSE, kept=Kept()), BOOK)
    own = ruling.options[0].references[0]
    farthest_m = max(min(place.distance_m(own.position) for place in points(other)) for other in Club if other is not club)
    assert own.range_m == pytest.approx(farthest_m, abs=1e-9)
    assert farthest_m > 0.02
