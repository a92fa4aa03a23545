"""Chance for a day: draws that hang on seed, day and purpose alone, so that books share them and workers change nothing."""

from __future__ import annotations

from collections.abc import Sequence
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from marram.simulation.pace.groups_on_a_hole import Times
from marram.simulation.pace.hole_stages import PacedHole

_LARGEST = 2**63


class Purpose(IntEnum):
    """What is drawn; each has a stream of its own, so that one more draw of one moves no other."""

    STAGES = 1
    GROUPS = 2
    SEARCHES = 3
    RELIEFS = 4
    GREENS = 5
    BETWEEN_DAYS = 6


def stream(seed: int, day: int, purpose: Purpose, place: int = 0) -> np.random.Generator:
    """The random stream of a day for a purpose on a hole.

    Args:
        seed: Seed of the forecast.
        day: Number of the day.
        purpose: What is drawn.
        place: Place of the hole in the round; 0 too for what is drawn for the whole round.
    """
    key = np.array([seed % _LARGEST, day], dtype=np.uint64)
    return np.random.Generator(np.random.Philox(key=key, counter=[0, 0, place, int(purpose)]))


def uniforms(seed: int, days: Sequence[int], purpose: Purpose, shape: tuple[int, ...], place: int = 0) -> NDArray[np.float64]:
    """Even draws from 0 to 1 for several days; shape (*shape, days).

    Args:
        seed: Seed of the forecast.
        days: Numbers of the days.
        purpose: What is drawn.
        shape: Draws of one day.
        place: Place of the hole in the round.
    """
    drawn = [stream(seed, day, purpose, place).random(shape) for day in days]
    return np.ascontiguousarray(np.stack(drawn, axis=-1))


def triangular_stages(means: Sequence[float], groups: int, seed: int, days: Sequence[int], place: int) -> Times:
    """Stage times of a hole, each drawn from the symmetric triangle between half and one and a half of its mean.

    Args:
        means: Mean of each stage, minutes.
        groups: Groups of the day.
        seed: Seed of the forecast.
        days: Numbers of the days.
        place: Place of the hole in the round.

    Returns:
        Shape (groups, stages, days).

    Source: law of the reference courses; a triangle is the mean of two even draws (assumption: no stage times were published).
    """
    evens = uniforms(seed, days, Purpose.STAGES, (2, groups, len(means)), place)
    return np.asarray(np.array(means)[None, :, None] * (0.5 + 0.5 * (evens[0] + evens[1])), dtype=np.float64)


def stage_times(holes: Sequence[PacedHole], means: Sequence[Sequence[float]], groups: int, seed: int, days: Sequence[int]) -> list[Times]:
    """Stage times of every hole: see `triangular_stages`."""
    return [triangular_stages(means[place], groups, seed, days, place) for place in range(len(holes))]
