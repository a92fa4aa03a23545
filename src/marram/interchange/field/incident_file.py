"""Incidents as TOML files, read strictly against a schema that outsiders can have as JSON Schema."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Annotated, Literal, TypeVar

import msgspec
from msgspec import Meta, Struct

from marram.core.errors import IncidentError
from marram.core.terms import Area, Club, Form, Hand, Mark
from marram.core.toml_text import read_toml
from marram.core.words import odd_sign
from marram.course.course import Course
from marram.course.frame import Position
from marram.interchange.field.stated_ground import FARTHEST_M, ConditionTable, LonLat, StatedGround
from marram.interchange.tables.file_faults import structure_fault
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
from marram.rulebook.facts import as_named
from marram.rulebook.values import nearest_names
from marram.rulings.case.incident import Choice, Incident, Player, PreviousStroke

SHORTEST_CLUB_IN, LONGEST_CLUB_IN, LONGEST_PUTTER_IN = 18.0, 48.0, 60.0
"""Bounds on a club's length: 18 and 48 in are limits of the Equipment Rules (2019, part 2); 60 in for a putter is a guard of ours."""

_HINT = "See docs/formats/incident.md."

T = TypeVar("T")
PlayableArea = Literal["general-area", "bunker", "penalty-area", "putting-green", "teeing-area"]


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


_PLACED_FACTS = (
    "crossed_at",
    "flight",
    "previous_stroke",
    "other_crossed_at",
    "last_stroke_outside",
    "estimated_at",
    "played_from",
    "first_touch",
)
_MARK_FACT = "crossed_mark"
"""The one fact that is stated by a word: which mark the edge has that the ball last crossed, where two marks meet."""


def incident_schema() -> dict[str, object]:
    """JSON Schema of an incident file."""
    return msgspec.json.schema(IncidentTable, schema_hook=_stated_fact)


def _stated_fact(kind: type) -> dict[str, object]:
    """The schema of what a fact may be stated as: true or false, a place in degrees or as a table, two places on a path, or a word."""
    if kind is not object:
        raise NotImplementedError
    return {"type": ["boolean", "array", "object", "string"]}


def read_incident(path: Path, course: Course, *, known_facts: frozenset[str], added_kinds: Collection[str] = ()) -> Incident:
    """Read an incident and place it on a course.

    Args:
        path: A TOML file as docs/formats/incident.md describes it.
        course: The course.
        known_facts: Names of the facts that the rule data may ask for.
        added_kinds: Kinds of condition that the books asked add.

    Raises:
        IncidentError: The file cannot be used.
        SurveyError: The course has no such hole.
    """
    text = read_text(path, what="an incident", largest_bytes=LARGEST_TEXT_BYTES, error=IncidentError)
    return parse_incident(text, course, where=path.name, known_facts=known_facts, added_kinds=added_kinds)


def parse_incident(text: str, course: Course, *, where: str, known_facts: frozenset[str], added_kinds: Collection[str] = ()) -> Incident:
    """Read an incident from the text of a TOML file."""
    raw = read_toml(text, where=where, hint=_HINT, error=IncidentError)
    return incident_of(raw, course, where=where, known_facts=known_facts, added_kinds=added_kinds)


def incident_of(
    raw: Mapping[str, object], course: Course, *, where: str, known_facts: frozenset[str], added_kinds: Collection[str] = ()
) -> Incident:
    """Read an incident from the members of its table, and place it on a course.

    Args:
        raw: The members.
        course: The course.
        where: The place of the table, for errors.
        known_facts: Names of the facts that the rule data may ask for.
        added_kinds: Kinds of condition that the books asked add.

    Raises:
        IncidentError: The table cannot be used.
        SurveyError: The course has no such hole.
    """
    try:
        table = msgspec.convert(raw, IncidentTable)
    except msgspec.ValidationError as problem:
        raise _fault(problem, where) from None
    try:
        return _Placer(table, course, known_facts, added_kinds).incident()
    except IncidentError as problem:
        place = f"{where}, {problem.where}" if problem.where else where
        raise IncidentError(problem.message, where=place, hint=problem.hint or _HINT) from None


