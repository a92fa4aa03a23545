"""Which condition interferes with a ball, and where the ball could lie clear of it."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from marram.core.errors import IncidentError
from marram.core.kept import OnRequest
from marram.core.terms import Area, Club, Hand
from marram.core.units import BALL_RADIUS_M
from marram.course.conditions import Condition
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.locate import TOUCH_M
from marram.relief.area.line_of_play import ground_behind, only_polygons
from marram.relief.clear.maximum import MaximumPoint, points_of_maximum_relief
from marram.relief.clear.nearest import FARTHEST_M, NearestPoint, Relief, nearest_points_of_relief
from marram.relief.clear.stance import STANCES, Sample, clearance_m, footprint, forbidden_ground, parts_touched, shaft
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.vocabulary import ClearOf
from marram.rulings.case.case import Case, Unknown
from marram.rulings.case.met import Interference
from marram.rulings.case.procedure import Procedure
from marram.rulings.measure.ground import Limits, ground_near, limits_of

USUAL_CLUB = Club.IRON
"""Stance taken where nobody has said which club would be used; the ruling says so and tells how much it matters."""
LINE, LINE_ON_GREEN = ClearOf.LINE_OF_PLAY, ClearOf.LINE_OF_PLAY_ON_GREEN
_REACH_M = 5.0


class NoInterference(Exception):
    """Nothing of the kind interferes; carries the nearest thing and its gap."""

    def __init__(self, nearest: Feature | None, gap_m: float) -> None:
        super().__init__()
        self.nearest = nearest
        self.gap_m = gap_m


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Nearest points; on request the ground without complete relief, and how far another club would move the points."""

    points: tuple[NearestPoint, ...]
    forbidden: OnRequest[BaseGeometry]
    other_clubs: OnRequest[float | None]


def samples_for(case: Case, club: Club, parts: frozenset[str], condition: Feature) -> tuple[Sample, ...]:
    """The player's footprint with a club, as far as a condition can meet it.

    Raises:
        Unknown: Nobody has said which hand, and the stance or swing counts.
    """
    if case.incident.player.hand is None and parts & {ClearOf.STANCE, ClearOf.SWING}:
        raise Unknown(NamedFact.HAND)
    return footprint(STANCES[club], case.incident.player.hand or Hand.RIGHT, parts, with_shaft=condition.is_standing)


def ball_at(case: Case) -> Position:
    """Where the ball lies.

    Raises:
        Unknown: It has not been found.
        IncidentError: It lies at the hole, so that there is no stroke to interfere with.
    """
    if case.place is None:
        raise Unknown(NamedFact.BALL_AT)
    if case.place.position.distance_m(case.hole_at) < TOUCH_M:
        raise IncidentError("The ball lies at the hole, so there is no line of play and no stance.", where="ball")
    return case.place.position


def kinds_of(case: Case) -> tuple[str, ...]:
    """The kinds of condition that the situation is about."""
    return case.book.words(f"situation.{case.incident.situation}.conditions").value


def conditions_of(case: Case) -> list[Condition]:
    """All conditions of the situation's kinds, those that touch joined; the greens of other holes count as wrong greens."""
    return [condition for kind in kinds_of(case) for condition in case.course.conditions(kind, case.incident.hole)]


def find_interference(case: Case, parts: frozenset[str], *, besides: frozenset[str] = frozenset()) -> Interference:
    """The condition of the situation's kinds that is most in the way.

    Args:
        case: The case.
        parts: Which of lie, stance, swing and line of play count.
        besides: Names of things that are not asked about.

    Raises:
        NoInterference: None is.
        Unknown: The ball's place or the player's hand is not known.
    """
    asked = (ball_at(case), case.incident.player.hand, _club_of(case), kinds_of(case), parts, besides)
    found = case.once("interference", asked, lambda: _most_in_the_way(case, parts, besides))
    if isinstance(found, Interference):
        return found
    raise NoInterference(*found)


def _club_of(case: Case) -> Club:
    return case.incident.player.club or USUAL_CLUB


