"""What each of several changes did, from days on which some were played and others not.

Every effect is the mean of its days with the change less that of those without, cleared of blocks and of every pair of changes that can be
told from it. What spreads the effects is seen from days that were played alike more than once: without such days there is no measure of
how sure anything is, and what stands out is a hint.

Source: Box and Hunter, The 2^(k-p) fractional factorial designs (1961); Lenth, Quick and easy analysis of unreplicated factorials (1989).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from math import prod, sqrt
from statistics import fmean, median

from marram.core.errors import StudyError
from marram.evidence.effects import UNBOUNDED, Interval
from marram.evidence.fitting.least_squares import Fitted, chance, fit, independent, indicators, limits, quantile

LETTERS = "ABCDEFG"
FEWEST_FREEDOM = 5
"""Fewest degrees of freedom for a word: as many as the fewest pairs of days leave."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedDay:
    """A day and what was played on it.

    Attributes:
        day: Its name.
        block: Name of the block of days that it belongs to.
        on: For each change, whether it was played.
        value: The value of the day.
    """

    day: str
    block: str
    on: tuple[bool, ...]
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorEffect:
    """The effect of a change, or of a pair of changes over what each does alone.

    Attributes:
        estimate: Days with it less days without it.
        standard_error: Its standard error; 0 where nothing measures it.
        freedom: Degrees of freedom of the standard error.
        trial_mean: Mean over the days with it.
        ordinary_mean: Mean over the days without it.
        units: How many days it rests on.
    """

    estimate: float
    standard_error: float
    freedom: int
    trial_mean: float
    ordinary_mean: float
    units: int

    @property
    def has_spread(self) -> bool:
        """Whether enough days were played alike to measure how sure it is."""
        return self.standard_error > 0 and self.freedom >= FEWEST_FREEDOM

    @property
    def sd(self) -> float:
        """Standard deviation of what one day tells of it."""
        return self.standard_error * sqrt(self.units)

    @property
    def interval95(self) -> Interval:
        """Its 95 % interval."""
        return self.limits(0.95)

    @property
    def interval90(self) -> Interval:
        """Its 90 % interval."""
        return self.limits(0.90)

    def limits(self, level: float) -> Interval:
        """The interval at a level, such as 0.986."""
        return limits(self.estimate, self.standard_error, self.freedom, level) if self.standard_error > 0 else UNBOUNDED

    @property
    def p_t(self) -> float:
        """Two-sided p of Student's t; 1 where nothing measures the spread."""
        return chance(self.estimate, self.standard_error, self.freedom) if self.standard_error > 0 else 1.0

    @property
    def p_sign_flip(self) -> float | None:
        """None: no coin is turned."""
        return None

    @property
    def f(self) -> float:
        """The variance ratio with one degree of freedom above: the square of t."""
        return (self.estimate / self.standard_error) ** 2


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorEffects:
    """What days on which some changes were played say of all of them.

    Attributes:
        of: By letters: of each change, and of each pair that is the first of those that cannot be told from each other.
        untold: Letters of changes of which these days tell nothing by themselves.
        freedom: Degrees of freedom of what is left unexplained.
        residual_variance: Variance of what is left.
        blocks_f: Variance ratio of the blocks, taken out first; None where there is one block or nothing measures the spread.
        stands_out_from: Size of an effect that stands out among the others by Lenth's pseudo standard error, at 5 %; a hint alone.
    """

    of: Mapping[str, FactorEffect]
    untold: tuple[str, ...]
    freedom: int
    residual_variance: float
    blocks_f: float | None
    stands_out_from: float


def factor_effects(days: Sequence[PlayedDay]) -> FactorEffects:
    """Weigh the effects of several changes at once.

    Args:
        days: The days; all say of the same changes whether they were played.

    Raises:
        StudyError: There is no day, days differ in how many changes they speak of, or there are more than seven.
    """
    letters = _letters(days)
    values, blocks = [day.value for day in days], indicators([day.block for day in days])
    ground = [[1.0] * len(days), *blocks]
    effects = [*letters, *map("".join, combinations(letters, 2))]
    columns = [*ground, *(_signs(days, effect) for effect in effects)]
    kept = independent(columns)
    fitted = fit(values, [columns[place] for place in kept])
    told = {effects[place - len(ground)]: number for number, place in enumerate(kept) if place >= len(ground)}
    found = {effect: _effect(fitted, number, days, effect) for effect, number in told.items()}
    return FactorEffects(
        of=found,
        untold=tuple(letter for letter in letters if letter not in found),
        freedom=fitted.freedom,
        residual_variance=fitted.residual_variance,
        blocks_f=_blocks_f(values, len(blocks), fitted, ground),
        stands_out_from=_stands_out_from([effect.estimate for effect in found.values()]),
    )


def _letters(days: Sequence[PlayedDay]) -> str:
    counts = {len(day.on) for day in days}
    if len(counts) != 1 or not 1 <= max(counts) <= len(LETTERS):
        hint = f"Every day says of the same 1 to {len(LETTERS)} changes whether it was played."
        raise StudyError("These days cannot be weighed together.", where="days", hint=hint)
    return LETTERS[: max(counts)]


def _signs(days: Sequence[PlayedDay], effect: str) -> list[float]:
    """The column of an effect: plus one and minus one, of a pair the product of those of its changes."""
    return [_sign(day.on, effect) for day in days]


@lru_cache(maxsize=4096)
def _sign(on: tuple[bool, ...], effect: str) -> float:
    return float(prod(1 if on[LETTERS.index(letter)] else -1 for letter in effect))


def _effect(fitted: Fitted, number: int, days: Sequence[PlayedDay], effect: str) -> FactorEffect:
    """An effect is twice its coefficient, since from minus one to plus one are two steps."""
    estimate = 2 * fitted.coefficients[number]
    error = 2 * sqrt(fitted.residual_variance * fitted.spreads[number])
    signs = _signs(days, effect)
    return FactorEffect(
        estimate=estimate,
        standard_error=error,
        freedom=fitted.freedom,
        trial_mean=fmean(day.value for day, sign in zip(days, signs, strict=True) if sign > 0),
        ordinary_mean=fmean(day.value for day, sign in zip(days, signs, strict=True) if sign < 0),
        units=len(days),
    )


def _blocks_f(values: Sequence[float], blocks: int, fitted: Fitted, ground: Sequence[Sequence[float]]) -> float | None:
    if not blocks or not fitted.residual_variance > 0:
        return None
    mean = fmean(values)
    explained = sum((value - mean) ** 2 for value in values) - fit(values, ground).residual_squares
    return explained / blocks / fitted.residual_variance


def _stands_out_from(estimates: Sequence[float]) -> float:
    """Lenth's margin: effects that do nothing give the spread, and those that do much are left out of it."""
    sizes = [abs(estimate) for estimate in estimates]
    if not sizes:
        return 0.0
    first = 1.5 * median(sizes)
    calm = [size for size in sizes if size < 2.5 * first] or sizes
    return quantile(0.975, len(sizes) / 3) * 1.5 * median(calm)
