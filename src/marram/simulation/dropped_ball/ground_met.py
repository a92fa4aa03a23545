"""Kinds of ground that a dropped ball may meet, and how each takes it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from marram.core.errors import StudyError
from marram.core.field_names import Field


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundMet:
    """A kind of ground.

    Attributes:
        name: Its name.
        words: What it is called in a sentence.
        mu: Friction at the impact.
        rho: Rolling resistance, as a share of the weight.
        rebound: How much of the rebound on a green is left.
        tilt_rad: Standard deviation of the small unevenness that each impact meets, radians.
        provenance: Where these figures come from.
    """

    name: str
    words: str
    mu: float
    rho: float
    rebound: float
    tilt_rad: float
    provenance: str = "assumption; rebound and friction at an impact from memory"


@lru_cache(maxsize=1)
def grounds() -> Mapping[str, GroundMet]:
    """Every kind of ground, by its name."""
    text = resources.files("marram.simulation.dropped_ball").joinpath("surfaces.toml").read_text(encoding="utf-8")
    return {name: GroundMet(name=name, **raw) for name, raw in tomllib.loads(text).items()}


def ground_named(name: str) -> GroundMet:
    """The kind of ground of that name.

    Raises:
        StudyError: There is none.
    """
    if name not in grounds():
        raise StudyError(f"There is no ground called {name[:60]!r}.", field=Field.GROUND, hint=f"Known: {', '.join(grounds())}.")
    return grounds()[name]