def _most_in_the_way(case: Case, parts: frozenset[str], besides: frozenset[str]) -> Interference | tuple[Feature | None, float]:
    """The condition most in the way; where none is, the nearest and its gap."""
    ball, club = ball_at(case), _club_of(case)
    point = Point(ball.xy)
    gaps: list[tuple[float, Condition | None, bool]] = []
    for condition in conditions_of(case):
        if condition.names & besides:
            continue
        gap_m = _REACH_M
        if condition.geometry.distance(point) <= _REACH_M:
            gap_m = _gap_m(case, club, parts, condition)
        on_line = _counts_on_line(case, parts, condition)
        if on_line:
            gap_m = min(gap_m, _line_gap_m(case, ball, condition.geometry))
        gaps.append((gap_m, condition, on_line))
    gap_m, joined, on_line = min(gaps, key=lambda found: found[0], default=(_REACH_M, None, False))
    met = None if joined is None else joined.seen_from(ball)
    if joined is None or met is None or gap_m >= 0:
        return (met if gap_m < _REACH_M else None), gap_m
    touched = set()
    if met.geometry.distance(point) <= _REACH_M:
        touched = _parts_touched(case, club, parts, joined)
    if on_line and _line_gap_m(case, ball, met.geometry) < 0:
        touched.add("line of play")
    return Interference(condition=met, joined=joined, depth_m=-gap_m, parts=frozenset(touched), on_line=on_line)


def _footprints(case: Case, club: Club, parts: frozenset[str], condition: Condition) -> Iterator[tuple[tuple[Sample, ...], BaseGeometry]]:
    """The player's footprint and the ground that it must be clear of; where only some of that stands up, the shaft of its own."""
    whole = condition.seen_from(ball_at(case))
    yield samples_for(case, club, parts, whole), condition.geometry
    if not whole.is_standing and not condition.standing.is_empty:
        yield _shaft(case, club, parts), condition.standing


def _shaft(case: Case, club: Club, parts: frozenset[str]) -> tuple[Sample, ...]:
    """The part of the footprint that only things which stand up can meet."""
    return shaft(STANCES[club], case.incident.player.hand or Hand.RIGHT, parts)


def gap_to(case: Case, parts: frozenset[str], condition: Condition) -> float:
    """Least gap between a player at the ball and a condition, metres; negative where it interferes.

    Raises:
        Unknown: The ball's place or the player's hand is not known.
    """
    return _gap_m(case, _club_of(case), parts, condition)


def _gap_m(case: Case, club: Club, parts: frozenset[str], condition: Condition) -> float:
    ball = ball_at(case)
    return min(clearance_m(ball, case.hole_at, samples, ground) for samples, ground in _footprints(case, club, parts, condition))


def _parts_touched(case: Case, club: Club, parts: frozenset[str], condition: Condition) -> set[str]:
    ball, prints = ball_at(case), _footprints(case, club, parts, condition)
    return {part for samples, ground in prints for part in parts_touched(ball, case.hole_at, samples, ground)}


def _counts_on_line(case: Case, parts: frozenset[str], condition: Condition) -> bool:
    """Whether a condition on the straight line between ball and hole is interference."""
    if LINE in parts:
        return True
    if LINE_ON_GREEN not in parts:
        return False
    greens = [piece.geometry for piece in case.course.pieces if piece.area_for(case.incident.hole) is Area.PUTTING_GREEN]
    return any(green.intersects(condition.geometry) for green in greens)


def _line_gap_m(case: Case, ball: Position, ground: BaseGeometry) -> float:
    """Gap between the path of a ball to the hole and some ground; negative where the ball would roll on it."""
    line = Point(ball.xy) if ball.distance_m(case.hole_at) < TOUCH_M else LineString([ball.xy, case.hole_at.xy])
    return float(ground.distance(line)) - BALL_RADIUS_M


def find_nearest_points(procedure: Procedure, parts: frozenset[str]) -> Found:
    """The nearest points of complete relief, and how far they move with the other clubs' stances."""
    case = procedure.case
    met, limits = find_interference(case, parts), limits_of(procedure, ball_at(case))
    return case.once("nearest points", (*_asked_of(case, met, parts), limits), lambda: _nearest_points(case, met, parts, limits))


def _asked_of(case: Case, met: Interference, parts: frozenset[str]) -> tuple[Hashable, ...]:
    """All that relief from a condition depends on, besides where a ball may lie."""
    return ball_at(case), case.incident.player.hand, _club_of(case), met.joined.names, met.on_line, parts


