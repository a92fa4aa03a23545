"""Concessions in a match, as they were written down."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Conceded(StrEnum):
    """What may be conceded."""

    STROKE = "stroke"
    HOLE = "hole"
    MATCH = "match"


@dataclass(frozen=True, slots=True, kw_only=True)
class Concession:
    """What is known of a concession.

    Attributes:
        what: What was conceded.
        hole: The hole; None for the match.
        is_by_player: Whether the player or a partner made it, and not a caddie or somebody else.
        is_decided: Whether what was conceded had been decided already.
        is_in_time: Whether the stroke had not been made, the hole not been completed, the result of the match not been final.
        is_taken_back: Whether it was refused or taken back afterwards.
        is_agreed_to_shorten: Whether the players agreed to concede holes to each other to shorten the match.
    """

    what: Conceded
    hole: int | None = None
    is_by_player: bool = True
    is_decided: bool = False
    is_in_time: bool = True
    is_taken_back: bool = False
    is_agreed_to_shorten: bool = False
