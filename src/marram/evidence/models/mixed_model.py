"""Values row by row where rows of a day, or of a group, lean one way together: restricted maximum likelihood."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from math import isfinite

from marram.core.errors import StudyError
from marram.evidence.models.fitted import INTERCEPT, Coefficient, Terms, columns, named


@dataclass(frozen=True, slots=True, kw_only=True)
class MixedFit:
    """A model of values whose rows hang together.

    Attributes:
        terms: What a term adds, the intercept first, in the unit of the values.
        between: Variance between days, or whatever rows hang together by.
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
    import warnings

    import numpy as np
    from statsmodels.regression.mixed_linear_model import MixedLM

    if len(groups) != len(values) or len(set(groups)) < 2:
        raise StudyError("One day or group shows no spread between them.", hint="Give every row its day, at least two days in all.")
    x = columns(terms, len(values))
    codes = {name: number for number, name in enumerate(dict.fromkeys(groups))}
    own = np.column_stack([np.ones(len(values)), np.asarray(terms[slope], dtype=float)]) if slope else None
    model = MixedLM(np.asarray(values, dtype=float), x, groups=[codes[name] for name in groups], exog_re=own)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            fit = model.fit(reml=True, method=["bfgs", "lbfgs", "cg"])
    except (np.linalg.LinAlgError, ValueError, ZeroDivisionError) as problem:
        raise StudyError("The model cannot be fitted to these rows.", hint="There is too little difference among them.") from problem
    if not isfinite(float(fit.llf)):
        raise StudyError("The model cannot be fitted to these rows.", hint="There is too little difference among them.")
    spread, names = np.asarray(fit.cov_re), (INTERCEPT, *terms)
    return MixedFit(
        terms=named(names, fit.fe_params, fit.bse_fe),
        between=float(spread[0, 0]),
        within=float(fit.scale),
        slope_between=float(spread[1, 1]) if slope else None,
        intercept_with_slope=float(spread[0, 1]) if slope else None,
        log_likelihood=float(fit.llf),
    )
