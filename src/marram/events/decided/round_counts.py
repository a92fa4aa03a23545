"""A round that was cut short or cancelled: which of its holes count, how strokes received count, and why."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from marram.core.errors import EventError
from marram.core.words import counted
from marram.scoring.competition.counted_rounds import CountedRounds
from marram.scoring.competition.terms_of_competition import OverHoles

_PART = re.compile(r"(\d{1,2})(?:\s*-\s*(\d{1,2}))?")


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundCounts:
    """What counts of a round, as the Committee decided.

    Attributes:
        round: Number of the round.
        holes: Numbers of the holes that count; none where the round is cancelled; None where all of it counts after all.
        strokes: How strokes received count over them; None for as the form of play asks.
        why: Why.
    """

    round: int
    holes: tuple[int, ...] | None
    strokes: OverHoles | None = None
    why: str = ""

    @property
    def says(self) -> str:
        """The same in words."""
        why = f": {self.why}" if self.why else ""
        if self.holes is None:
            return f"Round {self.round} counts in full{why}."
        if not self.holes:
            return f"Round {self.round} is cancelled{why}. Its scores and penalties count for nothing."
        return f"Round {self.round} counts over {counted(len(self.holes), 'hole')} alone, {hole_words(self.holes)}{why}."


def read_holes(text: str, holes: int) -> tuple[int, ...]:
    """Read which holes count.

    Args:
        text: Numbers and ranges between commas, such as ``1-9`` or ``1-6, 10-12``.
        holes: How many holes the round has.

    Raises:
        EventError: A part is no hole of the round, or the same hole stands there twice.
    """
    found: list[int] = []
    for part in (part.strip() for part in text.split(",")):
        read = _PART.fullmatch(part)
        first, last = (int(read[1]), int(read[2] or read[1])) if read is not None else (0, 0)
        if not 1 <= first <= last <= holes:
            raise EventError(f"{part!r} names no holes of a round of {holes}.", where="holes", hint="Give such as 1-9, or 1-6,10-12.")
        found += range(first, last + 1)
    if len(set(found)) != len(found):
        raise EventError(f"{text!r} names a hole twice.", where="holes", hint="Name each hole once.")
    return tuple(sorted(found))


def hole_words(holes: Iterable[int]) -> str:
    """Holes in words: ``1 to 9``, or ``1 to 6, 10 to 12``.

    Args:
        holes: Their numbers, in order.
    """
    runs: list[list[int]] = []
    for hole in holes:
        if runs and hole == runs[-1][-1] + 1:
            runs[-1].append(hole)
        else:
            runs.append([hole])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)


def counted_rounds(decided: Iterable[RoundCounts], out_after: dict[str, int]) -> CountedRounds:
    """What counts of the rounds, as scoring asks for it.

    Args:
        decided: What was decided, one for each round.
        out_after: Who missed the cut, each with the last round that was theirs.
    """
    known = list(decided)
    return CountedRounds(
        holes={one.round: one.holes for one in known if one.holes is not None},
        as_they_fall=frozenset(one.round for one in known if one.strokes is OverHoles.STROKES_AS_THEY_FALL),
        out_after=out_after,
    )
