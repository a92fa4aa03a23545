"""A value that lies far out from the others of its lot: something to look at again, never a reason to leave it out.

Source: Grubbs, Procedures for detecting outlying observations in samples (1969).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import sqrt
from statistics import fmean, stdev

FEWEST_IN_A_LOT = 5
"""Of fewer values none can be told to lie far out (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FarthestOut:
    """The value of a lot that lies farthest from its mean.

    Attributes:
        place: Its place in the lot, from 0.
        distance: How many standard deviations of the lot it lies from its mean.
    """

    place: int
    distance: float


def farthest_out(values: Sequence[float]) -> FarthestOut | None:
    """The value that lies farthest out; None where there is no spread.

    Args:
        values: The values of one lot.
    """
    if len(values) < 2 or not (spread := stdev(values)):
        return None
    middle = fmean(values)
    place = max(range(len(values)), key=lambda one: abs(values[one] - middle))
    return FarthestOut(place=place, distance=abs(values[place] - middle) / spread)


@lru_cache(maxsize=1024)
def farthest_by_chance(count: int, level: float = 0.05, *, both_ways: bool = True) -> float:
    """How far out the farthest of so many values lies in no more than such a part of lots of normal values.

    Args:
        count: How many values there are, at least three.
        level: Such as 0.05.
        both_ways: Whether a value may lie out on either side.
    """
    from scipy.stats import t

    quantile = float(t.isf(level / (2 * count if both_ways else count), count - 2)) ** 2
    return (count - 1) / sqrt(count) * sqrt(quantile / (count - 2 + quantile))
