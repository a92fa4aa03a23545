"""What happened, as the official states it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from marram.core.terms import Area, Club, Form, Hand, Mark
from marram.course.features import Feature
from marram.course.frame import Position


@dataclass(frozen=True, slots=True, kw_only=True)
class Player:
    """What matters of the player.

    Attributes:
        hand: The side from which the player strikes; None where not known.
        longest_club_in: Length of the longest club other than a putter, inches; None where not known.
        putter_in: Length of the putter, inches, where it may measure; None where not known.
        club: The club that would have been used; None where not known.
    """

    hand: Hand | None = None
    longest_club_in: float | None = None
    putter_in: float | None = None
    club: Club | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PreviousStroke:
    """Where the previous stroke was made.

    Attributes:
        at: The place; None where only the area is known, which is enough on a teeing area.
        area: The area of the course; None to take it from the place.
    """

    at: Position | None
    area: Area | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What the player has chosen so far.

    Attributes:
        back_m: How far back on the line, metres.
        reference: Which of several equal reference points, from 1.
    """

    back_m: float | None = None
    reference: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Incident:
    """One ball and what happened to it.

    Attributes:
        hole: Number of the hole being played.
        situation: Name of the situation.
        form: Form of play.
        ball: Where the ball lies; None where it has not been found.
        player: The player.
        facts: Named facts that are known, true or false; what is not here is not known.
        crossed_at: Where the ball last crossed the edge of the penalty area, or of the thing that it is in.
        crossed_mark: Mark of the penalty area whose edge the ball last crossed, where two marks meet; None where nobody has said.
        other_crossed_at: Where somebody else puts that crossing; both areas are then shown.
        flight: Two places on the ball's last path; the crossing point is worked out from them.
        previous_stroke: Where the previous stroke was made.
        last_stroke_outside: Where the last stroke from outside a penalty area was made.
        estimated_at: A spot that had to be estimated: where the ball lay, is lost, or would have come to rest.
        played_from: Where the ball was then played, if it was; the ruling itself does not ask for it.
        first_touch: Where the ball first touched the ground when it was dropped, if it was.
        choice: What the player has chosen.
        conditions: Things that were met today and not surveyed.
    """

    hole: int
    situation: str
    form: Form
    ball: Position | None
    player: Player = field(default_factory=Player)
    facts: Mapping[str, bool] = field(default_factory=dict)
    crossed_at: Position | None = None
    crossed_mark: Mark | None = None
    other_crossed_at: Position | None = None
    flight: tuple[Position, Position] | None = None
    previous_stroke: PreviousStroke | None = None
    last_stroke_outside: PreviousStroke | None = None
    estimated_at: Position | None = None
    played_from: Position | None = None
    first_touch: Position | None = None
    choice: Choice = field(default_factory=Choice)
    conditions: tuple[Feature, ...] = ()
