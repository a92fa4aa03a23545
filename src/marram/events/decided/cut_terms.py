"""The cut as the terms of an event have it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class TiesAtTheCut(StrEnum):
    """Who plays on of those who are equal with the last place of the cut."""

    IN = "in"
    AS_DECIDED = "as-decided"


@dataclass(frozen=True, slots=True, kw_only=True)
class CutTerms:
    """The cut as the terms have it.

    Attributes:
        after_round: After which round it is made.
        places: So many play on.
        ties: Whether those who are equal with the last of them play on too, or the terms' own steps decide.
        within: Whoever is so few strokes, points or holes behind the leader plays on too; None where that is not so.
        rule: The rule in the Committee's own words.
    """

    after_round: int
    places: int
    ties: TiesAtTheCut = TiesAtTheCut.IN
    within: int | None = None
    rule: str = ""
