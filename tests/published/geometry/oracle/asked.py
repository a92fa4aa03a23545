"""What is asked of the oracle: one ball and what happened to it, in plain words and degrees."""

from __future__ import annotations

from dataclasses import dataclass

LonLat = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class Asked:
    """One incident.

    Attributes:
        hole: Number of the hole.
        situation: What the question is about.
        ball: Where the ball lies; None where it has not been found.
        crossed_at: Where it last crossed the edge.
        crossed_mark: The mark of that edge, where two marks meet and somebody has said.
        previous_stroke: Where the previous stroke was made.
        last_stroke_outside: Where the last stroke from outside a penalty area was made.
        back_m: How far back on the line the player chooses to drop.
        club_in: Length of the longest club other than a putter, inches.
        hand: ``right`` or ``left``.
        club: ``driver``, ``iron`` or ``wedge``.
        fairway: Whether the ball lies on ground cut to fairway height.
    """

    hole: int
    situation: str
    ball: LonLat | None
    crossed_at: LonLat | None = None
    crossed_mark: str | None = None
    previous_stroke: LonLat | None = None
    last_stroke_outside: LonLat | None = None
    back_m: float | None = None
    club_in: float = 44.0
    hand: str = "right"
    club: str = "iron"
    fairway: bool = False
