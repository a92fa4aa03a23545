"""How often a dropped ball must be dropped again or placed, where the rules of a book say when."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from marram.core.errors import StudyError
from marram.simulation.dropped_ball.bounce_and_roll import Rested, drop_balls
from marram.simulation.dropped_ball.ground_met import GroundMet

MOST_DROPS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class DropRules:
    """What a book says of a drop, in plain numbers.

    Attributes:
        height_m: From which height the ball falls.
        radius_m: How far the relief area reaches from its reference point.
        drops: Drops before the ball is placed.
        must_rest_in_area: Whether the ball has to rest in the relief area.
        roll_limit_m: Farthest rest from where the ball first touched; None where the book sets none.
    """

    height_m: float
    radius_m: float
    drops: int
    must_rest_in_area: bool
    roll_limit_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DropChances:
    """What becomes of drops.

    Attributes:
        reliefs: How many reliefs were played through.
        outside: Share of single drops that do not stay where they must.
        repeated: Share of reliefs in which the ball is dropped a second time, a third time and so on.
        placed: Share of reliefs in which it is placed in the end.
        rest_median_m: Median distance of a single drop from its first touch to its rest.
        rest_most_m: What 95 of 100 single drops stay within.
    """

    reliefs: int
    outside: float
    repeated: tuple[float, ...]
    placed: float
    rest_median_m: float
    rest_most_m: float

    @property
    def dropped_again(self) -> float:
        """Share of reliefs in which the ball is dropped more than once."""
        return self.repeated[0] if self.repeated else 0.0

    def error_of(self, share: float) -> float:
        """How far a share may be off because it was drawn, as a standard deviation."""
        return sqrt(share * (1 - share) / self.reliefs)


def drop_chances(rules: DropRules, slope_deg: float, ground: GroundMet, *, reliefs: int = 4000, seed: int = 1) -> DropChances:
    """Play reliefs through: each on a slope that runs any way to the hole, each drop touching anywhere in the relief area alike.

    The relief area is the half of a disc that lies no nearer the hole, its straight edge through the reference point.

    Args:
        rules: What the book says.
        slope_deg: Slope of the ground.
        ground: The ground.
        reliefs: How many reliefs.
        seed: Seed; equal seeds give equal draws, so that books share them.

    Raises:
        StudyError: The rules cannot be played.
    """
    if not 1 <= rules.drops <= MOST_DROPS or not rules.radius_m > 0:
        message = f"{rules.drops} drops in an area of {rules.radius_m:g} m cannot be played."
        raise StudyError(message, hint=f"1 to {MOST_DROPS} drops and an area above 0 m are meant.")
    chance = np.random.Generator(np.random.Philox(key=seed, counter=[0, 0, 1, 0]))
    runs = chance.uniform(0, 2 * np.pi, reliefs)
    still_out, out_so_far, singles = np.ones(reliefs, dtype=bool), [], []
    for number in range(rules.drops):
        rested = drop_balls(rules.height_m, slope_deg, ground, drops=reliefs, seed=seed * (MOST_DROPS + 1) + number)
        outside = _is_outside(rules, rested, runs, chance.random((2, reliefs)))
        singles.append((outside, rested.distance_m))
        still_out = still_out & outside
        out_so_far.append(float(still_out.mean()))
    distances = singles[0][1]
    return DropChances(
        reliefs=reliefs,
        outside=float(singles[0][0].mean()),
        repeated=tuple(out_so_far[:-1]),
        placed=out_so_far[-1],
        rest_median_m=float(np.median(distances)),
        rest_most_m=float(np.quantile(distances, 0.95)),
    )


def _is_outside(rules: DropRules, rested: Rested, runs: NDArray[np.float64], touch: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Which balls rest where they must be dropped again; `runs` is the way the slope runs, counted from straight away from the hole."""
    from_reference, side = rules.radius_m * np.sqrt(touch[0]), np.pi * (touch[1] - 0.5)
    away = from_reference * np.cos(side) + rested.down_m * np.cos(runs) - rested.across_m * np.sin(runs)
    across = from_reference * np.sin(side) + rested.down_m * np.sin(runs) + rested.across_m * np.cos(runs)
    outside = away < 0
    if rules.must_rest_in_area:
        outside = outside | (np.hypot(away, across) > rules.radius_m)
    if rules.roll_limit_m is not None:
        outside = outside | (rested.distance_m > rules.roll_limit_m)
    return np.asarray(outside, dtype=np.bool_)
