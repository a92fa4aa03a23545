"""One incident on one course under one book, with what the procedures ask of it."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from marram.core.errors import IncidentError, SurveyError
from marram.core.terms import Area, Mark
from marram.core.units import INCH_M, Size
from marram.course.course import Course
from marram.course.crossed import FARTHEST_FROM_EDGE_M, last_way_in, nearest_on, penalty_areas_crossed, penalty_areas_touching
from marram.course.frame import Position
from marram.course.holes import Hole, how_to_give_location
from marram.course.locate import Place, locate
from marram.course.partition import PenaltyArea
from marram.rulebook.book import Book
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.vocabulary import NOT_FOUND
from marram.rulings.case.incident import Incident, PreviousStroke

T = TypeVar("T")


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
        off_condition_m: How far a stated crossing point lay off the edge of a condition that it was taken to; None where there is none.
    """

    incident: Incident
    course: Course
    book: Book
    played_from: PenaltyArea | None = None
    off_condition_m: float | None = None

    def once(self, what: str, asked: Hashable, work: Callable[[], T]) -> T:
        """What is worked out from the ground alone: worked out once for all books and procedures that ask it.

        Args:
            what: What it is.
            asked: All that it depends on besides the course and the hole being played.
            work: Works it out.
        """
        return self.course.worked.once((what, self.incident.hole, asked), work)

    @property
    def situation_row(self) -> str:
        """Name of the row of the situation."""
        return f"situation.{self.incident.situation}"

    @property
    def is_added(self) -> bool:
        """Whether the situation is one that a trial adds."""
        return bool(self.book.catalogue.rows[self.situation_row].added)

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
                hint=how_to_give_location(self.hole.number),
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
        return self.place.area.value if self.place else NOT_FOUND

    @cached_property
    def penalty_area(self) -> PenaltyArea | None:
        """The penalty area that the ball is in or, for a ball not found, the one whose edge it crossed."""
        if self.crossed_mark_asked:
            return self.crossed[0]
        stated = self.incident.crossed_mark
        if stated is None or not self.crossed:
            return self.crossed[0] if self.crossed else None
        return next((area for area in self.crossed if area.mark is stated), None) or self._touching(stated)

    def _touching(self, mark: Mark) -> PenaltyArea:
        """The penalty area of a stated mark that meets the one that the ball is in."""
        found = next((area for area in penalty_areas_touching(self.course, self.crossed[0]) if area.mark is mark), None)
        if found is None:
            raise IncidentError(
                f"No penalty area marked {mark.value} has its edge where the ball crossed.",
                where="facts.crossed_mark",
                hint=f"There it is marked {' or '.join(area.mark.value for area in self.crossed)}.",
            )
        return found

    @cached_property
    def holding(self) -> PenaltyArea | None:
        """The penalty area that holds the ball, or that it was last played from; None where neither is so."""
        if self.played_from is not None:
            return self.played_from
        return None if self.place is None else self.place.penalty_area

    @cached_property
    def crossed(self) -> tuple[PenaltyArea, ...]:
        """The penalty areas whose edge may be the one that the ball last crossed: more than one only where marks meet."""
        incident = self.incident
        if self.holding is None and self.place is not None:
            return ()
        at = incident.crossed_at
        if at is None and incident.flight is not None:
            end = Point(incident.flight[1].xy)
            nearest = self.holding or min(self.course.penalty_areas, key=lambda area: area.geometry.distance(end), default=None)
            at = None if nearest is None else way_in(incident.flight, nearest)
        if at is not None:
            return penalty_areas_crossed(self.course, at, self.holding)
        return () if self.holding is None else (self.holding,)

    @property
    def crossed_mark_asked(self) -> bool:
        """Whether the ball crossed where two marks meet, and nobody has said which of them it crossed last."""
        return len(self.crossed) > 1 and self.incident.crossed_mark is None

    @property
    def mark(self) -> Mark | None:
        """Mark of the penalty area whose edge was crossed; None where that is still to be asked, or there is none."""
        return None if self.penalty_area is None or self.crossed_mark_asked else self.penalty_area.mark

    @cached_property
    def crossing(self) -> Position:
        """The place on the edge where the ball last crossed it.

        Raises:
            Unknown: Nobody has said, or it is where two marks meet.
            IncidentError: The place stated is not near any edge, or the flight crosses none.
        """
        area = self.penalty_area
        if area is None or (self.incident.crossed_at is None and self.incident.flight is None):
            raise Unknown(NamedFact.CROSSED_AT)
        if self.crossed_mark_asked:
            raise Unknown(NamedFact.CROSSED_MARK)
        if self.incident.crossed_at is not None:
            return on_edge(self.incident.crossed_at, area.geometry.boundary, "penalty area")
        assert self.incident.flight is not None
        return way_in(self.incident.flight, area)

    @property
    def crossing_moved_m(self) -> float | None:
        """How far the place stated lay off the edge that it was taken to, metres; None where no place was stated."""
        if self.off_condition_m is not None or self.incident.crossed_at is None or self.penalty_area is None:
            return self.off_condition_m
        return self.incident.crossed_at.distance_m(self.crossing)

    def club_length_m(self) -> float:
        """Length of the club that measures, metres.

        Raises:
            Unknown: Nobody has said.
        """
        player = self.incident.player
        if player.longest_club_in is None:
            raise Unknown(NamedFact.LONGEST_CLUB_IN)
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
            raise Unknown(NamedFact.ESTIMATED_AT)
        return spot

    def previous_spot(self) -> tuple[Position | None, Area]:
        """Where the previous stroke was made, and in which area.

        Raises:
            Unknown: Nobody has said.
        """
        return self._spot_of(self.incident.previous_stroke, NamedFact.PREVIOUS_STROKE)

    def last_spot_outside(self) -> tuple[Position | None, Area]:
        """Where the last stroke from outside a penalty area was made, and in which area.

        Raises:
            Unknown: Nobody has said.
        """
        return self._spot_of(self.incident.last_stroke_outside, NamedFact.LAST_STROKE_OUTSIDE)

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
    return nearest_on(edge, stated)


def way_in(flight: tuple[Position, Position], area: PenaltyArea) -> Position:
    """The last place where a straight path comes into the penalty area.

    Raises:
        IncidentError: It never does.
    """
    entered = last_way_in(flight, area.geometry)
    if entered is None:
        raise IncidentError(
            "The flight does not cross the edge of the penalty area from outside.",
            where="facts.flight",
            hint="Give two places, the first outside and the second inside.",
        )
    return entered
