"""Models of counts against closed forms: two lots of rows have a ratio of rates that needs no fitting."""

from math import exp, log, sqrt

import numpy as np
import pytest

from marram.core.errors import StudyError
from marram.evidence.models.count_model import fit_counts
from marram.evidence.models.fitted import find

# 6 of 12 holes against 9 of 9: rates a half and one, so a ratio of one half
COUNTS, EXPOSURE, TRIAL = [2, 4, 5, 4], [4.0, 8.0, 6.0, 3.0], [1.0, 1.0, 0.0, 0.0]


def test_two_lots_have_the_ratio_of_their_rates() -> None:
    found = fit_counts(COUNTS, {"trial": TRIAL}, exposure=EXPOSURE)
    term = find(found.terms, "trial")
    assert term.estimate == pytest.approx(log(0.5), abs=1e-8)
    assert term.standard_error == pytest.approx(sqrt(1 / 6 + 1 / 9), abs=1e-6)  # one over each sum of counts
    assert find(found.terms, "intercept").estimate == pytest.approx(0.0, abs=1e-8)
    # expected 2, 4, 6 and 3 of 2, 4, 5 and 4: (0 + 0 + 1/6 + 1/3) over 4 - 2
    assert found.dispersion == pytest.approx(0.25, abs=1e-8)
    assert (found.freedom, found.alpha) == (2, 0.0)
    assert found.deviance == pytest.approx(2 * (5 * log(5 / 6) + 4 * log(4 / 3)), abs=1e-8)


def test_rows_of_one_cluster_count_as_one() -> None:
    """By the sandwich: residuals 0, 0, -1 and 1 by row; the two of the second lot in one cluster cancel, in two they do not."""
    apart = fit_counts(COUNTS, {"trial": TRIAL}, exposure=EXPOSURE, clusters=["a", "b", "c", "d"])
    # (1 + 1) / 9**2 times 4/3 for four clusters and 3/2 for two coefficients of four rows
    assert find(apart.terms, "intercept").standard_error == pytest.approx(sqrt(2 / 81 * 4 / 3 * 3 / 2), abs=1e-6)
    whole = fit_counts([*COUNTS, 3], {"trial": [*TRIAL, 1.0]}, exposure=[*EXPOSURE, 3.0], clusters=["a", "b", "c", "c", "d"])
    assert find(whole.terms, "intercept").standard_error < 1e-6


def test_a_wider_spread_leaves_the_means_of_two_lots_and_widens_their_limits() -> None:
    counts = [0, 9, 1, 12, 0, 8, 3, 0, 1, 0, 6, 2]
    trial = [1.0] * 6 + [0.0] * 6
    plain, wide = (fit_counts(counts, {"trial": trial}, is_wide=is_wide) for is_wide in (False, True))
    for found in (plain, wide):
        assert find(found.terms, "trial").estimate == pytest.approx(log(30 / 12), abs=1e-4)
    assert plain.dispersion > 1.5
    assert wide.alpha > 0.5
    assert wide.log_likelihood > plain.log_likelihood + 2
    # of one lot the variance of the logarithm of its mean m is (1/m + alpha)/n
    error = sqrt((1 / 5 + wide.alpha) / 6 + (1 / 2 + wide.alpha) / 6)
    assert find(wide.terms, "trial").standard_error == pytest.approx(error, rel=0.05)
    assert wide.deviance is None


def test_what_has_no_rate_is_told() -> None:
    for counts, exposure in (([0, 0], None), ([-1, 2], None), ([1, 2], [1.0, 0.0]), ([], None)):
        with pytest.raises(StudyError, match="no rate"):
            fit_counts(counts, {}, exposure=exposure)
    with pytest.raises(StudyError, match="same of every row"):
        fit_counts([1, 2, 3], {"a": [1.0, 1.0, 1.0]})
    with pytest.raises(StudyError, match="differ in number"):
        fit_counts([1, 2, 3], {"a": [1.0, 0.0]})


def test_nothing_at_all_on_one_side_is_told() -> None:
    with pytest.raises(StudyError, match="cannot be fitted"):
        fit_counts([0, 0, 0, 4, 5, 2], {"trial": [1.0, 1.0, 1.0, 0.0, 0.0, 0.0]})


def test_counts_no_wider_than_chance_are_refused_the_wider_spread() -> None:
    with pytest.raises(StudyError, match="fitted|told from chance"):
        fit_counts([2] * 20 + [3] * 20, {"trial": [0.0, 1.0] * 20}, is_wide=True)


def test_many_rows_with_exposures_bring_the_rates_back() -> None:
    chance = np.random.default_rng(3)
    exposure = chance.uniform(1, 5, 4000)
    trial = np.arange(4000) % 2
    counts = chance.poisson(exposure * 0.4 * 0.7**trial)
    term = find(fit_counts(list(counts), {"trial": list(trial)}, exposure=list(exposure)).terms, "trial")
    assert abs(exp(term.estimate) - 0.7) < 4 * term.standard_error
