"""What chance brings on each day, whatever the rules are: so that all books play the same days."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from marram.simulation.campaign.field_of_day import FieldOfDay
from marram.simulation.pace.groups_on_a_hole import Times
from marram.simulation.pace.pace_draws import Purpose, stream, uniforms

_OF_A_SEARCH, _OF_RELIEFS, _OF_A_GREEN = 4, 4, 6


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnDays:
    """What chance brings on some days.

    Attributes:
        days: Numbers of the days.
        stages: Of each hole how far each stage lies from its mean, from -1 to 1 in a symmetric triangle; shape (groups, stages, days).
        groups: How each group differs from others all round, in standard deviations; shape (groups, 1, days).
        searches: Of each hole and group four even draws: searched, findable, found when, provisional; shape (4, holes, groups, days).
        reliefs: Of each hole and group even draws for the large and the small relief: taken, and how it goes; shape as above.
        greens: Of each hole and group even draws for repairs, an overhanging ball, and four players stopping; shape (6, …).
    """

    days: tuple[int, ...]
    stages: tuple[Times, ...]
    groups: Times
    searches: NDArray[np.float64]
    reliefs: NDArray[np.float64]
    greens: NDArray[np.float64]


def draw_days(field: FieldOfDay, seed: int, days: Sequence[int]) -> DrawnDays:
    """Draw some days.

    Args:
        field: Holes and groups.
        seed: Seed of the forecast.
        days: Numbers of the days.
    """
    holes, groups = len(field.holes), len(field.starts)

    def evens(purpose: Purpose, each: int) -> NDArray[np.float64]:
        return uniforms(seed, days, purpose, (each, holes, groups))

    normal = np.stack([stream(seed, day, Purpose.GROUPS).standard_normal((groups, 1)) for day in days], axis=-1)
    return DrawnDays(
        days=tuple(days),
        stages=tuple(
            uniforms(seed, days, Purpose.STAGES, (2, groups, hole.stages), place).sum(axis=0) - 1 for place, hole in enumerate(field.holes)
        ),
        groups=normal,
        searches=evens(Purpose.SEARCHES, _OF_A_SEARCH),
        reliefs=evens(Purpose.RELIEFS, _OF_RELIEFS),
        greens=evens(Purpose.GREENS, _OF_A_GREEN),
    )
