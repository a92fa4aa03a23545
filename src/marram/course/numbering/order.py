"""In which order holes are played, on a survey that does not say: from each green the walk to the next tee is short."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from marram.course.numbering.matching import Matched

_UNKNOWN_M = 400.0
"""The walk to a hole of which nothing shows where it begins."""
_ROUND, _HALF = 18, 9
_AGAIN_M = 1e9


def walks_m(holes: Sequence[Matched]) -> NDArray[np.float64]:
    """The walk from the green of each hole (row) to the tee of each other (column), metres."""
    walks = [[_walk_m(hole.end, other.start) for other in holes] for hole in holes]
    return np.array(walks, dtype=np.float64).reshape(len(holes), len(holes))


def _walk_m(end: BaseGeometry | None, start: BaseGeometry | None) -> float:
    return _UNKNOWN_M if end is None or start is None else float(end.distance(start))


def order_holes(holes: Sequence[Matched]) -> list[int]:
    """The shortest round of walks found, as places in the list; which hole comes first is not known and is a guess.

    Args:
        holes: What goes together as one hole, each.
    """
    if len(holes) < 3:
        return list(range(len(holes)))
    walks = walks_m(holes)
    return _begun(_improved(_joined(_rounds(walks), walks), walks), walks)


def _rounds(walks: NDArray[np.float64]) -> list[list[int]]:
    """The rounds that the least walks make when each hole has one before and one after it."""
    from scipy.optimize import linear_sum_assignment

    own = walks + np.diag(np.full(len(walks), _AGAIN_M))
    after = {int(row): int(column) for row, column in zip(*linear_sum_assignment(own), strict=True)}
    rounds: list[list[int]] = []
    while after:
        hole = min(after)
        rounds.append([])
        while hole in after:
            rounds[-1].append(hole)
            hole = after.pop(hole)
    return rounds


def _joined(rounds: list[list[int]], walks: NDArray[np.float64]) -> list[int]:
    """One round out of several, joined where it costs least."""
    while len(rounds) > 1:
        first = rounds.pop(0)
        ways = [
            (_added(first, a, other, b, walks), number, a, b)
            for number, other in enumerate(rounds)
            for a in range(len(first))
            for b in range(len(other))
        ]
        _, number, a, b = min(ways)
        other = rounds.pop(number)
        rounds.insert(0, [*first[: a + 1], *other[b:], *other[:b], *first[a + 1 :]])
    return rounds[0]


def _added(first: list[int], a: int, other: list[int], b: int, walks: NDArray[np.float64]) -> float:
    """What it costs to go into another round after the hole at ``a``, beginning with the hole at ``b``."""
    leave, back = first[a], first[(a + 1) % len(first)]
    enter, last = other[b], other[b - 1]
    return float(walks[leave, enter] + walks[last, back] - walks[leave, back] - walks[last, enter])


def _length_m(order: Sequence[int], walks: NDArray[np.float64]) -> float:
    return float(sum(walks[a, b] for a, b in pairwise([*order, order[0]])))


def _improved(order: list[int], walks: NDArray[np.float64]) -> list[int]:
    """The round with runs of up to nine holes moved elsewhere as long as that makes the walks shorter."""
    best_m = _length_m(order, walks)
    is_better = True
    while is_better:
        is_better = False
        for count in range(1, min(_HALF, len(order) - 1) + 1):
            for start in range(len(order)):
                turned = [*order[start:], *order[:start]]
                run, rest = turned[:count], turned[count:]
                for place in range(1, len(rest)):
                    tried = [*rest[:place], *run, *rest[place:]]
                    if (tried_m := _length_m(tried, walks)) < best_m - 1e-6:
                        order, best_m, is_better = tried, tried_m, True
                        break
                if is_better:
                    break
            if is_better:
                break
    return order


def _begun(order: list[int], walks: NDArray[np.float64]) -> list[int]:
    """The round begun where two nines of it come together, which is where a clubhouse would stand; a guess."""
    if len(order) != _ROUND:
        return order

    def apart_m(start: int) -> float:
        last, first, ninth, tenth = (order[(start + off) % _ROUND] for off in (-1, 0, 8, 9))
        return float(walks[last, tenth] + walks[ninth, first] + walks[last, first] + walks[ninth, tenth])

    start = min(range(_ROUND), key=apart_m)
    return [*order[start:], *order[:start]]