class _Placer:
    """Puts what the file says on the course."""

    def __init__(self, table: IncidentTable, course: Course, known_facts: frozenset[str], added_kinds: Collection[str]) -> None:
        self.table = table
        self.course = course
        self.ground = StatedGround(course, IncidentError, added_kinds)
        self.known_facts = known_facts

    def incident(self) -> Incident:
        table = self.table
        self.course.hole(table.hole)
        if odd_sign(table.title):
            raise IncidentError(f"It holds the sign {odd_sign(table.title)}; a title is one line of letters.", where="title")
        flight = self._stated("flight")
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
            crossed_mark=self._mark(),
            other_crossed_at=self._placed("other_crossed_at"),
            flight=None if flight is None else self._flight(flight),
            previous_stroke=self._stroke("previous_stroke"),
            last_stroke_outside=self._stroke("last_stroke_outside"),
            estimated_at=self._placed("estimated_at"),
            played_from=self._placed("played_from"),
            first_touch=self._placed("first_touch"),
            choice=Choice(back_m=table.choice.back_m, reference=table.choice.reference),
            conditions=tuple(
                self.ground.condition(f"conditions {n}", f"met-today-{n}", entry) for n, entry in enumerate(table.conditions, start=1)
            ),
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
            return self.ground.before_green("ball", self.table.hole, ball.before_green_m, ball.right_m or 0.0)
        return self.ground.place("ball", ball.at, ball.x_m, ball.y_m)

    def _stated(self, fact: str) -> object:
        """What is stated of a fact, however its name is written."""
        return next((value for name, value in self.table.facts.items() if as_named(name) == fact), None)

    def _placed(self, fact: str) -> Position | None:
        """A place stated among the facts."""
        raw = self._stated(fact)
        return None if raw is None else self._stated_place(f"facts.{fact}", raw)

    def _stated_place(self, where: str, raw: object) -> Position:
        """A place given as a pair of degrees or as a table."""
        if isinstance(raw, list):
            return self.ground.from_degrees(where, _convert({"at": raw}, PlaceTable, where).at or (math.nan, math.nan))
        table = _convert(raw, PlaceTable, where)
        return self.ground.place(where, table.at, table.x_m, table.y_m)

    def _mark(self) -> Mark | None:
        stated = self._stated(_MARK_FACT)
        if stated is not None and stated not in list(Mark):
            raise IncidentError(f"{stated!r} is no mark.", where=f"facts.{_MARK_FACT}", hint=f"Give one of {', '.join(Mark)}.")
        return None if stated is None else Mark(str(stated))

    def _flight(self, raw: object) -> tuple[Position, Position]:
        if not isinstance(raw, list) or len(raw) != 2:
            raise IncidentError("Give two places on the ball's path.", where="facts.flight", hint="[[lon, lat], [lon, lat]]")
        first, second = (self._stated_place("facts.flight", entry) for entry in raw)
        return first, second

    def _stroke(self, fact: str) -> PreviousStroke | None:
        raw, where = self._stated(fact), f"facts.{fact}"
        if raw is None:
            return None
        table = _convert(raw, PlaceTable, where)
        is_placed = table.at is not None or table.x_m is not None
        place = self.ground.place(where, table.at, table.x_m, table.y_m) if is_placed else None
        return PreviousStroke(at=place, area=Area(table.area) if table.area else None)

    def _yes_no_facts(self) -> dict[str, bool]:
        facts: dict[str, bool] = {}
        for asked, value in self.table.facts.items():
            name = as_named(asked)
            if name in (*_PLACED_FACTS, _MARK_FACT):
                continue
            if name not in self.known_facts:
                known = sorted(self.known_facts | {*_PLACED_FACTS, _MARK_FACT})
                near = nearest_names(name, known)
                told = f"Nearest: {', '.join(near)}. " if near else ""
                raise IncidentError(
                    f"No rule asks for the fact {asked!r}.", where=f"facts.{asked}", hint=f"{told}Known: {', '.join(known)}."
                )
            if not isinstance(value, bool):
                raise IncidentError(f"{value!r} is neither true nor false.", where=f"facts.{asked}")
            if facts.setdefault(name, value) is not value:
                raise IncidentError(f"{name} is stated true and false.", where=f"facts.{asked}", hint="State it once.")
        return facts


def _convert(raw: object, kind: type[T], where: str) -> T:
    try:
        return msgspec.convert(raw, kind)
    except msgspec.ValidationError as problem:
        raise _fault(problem, where) from None


def _fault(problem: msgspec.ValidationError, where: str) -> IncidentError:
    message, place = structure_fault(str(problem))
    return IncidentError(message, where=f"{where}, {place}" if place else where, hint=_HINT)
