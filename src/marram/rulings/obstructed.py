"""Which condition interferes with a ball, and where the ball could lie clear of it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from marram.core.errors import IncidentError
from marram.core.terms import Area, Club, FeatureKind, Hand
from marram.core.units import BALL_RADIUS_M
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.locate import TOUCH_M
from marram.relief.line_of_play import ground_behind, only_polygons
from marram.relief.nearest import FARTHEST_M, NearestPoint, Relief, nearest_points_of_relief
from marram.relief.stance import STANCES, Sample, clearance_m, footprint, forbidden_ground, parts_touched
from marram.rulings.case import Case, Unknown
from marram.rulings.ground import ground_near
from marram.rulings.procedure import Procedure

USUAL_CLUB = Club.IRON
"""Stance taken where nobody has said which club would be used; the ruling says so and tells how much it matters."""
LINE, LINE_ON_GREEN = "line-of-play", "line-of-play-on-green"
_REACH_M = 5.0
_WRONG_GREEN = "wrong-green"


class NoInterference(Exception):
    """Nothing of the kind interferes; carries the nearest thing and its gap."""

    def __init__(self, nearest: Feature | None, gap_m: float) -> None:
        super().__init__()
        self.nearest = nearest
        self.gap_m = gap_m


@dataclass(frozen=True, slots=True, kw_only=True)
class Interference:
    """A condition in the player's way.

    Attributes:
        condition: The condition.
        depth_m: How far the footprint, or the ball's path, reaches into it, metres.
        parts: Which of ball (lie), stance, swing and line of play it touches.
        on_line: Whether a condition on the line of play counts.
    """

    condition: Feature
    depth_m: float
    parts: frozenset[str]
    on_line: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Nearest points with how far another club would move them."""

    points: tuple[NearestPoint, ...]
    forbidden: BaseGeometry
    range_m: float | None


def samples_for(case: Case, club: Club, parts: frozenset[str], condition: Feature) -> tuple[Sample, ...]:
    """The player's footprint with a club, as far as a condition can meet it.

    Raises:
        Unknown: Nobody has said which hand, and the stance or swing counts.
    """
    if case.incident.player.hand is None and parts & {"stance", "swing"}:
        raise Unknown("hand")
    return footprint(STANCES[club], case.incident.player.hand or Hand.RIGHT, parts, with_shaft=condition.is_standing)


def ball_at(case: Case) -> Position:
    """Where the ball lies.

    Raises:
        Unknown: It has not been found.
        IncidentError: It lies at the hole, so that there is no stroke to interfere with.
    """
    if case.place is None:
        raise Unknown("ball_at")
    if case.place.position.distance_m(case.hole_at) < TOUCH_M:
        raise IncidentError("The ball lies at the hole, so there is no line of play and no stance.", where="ball")
    return case.place.position


def conditions_of(case: Case) -> list[Feature]:
    """All things on the course of the situation's kinds; the greens of other holes count as wrong greens."""
    kinds = case.book.words(f"situation.{case.incident.situation}.conditions").value
    found = [feature for feature in case.course.features if feature.kind.value in kinds]
    if _WRONG_GREEN in kinds:
        greens = case.course.of_kind(FeatureKind.PUTTING_GREEN)
        found += [replace(green, what=_green_noun(green)) for green in greens if case.incident.hole not in green.holes]
    return found


def _green_noun(green: Feature) -> str:
    return f"green of hole {green.holes[0]}" if green.holes else "wrong green"


