"""A ball let go above sloping ground: it bounces, spins and rolls until it rests, for many drops at once.

The frame is that of the slope: x down it, y across, n away from it. Spin is told as the speed of the ball's surface.

Source: restitution, friction and rolling after *The run of a golf ball* and *The physics of putting*, 2002 (from memory); the way of
reckoning derived. Not held against turf: shares are to be read as more and less until drops were measured in the field.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin, sqrt, tan
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from marram.core.errors import StudyError
from marram.core.field_names import Field
from marram.simulation.dropped_ball.ground_met import GroundMet

G_M_S2 = 9.81
_MOST_IMPACTS = 25
_ROLLS_BELOW_M_S = 0.12
_RESTS_BELOW_M_S = 0.03
_STEP_S = 0.005
_TIDY_EVERY = 16
_LONGEST_ROLL_S = 20.0
_GONE_M = 20.0
STEEPEST_DEG, HIGHEST_M = 30.0, 3.0

Vectors: TypeAlias = NDArray[np.float64]
"""Down the slope and across it, of each drop; shape (2, drops)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rested:
    """Where dropped balls came to rest, measured from where they first touched the ground.

    Attributes:
        down_m: Down the slope.
        across_m: Across it.
    """

    down_m: NDArray[np.float64]
    across_m: NDArray[np.float64]

    @property
    def distance_m(self) -> NDArray[np.float64]:
        """How far from the first touch; one that never stops is told as far gone."""
        return np.asarray(np.hypot(self.down_m, self.across_m), dtype=np.float64)


def restitution(speed_m_s: NDArray[np.float64]) -> NDArray[np.float64]:
    """Speed away from turf as a share of the speed into it, up to 20 m/s.

    Source: *The run of a golf ball*, 2002 (from memory).
    """
    return np.asarray(np.where(speed_m_s <= 20, 0.510 - 0.0375 * speed_m_s + 0.000903 * speed_m_s**2, 0.120), dtype=np.float64)


def drop_balls(height_m: float, slope_deg: float, ground: GroundMet, *, drops: int, seed: int) -> Rested:
    """Drop a ball many times.

    Args:
        height_m: Height of the fall.
        slope_deg: Slope of the ground.
        ground: The ground.
        drops: How many drops.
        seed: Seed of the unevenness that impacts meet; equal seeds meet equal ground.

    Raises:
        StudyError: The height or the slope cannot be meant.
    """
    if not 0 < height_m <= HIGHEST_M:
        raise StudyError(
            f"A ball is not dropped from {height_m:g} m.", field=Field.HEIGHT, hint=f"Give more than 0 and up to {HIGHEST_M:g} m."
        )
    if not 0 <= slope_deg <= STEEPEST_DEG:
        raise StudyError(
            f"A slope of {slope_deg:g} degrees cannot be meant.", field=Field.SLOPE, hint=f"Give 0 to {STEEPEST_DEG:g} degrees."
        )
    chance = np.random.Generator(np.random.Philox(key=seed))
    place, speed = _bounced(height_m, radians(slope_deg), ground, drops, chance)
    place = _rolled(place, speed, radians(slope_deg), ground.rho)
    return Rested(down_m=place[0], across_m=place[1])


def _bounced(height_m: float, slope: float, ground: GroundMet, drops: int, chance: np.random.Generator) -> tuple[Vectors, Vectors]:
    """Where the balls begin to roll, and how fast along the ground."""
    fall = sqrt(2 * G_M_S2 * height_m)
    place, along, spin = np.zeros((2, drops)), np.zeros((2, drops)), np.zeros((2, drops))
    along[0], away = fall * sin(slope), np.full(drops, -fall * cos(slope))
    flying = np.ones(drops, dtype=bool)
    pull = G_M_S2 * np.array([[sin(slope)], [0.0]])
    for _ in range(_MOST_IMPACTS):
        after, spun, up = _impact(along, spin, away, ground, chance.normal(0.0, ground.tilt_rad, (2, drops)))
        along, spin = np.where(flying, after, along), np.where(flying, spun, spin)
        flying = flying & (up >= _ROLLS_BELOW_M_S)
        if not flying.any():
            break
        air_s = np.where(flying, 2 * up / (G_M_S2 * cos(slope)), 0.0)
        place = place + along * air_s + 0.5 * pull * air_s**2
        along = along + pull * air_s
        away = np.where(flying, -up, away)
    return place, along


def _impact(
    along: Vectors, spin: Vectors, away: NDArray[np.float64], ground: GroundMet, tilt: Vectors
) -> tuple[Vectors, Vectors, NDArray[np.float64]]:
    """Speed along the ground, spin and speed away from it after an impact on ground that is a little uneven there."""
    upright = 1 / np.sqrt(1 + (tilt**2).sum(axis=0))
    lean = tilt * upright
    into = np.maximum(-(along * lean).sum(axis=0) - away * upright, 0.0)
    sliding_along, sliding_away = along + into * lean, away + into * upright
    rebound = ground.rebound * restitution(into)
    slip = sliding_along - spin
    slip_speed = np.hypot(*slip)
    most = ground.mu * (1 + rebound) * into
    is_sliding = 2 / 7 * slip_speed > most
    braked = most * slip / np.maximum(slip_speed, 1e-12)
    after = np.where(is_sliding, sliding_along - braked, sliding_along - 2 / 7 * slip)
    spun = np.where(is_sliding, spin + 2.5 * braked, after)
    return after + rebound * into * lean, spun, rebound * into * upright + sliding_away


def _rolled(place: Vectors, speed: Vectors, slope: float, rho: float) -> Vectors:
    """Where rolling balls rest; on ground too steep for them they are gone."""
    pull, brake = 5 / 7 * G_M_S2 * np.array([[sin(slope)], [0.0]]), 5 / 7 * G_M_S2 * rho * cos(slope)
    if tan(slope) > rho:
        gone = place.copy()
        gone[0] = _GONE_M
        return gone
    rested, rolling = place.copy(), np.arange(place.shape[1])
    for number in range(int(_LONGEST_ROLL_S / _STEP_S)):
        size = np.hypot(*speed)
        still = size >= _RESTS_BELOW_M_S
        if number % _TIDY_EVERY == 0:  # those at rest are put aside now and then: at each step it would cost more than it saves
            rested[:, rolling] = place
            if not still.any():
                break
            rolling, place, speed, size, still = rolling[still], place[:, still], speed[:, still], size[still], still[still]
        speed = np.where(still, speed + _STEP_S * (pull - brake * speed / np.maximum(size, 1e-12)), 0.0)
        place = place + _STEP_S * speed
    rested[:, rolling] = place
    return rested
