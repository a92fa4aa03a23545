"""Incidents as TOML files, read strictly against a schema that outsiders can have as JSON Schema."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Annotated, Literal, TypeVar

import msgspec
from msgspec import Meta, Struct
from shapely.geometry import Point, Polygon

from marram.core.errors import IncidentError
from marram.core.terms import Area, Club, FeatureKind, Form, Hand
from marram.core.toml_text import read_toml
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.interchange.reading import LARGEST_TEXT_BYTES, read_text
from marram.interchange.told import structure_fault
from marram.rulings.incident import Choice, Incident, Player, PreviousStroke

SHORTEST_CLUB_IN, LONGEST_CLUB_IN, LONGEST_PUTTER_IN = 18.0, 48.0, 60.0
"""Bounds on a club's length: 18 and 48 in are limits of the Equipment Rules (2019, part 2); 60 in for a putter is a guard of ours."""
FARTHEST_M = 5_000.0

T = TypeVar("T")
LonLat = tuple[float, float]
PlayableArea = Literal["general-area", "bunker", "penalty-area", "putting-green", "teeing-area"]
ConditionName = Literal[
    "immovable-obstruction",
    "ground-under-repair",
    "temporary-water",
    "animal-hole",
    "no-play-zone",
    "dropping-zone",
    "dangerous-animal",
    "young-tree",
    "aeration-hole",
    "temporary-immovable-obstruction",
]


class BallTable(Struct, forbid_unknown_fields=True):
    """Where the ball is: one way of saying it."""

    at: LonLat | None = None
    x_m: float | None = None
    y_m: float | None = None
    before_green_m: float | None = None
    right_m: float | None = None
    lost: bool = False


class PlayerTable(Struct, forbid_unknown_fields=True):
    """What matters of the player."""

    hand: Literal["right", "left"] | None = None
    longest_club_in: Annotated[float, Meta(ge=SHORTEST_CLUB_IN, le=LONGEST_CLUB_IN)] | None = None
    putter_in: Annotated[float, Meta(ge=SHORTEST_CLUB_IN, le=LONGEST_PUTTER_IN)] | None = None
    club: Literal["driver", "iron", "wedge"] | None = None


class PlaceTable(Struct, forbid_unknown_fields=True):
    """A place in longitude and latitude, or in metres of the course frame."""

    at: LonLat | None = None
    x_m: float | None = None
    y_m: float | None = None
    area: PlayableArea | None = None


class ChoiceTable(Struct, forbid_unknown_fields=True):
    """What the player has chosen so far."""

    back_m: Annotated[float, Meta(ge=0, le=FARTHEST_M)] | None = None
    reference: Annotated[int, Meta(ge=1, le=20)] | None = None


class ConditionTable(Struct, forbid_unknown_fields=True):
    """Something met today and not surveyed: a disc, or a ring of places."""

    kind: ConditionName
    at: LonLat | None = None
    x_m: float | None = None
    y_m: float | None = None
    radius_m: Annotated[float, Meta(gt=0, le=200)] | None = None
    ring: list[LonLat] | None = None
    what: str = ""
    stands: bool | None = None
    sigma_m: Annotated[float, Meta(ge=0, le=100)] = 0.02


class IncidentTable(Struct, forbid_unknown_fields=True):
    """One ball and what happened to it."""

    hole: Annotated[int, Meta(ge=1, le=99)]
    situation: str
    ball: BallTable
    form: Form = Form.STROKE_PLAY
    title: str = ""
    player: PlayerTable = msgspec.field(default_factory=PlayerTable)
    facts: dict[str, object] = msgspec.field(default_factory=dict)
    choice: ChoiceTable = msgspec.field(default_factory=ChoiceTable)
    conditions: list[ConditionTable] = msgspec.field(default_factory=list)


_PLACED_FACTS = ("crossed_at", "flight", "previous_stroke", "other_crossed_at", "last_stroke_outside", "estimated_at")


def incident_schema() -> dict[str, object]:
    """JSON Schema of an incident file."""
    return msgspec.json.schema(IncidentTable)


