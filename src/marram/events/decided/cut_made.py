"""The cut of an event of several rounds: who plays on, by the rule as the terms have it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.errors import EventError
from marram.events.decided.cut_terms import CutTerms, TiesAtTheCut
from marram.scoring.ranked import Ranked


@dataclass(frozen=True, slots=True, kw_only=True)
class CutMade:
    """A cut as it was made.

    Attributes:
        after_round: After which round.
        line: The last result that plays on; None where nobody is out.
        through: Players or sides who play on, the first first.
        out: Players or sides who do not, the best first.
        rule: The rule in the Committee's own words.
    """

    after_round: int
    line: int | None
    through: tuple[str, ...]
    out: tuple[str, ...]
    rule: str = ""

    @property
    def says(self) -> str:
        """The same in words."""
        rule = f" {self.rule.rstrip('.')}." if self.rule else ""
        return f"Cut after round {self.after_round}: {len(self.through)} play on, {len(self.out)} do not.{rule}"


def make_cut(terms: CutTerms, ranked: Sequence[Ranked]) -> CutMade:
    """Make the cut.

    Args:
        terms: The rule.
        ranked: The places after the round, the first first; those without a place play on in no case.

    Raises:
        EventError: Nobody has a place.
    """
    placed = [one for one in ranked if one.placed is not None and one.total is not None]
    if not placed:
        raise EventError("Nobody has a result, so no cut can be made.", where=f"round {terms.after_round}", hint="Take the cards in first.")
    last = placed[min(terms.places, len(placed)) - 1]
    through = [one for place, one in enumerate(placed) if _plays_on(terms, place, one, placed[0], last)]
    out = [one for one in placed if one not in through]
    return CutMade(
        after_round=terms.after_round,
        line=through[-1].total if out else None,
        through=tuple(one.name for one in through),
        out=tuple(one.name for one in out),
        rule=terms.rule,
    )


def _plays_on(terms: CutTerms, place: int, one: Ranked, leader: Ranked, last: Ranked) -> bool:
    assert one.total is not None and leader.total is not None
    if place < terms.places or (terms.within is not None and abs(one.total - leader.total) <= terms.within):
        return True
    if terms.ties is TiesAtTheCut.IN:
        return one.total == last.total
    assert one.placed is not None and last.placed is not None
    return one.placed.place == last.placed.place  # whom no step could part plays on
