"""Counts row by row: rates with what they are counted against, where counts spread as chance has it or more widely."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from marram.core.errors import StudyError
from marram.evidence.models.fitted import INTERCEPT, Coefficient, Terms, columns, named, refuse_endless

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

OVERDISPERSED_FROM = 1.5
"""From so much spread per degree of freedom on, counts spread more widely than chance has it (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CountFit:
    """A model of counts.

    Attributes:
        terms: Logarithm of the rate by term, the intercept first; the exponential of a coefficient is a ratio of rates.
        alpha: By how much the spread grows with the square of the mean; 0 where counts are taken to spread as chance has it.
        log_likelihood: Logarithm of the likelihood.
        deviance: Deviance; None where counts spread more widely.
        freedom: Rows less coefficients.
        dispersion: Pearson's chi-square per degree of freedom; near 1 where counts spread as the model has it.
    """

    terms: tuple[Coefficient, ...]
    alpha: float
    log_likelihood: float
    deviance: float | None
    freedom: int
    dispersion: float


def fit_counts(
    counts: Sequence[float],
    terms: Terms,
    *,
    exposure: Sequence[float] | None = None,
    clusters: Sequence[Hashable] | None = None,
    is_wide: bool = False,
) -> CountFit:
    """Fit the logarithm of a rate to terms.

    Args:
        counts: What was counted on each row, 0 or more.
        terms: The terms besides the intercept.
        exposure: What each count is counted against; None where each row counts as one.
        clusters: What rows hang together by, for the standard errors; None where each row stands for itself.
        is_wide: Whether counts spread more widely than chance has it, their variance growing with the square of the mean.

    Raises:
        StudyError: A count is below zero, an exposure is not above zero, nothing was counted, or the model cannot be fitted.

    Source: McCullagh and Nelder, Generalized Linear Models (1989), section 6.2, for the rates; Hilbe, Negative Binomial Regression (2011),
    for the wider spread.
    """
    import numpy as np

    against = [1.0] * len(counts) if exposure is None else list(exposure)
    if min(counts, default=-1) < 0 or min(against) <= 0 or not any(counts):
        raise StudyError("These counts have no rate.", hint="Give counts of 0 or more, at least one above, against what is above zero.")
    x, y, offset = columns(terms, len(counts)), np.asarray(counts, dtype=float), np.log(np.asarray(against, dtype=float))
    names = (INTERCEPT, *terms)
    return _fit_wide(y, x, offset, names, clusters) if is_wide else _fit_plain(y, x, offset, names, clusters)


def _robust(clusters: Sequence[Hashable] | None) -> dict[str, object]:
    """How the errors are worked out: with clusters, by the sandwich with its correction for few of them."""
    if clusters is None:
        return {}
    codes = {name: number for number, name in enumerate(dict.fromkeys(clusters))}
    return {"cov_type": "cluster", "cov_kwds": {"groups": [codes[name] for name in clusters], "use_correction": True}}


def _fit_plain(
    y: NDArray[float64], x: NDArray[float64], offset: NDArray[float64], names: Sequence[str], clusters: Sequence[Hashable] | None
) -> CountFit:
    from statsmodels.genmod.families import Poisson
    from statsmodels.genmod.generalized_linear_model import GLM

    fit = _quietly(lambda: GLM(y, x, family=Poisson(), offset=offset).fit(**_robust(clusters)))
    freedom = len(y) - len(names)
    refuse_endless(fit.params, x)
    return CountFit(
        terms=named(names, fit.params, fit.bse),
        alpha=0.0,
        log_likelihood=float(fit.llf),
        deviance=float(fit.deviance),
        freedom=freedom,
        dispersion=float(fit.pearson_chi2) / freedom,
    )


def _fit_wide(
    y: NDArray[float64], x: NDArray[float64], offset: NDArray[float64], names: Sequence[str], clusters: Sequence[Hashable] | None
) -> CountFit:
    import numpy as np
    from statsmodels.discrete.discrete_model import NegativeBinomial

    model = NegativeBinomial(y, x, offset=offset)
    # Its own search at times stops short of the top; a second one starts there and goes by the curvature.
    start = _quietly(lambda: model.fit(disp=0, maxiter=500))
    fit = _quietly(lambda: model.fit(start_params=start.params, method="newton", disp=0, maxiter=100, **_robust(clusters)))
    alpha = float(fit.params[-1])
    if not fit.mle_retvals["converged"] or alpha <= 0:
        raise StudyError("The wider spread of the counts cannot be told from chance.", hint="Take counts to spread as chance has it.")
    mean = np.exp(x @ fit.params[:-1] + offset)
    freedom = len(y) - len(names)
    return CountFit(
        terms=named(names, fit.params[:-1], fit.bse[:-1]),
        alpha=alpha,
        log_likelihood=float(fit.llf),
        deviance=None,
        freedom=freedom,
        dispersion=float(np.sum((y - mean) ** 2 / (mean + alpha * mean**2))) / freedom,
    )


def _quietly(fit: Callable[[], Any]) -> Any:  # noqa: ANN401 - what a library returns is made a number at once
    """A fit whose warnings are an error of ours where it failed, and nothing where it did not."""
    import warnings

    import numpy as np

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return fit()
    except (np.linalg.LinAlgError, ValueError, FloatingPointError) as problem:
        raise StudyError("The model cannot be fitted to these rows.", hint="There is too little difference among them.") from problem
