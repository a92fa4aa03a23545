"""Drops that were measured in the field."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredDrop:
    """One drop.

    Attributes:
        ground: Kind of the ground.
        slope_deg: Its slope.
        height_m: From which height the ball fell.
        rest_m: How far from its first touch it came to rest.
    """

    ground: str
    slope_deg: float
    height_m: float
    rest_m: float
