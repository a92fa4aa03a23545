"""Values row by row where rows of a day, or of a group, lean one way together: restricted maximum likelihood.

Where only levels lean, one ratio of variances is searched for, down to days that do not lean at all; slopes that lean go to a library.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from math import isfinite, log, pi
from typing import TYPE_CHECKING

from marram.core.errors import StudyError
from marram.evidence.models.fitted import INTERCEPT, Coefficient, Terms, columns, named

if TYPE_CHECKING:
    from numpy import float64, int64
    from numpy.typing import NDArray

_WIDEST = 12.0
"""The ratio of variances is searched for up to the exponential of this, and down to that of its negative."""
_NO_FIT, _WHY = "The model cannot be fitted to these rows.", "There is too little difference among them."


@dataclass(frozen=True, slots=True, kw_only=True)
class MixedFit:
    """A model of values whose rows hang together.

    Attributes:
        terms: What a term adds, the intercept first, in the unit of the values.
        between: Variance between days, or whatever rows hang together by; 0 where none is seen.
        within: Variance of rows within them.
        slope_between: Variance of their slopes; None where all have one slope.
        intercept_with_slope: Covariance of intercepts and slopes; None where all have one slope.
        log_likelihood: Logarithm of the restricted likelihood.
    """

    terms: tuple[Coefficient, ...]
    between: float
    within: float
    slope_between: float | None
    intercept_with_slope: float | None
    log_likelihood: float

    @property
    def icc(self) -> float:
        """Part of the variance that lies between them."""
        return self.between / (self.between + self.within)


def fit_mixed(values: Sequence[float], terms: Terms, groups: Sequence[Hashable], *, slope: str = "") -> MixedFit:
    """Fit values to terms, with a leaning of its own for each day or group.

    Args:
        values: The value of each row.
        terms: The terms besides the intercept.
        groups: What rows hang together by.
        slope: Name of the term whose slope each of them has to itself; empty where all have one slope.

    Raises:
        StudyError: There are fewer than two groups, or the model cannot be fitted.

    Source: Laird and Ware, Random-effects models for longitudinal data (1982).
    """
    import numpy as np

    if len(groups) != len(values) or len(set(groups)) < 2:
        raise StudyError("One day or group shows no spread between them.", hint="Give every row its day, at least two days in all.")
    x, y = columns(terms, len(values)), np.asarray(values, dtype=float)
    if len(y) <= x.shape[1]:
        raise StudyError(_NO_FIT, hint="There are no more rows than terms.")
    codes = {name: number for number, name in enumerate(dict.fromkeys(groups))}
    own, names = np.array([codes[name] for name in groups]), (INTERCEPT, *terms)
    return _with_slopes(y, x, own, names, slope) if slope else _with_levels(y, x, own, names)


def _with_levels(y: NDArray[float64], x: NDArray[float64], own: NDArray[int64], names: Sequence[str]) -> MixedFit:
    """Levels alone lean: with the ratio of the variances known, all else follows, so the ratio alone is searched for."""
    import numpy as np
    from scipy.optimize import minimize_scalar

    rows = _Sums(y, x, own)
    if rows.rest(0.0) <= 1e-12 * max(float(np.ptp(y)), 1e-300) ** 2:
        raise StudyError(_NO_FIT, hint=_WHY)
    top = minimize_scalar(lambda at: -rows.height(np.exp(at)), bounds=(-_WIDEST, _WIDEST), method="bounded", options={"xatol": 1e-9})
    ratio = float(np.exp(top.x)) if -top.fun > rows.height(0.0) else 0.0
    within, estimates, spread = rows.solved(ratio)
    return MixedFit(
        terms=named(names, estimates, np.sqrt(np.diag(spread) * within)),
        between=ratio * within,
        within=within,
        slope_between=None,
        intercept_with_slope=None,
        log_likelihood=rows.height(ratio),
    )


class _Sums:
    """What of the rows the likelihood needs, group by group."""

    def __init__(self, y: NDArray[float64], x: NDArray[float64], own: NDArray[int64]) -> None:
        import numpy as np

        count = int(own.max()) + 1
        self.sizes = np.bincount(own, minlength=count)
        both = np.column_stack([x, y])
        self.by_group = np.zeros((count, both.shape[1]))
        np.add.at(self.by_group, own, both)
        self.whole: NDArray[float64] = both.T @ both
        self.freedom = len(y) - x.shape[1]

    def _weighed(self, ratio: float) -> NDArray[float64]:
        """Squares and products of terms and values, with what a group shares taken off."""
        shrunk = ratio / (1 + self.sizes * ratio)
        found: NDArray[float64] = self.whole - (self.by_group * shrunk[:, None]).T @ self.by_group
        return found

    def solved(self, ratio: float) -> tuple[float, NDArray[float64], NDArray[float64]]:
        """Variance within groups, the coefficients, and their spread in parts of that variance."""
        import numpy as np

        weighed = self._weighed(ratio)
        spread = np.asarray(np.linalg.inv(weighed[:-1, :-1]), dtype=np.float64)
        estimates = spread @ weighed[:-1, -1]
        return float(weighed[-1, -1] - weighed[:-1, -1] @ estimates) / self.freedom, estimates, spread

    def rest(self, ratio: float) -> float:
        """Variance within groups."""
        return self.solved(ratio)[0]

    def height(self, ratio: float) -> float:
        """Logarithm of the restricted likelihood at a ratio of the variances."""
        import numpy as np

        determinant = float(np.linalg.slogdet(self._weighed(ratio)[:-1, :-1])[1])
        shared = float(np.log1p(self.sizes * ratio).sum())
        return -0.5 * float(self.freedom * (log(2 * pi * self.rest(ratio)) + 1) + determinant + shared)


def _with_slopes(y: NDArray[float64], x: NDArray[float64], own: NDArray[int64], names: Sequence[str], slope: str) -> MixedFit:
    import warnings

    import numpy as np
    from statsmodels.regression.mixed_linear_model import MixedLM

    model = MixedLM(y, x, groups=own, exog_re=x[:, [0, names.index(slope)]])
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            fit = model.fit(reml=True, method=["bfgs", "lbfgs", "cg"])
    except (np.linalg.LinAlgError, ValueError, ZeroDivisionError) as problem:
        raise StudyError(_NO_FIT, hint=_WHY) from problem
    if not isfinite(float(fit.llf)):
        raise StudyError(_NO_FIT, hint=_WHY)
    spread = np.asarray(fit.cov_re)
    return MixedFit(
        terms=named(names, fit.fe_params, fit.bse_fe),
        between=float(spread[0, 0]),
        within=float(fit.scale),
        slope_between=float(spread[1, 1]),
        intercept_with_slope=float(spread[0, 1]),
        log_likelihood=float(fit.llf),
    )
