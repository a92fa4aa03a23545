"""Yes and no row by row, where rows of a pair of days hang together: what an average row says, not what one day says."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from marram.core.errors import StudyError
from marram.evidence.models.fitted import INTERCEPT, Coefficient, Terms, columns, named, refuse_endless


@dataclass(frozen=True, slots=True, kw_only=True)
class YesNoFit:
    """A model of yes and no.

    Attributes:
        terms: Logarithm of the odds of yes by term, the intercept first.
        correlation: How much two rows of one cluster hang together, 0 for not at all.
        clusters: How many clusters there are.
    """

    terms: tuple[Coefficient, ...]
    correlation: float
    clusters: int


def fit_yes_no(answers: Sequence[float], terms: Terms, clusters: Sequence[Hashable], *, are_few: bool = False) -> YesNoFit:
    """Fit the odds of yes to terms, all rows of a cluster hanging together alike.

    Args:
        answers: 1 for yes and 0 for no, one for each row.
        terms: The terms besides the intercept.
        clusters: What rows hang together by.
        are_few: Whether there are so few clusters, below forty, that the errors of the sandwich come out too small and are corrected.

    Raises:
        StudyError: An answer is neither, all are alike, or the model cannot be fitted.

    Source: Liang and Zeger, Longitudinal data analysis using generalized linear models (1986); Mancl and DeRouen, A covariance estimator
    for GEE with improved small-sample properties (2001), for few clusters.
    """
    import warnings

    import numpy as np
    from statsmodels.genmod.cov_struct import Exchangeable
    from statsmodels.genmod.families import Binomial
    from statsmodels.genmod.generalized_estimating_equations import GEE

    if set(answers) != {0, 1} or len(clusters) != len(answers):
        raise StudyError("These are not answers of yes and no that differ.", hint="Give 1 or 0 for each row, at least one of each.")
    codes = {name: number for number, name in enumerate(dict.fromkeys(clusters))}
    groups, x = np.array([codes[name] for name in clusters]), columns(terms, len(answers))
    together = Exchangeable()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            model = GEE(np.asarray(answers, dtype=float), x, groups=groups, family=Binomial(), cov_struct=together)
            fit = model.fit(cov_type="bias_reduced" if are_few else "robust", maxiter=200)
    except (np.linalg.LinAlgError, ValueError) as problem:
        raise StudyError("The model cannot be fitted to these rows.", hint="There is too little difference among them.") from problem
    refuse_endless(np.asarray(fit.params), x)
    return YesNoFit(terms=named((INTERCEPT, *terms), fit.params, fit.bse), correlation=float(together.dep_params), clusters=len(codes))