def read_incident(path: Path, course: Course, *, known_facts: frozenset[str]) -> Incident:
    """Read an incident and place it on a course.

    Args:
        path: A TOML file as docs/formats/incident.md describes it.
        course: The course.
        known_facts: Names of the facts that the rule data may ask for.

    Raises:
        IncidentError: The file cannot be used.
        SurveyError: The course has no such hole.
    """
    text = read_text(path, what="an incident", largest_bytes=LARGEST_TEXT_BYTES, error=IncidentError)
    return parse_incident(text, course, where=path.name, known_facts=known_facts)


def parse_incident(text: str, course: Course, *, where: str, known_facts: frozenset[str]) -> Incident:
    """Read an incident from the text of a TOML file."""
    raw = read_toml(text, where=where, hint="See docs/formats/incident.md.", error=IncidentError)
    try:
        table = msgspec.convert(raw, IncidentTable)
    except msgspec.ValidationError as problem:
        raise _fault(problem, where) from None
    try:
        return _Placer(table, course, known_facts).incident()
    except IncidentError as problem:
        place = f"{where}, {problem.where}" if problem.where else where
        raise IncidentError(problem.message, where=place, hint=problem.hint) from None


class _Placer:
    """Puts what the file says on the course."""

    def __init__(self, table: IncidentTable, course: Course, known_facts: frozenset[str]) -> None:
        self.table = table
        self.course = course
        self.known_facts = known_facts

    def incident(self) -> Incident:
        table, facts = self.table, self.table.facts
        self.course.hole(table.hole)
        flight = facts.get("flight")
        player = table.player
        return Incident(
            hole=table.hole,
            situation=table.situation,
            form=table.form,
            ball=self._ball(table.ball),
            player=Player(
                hand=Hand(player.hand) if player.hand else None,
                longest_club_in=player.longest_club_in,
                putter_in=player.putter_in,
                club=Club(player.club) if player.club else None,
            ),
            facts=self._yes_no_facts(),
            crossed_at=self._placed("crossed_at"),
            other_crossed_at=self._placed("other_crossed_at"),
            flight=None if flight is None else self._flight(flight),
            previous_stroke=self._stroke("previous_stroke"),
            last_stroke_outside=self._stroke("last_stroke_outside"),
            estimated_at=self._placed("estimated_at"),
            choice=Choice(back_m=table.choice.back_m, reference=table.choice.reference),
            conditions=tuple(self._condition(n, entry) for n, entry in enumerate(table.conditions, start=1)),
        )

    def _ball(self, ball: BallTable) -> Position | None:
        ways = [ball.at is not None, ball.x_m is not None, ball.before_green_m is not None, ball.lost]
        if sum(ways) != 1 or (ball.right_m is not None and ball.before_green_m is None):
            raise IncidentError(
                "Say where the ball is in exactly one way.",
                where="ball",
                hint="at = [lon, lat], or x_m and y_m, or before_green_m and right_m, or lost = true.",
            )
        if ball.lost:
            return None
        if ball.before_green_m is not None:
            place = self.course.hole(self.table.hole).before_green(ball.before_green_m, ball.right_m or 0.0)
            if place is None:
                raise IncidentError(
                    f"Hole {self.table.hole} has no line of play that meets its green, so nothing can be measured along it.",
                    where="ball.before_green_m",
                )
            return self._near("ball", place)
        return self._place("ball", ball.at, ball.x_m, ball.y_m)

    def _place(self, where: str, at: LonLat | None, x_m: float | None, y_m: float | None) -> Position:
        if at is not None and x_m is None and y_m is None:
            return self._from_degrees(where, at)
        if at is None and x_m is not None and y_m is not None:
            return self._near(where, Position(x_m=x_m, y_m=y_m))
        raise IncidentError("Give a place as at = [lon, lat] or as x_m and y_m.", where=where)

    def _from_degrees(self, where: str, at: LonLat) -> Position:
        lon_deg, lat_deg = at
        if not all(map(math.isfinite, at)) or abs(lat_deg) > 90 or abs(lon_deg) > 180:
            raise IncidentError(
                f"{lon_deg:g}, {lat_deg:g} is no longitude and latitude.",
                where=where,
                hint="Longitude comes first, from -180 to 180; then latitude, from -90 to 90.",
            )
        place = self.course.frame.to_position(lon_deg, lat_deg)
        if not _is_within(place) and abs(lon_deg) <= 90 and _is_within(self.course.frame.to_position(lat_deg, lon_deg)):
            raise IncidentError(
                f"Longitude {lon_deg:g} and latitude {lat_deg:g} look swapped.",
                where=where,
                hint=f"Longitude comes first: [{lat_deg:g}, {lon_deg:g}] lies on the course's ground.",
            )
        return self._near(where, place)

    def _near(self, where: str, place: Position) -> Position:
        if not _is_within(place):
            raise IncidentError(
                f"The place is {math.hypot(*place.xy) / 1000:.0f} km from the middle of {self.course.name}.",
                where=where,
            )
        return place

    def _placed(self, fact: str) -> Position | None:
        """A place stated among the facts."""
        raw = self.table.facts.get(fact)
        return None if raw is None else self._stated_place(f"facts.{fact}", raw)

    def _stated_place(self, where: str, raw: object) -> Position:
        """A place given as a pair of degrees or as a table."""
        if isinstance(raw, list):
            return self._from_degrees(where, _convert({"at": raw}, PlaceTable, where).at or (math.nan, math.nan))
        table = _convert(raw, PlaceTable, where)
        return self._place(where, table.at, table.x_m, table.y_m)

    def _flight(self, raw: object) -> tuple[Position, Position]:
        if not isinstance(raw, list) or len(raw) != 2:
            raise IncidentError("Give two places on the ball's path.", where="facts.flight", hint="[[lon, lat], [lon, lat]]")
        first, second = (self._stated_place("facts.flight", entry) for entry in raw)
        return first, second

    def _stroke(self, fact: str) -> PreviousStroke | None:
        raw, where = self.table.facts.get(fact), f"facts.{fact}"
        if raw is None:
            return None
        table = _convert(raw, PlaceTable, where)
        is_placed = table.at is not None or table.x_m is not None
        place = self._place(where, table.at, table.x_m, table.y_m) if is_placed else None
        return PreviousStroke(at=place, area=Area(table.area) if table.area else None)

    def _yes_no_facts(self) -> dict[str, bool]:
        facts: dict[str, bool] = {}
        for name, value in self.table.facts.items():
            if name in _PLACED_FACTS:
                continue
            if name not in self.known_facts:
                known = ", ".join(sorted(self.known_facts | set(_PLACED_FACTS)))
                raise IncidentError(f"No rule asks for the fact {name!r}.", where=f"facts.{name}", hint=f"Known: {known}.")
            if not isinstance(value, bool):
                raise IncidentError(f"{value!r} is neither true nor false.", where=f"facts.{name}")
            facts[name] = value
        return facts

    def _condition(self, number: int, table: ConditionTable) -> Feature:
        where = f"conditions {number}"
        has_place = table.at is not None or table.x_m is not None
        if (table.ring is None) == (not has_place) or has_place != (table.radius_m is not None):
            raise IncidentError("Give a place with radius_m, or a ring of places.", where=where)
        if table.ring is not None:
            corners = [self._from_degrees(where, corner).xy for corner in table.ring]
            ground = Polygon(corners) if len(corners) >= 3 else Polygon()
            if ground.is_empty or not ground.is_valid or ground.area == 0:
                raise IncidentError("The ring is no sound outline: at least three places, not crossing itself.", where=where)
        else:
            middle = self._place(where, table.at, table.x_m, table.y_m)
            ground = Point(middle.xy).buffer(table.radius_m or 0.0, quad_segs=64)
        return Feature(
            id=f"met-today-{number}",
            kind=FeatureKind(table.kind),
            geometry=ground,
            what=table.what,
            stands=table.stands,
            sigma_m=table.sigma_m,
            is_surveyed=False,
        )


def _is_within(place: Position) -> bool:
    return math.hypot(*place.xy) <= FARTHEST_M


def _convert(raw: object, kind: type[T], where: str) -> T:
    try:
        return msgspec.convert(raw, kind)
    except msgspec.ValidationError as problem:
        raise _fault(problem, where) from None


def _fault(problem: msgspec.ValidationError, where: str) -> IncidentError:
    message, place = structure_fault(str(problem))
    return IncidentError(message, where=f"{where}, {place}" if place else where, hint="See docs/formats/incident.md.")