def find_interference(case: Case, parts: frozenset[str]) -> Interference:
    """The condition of the situation's kinds that is most in the way.

    Raises:
        NoInterference: None is.
        Unknown: The ball's place or the player's hand is not known.
    """
    ball = ball_at(case)
    club = case.incident.player.club or USUAL_CLUB
    point = Point(ball.xy)
    gaps: list[tuple[float, Feature | None, bool]] = []
    for feature in conditions_of(case):
        gap_m = _REACH_M
        if feature.geometry.distance(point) <= _REACH_M:
            gap_m = clearance_m(ball, case.hole_at, samples_for(case, club, parts, feature), feature.geometry)
        on_line = _counts_on_line(case, parts, feature)
        if on_line:
            gap_m = min(gap_m, _line_gap_m(case, ball, feature.geometry))
        gaps.append((gap_m, feature, on_line))
    gap_m, met, on_line = min(gaps, key=lambda found: found[0], default=(_REACH_M, None, False))
    if met is None or gap_m >= 0:
        raise NoInterference(met if gap_m < _REACH_M else None, gap_m)
    touched = set()
    if met.geometry.distance(point) <= _REACH_M:
        touched = parts_touched(ball, case.hole_at, samples_for(case, club, parts, met), met.geometry)
    if on_line and _line_gap_m(case, ball, met.geometry) < 0:
        touched.add("line of play")
    return Interference(condition=met, depth_m=-gap_m, parts=frozenset(touched), on_line=on_line)


def _counts_on_line(case: Case, parts: frozenset[str], feature: Feature) -> bool:
    """Whether a condition on the straight line between ball and hole is interference."""
    if LINE in parts:
        return True
    if LINE_ON_GREEN not in parts:
        return False
    greens = [piece.geometry for piece in case.course.pieces if piece.area_for(case.incident.hole) is Area.PUTTING_GREEN]
    return any(green.intersects(feature.geometry) for green in greens)


def _line_gap_m(case: Case, ball: Position, ground: BaseGeometry) -> float:
    """Gap between the path of a ball to the hole and some ground; negative where the ball would roll on it."""
    line = Point(ball.xy) if ball.distance_m(case.hole_at) < TOUCH_M else LineString([ball.xy, case.hole_at.xy])
    return float(ground.distance(line)) - BALL_RADIUS_M


def find_nearest_points(procedure: Procedure, parts: frozenset[str]) -> Found:
    """The nearest points of complete relief, and how far they move with the other clubs' stances."""
    case = procedure.case
    met = find_interference(case, parts)
    own_club = case.incident.player.club or USUAL_CLUB
    allowed = ground_near(procedure, ball_at(case))
    own = _relief(case, met, own_club, parts, allowed)
    others = [] if not parts & {"stance"} else [_relief(case, met, club, parts, allowed) for club in Club if club is not own_club]
    moved_m = [
        min(other.position.distance_m(own.points[0].position) for other in relief.points)
        for relief in others
        if relief.points and own.points
    ]
    return Found(points=own.points, forbidden=own.forbidden, range_m=max(moved_m, default=None))


def forbidden_for(case: Case, met: Interference, parts: frozenset[str]) -> BaseGeometry:
    """All places near the ball from which a condition would still interfere."""
    samples = samples_for(case, case.incident.player.club or USUAL_CLUB, parts, met.condition)
    forbidden = forbidden_ground(only_polygons(met.condition.geometry), case.hole_at, samples)
    behind = ground_on_line(case, met)
    return forbidden if behind is None else forbidden.union(behind)


def ground_on_line(case: Case, met: Interference) -> BaseGeometry | None:
    """Places near the ball with the condition on their line to the hole; None where that does not count."""
    if not met.on_line:
        return None
    x, y = ball_at(case).xy
    near = box(x - FARTHEST_M, y - FARTHEST_M, x + FARTHEST_M, y + FARTHEST_M)
    return ground_behind(only_polygons(met.condition.geometry), case.hole_at, near, half_width_m=BALL_RADIUS_M)


def _relief(case: Case, met: Interference, club: Club, parts: frozenset[str], allowed: Polygon | MultiPolygon) -> Relief:
    return nearest_points_of_relief(
        ball_at(case),
        case.hole_at,
        case.hole_at,
        only_polygons(met.condition.geometry),
        samples_for(case, club, parts, met.condition),
        allowed,
        also_forbidden=ground_on_line(case, met),
    )
