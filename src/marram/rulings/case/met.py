"""A condition in the way of a player: which, how deep, and of what."""

from __future__ import annotations

from dataclasses import dataclass

from marram.course.conditions import Condition
from marram.course.features import Feature


@dataclass(frozen=True, slots=True, kw_only=True)
class Interference:
    """A condition in the player's way.

    Attributes:
        condition: The condition, all that touches and is of its kind together, under the name of the nearest of its things.
        joined: The things that it is made of.
        depth_m: How far the footprint, or the ball's path, reaches into it, metres.
        parts: Which of ball (lie), stance, swing and line of play it touches.
        on_line: Whether a condition on the line of play counts.
    """

    condition: Feature
    joined: Condition
    depth_m: float
    parts: frozenset[str]
    on_line: bool
