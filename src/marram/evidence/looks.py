"""Looks at a trial before its end: how far an effect must stand out at each, so that all looks together raise few false alarms.

Looking again and again at the ordinary bound makes a false alarm likelier with every look; bounds for planned looks keep it at 5 %. A |t|
is brought to standard errors of the normal law through its p, since the bounds are of that law.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from math import sqrt
from typing import TYPE_CHECKING

from marram.core.errors import StudyError
from marram.core.words import counted
from marram.evidence.effects import Effect, Interval
from marram.evidence.sizes import ALPHA
from marram.evidence.verdicts import FEWEST_PAIRS

MOST_LOOKS = 10
if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

GUARD_ALPHA = 2 * ALPHA
"""Two-sided: what must not get worse is looked at one way, so its intervals are of 90 %."""
_NODES = 96  # quadrature points between the bounds: ten looks agree to nine decimals with twice as many
_FAR = 6.0  # standard errors beyond which looks hardly ever alarm twice, so that their chances add up


class Bounds(StrEnum):
    """How the bounds of the looks lie: the same at each, or high at first and near the ordinary one at the last."""

    LEVEL = "level"
    FALLING = "falling"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedLook:
    """A look as it is planned.

    Attributes:
        pairs: After how many pairs of days.
        bound: How many standard errors an effect must then lie from nothing.
    """

    pairs: int
    bound: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A look while it is taken.

    Attributes:
        number: Which one it is; None where the trial ended between two looks, or after the last.
        looks: How many are planned.
        pairs: Pairs that were played.
        bound: How many standard errors an effect must lie from nothing.
        bounds: The bounds of all planned looks.
    """

    number: int | None
    looks: int
    pairs: int
    bound: float
    bounds: tuple[float, ...]

    @property
    def words(self) -> str:
        """Which look it is, and after how many pairs."""
        named = f"look {self.number} of {self.looks}" if self.number else f"the end, of {self.looks} planned looks"
        return f"{named}, after {counted(self.pairs, 'pair')} of days"

    @property
    def level(self) -> float:
        """The level of the interval that leaves nothing out exactly where the bound is passed."""
        return _level_of(self.bound)

    @property
    def guard_level(self) -> float:
        """The level of the interval of what must not get worse: over all looks it errs one way no more often than one of 90 % once."""
        return _level_of(self.bound * _widening(self.bounds, GUARD_ALPHA))

    def passed_by(self, p_t: float) -> bool:
        """Whether an effect with this two-sided p lies beyond the bound."""
        return standard_errors(p_t) >= self.bound

    def p_of_all(self, p_t: float) -> float:
        """The chance that an effect of nothing stands out so far at one of the looks, as an effect with this two-sided p does at this one.

        Source: Jennison and Turnbull, Group Sequential Methods (2000), for p values of trials that may stop at a look (from memory).
        """
        return alarm_at(standard_errors(p_t) / self.bound, self.bounds)


@dataclass(frozen=True, slots=True, kw_only=True)
class LookTaken:
    """How an effect stands at a look of the plan.

    Attributes:
        look: The look.
        standard_errors: How far the effect lies from nothing, on the scale of the bound.
        is_passed: Whether it lies beyond the bound.
        interval: Its interval at the level of the look.
        p_of_all: The chance that an effect of nothing stands out so far at one of the looks.
    """

    look: Look
    standard_errors: float
    is_passed: bool
    interval: Interval
    p_of_all: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Looks:
    """All looks of a plan, the one at its end included, in order."""

    planned: tuple[PlannedLook, ...]

    @property
    def bounds(self) -> tuple[float, ...]:
        """The bound of each look."""
        return tuple(look.bound for look in self.planned)

    @property
    def last_alpha(self) -> float:
        """False alarms let pass at the last look alone, two-sided."""
        return 1 - _level_of(self.bounds[-1])

    def look_at(self, pairs: int) -> Look | None:
        """The look that is planned after so many pairs; None where none is."""
        numbers = {look.pairs: number for number, look in enumerate(self.planned, start=1)}
        return self._look(numbers[pairs], pairs) if pairs in numbers else None

    def look_at_end(self, pairs: int) -> Look:
        """The look at a trial that has ended after so many pairs, though it may have been planned for more or fewer."""
        return self.look_at(pairs) or self._look(None, pairs)

    def bound_at(self, pairs: int) -> float:
        """How far an effect must lie from nothing after so many pairs.

        Between looks a falling bound lies where the sum of the differences would have to lie at the last: a trial that ends early then
        raises no more false alarms than one that does not.
        """
        found = [look.bound for look in self.planned if look.pairs == pairs]
        last = self.planned[-1]
        is_level = len(set(self.bounds)) == 1
        return found[0] if found else last.bound * (1.0 if is_level or pairs >= last.pairs else sqrt(last.pairs / max(pairs, 1)))

    def _look(self, number: int | None, pairs: int) -> Look:
        return Look(number=number, looks=len(self.planned), pairs=pairs, bound=self.bound_at(pairs), bounds=self.bounds)


