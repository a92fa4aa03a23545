"""Looks at a trial before its end: how far an effect must stand out at each, so that all looks together raise few false alarms.

Looking again and again at the ordinary bound makes a false alarm likelier with every look; bounds for planned looks keep it at 5 %.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from math import sqrt

from marram.core.errors import StudyError
from marram.evidence.sizes import ALPHA

MOST_LOOKS = 10
_NODES = 96  # quadrature points between the bounds: ten looks agree to nine decimals with twice as many


class Bounds(StrEnum):
    """How the bounds of the looks lie."""

    LEVEL = "the same at each look"
    FALLING = "high at first, near the ordinary one at the last"


def bounds_of_looks(looks: int, shape: Bounds = Bounds.FALLING) -> tuple[float, ...]:
    """How many standard errors an effect must lie from nothing at each of several equally spaced looks, for 5 % two-sided in all.

    Args:
        looks: How many looks are planned, the last one included.
        shape: How the bounds lie; falling bounds leave nearly the whole chance to the last look.

    Raises:
        StudyError: There is no look, or more than ten.

    Source: Pocock, Group sequential methods in the design and analysis of clinical trials (1977), for level bounds; O'Brien and Fleming, A
    multiple testing procedure for clinical trials (1979), for falling ones.
    """
    from scipy.optimize import brentq

    if not 1 <= looks <= MOST_LOOKS:
        raise StudyError(f"{looks} looks cannot be planned.", hint=f"Plan from 1 to {MOST_LOOKS}.")
    shares = [1.0 if shape is Bounds.LEVEL else sqrt(looks / look) for look in range(1, looks + 1)]
    last = float(brentq(lambda bound: chance_of_alarm([bound * share for share in shares]) - ALPHA, 1.0, 5.0, xtol=1e-10))
    return tuple(last * share for share in shares)


def chance_of_alarm(bounds: Sequence[float]) -> float:
    """The chance that an effect of nothing passes one of the bounds at one of the looks.

    Args:
        bounds: Standard errors from nothing at each look, the looks equally spaced; all above zero.

    Raises:
        StudyError: There is no bound, or one is not above zero.

    Source: Armitage, McPherson and Rowe, Repeated significance tests on accumulating data (1969): the density of the sum so far, carried
    from look to look between the bounds.
    """
    import numpy as np
    from scipy.stats import norm

    if not bounds or min(bounds) <= 0:
        raise StudyError("A bound is not above zero.", hint="Give one bound for each look, in standard errors.")
    points, weights = np.polynomial.legendre.leggauss(_NODES)
    inside, at = np.ones(1), np.zeros(1)
    for look, bound in enumerate(bounds, start=1):
        half = bound * sqrt(look)
        density = norm.pdf(half * points[:, None] - at[None, :]) @ inside
        inside, at = density * weights * half, half * points
    return 1 - float(inside.sum())
