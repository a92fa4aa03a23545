"""What of the rounds of a competition counts, where the Committee has decided that not all of it does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedRounds:
    """What of the rounds counts.

    Attributes:
        holes: Numbers of the holes that count, by the number of the round; none for a round that is cancelled. A round that is not named
            counts over all its holes.
        as_they_fall: Rounds cut short in which strokes received count as they fall on the holes that are left, in every form of play.
        out_after: Players or sides who missed the cut, each with the last round that was theirs.
    """

    holes: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    as_they_fall: frozenset[int] = frozenset()
    out_after: Mapping[str, int] = field(default_factory=dict)

    def is_cancelled(self, number: int) -> bool:
        """Whether a round counts for nothing.

        Args:
            number: Number of the round.
        """
        return self.holes.get(number) == ()

    def holes_of(self, number: int, holes: int) -> tuple[int, ...]:
        """Numbers of the holes of a round that count.

        Args:
            number: Number of the round.
            holes: How many holes the round has.
        """
        return self.holes.get(number, tuple(range(1, holes + 1)))
