"""Which procedures carry out another one, and from where they start."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from shapely.geometry import Point

from marram.course.locate import locate
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.vocabulary import FollowFrom, ToldAs
from marram.rulebook.wording.explain import in_area_words
from marram.rulings.case.case import Case, Unknown, on_edge
from marram.rulings.case.known import known
from marram.rulings.case.procedure import Procedure
from marram.rulings.measure.obstructed import conditions_of


def is_relevant(procedure: Procedure) -> bool:
    """Whether a procedure speaks of the ball's area and of such a case at all; others of its family stay silent."""
    return is_spoken_of(procedure) and procedure.case.ball_in in procedure.ball_in()


def is_spoken_of(procedure: Procedure) -> bool:
    """Whether the book has the procedure and the facts without which it is not spoken of are true."""
    case = procedure.case
    if not case.book.has_row(procedure.row_id) or any(known(case, fact) for fact in procedure.words("unless")):
        return False
    return all(known(case, fact) for fact in procedure.words("only_if"))


def ball_in_words(case: Case) -> str:
    """Where the ball is, as the reason why a procedure is closed."""
    if case.place is None:
        return "This one has not been found."
    lies = in_area_words(case.book, case.place.area, case.place.mark)
    return f"This one lies {lies}, {case.place.margin_m:.2f} m from being elsewhere."


def followed_by(procedure: Procedure) -> Iterator[Procedure]:
    """The procedures that carry out another, as far as they speak of the place where they start.

    Raises:
        Unknown: The place where they start is not known.
    """
    start = _STARTS[procedure.word("follow_from")](procedure.case)
    names = procedure.words("follow")
    listed = _listed(procedure)
    # A row that follows the procedures of several families takes those of the situation's own family.
    own = [name for name in names if name in listed] or names
    for name in own:
        followed = procedure.follows(start, name)
        if is_relevant(followed):
            yield followed


def _listed(procedure: Procedure) -> set[str]:
    """All procedures that the situation opens, through their families too, without the one asked about."""
    book, situation = procedure.case.book, procedure.case.incident.situation
    names = [name for name in book.words(f"situation.{situation}.procedures").value if name != procedure.id]
    rows = [f"relief.{name}" for name in names if book.has_row(f"relief.{name}") and book.has(f"relief.{name}.follow")]
    families = [row for row in rows if book.word(f"{row}.told_as").value == ToldAs.FOLLOWED_ROW]
    return {*names, *(inner for row in families for inner in book.words(f"{row}.follow").value)}


def _from_ball(case: Case) -> Case:
    return case


def _from_crossing_of_condition(case: Case) -> Case:
    """As if the ball lay where it last crossed the edge of the condition.

    Raises:
        Unknown: Nobody has said where that was.
        IncidentError: The place stated is not near the edge of anything of the kind.
    """
    crossed = case.incident.crossed_at
    if crossed is None:
        raise Unknown(NamedFact.STATED_CROSSING)
    at = Point(crossed.xy)
    edges = [condition.geometry.boundary for condition in conditions_of(case)]
    off_m = None
    if edges:
        stated = crossed
        crossed = on_edge(stated, min(edges, key=lambda edge: edge.distance(at)), case.incident.situation.replace("-", " "))
        off_m = stated.distance_m(crossed)
    return replace(case, incident=replace(case.incident, ball=crossed), off_condition_m=off_m)


def _from_penalty_area_played_from(case: Case) -> Case:
    """As if the ball were in the penalty area from which it was last played."""
    crossed = case.incident.crossed_at
    previous = case.incident.previous_stroke
    if crossed is None:
        raise Unknown(NamedFact.CROSSED_AT)
    inside = None if previous is None or previous.at is None else locate(case.course, case.incident.hole, previous.at).penalty_area
    facts = dict(case.incident.facts) | {NamedFact.KNOWN_IN_PENALTY_AREA: True, NamedFact.PREVIOUS_STROKE_FROM_PENALTY_AREA: True}
    incident = replace(case.incident, ball=None, facts=facts)
    return replace(case, incident=incident, played_from=inside)


def _taken_to_be_in_penalty_area(case: Case) -> Case:
    """As if it were known that the ball is in the penalty area."""
    facts = dict(case.incident.facts) | {NamedFact.KNOWN_IN_PENALTY_AREA: True}
    return replace(case, incident=replace(case.incident, facts=facts))


_STARTS: dict[str, Callable[[Case], Case]] = {
    FollowFrom.BALL_SPOT: _from_ball,
    FollowFrom.CROSSING_OF_CONDITION: _from_crossing_of_condition,
    FollowFrom.PENALTY_AREA_PLAYED_FROM: _from_penalty_area_played_from,
    FollowFrom.TAKEN_TO_BE_IN_PENALTY_AREA: _taken_to_be_in_penalty_area,
}
