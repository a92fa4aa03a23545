"""Incidents that would show a procedure: a ball at a spot, with the facts that the procedure asks for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from shapely.geometry import Point

from marram.core.terms import Area, FeatureKind, Form, Mark
from marram.course.course import Course
from marram.course.crossed import nearest_on
from marram.course.features import Feature
from marram.course.frame import Position
from marram.rulebook.book import Book
from marram.rulebook.catalogue import ConditionKind
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.vocabulary import NOT_FOUND, FollowFrom, LiesOn, LineFrom, MeasuredFrom, ReliefShape
from marram.rulings.case.case import Case
from marram.rulings.case.incident import Incident, Player, PreviousStroke
from marram.rulings.case.known import known
from marram.rulings.case.procedure import Procedure
from marram.rulings.measure.obstructed import conditions_of
from marram.showing.openings import ball_in_of, chain_of
from marram.showing.spots import Spot, spots_at_conditions, spots_in, spots_on_edges

_SUPPOSED_SIGMA_M = 0.02
"""A thing that is shown to players is measured where it lies."""
_ON_EDGE = frozenset({MeasuredFrom.CROSSING_POINT, MeasuredFrom.OPPOSITE_EDGE})
_STROKE_BEFORE = frozenset({MeasuredFrom.PREVIOUS_STROKE, MeasuredFrom.LAST_STROKE_OUTSIDE})
_CROSSING_OF_CONDITION = FollowFrom.CROSSING_OF_CONDITION
_PLAYED_INSIDE = NamedFact.PREVIOUS_STROKE_FROM_PENALTY_AREA


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """An incident that might show a procedure.

    Attributes:
        spot: Where it happens.
        incident: The incident, before the facts are settled.
        opening: The procedure with the rows above it.
    """

    spot: Spot
    incident: Incident
    opening: Procedure


def propose(opening: Procedure, player: Player) -> Iterator[Candidate]:
    """Propose incidents for one way of coming to a procedure.

    Args:
        opening: The procedure with the rows above it.
        player: The player.
    """
    kind = _supposed_kind(opening)
    if kind is not None:
        yield from _supposed(opening, kind, player)
        return
    for spot in _spots(opening):
        yield Candidate(spot=spot, incident=_incident(opening, spot, player), opening=opening)


def _supposed_kind(opening: Procedure) -> ConditionKind | None:
    """The kind of condition that is supposed where a trial adds one, says how large it usually is, and the course has none."""
    if not wants_conditions(opening) or conditions_met(opening):
        return None
    book = opening.case.book
    kinds = (book.catalogue.added_conditions.get(name) for name in book.words(f"{opening.case.situation_row}.conditions").value)
    return next((kind for kind in kinds if kind is not None and kind.radius_m is not None), None)


def _supposed(opening: Procedure, kind: ConditionKind, player: Player) -> Iterator[Candidate]:
    """Incidents with a condition supposed under the ball, a little to one side, as balls lie in such things."""
    radius_m = kind.radius_m or 0.0
    fairways = opening.case.course.of_kind(FeatureKind.FAIRWAY) if opening.word("lies_on") == LiesOn.FAIRWAY_HEIGHT else ()
    for spot in spots_in(opening.case.course, ball_in_of(opening)):
        if fairways and not any(fairway.geometry.covers(Point(spot.ball.xy)) for fairway in fairways):
            continue
        middle = spot.ball.moved(radius_m / 4, radius_m / 4)
        ground = Point(middle.xy).buffer(radius_m, quad_segs=64)
        met = Feature(
            id="met-today-1",
            kind=FeatureKind.OTHER_CONDITION,
            named=kind.name,
            geometry=ground,
            sigma_m=_SUPPOSED_SIGMA_M,
            is_surveyed=False,
        )
        there = replace(spot, noun=f"{spot.noun}, a {met.noun} supposed there")
        yield Candidate(spot=there, incident=replace(_incident(opening, spot, player), conditions=(met,)), opening=opening)


def wants_conditions(opening: Procedure) -> bool:
    """Whether a procedure is about a thing in the way."""
    if opening.words("clear_of") or _starts(opening, _CROSSING_OF_CONDITION):
        return True
    conditions = opening.case.book.words(f"situation.{opening.case.incident.situation}.conditions").value
    return bool(conditions) and not wants_edges(opening) and opening.word("reference") not in _STROKE_BEFORE


def wants_edges(opening: Procedure) -> bool:
    """Whether a procedure starts at the edge of a penalty area."""
    points = {opening.word("reference"), opening.word("line_from")}
    if LineFrom.CROSSING_OR_BALL in points:
        points = {str(LineFrom.CROSSING_POINT)} if opening.case.incident.situation == "penalty-area" else set()
    return bool(points & _ON_EDGE) or opening.word("shape") == ReliefShape.DROPPING_ZONE or _is_played_inside(opening)


def marks_of(opening: Procedure) -> frozenset[Mark]:
    """Marks of the penalty areas that a procedure, and all rows above it, is for."""
    marks = [frozenset(Mark(mark) for mark in row.words("marks")) for row in chain_of(opening)]
    return frozenset.intersection(*marks)


def _starts(opening: Procedure, where: str) -> bool:
    return any(row.word("follow_from") == where for row in chain_of(opening)[:-1])


def _is_played_inside(opening: Procedure) -> bool:
    """Whether a procedure, or a row above it, is only for a ball played from a penalty area."""
    return any(_PLAYED_INSIDE in row.words("only_if") for row in chain_of(opening))


def _spots(opening: Procedure) -> Iterator[Spot]:
    course, areas = opening.case.course, ball_in_of(opening)
    if wants_conditions(opening):
        yield from spots_at_conditions(course, conditions_met(opening), areas, _may_be_played)
    elif wants_edges(opening):
        marks = marks_of(opening)
        yield from spots_on_edges(course, [area for area in course.penalty_areas if area.mark in marks])
    elif opening.word("reference") in _STROKE_BEFORE:
        yield from spots_in(course, (Area.GENERAL_AREA.value,))
    else:
        # On open ground people find room, and a ball there is nothing out of the way; other areas serve where that is not allowed.
        is_open = Area.GENERAL_AREA.value in areas or areas == (NOT_FOUND,)
        yield from spots_in(course, (Area.GENERAL_AREA.value,) if is_open else areas)


def conditions_met(opening: Procedure) -> Sequence[Feature]:
    """The things that may be in the way on any hole; a green that serves all holes asked about is a wrong green nowhere."""
    case = opening.case
    found: dict[str, Feature] = {}
    for number in case.course.holes:
        asked = replace(case, incident=replace(case.incident, hole=number))
        found |= {feature.id: feature for condition in conditions_of(asked) for feature in condition.features}
    return list(found.values())


def _may_be_played(condition: Feature, hole: int) -> bool:
    """A green of the hole being played is no condition on it."""
    return condition.kind is not FeatureKind.PUTTING_GREEN or hole not in condition.holes


def _incident(opening: Procedure, spot: Spot, player: Player) -> Incident:
    areas, reference, course = ball_in_of(opening), opening.word("reference"), opening.case.course
    first = chain_of(opening)[0]
    is_lost = NOT_FOUND in first.ball_in() and (
        reference in _STROKE_BEFORE or areas == (NOT_FOUND,) or _starts(opening, _CROSSING_OF_CONDITION) or _is_played_inside(opening)
    )
    before = PreviousStroke(at=_tee_of(course, spot.hole), area=None)
    before_last = None
    if reference in _STROKE_BEFORE and spot.crossed_at is None:
        before = PreviousStroke(at=spot.ball, area=None)
    if _is_played_inside(opening):
        before, before_last = PreviousStroke(at=spot.ball, area=None), before
    return Incident(
        hole=spot.hole,
        situation=opening.case.incident.situation,
        form=Form.STROKE_PLAY,
        ball=None if is_lost else spot.ball,
        player=player,
        crossed_at=spot.ball if reference == MeasuredFrom.STATED_CROSSING else _crossing(opening, spot),
        previous_stroke=before if before.at is not None else None,
        last_stroke_outside=before_last,
        estimated_at=spot.ball if reference == MeasuredFrom.ESTIMATED_SPOT else None,
    )


def _crossing(opening: Procedure, spot: Spot) -> Position | None:
    """Where the ball crossed an edge: the one beside the spot, or the nearest of the penalty area that it lies in."""
    if wants_edges(opening) or _starts(opening, _CROSSING_OF_CONDITION) or opening.case.incident.situation == "penalty-area":
        return spot.crossed_at
    if ball_in_of(opening) != (Area.PENALTY_AREA.value,):
        return None
    point = Point(spot.ball.xy)
    area = next((area for area in opening.case.course.penalty_areas if area.geometry.covers(point)), None)
    if area is None:
        return None
    nearest = nearest_on(area.geometry.boundary, spot.ball)
    return Position(x_m=round(nearest.x_m, 3), y_m=round(nearest.y_m, 3))


def _tee_of(course: Course, hole: int) -> Position | None:
    """The middle of a hole's first set of tee-markers."""
    tees = [tee for tee in course.of_kind(FeatureKind.TEEING_AREA) if hole in tee.holes]
    if not tees:
        return None
    middle = tees[0].geometry.representative_point()
    return Position(x_m=round(middle.x, 3), y_m=round(middle.y, 3))


