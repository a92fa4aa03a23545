"""One incident on one course under one book, with what the procedures ask of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from marram.core.errors import IncidentError, SurveyError
from marram.core.terms import Area, Mark
from marram.core.units import INCH_M, Size
from marram.course.course import Course
from marram.course.frame import Position
from marram.course.holes import Hole
from marram.course.locate import Place, locate
from marram.course.partition import PenaltyArea
from marram.rulebook.book import Book
from marram.rulings.incident import Incident, PreviousStroke

FARTHEST_FROM_EDGE_M = 2.0
"""A crossing point stated farther from any edge is a mistake, not an estimate."""
ACCURACY_SIGMAS = 2.0
"""A margin is safe beyond two standard deviations of the survey."""


class Unknown(Exception):
    """A procedure cannot go on before a fact is known."""

    def __init__(self, fact: str) -> None:
        super().__init__(fact)
        self.fact = fact


@dataclass(frozen=True)
class Case:
    """An incident with its course and book.

    Attributes:
        incident: What happened.
        course: The course with the day's conditions.
        book: The rule book.
        played_from: The penalty area from which the ball was last played, where that is the one that counts.
    """

    incident: Incident
    course: Course
    book: Book
    played_from: PenaltyArea | None = None

    @cached_property
    def hole(self) -> Hole:
        """The hole being played."""
        return self.course.hole(self.incident.hole)

    @cached_property
    def hole_at(self) -> Position:
        """Where the hole is cut.

        Raises:
            SurveyError: The course does not say.
        """
        if self.hole.location is None:
            raise SurveyError(
                f"Where hole {self.hole.number} is cut today is not known, and every relief area depends on it.",
                where=self.course.name,
                hint="Add a feature of kind hole-location.",
            )
        return self.hole.location

    @cached_property
    def place(self) -> Place | None:
        """Where the ball lies; None where it has not been found."""
        ball = self.incident.ball
        return None if ball is None else locate(self.course, self.incident.hole, ball)

    @property
    def ball_in(self) -> str:
        """The area that the ball is in, or ``not-found``."""
        return self.place.area.value if self.place else "not-found"

    @cached_property
    def penalty_area(self) -> PenaltyArea | None:
        """The penalty area that the ball is in or, for a ball not found, the one whose edge it crossed."""
        if self.played_from is not None:
            return self.played_from
        if self.place is not None:
            return self.place.penalty_area
        crossed = self.incident.crossed_at
        if crossed is None and self.incident.flight is not None:
            return self._nearest_penalty_area(self.incident.flight[1])
        return None if crossed is None else self._nearest_penalty_area(crossed)

    def _nearest_penalty_area(self, position: Position) -> PenaltyArea | None:
        point = Point(position.xy)
        return min(self.course.penalty_areas, key=lambda area: area.geometry.distance(point), default=None)

    @property
    def mark(self) -> Mark | None:
        """Mark of that penalty area."""
        return self.penalty_area.mark if self.penalty_area else None

    @cached_property
    def crossing(self) -> Position:
        """The place on the edge where the ball last crossed it.

        Raises:
            Unknown: Nobody has said.
            IncidentError: The place stated is not near any edge, or the flight crosses none.
        """
        area = self.penalty_area
        if area is None or (self.incident.crossed_at is None and self.incident.flight is None):
            raise Unknown("crossed_at")
        if self.incident.crossed_at is not None:
            return on_edge(self.incident.crossed_at, area.geometry.boundary, "penalty area")
        return _last_crossing(self.incident.flight, area)  # type: ignore[arg-type]

    def club_length_m(self) -> float:
        """Length of the club that measures, metres.

        Raises:
            Unknown: Nobody has said.
        """
        player = self.incident.player
        if player.longest_club_in is None:
            raise Unknown("longest_club_in")
        lengths_in = [player.longest_club_in]
        may_putter = self.book.has("club-length.putter_allowed") and self.book.yes("club-length.putter_allowed").value
        if may_putter and player.putter_in is not None:
            lengths_in.append(player.putter_in)
        return max(lengths_in) * INCH_M

    def metres(self, size: Size) -> float:
        """A size on the ground, metres."""
        return size.in_metres(self.club_length_m() if size.needs_club else 0.0)

    @property
    def estimated(self) -> Position:
        """The spot that somebody had to estimate; where nobody did, the ball's.

        Raises:
            Unknown: Nobody has said.
        """
        spot = self.incident.estimated_at or self.incident.ball
        if spot is None:
            raise Unknown("estimated_at")
        return spot

    def previous_spot(self) -> tuple[Position | None, Area]:
        """Where the previous stroke was made, and in which area.

        Raises:
            Unknown: Nobody has said.
        """
        return self._spot_of(self.incident.previous_stroke, "previous_stroke")

    def last_spot_outside(self) -> tuple[Position | None, Area]:
        """Where the last stroke from outside a penalty area was made, and in which area.

        Raises:
            Unknown: Nobody has said.
        """
        return self._spot_of(self.incident.last_stroke_outside, "last_stroke_outside")

    def _spot_of(self, stroke: PreviousStroke | None, fact: str) -> tuple[Position | None, Area]:
        if stroke is None or (stroke.at is None and stroke.area is not Area.TEEING_AREA):
            raise Unknown(fact)
        if stroke.area is not None:
            return stroke.at, stroke.area
        if stroke.at is None:
            raise Unknown(fact)
        return stroke.at, locate(self.course, self.incident.hole, stroke.at).area


def on_edge(stated: Position, edge: BaseGeometry, what: str) -> Position:
    """The place on an edge nearest to the one stated.

    Args:
        stated: The place as the official puts it.
        edge: The edge of the penalty area or of the condition.
        what: What it is the edge of, in words.

    Raises:
        IncidentError: The place lies too far from the edge to be meant for it.
    """
    off_m = edge.distance(Point(stated.xy))
    if off_m > FARTHEST_FROM_EDGE_M:
        raise IncidentError(
            f"The crossing point lies {off_m:.1f} m from the edge of the {what}.",
            where="facts.crossed_at",
            hint=f"It must lie on the edge; up to {FARTHEST_FROM_EDGE_M:g} m off is taken to the nearest point of it.",
        )
    nearest = edge.interpolate(edge.project(Point(stated.xy)))
    return Position(x_m=nearest.x, y_m=nearest.y)


def _last_crossing(flight: tuple[Position, Position], area: PenaltyArea) -> Position:
    """The last place where a straight path comes into the penalty area."""
    path = LineString([flight[0].xy, flight[1].xy])
    met = path.intersection(area.geometry.boundary)
    points = [Point(xy) for part in getattr(met, "geoms", [met]) for xy in part.coords]
    if not points:
        raise IncidentError(
            "The flight does not cross the edge of the penalty area.",
            where="facts.flight",
            hint="Give two places, the first outside and the second inside.",
        )
    last = max(points, key=path.project)
    return Position(x_m=last.x, y_m=last.y)
