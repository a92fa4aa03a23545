"""A ruling that was given and logged in an event at once, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.answers.shape import Shape
from marram.core.words import counted

if TYPE_CHECKING:
    from marram.events.happened import LoggedRuling
    from marram.office.events.kept_event import KeptEvent


class LoggedShape(Shape, frozen=True, kw_only=True):
    """A ruling as it was logged.

    Attributes:
        event: The event.
        ruling: Its name there.
        player: The player.
        round: Number of the round.
        hole: The hole; null for the round.
        act: The act that is charged; empty where strokes alone are, or nothing is.
        strokes: Penalty strokes that are stated; null where the act says them, or nothing is charged.
        in_score: Whether the player has counted them already.
        says: The same in words.
    """

    event: str
    ruling: str
    player: str
    round: int
    hole: int | None
    act: str
    strokes: int | None
    in_score: bool
    says: str


def logged_shape(event: KeptEvent, ruling: LoggedRuling) -> LoggedShape:
    """A ruling as it was logged."""
    penalty = ruling.penalty
    hole = None if penalty is None else penalty.hole
    cost = "no penalty" if penalty is None else penalty.act or counted(penalty.strokes or 0, "penalty stroke")
    at = f", hole {hole}" if hole else ""
    return LoggedShape(
        event=event.name,
        ruling=ruling.id,
        player=ruling.player,
        round=ruling.round,
        hole=hole,
        act="" if penalty is None else penalty.act,
        strokes=None if penalty is None else penalty.strokes,
        in_score=penalty is not None and penalty.is_in_score,
        says=f"Logged as {ruling.id} of {ruling.player} in {event.name}: {cost}{at}.",
    )
