"""Missing values filled in several times over, and what all the fillings say together.

Source: Rubin, Multiple Imputation for Nonresponse in Surveys (1987), for the rules and for drawing from a resample of what was seen;
Barnard and Rubin, Small-sample degrees of freedom with multiple imputation (1999).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt
from statistics import fmean, variance
from typing import TYPE_CHECKING

from marram.core.errors import StudyError
from marram.evidence.effects import Interval

if TYPE_CHECKING:
    from numpy.random import Generator

FILLINGS = 20
"""How often missing values are filled in (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pooled:
    """What several fillings say together.

    Attributes:
        estimate: Mean of their estimates.
        standard_error: Its standard error.
        freedom: Its degrees of freedom; infinite where all fillings say the same and the values themselves leave no limit.
        increase: By which part the variance grows for what is missing.
    """

    estimate: float
    standard_error: float
    freedom: float
    increase: float

    def interval(self, level: float) -> Interval:
        """The interval at a level, of Student's t."""
        from scipy.stats import norm, t

        quantile = float(norm.ppf((1 + level) / 2) if self.freedom == inf else t.ppf((1 + level) / 2, self.freedom))
        half = quantile * self.standard_error
        return Interval(low=self.estimate - half, high=self.estimate + half)


def pool(estimates: Sequence[float], variances: Sequence[float], *, whole_freedom: float = inf) -> Pooled:
    """What several fillings of the same records say together.

    Args:
        estimates: The estimate of each filling.
        variances: The square of its standard error.
        whole_freedom: Degrees of freedom that the records would have with nothing missing.

    Raises:
        StudyError: There are fewer than two fillings, or one has no variance.
    """
    count = len(estimates)
    if count < 2 or len(variances) != count or min(variances) <= 0:
        raise StudyError(f"{count} fillings say nothing together.", hint="Give at least two, each with its variance above zero.")
    within, between = fmean(variances), variance(estimates)
    increase = (1 + 1 / count) * between / within
    return Pooled(
        estimate=fmean(estimates),
        standard_error=sqrt(within * (1 + increase)),
        freedom=degrees_of_freedom(count, increase, whole_freedom=whole_freedom),
        increase=increase,
    )


def degrees_of_freedom(fillings: int, increase: float, *, whole_freedom: float = inf) -> float:
    """Degrees of freedom of several fillings together.

    Args:
        fillings: How many there are.
        increase: By which part the variance grows for what is missing.
        whole_freedom: Degrees of freedom with nothing missing.
    """
    of_fillings = (fillings - 1) * (1 + 1 / increase) ** 2 if increase > 0 else inf
    if whole_freedom == inf:
        return of_fillings
    seen = (whole_freedom + 1) / (whole_freedom + 3) * whole_freedom / (1 + increase)
    return 1 / (1 / of_fillings + 1 / seen)


def fill(seen: Sequence[float], lacking: int, chance: Generator) -> list[float]:
    """The values of a day with what is missing drawn from a resample of what was seen there, so that the fillings differ enough.

    Args:
        seen: What was seen, at least one value.
        lacking: How many values are missing.
        chance: Where the draws come from.
    """
    likely = chance.choice(list(seen), len(seen))
    return [*seen, *(float(value) for value in chance.choice(likely, lacking))]