def _nearest_points(case: Case, met: Interference, parts: frozenset[str], limits: Limits) -> Found:
    club, allowed = _club_of(case), ground_near(case, ball_at(case), limits)
    own = _relief(case, met, club, parts, allowed)
    other_clubs = OnRequest(lambda: _range_m(case, met, parts, allowed, own))
    asked = (*_asked_of(case, met, parts), own.reach_m)
    incomplete = OnRequest(lambda: case.once("incomplete", asked, lambda: own.forbidden))  # wherever a ball may lie, and so for all books
    return Found(points=own.points, forbidden=incomplete, other_clubs=other_clubs)


def _range_m(case: Case, met: Interference, parts: frozenset[str], allowed: Polygon | MultiPolygon, own: Relief) -> float | None:
    """How far the other clubs' stances move the nearest point; None where the stance plays no part or no point is found."""
    if ClearOf.STANCE not in parts or not own.points:
        return None
    others = [_relief(case, met, club, parts, allowed) for club in Club if club is not _club_of(case)]
    moved_m = [min(other.position.distance_m(own.points[0].position) for other in relief.points) for relief in others if relief.points]
    return max(moved_m, default=None)


def find_most_relief(procedure: Procedure, parts: frozenset[str]) -> tuple[MaximumPoint, ...]:
    """Where a condition interferes least with a player on ground where a procedure lets the ball lie."""
    case = procedure.case
    met, limits, ball = find_interference(case, parts), limits_of(procedure, ball_at(case)), ball_at(case)

    def search() -> tuple[MaximumPoint, ...]:
        club = _club_of(case)
        return points_of_maximum_relief(
            ball,
            case.hole_at,
            case.hole_at,
            only_polygons(met.condition.geometry),
            samples_for(case, club, parts, met.condition),
            ground_near(case, ball, limits),
            also_bad=also_forbidden(case, met, club, parts),
        )

    return case.once("most relief", (*_asked_of(case, met, parts), limits), search)


def forbidden_for(case: Case, met: Interference, parts: frozenset[str]) -> BaseGeometry:
    """All places near the ball from which a condition would still interfere."""
    return case.once("forbidden", _asked_of(case, met, parts), lambda: _forbidden(case, met, parts))


def _forbidden(case: Case, met: Interference, parts: frozenset[str]) -> BaseGeometry:
    club = _club_of(case)
    samples = samples_for(case, club, parts, met.condition)
    near = met.condition.geometry.intersection(_about(case, FARTHEST_M + _REACH_M))
    forbidden = forbidden_ground(only_polygons(near), case.hole_at, samples)
    also = also_forbidden(case, met, club, parts)
    return forbidden if also is None else forbidden.union(also)


def _about(case: Case, reach_m: float) -> Polygon:
    x, y = ball_at(case).xy
    return box(x - reach_m, y - reach_m, x + reach_m, y + reach_m)


def also_forbidden(case: Case, met: Interference, club: Club, parts: frozenset[str]) -> BaseGeometry | None:
    """Places near the ball from which a condition interferes otherwise than under ball, feet and clubhead.

    Returns:
        Places with it on their line to the hole, where that counts, and such that the shaft meets what of it stands up, where not all
        does; None where there are none.
    """
    grounds = [] if not met.on_line else [_ground_on_line(case, met)]
    if not met.condition.is_standing and not met.joined.standing.is_empty:
        upright = only_polygons(met.joined.standing.intersection(_about(case, FARTHEST_M + _REACH_M)))
        grounds.append(forbidden_ground(upright, case.hole_at, _shaft(case, club, parts)))
    return shapely.union_all(grounds) if grounds else None


def _ground_on_line(case: Case, met: Interference) -> BaseGeometry:
    """Places near the ball with the condition on their line to the hole."""
    near = _about(case, FARTHEST_M)
    return ground_behind(only_polygons(met.condition.geometry), case.hole_at, near, half_width_m=BALL_RADIUS_M)


def _relief(case: Case, met: Interference, club: Club, parts: frozenset[str], allowed: Polygon | MultiPolygon) -> Relief:
    return nearest_points_of_relief(
        ball_at(case),
        case.hole_at,
        case.hole_at,
        only_polygons(met.condition.geometry),
        samples_for(case, club, parts, met.condition),
        allowed,
        also_forbidden=also_forbidden(case, met, club, parts),
        once=lambda searched, work: case.once("nearest on ground", (*_asked_of(case, met, parts), club, searched), work),
    )
