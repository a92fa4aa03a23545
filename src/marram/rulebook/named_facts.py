"""Facts that logic asks for by name; each must stand in `facts.toml`, or the rule data is not read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum

from marram.rulebook.values import nearest_names


class NamedFact(StrEnum):
    """A fact that logic asks for by name."""

    AS_NEAR_AS_POSSIBLE = "as_near_as_possible"
    BALL_AT = "ball_at"
    BALL_ELSEWHERE = "ball_elsewhere"
    BALL_LIES_IN_HAZARD = "ball_lies_in_hazard"
    BALL_IN_ZONE = "ball_in_zone"
    CHOSEN_POINT = "chosen_point"
    CHOSEN_REFERENCE = "chosen_reference"
    CROSSED_AT = "crossed_at"
    CROSSED_MARK = "crossed_mark"
    DROPPING_ZONE_HERE = "dropping_zone_here"
    ESTIMATED_AT = "estimated_at"
    FIRST_TOUCH = "first_touch"
    HAND = "hand"
    KNOWN_IN_PENALTY_AREA = "known_in_penalty_area"
    LAST_STROKE_OUTSIDE = "last_stroke_outside"
    LONGEST_CLUB_IN = "longest_club_in"
    ON_FAIRWAY_HEIGHT = "on_fairway_height"
    PREVIOUS_STROKE = "previous_stroke"
    PREVIOUS_STROKE_FROM_PENALTY_AREA = "previous_stroke_from_penalty_area"
    SECOND_BREACH = "second_breach"
    STATED_CROSSING = "stated_crossing"
    THIRD_BREACH = "third_breach"
    ZONE_ELSEWHERE = "zone_elsewhere"


def faults_of_named_facts(known: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Facts that logic asks for and the catalogue does not hold: the fact, and what is wrong.

    Args:
        known: Names of the facts of the catalogue.
    """
    names = list(known)
    for fact in NamedFact:
        if fact not in names:
            near = ", ".join(nearest_names(fact, names)) or "none"
            yield fact.value, f"logic asks for this fact, and it does not stand here; nearest: {near}"
