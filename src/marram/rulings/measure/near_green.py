"""Whether an object lies near enough to the green and to the ball for the local rule about the line of play."""

from __future__ import annotations

from shapely.geometry import Point

from marram.core.terms import Area
from marram.course.features import Feature
from marram.rulings.case.case import Case
from marram.rulings.measure.obstructed import ball_at

_ROW = "near-green"


def far_from_green(case: Case, condition: Feature) -> float:
    """By how much an object lies too far from the green or from the ball, metres; zero or less where it is near enough."""
    greens = [piece.geometry for piece in case.course.pieces if piece.area_for(case.incident.hole) is Area.PUTTING_GREEN]
    to_green_m = min((green.distance(condition.geometry) for green in greens), default=float("inf"))
    to_ball_m = condition.geometry.distance(Point(ball_at(case).xy))
    reach_of_green_m = case.metres(case.book.size(f"{_ROW}.from_green").value)
    reach_of_ball_m = case.metres(case.book.size(f"{_ROW}.from_ball").value)
    return max(to_green_m - reach_of_green_m, to_ball_m - reach_of_ball_m)
