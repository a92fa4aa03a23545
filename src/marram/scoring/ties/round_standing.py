"""What a player or a side brings to the places: the result of each round, hole by hole, and the handicap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.rulebook.form_of_play_words import Counts


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundStanding:
    """One round.

    Attributes:
        total: Its result.
        by_hole: What each hole was worth, strokes as they fall; empty where strokes do not fall on holes.
        gross_by_hole: Strokes counted on each hole.
        handicap: Strokes received over the round.
        start: The hole at which the player began.
    """

    total: int
    by_hole: tuple[int, ...]
    gross_by_hole: tuple[int, ...]
    handicap: int
    start: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A player or a side with a result.

    Attributes:
        name: The player or the side.
        total: The result that is compared.
        rounds: The rounds, in order.
    """

    name: str
    total: int
    rounds: tuple[RoundStanding, ...]

    @property
    def handicap(self) -> int:
        """The handicap of the last round."""
        return self.rounds[-1].handicap


@dataclass(frozen=True, slots=True, kw_only=True)
class Counting:
    """How results are compared.

    Attributes:
        counts: What is counted.
        takes_share: Whether a share of the handicap is taken off gross strokes over some holes; else strokes count as they fall.
        rounds_fractions: Whether a share of the handicap is rounded.
        follows_play: Whether the last holes are those that were played last; else those of the course, wherever the player began.
    """

    counts: Counts
    takes_share: bool
    rounds_fractions: bool
    follows_play: bool = False

    @property
    def is_more_better(self) -> bool:
        """Whether the higher result is better."""
        return self.counts is not Counts.STROKES


def best_first(standings: Sequence[Standing], counting: Counting) -> list[Standing]:
    """Standings with the best result first; equal ones by name, so that the order of the cards changes nothing."""
    sign = -1 if counting.is_more_better else 1
    return sorted(standings, key=lambda standing: (sign * standing.total, standing.name))