def plan_looks(looks: int, pairs: int, shape: Bounds = Bounds.FALLING) -> Looks:
    """So many looks at a trial, equally spaced by pairs of days, the last at its end.

    Args:
        looks: How many, the last one included.
        pairs: Pairs of days of the trial.
        shape: How the bounds lie.

    Raises:
        StudyError: There is no look or more than ten, or the first would come before a word could be given.
    """
    bounds = bounds_of_looks(looks, shape)
    spaced = [(2 * number * pairs + looks) // (2 * looks) for number in range(1, looks + 1)]
    if looks > 1 and spaced[0] < FEWEST_PAIRS:
        most = max(pairs // FEWEST_PAIRS, 1)
        message = f"Of {looks} looks at {pairs} pairs the first comes after {spaced[0]}; {FEWEST_PAIRS} are the fewest that show anything."
        raise StudyError(message, where="looks", hint=f"Plan {counted(most, 'look')} at most, or more pairs.")
    placed = zip(spaced, bounds, strict=True)
    return Looks(planned=tuple(PlannedLook(pairs=after, bound=round(bound, 4)) for after, bound in placed))


def take_look(look: Look | None, effect: Effect | None) -> LookTaken | None:
    """How an effect stands at a look; None where there is none, or nothing to be looked at."""
    if look is None or effect is None or not effect.has_spread:
        return None
    return LookTaken(
        look=look,
        standard_errors=standard_errors(effect.p_t),
        is_passed=look.passed_by(effect.p_t),
        interval=effect.limits(look.level),
        p_of_all=look.p_of_all(effect.p_t),
    )


def standard_errors(p: float) -> float:
    """How many standard errors of the normal law a two-sided p stands for."""
    from scipy.stats import norm

    return float(norm.isf(max(p, 1e-300) / 2))


def alarm_at(times: float, bounds: Sequence[float]) -> float:
    """The chance that an effect of nothing passes one of the bounds of several looks, each taken so many times as far out.

    Args:
        times: How many times as far; at 1 it is the chance of the bounds themselves.
        bounds: The bounds of all planned looks.
    """
    from scipy.stats import norm

    far = [times * bound for bound in bounds]
    if min(far) <= 0:
        return 1.0
    return float(2 * norm.sf(far).sum()) if min(far) > _FAR else chance_of_alarm(far)


def _level_of(bound: float) -> float:
    from scipy.stats import norm

    return float(1 - 2 * norm.sf(bound))


@lru_cache(maxsize=64)
def _widening(bounds: tuple[float, ...], alpha: float) -> float:
    """How many times as far out the bounds must lie for so many false alarms."""
    from scipy.optimize import brentq

    return float(brentq(lambda times: alarm_at(times, bounds) - alpha, 0.2, 3.0, xtol=1e-10))


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
    points, weights = _nodes()
    inside, at = np.ones(1), np.zeros(1)
    for look, bound in enumerate(bounds, start=1):
        half = bound * sqrt(look)
        density = norm.pdf(half * points[:, None] - at[None, :]) @ inside
        inside, at = density * weights * half, half * points
    return 1 - float(inside.sum())


@lru_cache(maxsize=1)
def _nodes() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Points and weights of Gauss and Legendre."""
    import numpy as np

    return np.polynomial.legendre.leggauss(_NODES)
