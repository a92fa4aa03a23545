"""Who wins a hole of a match: by strokes, by a concession, by a penalty, or because nobody holed a ball."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BallPlayed:
    """How a ball of a side ended on a hole.

    Attributes:
        net: Net strokes; None where it was not holed out.
        has_lost_hole: Whether a penalty or a concession cost the hole.
        given_up: When it was picked up among the balls of the hole, from 1; None where nobody knows, or it was not picked up.
    """

    net: int | None
    has_lost_hole: bool = False
    given_up: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleWon:
    """Who won a hole.

    Attributes:
        outcome: 1 for the first side, -1 for the second, 0 for nobody.
        nets: Net score of each side that counts; None where it has none.
        says: What decided it, where strokes did not; empty where they did.
    """

    outcome: int
    nets: tuple[int | None, int | None]
    says: str = ""


def who_wins(first: Sequence[BallPlayed], second: Sequence[BallPlayed]) -> HoleWon:
    """Say who wins a hole.

    Args:
        first: The balls of the first side.
        second: The balls of the second side.

    Source:
        Rules of Golf (January 2023), Rules 3.2a(1), 3.2a(2) and 23.2a, with clarification 23.2a/1 where no ball is holed.
    """
    best = (_best(first), _best(second))
    lost = (all(ball.has_lost_hole for ball in first), all(ball.has_lost_hole for ball in second))
    if lost[0] != lost[1]:
        return HoleWon(outcome=-1 if lost[0] else 1, nets=best, says="the hole was conceded or lost by a penalty")
    if best[0] is None or best[1] is None:
        if best[0] is None and best[1] is None:
            return _nobody_holed(first, second)
        return HoleWon(outcome=-1 if best[0] is None else 1, nets=best)
    return HoleWon(outcome=(best[0] < best[1]) - (best[0] > best[1]), nets=best)


def _best(balls: Sequence[BallPlayed]) -> int | None:
    return min((ball.net for ball in balls if ball.net is not None and not ball.has_lost_hole), default=None)


def _nobody_holed(first: Sequence[BallPlayed], second: Sequence[BallPlayed]) -> HoleWon:
    """The side whose ball was the last in play wins; where nobody knows which it was, the hole is tied."""
    last = tuple(max((ball.given_up for ball in side if ball.given_up is not None), default=None) for side in (first, second))
    is_known = all(ball.given_up is not None or ball.has_lost_hole for ball in (*first, *second))
    if not is_known or last == (None, None):
        return HoleWon(outcome=0, nets=(None, None), says="no ball was holed, and nobody knows which was last in play: tied")
    one, other = (last[0] or 0, last[1] or 0)
    return HoleWon(outcome=(one > other) - (one < other), nets=(None, None), says="no ball was holed: the last in play wins")
