"""The general numerical draw of a match-play bracket: who meets whom, and who has no opponent in the first round."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.errors import EventError

MOST_ENTRANTS = 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket:
    """A bracket by the numbers of its players, 1 for the first of the qualifying or seeding order.

    Attributes:
        places: Places of the bracket, a power of two.
        pairs: Every pair of numbers from the top down; a number above that of the entrants is an empty place.
        entrants: How many play.
    """

    places: int
    pairs: tuple[tuple[int, int], ...]
    entrants: int

    @property
    def byes(self) -> tuple[int, ...]:
        """Numbers that go to the second round without a match, lowest first."""
        return tuple(sorted(min(pair) for pair in self.pairs if max(pair) > self.entrants))

    @property
    def first_round(self) -> tuple[tuple[int, int], ...]:
        """The pairs that meet in the first round, from the top down."""
        return tuple(pair for pair in self.pairs if max(pair) <= self.entrants)

    @property
    def lower_half(self) -> tuple[tuple[int, int], ...]:
        """The pairs of the half that number 1 is not in."""
        return self.pairs[len(self.pairs) // 2 :]


def draw_by_number(entrants: int) -> Bracket:
    """Draw a bracket by the numbers of its players, so that 1 and 2 cannot meet before the last match.

    Args:
        entrants: How many play; where that is no power of two the highest numbers stay empty, and who would meet them has a bye.

    Raises:
        EventError: Fewer than two play, or more than 1,024.

    Source: Rules of Golf (January 2016), Appendix I Part C 11; Committee Procedures (2023), 5F. The table is from memory; that empty
    places give byes follows from it.
    """
    if not 2 <= entrants <= MOST_ENTRANTS:
        raise EventError(f"{entrants} players cannot be drawn into a bracket.", where="entrants", hint=f"From 2 to {MOST_ENTRANTS:,} can.")
    order = [1]
    while len(order) < entrants:
        # the two of a place add up to one more than the places of the new round
        order = [number for held in order for number in (held, 2 * len(order) + 1 - held)]
    pairs = tuple(zip(order[::2], order[1::2], strict=True))
    return Bracket(places=len(order), pairs=pairs, entrants=entrants)
