"""Agreement where not every official rules every incident, and where answers have an order or a distance."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from enum import StrEnum
from math import fsum

from marram.core.errors import StudyError


class Scale(StrEnum):
    """How far two answers lie apart."""

    NOMINAL = "nominal"
    ORDINAL = "ordinal"
    INTERVAL = "interval"
    RATIO = "ratio"


Ratings = Sequence[Sequence[float | None]]
"""For each official what was answered to each incident; None where nothing was."""


def alpha(ratings: Ratings, scale: Scale = Scale.NOMINAL) -> float:
    """Agreement beyond chance: one less observed disagreement over expected. 1 is full agreement, 0 what chance would give.

    Args:
        ratings: For each official what was answered to each incident; incidents with fewer than two answers drop out.
        scale: How far two answers lie apart.

    Raises:
        StudyError: No incident has two answers, or the rows are not equally long.

    Source: Krippendorff, Computing Krippendorff's alpha-reliability (2011).
    """
    if not ratings or len({len(row) for row in ratings}) != 1:
        raise StudyError("The officials' rows are not equally long.", hint="Give each official one place for each incident.")
    units = [[value for value in unit if value is not None] for unit in zip(*ratings, strict=True)]
    units = [unit for unit in units if len(unit) > 1]
    if not units:
        raise StudyError("No incident was answered by two.", hint="Agreement needs two answers to one incident.")
    pairs = _coincidences(units)
    totals: dict[float, float] = defaultdict(float)
    for (value, _), weight in pairs.items():
        totals[value] += weight
    apart = _distance(scale, dict(totals))
    count = fsum(totals.values())
    observed = fsum(weight * apart(one, other) for (one, other), weight in pairs.items())
    expected = fsum(totals[one] * totals[other] * apart(one, other) for one in totals for other in totals) / (count - 1)
    return 1.0 if expected == 0 else 1 - observed / expected


def _coincidences(units: Sequence[Sequence[float]]) -> dict[tuple[float, float], float]:
    """How often each two answers meet in one incident, each incident counting as many times as it has answers."""
    found: dict[tuple[float, float], float] = defaultdict(float)
    for unit in units:
        for place, one in enumerate(unit):
            for other_place, other in enumerate(unit):
                if place != other_place:
                    found[one, other] += 1 / (len(unit) - 1)
    return found


def _distance(scale: Scale, totals: dict[float, float]) -> Callable[[float, float], float]:
    ordered = sorted(totals)

    def ordinal(one: float, other: float) -> float:
        low, high = sorted((one, other))
        between = fsum(totals[value] for value in ordered if low <= value <= high)
        return (between - (totals[one] + totals[other]) / 2) ** 2

    def ratio(one: float, other: float) -> float:
        return ((one - other) / (one + other)) ** 2 if one + other else 0.0

    distances: dict[Scale, Callable[[float, float], float]] = {
        Scale.NOMINAL: lambda one, other: float(one != other),
        Scale.ORDINAL: ordinal,
        Scale.INTERVAL: lambda one, other: (one - other) ** 2,
        Scale.RATIO: ratio,
    }
    return distances[scale]