def settle_facts(candidate: Candidate, books: Sequence[Book]) -> Incident | None:
    """State the facts that let a procedure be shown.

    Args:
        candidate: The candidate.
        books: The books under which it is to be shown.

    Returns:
        The incident with its facts, or None where the survey itself says that it cannot be.
    """
    facts: dict[str, bool] = {}
    for case, fact, wanted in _asked(candidate, books):
        seen = known(case, fact)
        if seen is None:
            facts[fact] = wanted
        elif seen is not wanted:
            return None
    return replace(candidate.incident, facts=facts)


def fact_against(candidate: Candidate, books: Sequence[Book]) -> tuple[str, bool] | None:
    """The first question that the survey itself answers otherwise than a procedure needs, with its answer; None where there is none.

    Args:
        candidate: The candidate.
        books: The books under which it is to be shown.
    """
    for case, fact, wanted in _asked(candidate, books):
        seen = known(case, fact)
        if seen is not None and seen is not wanted:
            return case.book.catalogue.facts[fact].question, seen
    return None


def _asked(candidate: Candidate, books: Sequence[Book]) -> Iterator[tuple[Case, str, bool]]:
    """Every fact that a procedure, and the rows above it, ask for under each book, with the answer that opens them."""
    for book in books:
        case = Case(incident=candidate.incident, course=candidate.opening.case.course, book=book)
        for row in chain_of(candidate.opening):
            read = Procedure(case=case, id=row.id)
            if book.has_row(read.row_id):
                yield from ((case, fact, wanted) for fact, wanted in _wanted(read))


def _wanted(row: Procedure) -> Iterator[tuple[str, bool]]:
    """The facts that a row asks for, each with the answer that opens it."""
    is_found = row.case.incident.ball is not None
    parts = ("only_if", "needs") if is_found else ("only_if", "needs", "needs_if_not_found")
    yield from ((fact, True) for part in parts for fact in row.words(part))
    barring = ("barred_by", "needs_not") if is_found else ("barred_by", "needs_not", "barred_if_not_found")
    yield from ((fact, False) for part in barring for fact in row.words(part))
