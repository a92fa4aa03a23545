"""Ground as drops of the field tell it: unevenness and rolling resistance are fitted, the rest of the model stays."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from marram.core.errors import StudyError
from marram.core.field_names import Field
from marram.records.measured_drops import MeasuredDrop
from marram.simulation.dropped_ball.bounce_and_roll import drop_balls
from marram.simulation.dropped_ball.ground_met import GroundMet

FEWEST_DROPS = 50
"""Drops of a ground that are needed to fit it (a field test of 50 is advised with the model)."""
_SHARES = (0.25, 0.5, 0.75, 0.95)
_SIMULATED, _SEED = 1000, 11
_TILTS = tuple(0.4 * 1.25**step for step in range(12))
_RHOS = (0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.25, 1.4)
_LEAST_M = 0.005
_FEWEST_OF_A_KIND = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedGround:
    """Ground as it was fitted.

    Attributes:
        ground: The ground, told as fitted.
        drops: Drops that it was fitted to.
        misfit_pct: How far quantiles of the model lie from those of the field, as a root mean square.
        misfit_before_pct: The same before it was fitted.
    """

    ground: GroundMet
    drops: int
    misfit_pct: float
    misfit_before_pct: float


def fit_ground(ground: GroundMet, drops: Sequence[MeasuredDrop]) -> FittedGround:
    """Fit a kind of ground to drops of the field: the best of a grid of unevenness and rolling resistance.

    Args:
        ground: The ground of the table.
        drops: Drops of the field, of any ground.

    Raises:
        StudyError: Fewer than 50 of them are of this ground, or too few are of one slope and height.
    """
    own = [drop for drop in drops if drop.ground == ground.name]
    if len(own) < FEWEST_DROPS:
        message = f"{len(own)} drops were measured on {ground.words}: too few to fit its roll by."
        raise StudyError(message, field=Field.GROUND, hint=f"Measure {FEWEST_DROPS} or more, some of them on a slope.")
    cells = _cells(own)
    if not cells:
        message = f"No slope and height has {_FEWEST_OF_A_KIND} drops on {ground.words}."
        raise StudyError(message, field=Field.GROUND, hint="Drop several balls from one height on one slope.")
    tried = [replace(ground, tilt_rad=ground.tilt_rad * tilt, rho=ground.rho * rho) for rho in _RHOS for tilt in _TILTS]
    misfits = [_misfit(one, cells) for one in tried]
    best = int(np.argmin(misfits))
    told = replace(tried[best], provenance=f"fitted to {len(own)} drops of the field; friction and rebound are assumptions")
    return FittedGround(ground=told, drops=len(own), misfit_pct=100 * misfits[best], misfit_before_pct=100 * _misfit(ground, cells))


def _cells(drops: Sequence[MeasuredDrop]) -> Mapping[tuple[float, float], NDArray[np.float64]]:
    """Quantiles of the field for each height and slope with drops enough."""
    by_kind: dict[tuple[float, float], list[float]] = {}
    for drop in drops:
        by_kind.setdefault((drop.height_m, drop.slope_deg), []).append(drop.rest_m)
    return {kind: np.quantile(rests, _SHARES) for kind, rests in by_kind.items() if len(rests) >= _FEWEST_OF_A_KIND}


def _misfit(ground: GroundMet, cells: Mapping[tuple[float, float], NDArray[np.float64]]) -> float:
    """Root mean square of the relative differences of quantiles."""
    apart = [
        np.log(np.maximum(np.quantile(_simulated(ground, *kind), _SHARES), _LEAST_M) / np.maximum(found, _LEAST_M))
        for kind, found in cells.items()
    ]
    return float(np.sqrt(np.mean(np.concatenate(apart) ** 2)))


def _simulated(ground: GroundMet, height_m: float, slope_deg: float) -> NDArray[np.float64]:
    return drop_balls(height_m, slope_deg, ground, drops=_SIMULATED, seed=_SEED).distance_m
