"""Any ball that a legal drop brings to rest lies in a right place, and one past a limit does not: drops drawn without our geometry."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from marram.core.terms import Area, Club, Form, Hand
from marram.core.units import INCH_M
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulings import Choice, Incident, Player, PreviousStroke, rule_on
from tests.support.ground import course

OPEN_GROUND = course()
SHARE = st.floats(0, 1)
TURN = st.floats(0, 2 * math.pi)
PAST_M = st.floats(0.03, 2.0)


@dataclass(frozen=True)
class Sideways:
    """Two club-lengths or 80 inches from the ball: how far the ball may be dropped, and how far it may roll (none: it stays inside)."""

    size_m: float
    roll_m: float | None


def sideways(edition: str, club_m: float) -> Sideways:
    """Source: Rules of Golf 2016, 28c and 20-2c; draft paper on fixed distances; Rules of Golf 2019 and 2023, 19.2c and 14.3c."""
    return Sideways(80 * INCH_M if edition == "draft-2017" else 2 * club_m, 2 * club_m if edition == "2016" else None)


balls = st.tuples(st.floats(-150, 150), st.floats(-300, -60)).map(lambda xy: Position(x_m=xy[0], y_m=xy[1]))
clubs_in = st.floats(40, 48)
hole = Position(x_m=0, y_m=0)


def about(centre: Position, radius_m: float, share: float, turn: float) -> Position:
    far_m = radius_m * math.sqrt(share)
    return centre.moved(far_m * math.cos(turn), far_m * math.sin(turn))


def back(ball: Position, far_m: float) -> Position:
    """So far straight back from the hole."""
    away_m = ball.distance_m(hole)
    return ball.moved(ball.x_m / away_m * far_m, ball.y_m / away_m * far_m)


def judged(
    edition: str,
    procedure: str,
    ball: Position,
    club_in: float,
    played: Position,
    *,
    touch: Position | None = None,
    back_m: float | None = None,
) -> bool | None:
    incident = Incident(
        hole=1,
        situation="unplayable",
        form=Form.STROKE_PLAY,
        ball=ball,
        player=Player(hand=Hand.RIGHT, longest_club_in=club_in, club=Club.IRON),
        previous_stroke=PreviousStroke(at=None, area=Area.TEEING_AREA),
        choice=Choice(back_m=back_m),
        facts={"previous_stroke_from_penalty_area": False},
    )
    ruling = rule_on(replace(incident, played_from=played, first_touch=touch), OPEN_GROUND, read_book(edition))
    (option,) = [option for option in ruling.options if option.procedure == procedure]
    assert option.right_place is not None
    return option.right_place.is_right


@pytest.mark.parametrize("edition", ["2016", "draft-2017", "2019", "2023"])
@settings(max_examples=30)
@given(ball=balls, club_in=clubs_in, drop=st.tuples(SHARE, TURN), rest=st.tuples(SHARE, TURN))
def test_a_ball_dropped_sideways_and_at_rest_within_the_limits_is_right(
    edition: str, ball: Position, club_in: float, drop: tuple[float, float], rest: tuple[float, float]
) -> None:
    law = sideways(edition, club_in * INCH_M)
    touch = about(ball, law.size_m, *drop)
    played = about(ball, law.size_m, *rest) if law.roll_m is None else about(touch, law.roll_m, *rest)
    assume(touch.distance_m(hole) >= ball.distance_m(hole) and played.distance_m(hole) >= ball.distance_m(hole))
    assert judged(edition, "unplayable-lateral", ball, club_in, played, touch=touch) is True
    untold = judged(edition, "unplayable-lateral", ball, club_in, played)
    assert untold is True or (untold is None and law.roll_m is not None)


@pytest.mark.parametrize("edition", ["2016", "draft-2017", "2019", "2023"])
@settings(max_examples=30)
@given(ball=balls, club_in=clubs_in, drop=st.tuples(SHARE, TURN), turn=TURN, past_m=PAST_M)
def test_a_ball_past_the_length_is_not(
    edition: str, ball: Position, club_in: float, drop: tuple[float, float], turn: float, past_m: float
) -> None:
    law = sideways(edition, club_in * INCH_M)
    touch = about(ball, law.size_m, *drop)
    assume(touch.distance_m(hole) >= ball.distance_m(hole))
    centre, radius_m = (ball, law.size_m) if law.roll_m is None else (touch, law.roll_m)
    played = about(centre, radius_m + past_m, 1, turn)
    assert judged(edition, "unplayable-lateral", ball, club_in, played, touch=touch) is False


@pytest.mark.parametrize("procedure", ["unplayable-lateral", "unplayable-back-on-line"])
@pytest.mark.parametrize("edition", ["2016", "draft-2017", "2019", "2023"])
@settings(max_examples=30)
@given(ball=balls, club_in=clubs_in, nearer_m=st.floats(0.03, 1.0), side_m=st.floats(-0.5, 0.5))
def test_a_ball_nearer_the_hole_than_the_limit_is_not(
    edition: str, procedure: str, ball: Position, club_in: float, nearer_m: float, side_m: float
) -> None:
    """Whatever was stated of the drop, no drop ends nearer the hole than the ball lay."""
    away_m = ball.distance_m(hole)
    played = back(ball, -nearer_m).moved(-ball.y_m / away_m * side_m, ball.x_m / away_m * side_m)
    assume(played.distance_m(hole) < away_m - 0.02)
    assert judged(edition, procedure, ball, club_in, played) is False


@settings(max_examples=30)
@given(ball=balls, club_in=clubs_in, back_m=st.floats(0.01, 60), rest=st.tuples(SHARE, TURN))
def test_dropped_on_the_line_and_rolled_two_club_lengths_in_2016(
    ball: Position, club_in: float, back_m: float, rest: tuple[float, float]
) -> None:
    touch = back(ball, back_m)
    played = about(touch, 2 * club_in * INCH_M, *rest)
    assume(played.distance_m(hole) >= ball.distance_m(hole))
    assert judged("2016", "unplayable-back-on-line", ball, club_in, played, touch=touch) is True
    assert judged("2016", "unplayable-back-on-line", ball, club_in, played) is None
    assert (
        judged("2016", "unplayable-back-on-line", ball, club_in, about(touch, 2 * club_in * INCH_M + 0.03, 1, rest[1]), touch=touch)
        is False
    )


@settings(max_examples=30)
@given(ball=balls, club_in=clubs_in, back_m=st.floats(0.01, 60), rest=st.tuples(SHARE, TURN))
def test_within_one_club_length_of_the_touch_in_2023(ball: Position, club_in: float, back_m: float, rest: tuple[float, float]) -> None:
    touch = back(ball, back_m)
    played = about(touch, club_in * INCH_M, *rest)
    assume(played.distance_m(hole) >= ball.distance_m(hole))
    assert judged("2023", "unplayable-back-on-line", ball, club_in, played, touch=touch) is True
    assert judged("2023", "unplayable-back-on-line", ball, club_in, played, back_m=back_m) is True
    assert judged("2023", "unplayable-back-on-line", ball, club_in, played) is None
    assert judged("2023", "unplayable-back-on-line", ball, club_in, about(touch, club_in * INCH_M + 0.03, 1, rest[1]), touch=touch) is False


@settings(max_examples=30)
@given(ball=balls, club_in=clubs_in, back_m=st.floats(0.01, 60), rest=st.tuples(SHARE, TURN))
def test_within_one_club_length_of_the_chosen_point_and_not_nearer_in_2019(
    ball: Position, club_in: float, back_m: float, rest: tuple[float, float]
) -> None:
    chosen = back(ball, back_m)
    played = about(chosen, club_in * INCH_M, *rest)
    gain_m = played.distance_m(hole) - chosen.distance_m(hole)
    assume(abs(gain_m) > 0.02)
    assert judged("2019", "unplayable-back-on-line", ball, club_in, played, back_m=back_m) is (gain_m > 0)
    if gain_m > 0:
        assert judged("2019", "unplayable-back-on-line", ball, club_in, played) is None
        assert judged("2019", "unplayable-back-on-line", ball, club_in, played, touch=chosen) is True
    beyond = about(chosen, club_in * INCH_M + 0.03, 1, rest[1])
    assert judged("2019", "unplayable-back-on-line", ball, club_in, beyond, back_m=back_m) is False


@pytest.mark.parametrize(("edition", "width_m"), [("2016", 0.03), ("2023", 0.03)])
@settings(max_examples=30)
@given(ball=balls, club_in=clubs_in, back_m=st.floats(0.1, 60), more_m=st.floats(0, 0.9), side=st.sampled_from([-1, 1]))
def test_a_ball_that_missed_the_line_is_wrong_wherever_it_rests(
    edition: str, width_m: float, ball: Position, club_in: float, back_m: float, more_m: float, side: int
) -> None:
    away_m, off_m = ball.distance_m(hole), side * (width_m + more_m)
    touch = back(ball, back_m).moved(-ball.y_m / away_m * off_m, ball.x_m / away_m * off_m)
    assert judged(edition, "unplayable-back-on-line", ball, club_in, back(ball, back_m), touch=touch) is False


@settings(max_examples=30)
@given(ball=balls, club_in=clubs_in, back_m=st.floats(0.05, 60), side_in=st.floats(-40, 40))
def test_within_twenty_inches_of_the_line_in_the_draft(ball: Position, club_in: float, back_m: float, side_in: float) -> None:
    assume(abs(abs(side_in) - 20) > 0.5)
    away_m = ball.distance_m(hole)
    played = back(ball, back_m).moved(-ball.y_m / away_m * side_in * INCH_M, ball.x_m / away_m * side_in * INCH_M)
    assert judged("draft-2017", "unplayable-back-on-line", ball, club_in, played) is (abs(side_in) < 20)
