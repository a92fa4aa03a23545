"""A hole that a player in doubt played out with two balls: both scores are kept until the Committee decides."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from marram.core.words import plain_name
from marram.scoring.cards.card import Card, PlayedOut, TwoBalls

_BALLS = ("the ball played first", "the second ball")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptBalls:
    """Both scores of a hole.

    Attributes:
        player: The player.
        hole: The hole.
        scores: The score of the ball played first, and of the second.
        round: Number of the round.
        chosen: 0 or 1 for the ball that was to count; None where none was chosen in time.
        is_reported: Whether the facts were reported before the card was returned.
        decided: What the Committee found of each ball; None while it has not decided.
    """

    player: str
    hole: int
    scores: tuple[int, int]
    round: int = 1
    chosen: int | None = None
    is_reported: bool = True
    decided: tuple[PlayedOut, PlayedOut] | None = None

    @property
    def key(self) -> str:
        """What tells it apart: player, round and hole."""
        return f"{plain_name(self.player)}|{self.round}|{self.hole}"

    @property
    def says(self) -> str:
        """Both scores in words, and that the Committee has still to decide."""
        told = [f"{score} with {name}" for score, name in zip(self.scores, _BALLS, strict=True)]
        chosen = "none chosen in time" if self.chosen is None else f"{_BALLS[self.chosen]} chosen"
        at = f"{self.player}, round {self.round}, hole {self.hole}: {' and '.join(told)}, {chosen}"
        return f"{at}; the Committee has still to decide which counts." if self.decided is None else f"{at}; decided."


def with_kept_balls(card: Card, kept: Iterable[KeptBalls]) -> Card:
    """A card with both balls of its holes: as the Committee decided, and until then with the score of the chosen ball, else the first.

    Args:
        card: The card.
        kept: Holes that were played out with two balls, of any player.
    """
    own = [one for one in kept if (plain_name(one.player), one.round) == (plain_name(card.player), card.round)]
    holes = {one.hole for one in own}
    entries = list(card.entries)
    for one in own:
        if one.decided is None and one.hole <= len(entries):
            entries[one.hole - 1] = replace(entries[one.hole - 1], strokes=one.scores[one.chosen or 0], is_picked_up=False)
    told = tuple(
        TwoBalls(hole=one.hole, balls=one.decided, chosen=one.chosen, is_reported=one.is_reported) for one in own if one.decided is not None
    )
    on_card = tuple(found for found in card.two_balls if found.hole not in holes)
    return replace(card, entries=tuple(entries), two_balls=(*on_card, *told))
